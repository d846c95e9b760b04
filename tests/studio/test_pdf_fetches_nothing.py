"""Paper reads nothing it was not given: no address, no file, whatever a page asks for."""

import logging
import sys
import threading
import urllib.request
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from studio.pdf import Asset, PaperFault
from tests.pages import make, read

pytestmark = pytest.mark.paper
SECRET = "the-canary-sings-at-dawn"


class Canary:
    """A server and a file that nobody should touch, and every touch of either."""

    def __init__(self, http: str, path: Path, touched: list[str]) -> None:
        self.http = http
        self.file = path.as_uri()
        self.path = path
        self.touched = touched


_watched: dict[str, list[str]] = {}


def _watch(event: str, args: tuple[object, ...]) -> None:
    if _watched and event == "open" and str(args[0]) in _watched:
        _watched[str(args[0])].append(f"opened {args[0]}")


@pytest.fixture(scope="module")
def _open_is_watched() -> None:
    sys.addaudithook(_watch)


@pytest.fixture
def canary(tmp_path, _open_is_watched) -> Iterator[Canary]:
    touched: list[str] = []

    class Answer(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            touched.append(f"fetched {self.path}")
            body = SECRET.encode()
            self.send_response(200)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, *_: object) -> None:
            """Say nothing: `touched` has it."""

    path = tmp_path / "canary.txt"
    path.write_text(SECRET)
    server = ThreadingHTTPServer(("127.0.0.1", 0), Answer)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
    thread.start()
    _watched[str(path)] = touched
    yield Canary(f"http://127.0.0.1:{server.server_port}/canary", path, touched)
    _watched.clear()
    server.shutdown()
    thread.join()
    server.server_close()


def test_the_canary_notices_being_fetched_and_being_opened(canary):
    with urllib.request.urlopen(canary.http) as answer:
        answer.read()
    assert canary.path.read_text() == SECRET
    assert canary.touched == ["fetched /canary", f"opened {canary.path}"]


SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="9" height="9">{}</svg>'
DATA_SVG = "data:image/svg+xml," + SVG.format("<image href='URL'/>").replace('"', "%22").replace("<", "%3C")
ATTACKS = [
    pytest.param('<img src="URL" alt="x">', id="img"),
    pytest.param('<img src="  URL" alt="x">', id="img with leading spaces"),
    pytest.param('<img src="\tURL\n" alt="x">', id="img with a tab and a newline"),
    pytest.param('<img srcset="URL 2x" src="URL" alt="x">', id="img srcset"),
    pytest.param('<link rel="stylesheet" href="URL">', id="link to a style sheet"),
    pytest.param("<style>@import url(URL);</style>", id="css import"),
    pytest.param('<style>@import "URL";</style>', id="css import of a string"),
    pytest.param(
        "<style>@font-face { font-family: X; src: url(URL) } p { font-family: X }</style>", id="css font face"
    ),
    pytest.param("<style>p { background: url(URL) }</style>", id="css background"),
    pytest.param("<style>p::before { content: url(URL) }</style>", id="css content"),
    pytest.param("<ul><li style='list-style-image: url(URL)'>x</ul>", id="css list-style-image"),
    pytest.param("<p style='border-image: url(URL) 1'>x</p>", id="css border-image"),
    pytest.param("<style>@page { background: url(URL) }</style>", id="css page background"),
    pytest.param(SVG.format('<image href="URL" width="9" height="9"/>'), id="svg image"),
    pytest.param(SVG.format('<image xlink:href="URL" width="9" height="9"/>'), id="svg image by xlink"),
    pytest.param(SVG.format('<use href="URL#a"/>'), id="svg use"),
    pytest.param(SVG.format('<rect fill="url(URL#a)" width="9" height="9"/>'), id="svg paint server"),
    pytest.param(f'<img src="{DATA_SVG}" alt="x">', id="svg as data with an image inside"),
    pytest.param('<link rel="attachment" href="URL">', id="link to an attachment"),
    pytest.param('<a rel="attachment" href="URL">x</a>', id="anchor to an attachment"),
    pytest.param('<object data="URL">x</object>', id="object"),
    pytest.param('<embed src="URL">', id="embed"),
    pytest.param('<iframe src="URL"></iframe>', id="iframe"),
    pytest.param('<base href="URL"><img src="canary" alt="x">', id="a base of another place"),
    pytest.param('<input type="image" src="URL" alt="x">', id="input image"),
    pytest.param('<video poster="URL" src="URL"></video>', id="video"),
]
ASSET_ATTACKS = [
    pytest.param('<image href="URL" width="9" height="9"/>', id="image"),
    pytest.param('<use href="URL#a"/>', id="use"),
    pytest.param("<style>@font-face { font-family: Y; src: url(URL) }</style><text>x</text>", id="font face"),
]


