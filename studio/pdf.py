"""A page of HTML to the bytes of a PDF, reading nothing but what is handed over with it.

The engine takes half a second and 25 MB to import, so it is imported where it is used: pages that make no
paper never load it. No other module touches it, since a call without our fetcher can read files and the network.
"""

import hashlib
import logging
import os
import re
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

SCHEME = "asset:///"
_FONTS_STAMPED = "315532800"  # The first day of 1980, where other reproducible formats begin too.

_log = logging.getLogger(__name__)
_NAME = re.compile(r"[A-Za-z0-9_][A-Za-z0-9._-]*(/[A-Za-z0-9_][A-Za-z0-9._-]*)*")
_MIME_OF = {
    ".css": "text/css",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
    ".ttf": "font/ttf",
    ".otf": "font/otf",
}


class PaperFault(Exception):
    """A PDF that would not look as meant: one of our own files is missing or cannot be read."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__(f"The PDF was not made: {'; '.join(self.faults)}.")


@dataclass(frozen=True)
class Asset:
    """A picture, a font or a style sheet, known to the page as asset:///name."""

    content: bytes
    mime: str


def assets_in(folder: Path) -> dict[str, Asset]:
    """Every picture, font and style sheet in `folder`, by name; other files, such as licences, are left out."""
    return {
        path.name: Asset(path.read_bytes(), _MIME_OF[path.suffix])
        for path in sorted(folder.iterdir())
        if path.is_file() and path.suffix in _MIME_OF
    }


def pdf_from_html(
    html: str,
    *,
    stylesheets: Sequence[str],
    assets: Mapping[str, Asset],
    title: str,
    author: str,
    identifier: str,
    made_at: datetime,
    lang: str = "en",
) -> bytes:
    """The PDF of a page: tagged for screen readers (PDF/UA-1), its fonts embedded, always the same bytes.

    `stylesheets` are the texts of style sheets, in order. The page and they may refer to `assets` as asset:///name
    and to nothing else: any other address, from the network, a file or data in place, is not fetched; the PDF
    is made without it and the refusal logged. `identifier` says which paper this is (the same words give
    the same bytes) and `made_at`, which must know its time zone, is the date written into it.

    Raises `PaperFault` when an asset is missing or cannot be read, a picture has no description, or a link
    within the page leads nowhere.
    """
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    # Cutting a weight out of a variable font stamps it with the time of day, unless it is told another one.
    os.environ["SOURCE_DATE_EPOCH"] = _FONTS_STAMPED
    from weasyprint.urls import URLFetchingError

    if made_at.utcoffset() is None:
        raise ValueError(f"made_at must know its time zone (got {made_at!r}).")
    _check_names(assets)
    reading = _Reading(assets)
    fetcher = _fetcher(reading)
    fonts = FontConfiguration()
    options = {"pdf_variant": "pdf/ua-1", "optimize_images": True, "dpi": 150}
    with _Listening() as heard:
        try:
            page = HTML(string=html, base_url=SCHEME, url_fetcher=fetcher)
            sheets = [CSS(string=css, base_url=SCHEME, url_fetcher=fetcher, font_config=fonts) for css in stylesheets]
            document = page.render(font_config=fonts, stylesheets=sheets, **options)
            _describe(document.metadata, title=title, author=author, lang=lang, made_at=made_at)
            pdf: bytes = document.write_pdf(pdf_identifier=hashlib.sha256(identifier.encode()).digest()[:16], **options)
        except URLFetchingError as error:
            # A few addresses, such as a colour profile's, the engine cannot do without.
            raise PaperFault([str(error)]) from error
    for url in reading.refused:
        _log.warning("A PDF was made without %s: only its own assets are read.", url)
    if faults := _unexplained(heard.errors, reading.refused):
        raise PaperFault(faults)
    return pdf


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
    """Collects what the engine logs as an error in this thread; it goes on to the log as ever."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.errors: list[logging.LogRecord] = []
        self._thread = threading.get_ident()

    def emit(self, record: logging.LogRecord) -> None:
        is_error = record.levelno >= logging.ERROR or str(record.msg).startswith("Font-face")
        if is_error and record.thread == self._thread:
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


def _describe(metadata: Any, *, title: str, author: str, lang: str, made_at: datetime) -> None:
    moment = made_at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    metadata.title = title
    metadata.authors = [author]
    metadata.lang = lang
    metadata.generator = "Garlandry"
    metadata.created = metadata.modified = moment


def _check_names(assets: Mapping[str, Asset]) -> None:
    for name in assets:
        if not _NAME.fullmatch(name):
            raise ValueError(f"An asset's name is letters, digits, dots, dashes and slashes (got {name!r}).")
