"""A colour is taken from a photo on the device: where one presses, by keyboard, and without sending the photo."""

import io
import random
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from stock.colour import distance
from tests.journeys.conftest import DESK, Server, sign_in

pytestmark = pytest.mark.browser

QUARTERS = {(0.25, 0.25): "#c4694a", (0.75, 0.25): "#22314f", (0.25, 0.75): "#9caf8f", (0.75, 0.75): "#f5e08e"}
"""Where on the picture, as shares of its sides, and the colour that is there."""


def rgb(swatch: str) -> tuple[int, int, int]:
    return (int(swatch[1:3], 16), int(swatch[3:5], 16), int(swatch[5:], 16))


def picture(size: tuple[int, int] = (800, 600)) -> bytes:
    """Four quarters of four colours."""
    image = Image.new("RGB", size)
    for (across, down), swatch in QUARTERS.items():
        left, top = int((across - 0.25) * size[0]), int((down - 0.25) * size[1])
        image.paste(rgb(swatch), (left, top, left + size[0] // 2, top + size[1] // 2))
    written = io.BytesIO()
    image.save(written, "PNG")
    return written.getvalue()


def choose(page: Page, content: bytes, name: str = "door.png", mime: str = "image/png") -> None:
    page.get_by_label("Or take it from a photo").set_input_files({"name": name, "mimeType": mime, "buffer": content})


def pressed(page: Page, across: float, down: float) -> str:
    canvas = page.locator("canvas")
    expect(canvas).to_be_visible()
    box = canvas.bounding_box()
    assert box is not None
    canvas.click(position={"x": across * box["width"], "y": down * box["height"]})
    return page.get_by_label("Swatch").input_value()


@pytest.fixture
def form(demo_studio: Server, open_phone) -> Page:
    page = open_phone()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{demo_studio.url}/stock/colours/new/")
    return page


@pytest.mark.parametrize("size", [(800, 600), (3000, 4000), (40, 30)], ids=["as shown", "larger", "smaller"])
def test_the_colour_is_the_one_that_is_pressed(form, size):
    choose(form, picture(size))
    expect(form.locator("canvas")).to_be_visible()
    for (across, down), swatch in QUARTERS.items():
        assert pressed(form, across, down) == swatch
    assert form.evaluate("() => document.documentElement.scrollWidth") <= 390


def test_dragging_follows_the_finger_and_says_what_was_taken(form):
    choose(form, picture())
    pressed(form, 0.25, 0.25)
    box = form.locator("canvas").bounding_box()
    form.mouse.move(box["x"] + 0.25 * box["width"], box["y"] + 0.25 * box["height"])
    form.mouse.down()
    form.mouse.move(box["x"] + 0.75 * box["width"], box["y"] + 0.25 * box["height"], steps=5)
    form.mouse.up()
    assert form.get_by_label("Swatch").input_value() == "#22314f"
    expect(form.locator("[data-sample] [role=status]")).to_contain_text("#22314f, taken 75 % across, 25 % down")


def test_the_arrow_keys_move_the_point(demo_studio, open_phone):
    page = open_phone(viewport=DESK, touch=False)
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{demo_studio.url}/stock/colours/new/")
    choose(page, picture())
    page.get_by_role("application").focus()
    for key, times in (("Shift+ArrowLeft", 5), ("ArrowUp", 20)):
        for _ in range(times):
            page.keyboard.press(key)
    assert page.get_by_label("Swatch").input_value() == "#c4694a"
    page.keyboard.press("Shift+ArrowDown")
    for _ in range(4):
        page.keyboard.press("Shift+ArrowDown")
    assert page.get_by_label("Swatch").input_value() == "#9caf8f"


def test_a_grainy_photo_gives_its_mean(form):
    grain = random.Random(7)
    image = Image.new("RGB", (400, 300))
    wanted = rgb("#c4694a")
    image.putdata([tuple(part + grain.randint(-25, 25) for part in wanted) for _ in range(400 * 300)])
    written = io.BytesIO()
    image.save(written, "PNG")
    choose(form, written.getvalue())
    expect(form.locator("canvas")).to_be_visible()
    assert distance(pressed(form, 0.4, 0.6), "#c4694a") < 2.5


def test_a_photo_lying_on_its_side_is_read_upright(form):
    """As a phone writes it: the pixels sideways, and a note how to turn them."""
    upright = Image.open(io.BytesIO(picture()))
    exif = Image.Exif()
    exif[0x0112] = 6
    written = io.BytesIO()
    upright.transpose(Image.Transpose.ROTATE_90).save(written, "JPEG", quality=98, exif=exif)
    choose(form, written.getvalue(), "door.jpg", "image/jpeg")
    expect(form.locator("canvas")).to_be_visible()
    for (across, down), swatch in QUARTERS.items():
        assert distance(pressed(form, across, down), swatch) < 2


def test_the_photo_is_never_sent_and_the_colour_is_saved(form, demo_studio):
    sent: list[tuple[str, bytes]] = []
    form.on("request", lambda request: sent.append((request.url, request.post_data_buffer or b"")))
    form.get_by_label("Or its code").fill("#000000")
    choose(form, picture())
    expect(form.locator("canvas")).to_be_visible()
    pressed(form, 0.25, 0.75)
    assert [url for url, body in sent if body] == []
    assert form.get_by_label("Or its code").input_value() == ""
    form.get_by_label("Name").fill("Harbour moss")
    form.get_by_role("button", name="Save the colour").click()
    form.wait_for_url(f"{demo_studio.url}/stock/colours/")
    expect(form.get_by_text("standard · #9caf8f").last).to_be_visible()
    bodies = b"".join(body for _, body in sent)
    assert b"swatch=%239caf8f" in bodies
    assert b"PNG" not in bodies
    assert b"door.png" not in bodies


def test_a_file_that_is_no_photo_is_told(form):
    choose(form, b"no picture at all", "notes.txt", "text/plain")
    expect(form.locator("[data-sample] [role=status]")).to_have_text(
        "This file cannot be read as a photo here. Choose a JPEG, PNG or WebP."
    )
    expect(form.locator("canvas")).to_be_hidden()


def test_without_the_script_the_form_is_as_it_was(demo_studio, chromium):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{demo_studio.url}/stock/colours/new/")
    expect(page.get_by_label("Swatch")).to_be_visible()
    expect(page.get_by_label("Or take it from a photo")).to_be_hidden()
    context.close()


def test_the_script_is_small():
    script = Path(__file__).resolve().parents[2] / "studio" / "static" / "js" / "colour-sample.js"
    assert script.stat().st_size < 8_000
