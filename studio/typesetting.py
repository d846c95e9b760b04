"""The program that sets paper: it is asked over its standard input, one paper after the other, and knows nothing else.

No other module touches the engine, since a call without our fetcher can read files and the network. It has no secret in
its environment, opens no database, and ends by itself when nobody asks, when its parent is gone, and when it takes too
long.
"""

import hashlib
import json
import logging
import os
import resource
import signal
import socket
import sys
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from studio.parcels import read_parcel, write_parcel
from studio.pdf import SCHEME, Asset
from studio.writing_direction import turn

IDLE_SECONDS = 300
"""How long it waits to be asked before it gives its memory back."""

_FONTS_STAMPED = "315532800"  # The first day of 1980, where other reproducible formats begin too.


@dataclass(frozen=True)
class Typeset:
    """A paper that was set, or why it was not: its bytes, faults of our own, what was not fetched, what was logged."""

    pdf: bytes = b""
    faults: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    heard: tuple[tuple[int, str], ...] = ()


def typeset(html: str, *, stylesheets: Sequence[str], assets: Mapping[str, Asset], about: Mapping[str, str]) -> Typeset:
    """Set a paper here and now; `about` has its title, author, identifier, made_at and lang."""
    # Cutting a weight out of a variable font stamps it with the time of day, unless it is told another one.
    os.environ["SOURCE_DATE_EPOCH"] = _FONTS_STAMPED
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetchingError

    reading = _Reading(assets)
    fetcher = _fetcher(reading)
    fonts = FontConfiguration()
    options = {"pdf_variant": "pdf/ua-1", "optimize_images": True, "dpi": 150}
    pdf, failed = b"", tuple[str, ...]()
    with _Listening() as heard:
        try:
            page = HTML(string=html, base_url=SCHEME, url_fetcher=fetcher)
            turn(page.etree_element)
            sheets = [CSS(string=css, base_url=SCHEME, url_fetcher=fetcher, font_config=fonts) for css in stylesheets]
            document = page.render(font_config=fonts, stylesheets=sheets, **options)
            _describe(document.metadata, about)
            mark = hashlib.sha256(about["identifier"].encode()).digest()[:16]
            pdf = document.write_pdf(pdf_identifier=mark, **options)
        except URLFetchingError as error:
            # A few addresses, such as a colour profile's, the engine cannot do without.
            failed = (str(error),)
    faults = failed or tuple(_unexplained(heard.errors, reading.refused))
    told = tuple((record.levelno, record.getMessage()) for record in heard.all)
    return Typeset(b"" if faults else pdf, faults, tuple(reading.refused), told)


@dataclass
class _Reading:
    """What a page asked for while it was drawn."""

    assets: Mapping[str, Asset]
    refused: list[str] = field(default_factory=list)

    def asset(self, url: str) -> Asset:
        """The asset at `url`, or an error that the engine takes for a file that is not there."""
        if not url.startswith(SCHEME):
            self.refused.append(url[:200])
            raise PermissionError(f"{url[:200]} is not read, only the assets handed over")
        name = url.removeprefix(SCHEME).partition("#")[0]
        if name not in self.assets:
            raise FileNotFoundError(f"no such asset among {len(self.assets)}")
        return self.assets[name]


def _fetcher(reading: _Reading) -> Any:
    """A fetcher for the engine that answers from memory, so there is nothing it could open or be led to."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class AssetFetcher(URLFetcher):
        def __init__(self) -> None:
            super().__init__(allowed_protocols={"asset"}, allow_redirects=False)

        def fetch(self, url: str, headers: object = None) -> Any:
            asset = reading.asset(url)
            return URLFetcherResponse(url, asset.content, {"Content-Type": asset.mime})

    return AssetFetcher()


class _Listening(logging.Handler):
    """Collects what the engine logs in this thread, and which of it is an error."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.all: list[logging.LogRecord] = []
        self.errors: list[logging.LogRecord] = []
        self._thread = threading.get_ident()

    def emit(self, record: logging.LogRecord) -> None:
        if record.thread != self._thread:
            return
        self.all.append(record)
        if record.levelno >= logging.ERROR or str(record.msg).startswith("Font-face"):
            self.errors.append(record)

    def __enter__(self) -> "_Listening":
        logging.getLogger("weasyprint").addHandler(self)
        return self

    def __exit__(self, *exception: object) -> None:
        logging.getLogger("weasyprint").removeHandler(self)


def _unexplained(errors: Sequence[logging.LogRecord], refused: Sequence[str]) -> list[str]:
    """The errors that a refused address does not account for, as text."""
    told = [record.getMessage() for record in errors]
    return [
        message
        for message in told
        if not any(url in message for url in refused) and not (message.startswith("Font-face") and refused)
    ]


def _describe(metadata: Any, about: Mapping[str, str]) -> None:
    moment = datetime.fromisoformat(about["made_at"]).astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    metadata.title = about["title"]
    metadata.authors = [about["author"]]
    metadata.lang = about["lang"]
    metadata.generator = "Garlandry"
    metadata.created = metadata.modified = moment


def answer(head: bytes, parts: Sequence[bytes]) -> tuple[bytes, list[bytes]]:
    """One paper as it was asked for over the line, and what goes back."""
    asked = json.loads(head)
    assets = {name: Asset(part, mime) for (name, mime), part in zip(asked["assets"], parts, strict=True)}
    try:
        made = typeset(asked["html"], stylesheets=asked["stylesheets"], assets=assets, about=asked["about"])
    except MemoryError:
        return b"memory", []
    except Exception as error:
        # What the engine stumbles over is told like a fault of the paper, not passed over.
        made = Typeset(faults=(f"the engine failed ({type(error).__name__}: {error})",))
    told = {"faults": made.faults, "refused": made.refused, "heard": made.heard}
    return json.dumps(told).encode(), [made.pdf]


def main(room: int, seconds: float, at_most: float) -> None:
    """Set paper until nobody asks any more: so many processor seconds a paper, and so many on the clock."""
    resource.setrlimit(resource.RLIMIT_AS, (room, room))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    # Pages are answered before paper is set.
    os.nice(5)
    line = socket.socket(fileno=0)
    logging.getLogger("weasyprint").addHandler(logging.NullHandler())
    logging.getLogger("weasyprint").propagate = False
    while True:
        line.settimeout(IDLE_SECONDS)
        try:
            found = read_parcel(line)
        except (TimeoutError, EOFError, OSError):
            return
        if found is None:
            return
        # Should the one who asked be gone, nobody else would end it.
        signal.setitimer(signal.ITIMER_REAL, at_most + 5)
        signal.setitimer(signal.ITIMER_PROF, seconds)
        back, parts = answer(*found)
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.setitimer(signal.ITIMER_REAL, 0)
        line.settimeout(None)
        write_parcel(line, back, parts)
        if back == b"memory":
            return


if __name__ == "__main__":
    main(int(sys.argv[1]), float(sys.argv[2]), float(sys.argv[3]))
