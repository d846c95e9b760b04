"""A garland drawn with a finger on a photo of a door, seen from the side: its length is the true one."""

import re
from itertools import pairwise
from math import cos, hypot, pi, sin
from pathlib import Path

import cv2
import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import CDPSession, Page, expect

from tests.journeys.conftest import DESK, follow, sign_in

pytestmark = pytest.mark.browser

DOOR = [(0.0, 0.0), (36.0, 0.0), (36.0, 80.0), (0.0, 80.0)]
"""A door of 36 in by 6 ft 8 in; the wall is measured from its upper left corner."""

GPS, ORIENTATION = 0x8825, 0x0112


class Room:
    """A wall with a door in it, photographed by a pinhole camera turned some degrees, as a phone holds it upright."""

    size = (1500, 2000)

    def __init__(self, turned: float) -> None:
        yaw = turned * pi / 180
        self.rotation = np.array([[cos(yaw), 0, sin(yaw)], [0, 1, 0], [-sin(yaw), 0, cos(yaw)]])

    def seen(self, wall: list[tuple[float, float]]) -> list[tuple[float, float]]:
        """Where points of the wall are in the photo."""
        found = []
        for x, y in wall:
            place = self.rotation @ np.array([x - 18, y - 28, 0.0]) + np.array([0, 0, 190])
            found.append((float(750 + 1700 * place[0] / place[2]), float(1000 + 1700 * place[1] / place[2])))
        return found

    def photo(self, path: Path) -> Path:
        """The photo as a phone writes it: lying on its side, with a note to turn it and the place it was taken."""
        inch, left, top, right, bottom = 8, -170, -140, 190, 120
        canvas = np.full(((bottom - top) * inch, (right - left) * inch, 3), (206, 217, 226), np.uint8)

        def box(x1: float, y1: float, x2: float, y2: float, colour: tuple[int, int, int]) -> None:
            corners = [(round((x - left) * inch), round((y - top) * inch)) for x, y in ((x1, y1), (x2, y2))]
            cv2.rectangle(canvas, corners[0], corners[1], colour, -1)

        box(left, 80, right, bottom, (112, 138, 158))
        box(left, 74, right, 80, (232, 236, 238))
        box(-4, -4, 40, 80, (232, 236, 238))
        box(0, 0, 36, 80, (96, 84, 70))
        box(5, 6, 31, 36, (110, 98, 82))
        box(5, 42, 31, 75, (110, 98, 82))
        box(2, 40, 4, 45, (120, 190, 214))
        wall = [(left, top), (right, top), (right, bottom), (left, bottom)]
        edges = np.array([((x - left) * inch, (y - top) * inch) for x, y in wall], np.float32)
        warp = cv2.getPerspectiveTransform(
            edges, np.array(self.seen([(float(x), float(y)) for x, y in wall]), np.float32)
        )
        seen = cv2.warpPerspective(canvas, warp, self.size, flags=cv2.INTER_AREA, borderValue=(206, 217, 226))
        light = (
            np.linspace(1.06, 0.86, self.size[0])[None, :, None] * np.linspace(1.03, 0.92, self.size[1])[:, None, None]
        )
        picture = Image.fromarray(np.clip(seen * light, 0, 255).astype(np.uint8)[:, :, ::-1])
        notes = Image.Exif()
        notes[ORIENTATION] = 6
        notes.get_ifd(GPS)[1] = "N"
        picture.transpose(Image.Transpose.ROTATE_90).save(path, "JPEG", quality=88, exif=notes.tobytes())
        return path


OVER = [(-14.0, 56.0), *((18 - 32 * cos(pi * n / 40), -10 - 32 * sin(pi * n / 40)) for n in range(41)), (50.0, 56.0)]
"""Up one side of the door, over it in half a circle, and down the other."""

TRUE = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(OVER))


