"""The camera reads a barcode while the shelf is counted.

Chromium is given a camera that films a barcode we draw, and a `BarcodeDetector` that reads the film's pixels: what is
under test is all between the camera and the item found.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from tests.journeys.conftest import CHROMIUM, PHONE, QUIET, Server, follow, sign_in

pytestmark = pytest.mark.browser

CODE = "4006381333931"
WIDTH, HEIGHT, MODULE = 640, 480, 5
# EAN-13 (GS1 General Specifications, from memory): the left digits' odd patterns, and which are even for a first digit.
ODD = ["0001101", "0011001", "0010011", "0111101", "0100011", "0110001", "0101111", "0111011", "0110111", "0001011"]
FIRST = ["OOOOOO", "OOEOEE", "OOEEOE", "OOEEEO", "OEOOEE", "OEEOOE", "OEEEOO", "OEOEOE", "OEOEEO", "OEEOEO"]

DETECTOR = """
window.BarcodeDetector = class {
  async detect(video) {
    if (!video.videoWidth) return [];
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [video.videoWidth, video.videoHeight];
    const pen = canvas.getContext("2d");
    pen.drawImage(video, 0, 0);
    const row = pen.getImageData(0, canvas.height >> 1, canvas.width, 1).data;
    const dark = Array.from({ length: canvas.width }, (_, x) => row[4 * x] < 128);
    const from = dark.indexOf(true), to = dark.lastIndexOf(true);
    const module = (to - from + 1) / 95;
    const at = (n) => Math.floor(from + (n + 0.5) * module);
    const bits = Array.from({ length: 95 }, (_, n) => (dark[at(n)] ? "1" : "0")).join("");
    const turned = (text) => text.replace(/./g, (bit) => (bit === "1" ? "0" : "1"));
    const even = (text) => [...turned(text)].reverse().join("");
    const odd = ODD;
    let digits = "", pattern = "";
    for (let n = 0; n < 6; n += 1) {
      const seven = bits.slice(3 + 7 * n, 10 + 7 * n), plain = odd.indexOf(seven);
      pattern += plain >= 0 ? "O" : "E";
      digits += plain >= 0 ? plain : odd.map(even).indexOf(seven);
    }
    for (let n = 0; n < 6; n += 1) digits += odd.map(turned).indexOf(bits.slice(50 + 7 * n, 57 + 7 * n));
    const first = FIRST.indexOf(pattern);
    return first < 0 || digits.includes("-") ? [] : [{ rawValue: `${first}${digits}`, format: "ean_13" }];
  }
};
""".replace("ODD", str(ODD)).replace("FIRST", str(FIRST))


def bars(code: str) -> str:
    """The 95 modules of an EAN-13, 1 for a dark one."""

    def turned(bits: str) -> str:
        return bits.translate(str.maketrans("01", "10"))

    left = "".join(
        ODD[int(digit)] if parity == "O" else turned(ODD[int(digit)])[::-1]
        for digit, parity in zip(code[1:7], FIRST[int(code[0])], strict=True)
    )
    right = "".join(turned(ODD[int(digit)]) for digit in code[7:])
    return f"101{left}01010{right}101"


def film(path: Path) -> Path:
    """One second of a barcode held still, as uncompressed video (YUV4MPEG2)."""
    line = bytearray([235] * WIDTH)
    start = (WIDTH - 95 * MODULE) // 2
    for n, bit in enumerate(bars(CODE)):
        if bit == "1":
            line[start + n * MODULE : start + (n + 1) * MODULE] = bytes([16] * MODULE)
    frame = b"FRAME\n" + bytes(line) * HEIGHT + bytes([128]) * (WIDTH * HEIGHT // 2)
    path.write_bytes(f"YUV4MPEG2 W{WIDTH} H{HEIGHT} F10:1 Ip A1:1 C420jpeg\n".encode() + frame * 10)
    return path


@pytest.fixture(scope="module")
def filming(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """A browser whose camera films the barcode."""
    made = film(tmp_path_factory.mktemp("film") / "barcode.y4m")
    camera = ["--use-fake-device-for-media-stream", f"--use-file-for-fake-video-capture={made}"]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=[*QUIET, *camera])
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def coded(demo_studio: Server, filming: Browser) -> Server:
    """The demo, with the barcode typed on the page of black 5-inch."""
    page = filming.new_page()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{demo_studio.url}/stock/")
    follow(page.get_by_role("link", name="Black 5-inch").first)
    follow(page.get_by_role("link", name="How it is kept"))
    page.get_by_label("Barcode").fill(CODE)
    follow(page.get_by_role("button", name="Save"))
    page.close()
    return demo_studio


def counting(context: BrowserContext, studio: Server, detector: str = DETECTOR) -> Page:
    page = context.new_page()
    if detector:
        page.add_init_script(detector)
    sign_in(page, studio, "jan", "tern-and-tide")
    page.goto(f"{studio.url}/stock/count/")
    return page


def test_what_the_camera_sees_finds_its_item(coded, filming):
    context = filming.new_context(viewport=PHONE, permissions=["camera"])
    page = counting(context, coded)
    page.get_by_role("button", name="Scan").click()
    page.wait_for_url(f"**/stock/count/?find={CODE}")
    rows = page.locator("[data-count-rows] > li")
    expect(rows).to_have_count(1)
    expect(rows).to_contain_text("Black 5-inch")
    context.close()


def test_stop_lets_go_of_the_camera(coded, filming):
    context = filming.new_context(viewport=PHONE, permissions=["camera"])
    page = counting(context, coded, "window.BarcodeDetector = class { async detect() { return []; } };")
    page.get_by_role("button", name="Scan").click()
    expect(page.get_by_text("Hold the barcode in front of the camera.")).to_be_visible()
    page.wait_for_function("() => document.querySelector('video').videoWidth > 0")
    stream = page.evaluate_handle("() => document.querySelector('video').srcObject")
    page.get_by_role("button", name="Stop").click()
    assert stream.evaluate("(stream) => stream.getTracks().every((track) => track.readyState === 'ended')")
    expect(page.locator("[data-scan-view]")).to_be_hidden()
    context.close()


def test_a_camera_that_may_not_be_used_is_told(coded, filming):
    context = filming.new_context(viewport=PHONE, permissions=[])
    page = counting(context, coded)
    page.get_by_role("button", name="Scan").click()
    expect(page.get_by_text("The camera cannot be used here. Type the barcode instead.")).to_be_visible()
    context.close()


def test_where_the_browser_reads_no_barcodes_it_is_typed(coded, filming):
    context = filming.new_context(viewport=PHONE)
    page = counting(context, coded, "delete window.BarcodeDetector;")
    expect(page.get_by_role("button", name="Scan")).to_be_hidden()
    page.get_by_label("Barcode or name").fill(CODE)
    page.get_by_role("button", name="Find").click()
    expect(page.locator("[data-count-rows] > li")).to_contain_text("Black 5-inch")
    context.close()
