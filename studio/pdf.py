"""A page of HTML to the bytes of a PDF, reading nothing but what is handed over with it.

It is set by `studio.typesetting` in a program of its own, kept ready by `studio.press`: the engine takes half a second
and 25 MB to import, a page can be made to take any time and memory, and whoever answers pages should know of neither.
"""

import json
import logging
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from studio.press import PRESS, PressStopped

SCHEME = "asset:///"

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


class PaperTooLarge(PaperFault):
    """A PDF that takes more time, memory or lines than one may; the message is a sentence that says which."""

    def __init__(self, why: str) -> None:
        super().__init__([f"the paper is too large: {why}"])


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
    within the page leads nowhere; `PaperTooLarge` when it takes longer or more memory than a paper may.
    """
    if made_at.utcoffset() is None:
        raise ValueError(f"made_at must know its time zone (got {made_at!r}).")
    for name in assets:
        if not _NAME.fullmatch(name):
            raise ValueError(f"An asset's name is letters, digits, dots, dashes and slashes (got {name!r}).")
    asked = {
        "html": html,
        "stylesheets": list(stylesheets),
        "assets": [[name, asset.mime] for name, asset in assets.items()],
        "about": {
            "title": title,
            "author": author,
            "identifier": identifier,
            "made_at": made_at.isoformat(),
            "lang": lang,
        },
    }
    try:
        head, (pdf,) = PRESS.ask(json.dumps(asked).encode(), [asset.content for asset in assets.values()], answers=1)
    except PressStopped as stopped:
        raise PaperTooLarge(str(stopped)) from stopped
    told = json.loads(head)
    for level, message in told["heard"]:
        logging.getLogger("weasyprint").log(level, "%s", message)
    if told["faults"]:
        raise PaperFault(told["faults"])
    for url in told["refused"]:
        _log.warning("A PDF was made without %s: only its own assets are read.", url)
    return pdf