def holds_the_secret(pdf):
    reader = read(pdf)
    words = "".join(page.extract_text() for page in reader.pages)
    return SECRET in words or SECRET.encode() in pdf or bool(list(reader.attachments))


@pytest.mark.parametrize("scheme", ["http", "HTTP", "file", "FILE"])
@pytest.mark.parametrize("attack", ATTACKS)
def test_nothing_is_fetched_for_a_page_and_the_pdf_is_still_made(canary, set_here, attack, scheme):
    url = canary.http if scheme.lower() == "http" else canary.file
    url = url.replace(scheme.lower() + ":", scheme + ":", 1)
    pdf = make(f"<p>Still here</p>{attack.replace('URL', url)}")
    assert canary.touched == []
    assert "Still here" in read(pdf).pages[0].extract_text()
    assert not holds_the_secret(pdf)


@pytest.mark.parametrize("scheme", ["http", "file"])
@pytest.mark.parametrize("attack", ASSET_ATTACKS)
def test_nothing_is_fetched_for_a_drawing_among_the_assets(canary, set_here, attack, scheme):
    url = canary.http if scheme == "http" else canary.file
    drawing = Asset(SVG.format(attack.replace("URL", url)).encode(), "image/svg+xml")
    pdf = make('<p>Still here</p><img src="asset:///logo.svg" alt="x">', assets={"logo.svg": drawing})
    assert canary.touched == []
    assert "Still here" in read(pdf).pages[0].extract_text()


@pytest.mark.parametrize("scheme", ["http", "file"])
@pytest.mark.parametrize(
    "attack",
    [
        pytest.param("<style>@color-profile --x { src: url(URL) }</style>", id="css colour profile"),
        pytest.param(SVG.format("<style>@import url(URL);</style><g/>"), id="svg style import"),
    ],
)
def test_what_the_engine_cannot_leave_out_stops_the_paper_and_is_not_fetched(canary, set_here, attack, scheme):
    url = canary.http if scheme == "http" else canary.file
    with pytest.raises(PaperFault):
        make(attack.replace("URL", url))
    assert canary.touched == []


@pytest.mark.parametrize("scheme", ["http", "file"])
def test_an_entity_of_a_drawing_is_not_fetched(canary, set_here, scheme):
    url = canary.http if scheme == "http" else canary.file
    drawing = f'<!DOCTYPE svg [<!ENTITY e SYSTEM "{url}">]>' + SVG.format("<text>&e;</text>")
    logo = Asset(drawing.encode(), "image/svg+xml")
    with pytest.raises(PaperFault, match=r"Failed to load image at .*logo\.svg"):
        make('<img src="asset:///logo.svg" alt="x">', assets={"logo.svg": logo})
    assert canary.touched == []


@pytest.mark.parametrize(
    "url", ["ftp://127.0.0.1/x", "data:text/plain,x", "//127.0.0.1/x", "asset:x", "asset://host/disc.svg", "x.png"]
)
def test_every_other_address_is_refused_as_well(caplog, url):
    with caplog.at_level(logging.WARNING, "studio.pdf"):
        make(f'<p>Still here</p><img src="{url}" alt="x">')
    refusals = [record.getMessage() for record in caplog.records if record.name == "studio.pdf"]
    assert len(refusals) == 1
    assert refusals[0].startswith("A PDF was made without ")


def test_a_refusal_is_logged_with_the_address(caplog):
    make('<img src="https://port-alder.example/logo.png" alt="x">')
    told = [record.getMessage() for record in caplog.records if record.name == "studio.pdf"]
    assert told == ["A PDF was made without https://port-alder.example/logo.png: only its own assets are read."]
