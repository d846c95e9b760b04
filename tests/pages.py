"""A page of HTML to make paper of, and the paper read again."""

import datetime as dt
import io
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pypdf

from studio.pdf import Asset, assets_in, pdf_from_html

ROOT = Path(__file__).parents[1]
FONTS = ROOT / "studio" / "static" / "fonts"

DISC = b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10" width="90" height="90">
<circle cx="5" cy="5" r="4" fill="#1b1b1f"/></svg>"""
STYLE = """
@font-face { font-family: Paper; src: url(asset:///atkinson-hyperlegible-next-latin.woff2) format("woff2") }
@page { size: A4; margin: 15mm }
body { font-family: Paper }
img { display: block }
"""
PAGE = '<h1>Quote 12</h1><p>18 balloons, 8½ ft, €240</p><img src="asset:///disc.svg" alt="A black disc">'


def make(
    html: str = PAGE,
    *,
    style: str = STYLE,
    assets: Mapping[str, Asset] | None = None,
    identifier: str = "quote 12 version 1",
) -> bytes:
    """The PDF of `html` with the studio's fonts, a drawing, and whatever else the test hands over."""
    given = {**assets_in(FONTS), "disc.svg": Asset(DISC, "image/svg+xml"), **(assets or {})}
    return pdf_from_html(
        html,
        stylesheets=[style],
        assets=given,
        title="Quote 12",
        author="Tern & Tide Balloons",
        identifier=identifier,
        made_at=dt.datetime(2026, 3, 14, 9, 30, tzinfo=dt.UTC),
    )


def read(pdf: bytes) -> Any:
    """The paper, as a reader that forgives nothing has it."""
    return pypdf.PdfReader(io.BytesIO(pdf), strict=True)
