"""Scrolling a page with a picture of 1,500 balloons on a slowed-down phone, beside the same page with an empty box.

How many frames a second a machine without a graphics card shows says little about a phone, so what is held is the
ratio: the frames that came, and those that did not come in time, with the picture and with a box of the same size in
its place. The browser is four times slower than the machine, as a phone is. Run by name; not part of the tests.

python -m pytest tests/bench/bench_scroll.py -s
"""

import json
import re
from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from statistics import median
from typing import NamedTuple

import pytest
from playwright.sync_api import Browser, BrowserContext, CDPSession, Page

from estimating.drawing import Swatch, svg
from estimating.kinds import KINDS, GarlandSpec
from tests.journeys.conftest import PHONE, Server, sign_in

BALLOONS = 1500
SLOWER = 4
ROUNDS = 3
FAR = 1400
SPEED = 1000
MOST_BYTES = 150_000

FRAMES = """() => {
  window.cameAt = [];
  const each = (now) => { window.cameAt.push(now); window.nextFrame = requestAnimationFrame(each); };
  window.nextFrame = requestAnimationFrame(each);
}"""
STOP = "() => { cancelAnimationFrame(window.nextFrame); return window.cameAt; }"
SWAPPED = """(what) => {
  const shown = window.standIn ? window.shownNow : document.querySelector(what);
  if (!window.standIn) {
    const { width, height } = shown.getBoundingClientRect();
    window.standIn = document.createElement("div");
    window.standIn.style.width = `${width}px`;
    window.standIn.style.height = `${height}px`;
  }
  window.shownNow = window.standIn;
  window.standIn = shown;
  shown.replaceWith(window.shownNow);
}"""
LEGEND = """(times) => {
  const page = document.querySelector("main");
  for (let n = 0; n < times; n++) {
    const words = document.createElement("p");
    words.textContent = "What else a page says, so that there is something to scroll to. ".repeat(6);
    page.append(words);
  }
}"""


class Scroll(NamedTuple):
    """Frames a second that came while scrolling, the part of frames that were dropped, the longest wait in ms."""

    rate: float
    dropped: float
    longest: float


def drawing() -> str:
    """A garland of fifteen hundred balloons for the screen."""
    spec = GarlandSpec(
        Decimal(176) * Decimal("304.8"),
        Decimal("558.8"),
        ((5, 30), (11, 62), (16, 8)),
        (("1", 40), ("2", 30), ("3", 20), ("4", 10)),
    )
    layout = KINDS["garland"].lay_out(spec)
    assert len(layout.balloons) == pytest.approx(BALLOONS, rel=0.05)
    palette = {str(n): Swatch(f"#{n}a5b7{n}", f"Colour {n}") for n in range(1, 5)}
    return svg(layout, palette, title="Curtain")


@pytest.fixture
def phone(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context(
        viewport=PHONE,
        has_touch=True,
        device_scale_factor=2,
        service_workers="block",  # or the picture could be asked for past the route below
    )
    yield context
    context.close()


@pytest.fixture
def piece_page(phone: BrowserContext, demo_studio: Server) -> Page:
    """The editor of a garland, with the large picture in place of its own."""
    page = phone.new_page()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{demo_studio.url}/bookings/2/")
    page.get_by_role("link", name="Garland over the doorway").click()
    page.locator("#picture svg").wait_for()
    page.evaluate("(drawn) => { document.querySelector('#picture').innerHTML = drawn; }", drawing())
    return page


@pytest.fixture
def client_page(phone: BrowserContext, demo_studio: Server) -> Page:
    """What a client sees of an open quote, with the large picture in place of the first."""
    page = phone.new_page()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    pages = (page.request.get(f"{demo_studio.url}/quotes/{number}/").text() for number in range(1, 20))
    link = next(path for text in pages for path in re.findall(r'value="https?://[^/"]+(/q/[^"]+)"', text))
    large = drawing()
    page.route(
        re.compile(r"/q/[^/]+/picture-1\.svg"), lambda route: route.fulfill(body=large, content_type="image/svg+xml")
    )
    page.goto(f"{demo_studio.url}{link}")
    page.locator(".picture img").first.evaluate("(picture) => picture.decode()")
    return page


def scrolled(page: Page, browser: Browser, session: CDPSession) -> Scroll:
    """Down the page and back up, smoothly."""
    page.evaluate("() => window.scrollTo(0, 0)")
    page.wait_for_timeout(300)
    browser.start_tracing(page=page, categories=["cc", "benchmark", "viz"])
    page.evaluate(FRAMES)
    reached = []
    for way in (-FAR, FAR):
        session.send(
            "Input.synthesizeScrollGesture",
            {"x": 195, "y": 600, "yDistance": way, "speed": SPEED, "gestureSourceType": "mouse", "preventFling": True},
        )
        reached.append(page.evaluate("() => window.scrollY"))
    assert reached[0] > FAR / 2 > reached[1], "the page did not scroll"
    came: list[float] = page.evaluate(STOP)
    return Scroll(
        rate=1000 * (len(came) - 1) / (came[-1] - came[0]),
        dropped=dropped_part(browser.stop_tracing()),
        longest=max(later - sooner for sooner, later in pairwise(came)),
    )


def dropped_part(trace: bytes) -> float:
    """Of the frames that had something to show, the part that was not shown, or was with a part not yet painted."""
    told = (event["args"].get("frame_reporter") for event in json.loads(trace)["traceEvents"] if "args" in event)
    frames = [frame for frame in told if frame and frame["state"] != "STATE_NO_UPDATE_DESIRED"]
    assert frames, "the browser reported no frames"
    late = [frame for frame in frames if frame["state"] == "STATE_DROPPED" or frame["checkerboarded_needs_raster"]]
    return len(late) / len(frames)


def compared(page: Page, browser: Browser, picture: str) -> tuple[Scroll, Scroll]:
    """The middle of several scrolls with the picture, and with an empty box, turn by turn."""
    page.evaluate(LEGEND, 40)
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    scrolled(page, browser, session)
    runs: tuple[list[Scroll], list[Scroll]] = ([], [])
    for turn in range(2 * ROUNDS):
        runs[turn % 2].append(scrolled(page, browser, session))
        page.evaluate(SWAPPED, picture)
    drawn, empty = middle(runs[0]), middle(runs[1])
    print(f"\nwith the picture {drawn}\nwith a box       {empty}")
    return drawn, empty


def middle(scrolls: list[Scroll]) -> Scroll:
    """The median of each figure."""
    return Scroll(*(median(values) for values in zip(*scrolls, strict=True)))


def test_a_picture_of_fifteen_hundred_balloons_is_under_150_kb() -> None:
    size = len(drawing().encode())
    print(f"\n{size / 1000:.0f} kB")
    assert size < MOST_BYTES


def test_the_piece_page_scrolls_as_it_would_without_a_picture(piece_page: Page, chromium: Browser) -> None:
    drawn, empty = compared(piece_page, chromium, "#picture svg")
    assert drawn.rate >= 0.9 * empty.rate
    assert drawn.dropped <= empty.dropped + 0.1


def test_the_clients_page_scrolls_as_it_would_without_a_picture(client_page: Page, chromium: Browser) -> None:
    drawn, empty = compared(client_page, chromium, ".picture img")
    assert drawn.rate >= 0.9 * empty.rate
    assert drawn.dropped <= empty.dropped + 0.1