class Finger:
    """A fingertip on the photo, given places in the photo's own pixels."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.session: CDPSession = page.context.new_cdp_session(page)

    def at(self, spot: tuple[float, float]) -> list[dict[str, float]]:
        place: dict[str, float] = self.page.evaluate(
            """([x, y]) => { const to = document.querySelector("[data-canvas]").getScreenCTM();
                const at = new DOMPoint(x, y).matrixTransform(to); return { x: at.x, y: at.y }; }""",
            list(spot),
        )
        return [place]

    def drag(self, spots: list[tuple[float, float]]) -> None:
        """Down at the first, over all of them, up at the last."""
        self.session.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": self.at(spots[0])})
        for spot in spots[1:]:
            self.session.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": self.at(spot)})
        self.session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def inches_said(page: Page) -> float:
    said = page.locator("#sketch-said").inner_text()
    found = re.search(r"(?:(\d+) ft )?(?:(\d+) in )?along the path", said)
    assert found is not None, said
    return 12 * int(found[1] or 0) + int(found[2] or 0)


def add_the_photo(page: Page, url: str, room: Room, folder: Path) -> None:
    """From a garland that was kept to its photo, ready to be marked."""
    page.goto(f"{url}/bookings/")
    follow(page.get_by_role("link", name="gala").first)
    follow(page.get_by_role("link", name="Garland over the doorway").first)
    page.goto(f"{page.url}sketch/?another")
    with page.expect_navigation(url=re.compile(r"photo=")):
        page.get_by_label("Take or choose a photo").set_input_files(room.photo(folder / "IMG_0001.jpg"))
    expect(page.locator("[data-canvas] circle")).to_have_count(4)


def mark_the_door(page: Page, finger: Finger, room: Room) -> None:
    width, height = room.size
    assert page.locator("[data-canvas]").get_attribute("viewBox") == f"0 0 {width} {height}"
    for n, corner in enumerate(room.seen(DOOR)):
        dot = page.locator("[data-canvas] circle").nth(n)
        start = float(dot.get_attribute("cx") or 0), float(dot.get_attribute("cy") or 0)
        halfway = (start[0] + corner[0]) / 2, (start[1] + corner[1]) / 2
        finger.drag([start, halfway, corner])
    page.get_by_role("button", name=re.compile("A door")).click()


@pytest.mark.parametrize("turned", [pytest.param(0, id="squarely"), pytest.param(30, id="from-the-side")])
def test_a_path_drawn_with_a_finger_has_its_true_length(demo_studio, open_phone, tmp_path, turned):
    room, page = Room(turned), open_phone()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    add_the_photo(page, demo_studio.url, room, tmp_path)
    finger = Finger(page)
    mark_the_door(page, finger, room)
    page.get_by_role("button", name="Next: draw").click()
    before = page.evaluate("() => scrollY")
    with page.expect_response("**/redraw/"):
        finger.drag(room.seen(OVER))
    assert page.evaluate("() => scrollY") == before

    expect(page.locator("#sketch-said")).to_contain_text("along the path")
    assert inches_said(page) == pytest.approx(TRUE, rel=0.02)
    said = re.search(r"([\d,]+) balloons", page.locator("#sketch-said").inner_text())
    assert said is not None
    expect(page.locator("#sketch-garland circle, #sketch-garland use")).to_have_count(int(said[1]))
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390

    page.get_by_role("button", name="Keep").last.click()
    page.wait_for_url(re.compile(r"/pieces/\d+/$"))
    expect(page.locator("#picture svg image")).to_have_count(1)


def test_a_point_is_moved_undone_and_moved_again_by_keyboard(demo_studio, open_phone):
    page = open_phone(viewport=DESK, touch=False)
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{demo_studio.url}/bookings/")
    follow(page.get_by_role("link", name="gala").first)
    follow(page.get_by_role("link", name="Garland over the doorway").first)
    page.goto(f"{page.url}sketch/?photo=wall")
    page.locator(".sketch-steps").get_by_role("button", name="2 Draw").click()
    path = page.locator("[name=path]")
    if path.input_value():
        page.get_by_role("button", name="Draw it anew").click()
    page.get_by_role("button", name="Add a point").click()
    with page.expect_response("**/redraw/"):
        page.get_by_role("button", name="Add a point").click()
    with page.expect_response("**/redraw/"):
        for _ in range(20):
            page.keyboard.press("Shift+ArrowRight")
    expect(page.locator("#sketch-said")).to_contain_text("along the path")
    moved = path.input_value()
    expect(page.get_by_role("button", name=re.compile("Point 2 of 2"))).to_be_focused()

    page.get_by_role("button", name="Undo").click()
    assert path.input_value() != moved
    page.get_by_role("button", name="Redo").click()
    assert path.input_value() == moved


def test_points_can_be_typed_and_a_mouse_draws(demo_studio, open_phone):
    page = open_phone(viewport=DESK, touch=False)
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{demo_studio.url}/bookings/")
    follow(page.get_by_role("link", name="gala").first)
    follow(page.get_by_role("link", name="Garland over the doorway").first)
    page.goto(f"{page.url}sketch/?photo=wall")
    page.get_by_text("The points, in numbers").click()
    said = page.locator("#sketch-said")
    before = said.inner_text()
    with page.expect_response("**/redraw/"):
        page.locator("[name=path]").fill("200,300\n900,300")
    expect(said).not_to_have_text(before)
    expect(said).to_contain_text("along the path")
    typed = inches_said(page)

    page.locator(".sketch-steps").get_by_role("button", name="2 Draw").click()
    box = page.locator("[data-canvas]").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] * 0.1, box["y"] + box["height"] * 0.7)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] * 0.9, box["y"] + box["height"] * 0.7, steps=12)
    with page.expect_response("**/redraw/"):
        page.mouse.up()
    expect(page.locator("#sketch-said")).not_to_contain_text(f"{typed // 12:.0f} ft {typed % 12:.0f} in")
    assert inches_said(page) > typed
