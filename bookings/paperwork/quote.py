"""A quote on paper: one page as a rule, two at the most for a job of up to eight pieces."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import accumulate
from math import ceil
from pathlib import Path
from typing import Any, Literal

from django.template.loader import render_to_string

from bookings.accent import paper_rules
from bookings.choosing import Offer, price_in
from estimating.shading import PAPER_SHADES, paper_shades
from studio.pdf import Asset, PaperTooLarge, assets_in, pdf_from_html

Paper = Literal["A4", "letter"]

_STATIC = Path(__file__).resolve().parents[2] / "studio" / "static"
_SIZES: Mapping[Paper, str] = {"A4": "A4", "letter": "letter"}
_VIEW = re.compile(r'viewBox="[-0-9.]+ [-0-9.]+ ([0-9.]+) ([0-9.]+)"')
_SWATCH = re.compile(r"#[0-9a-fA-F]{6}")

_LETTER_WIDTH = 216
"""The wider of the two papers, in millimetres."""

_HIGHEST: Mapping[str, int] = {"roomy": 116, "snug": 84, "tight": 50, "tight least": 50}
"""How many millimetres the first picture may take from edge to edge above the title; a higher one stands beside it."""

_SNUG = 100
_SETTINGS = (("roomy", 44), ("snug", _SNUG), ("tight", 130))
"""How the paper is set, and up to how many lines of text; what is longer still is set as small as can be read."""

_ROWS_OF_SUMS, _LINES_OF_A_ROW, _LINES_BESIDE_TABLES = 5, 3, 16
"""What tables of options and extras take: rows of a head and sums, lines of a row, lines of their headings and the
picture that is above them."""

MOST_LINES = 500
"""Pieces and extras that a quote lists; its paper is otherwise too long to be set while somebody waits."""
_MOST_LINES_OF_TERMS = 50
"""Terms with more lines than this are run on, a dot between them, so that line breaks alone cannot fill a page."""


_MOST_CHANGES = 900
"""Characters of changes that are printed; the client's page lists them all."""


@dataclass(frozen=True, slots=True)
class PaperPiece:
    """A piece as it is printed. `colours` hold name, swatch (#rrggbb), ink and count; `drawing` is SVG for paper.

    `photo` is the JPEG the drawing finds at `photo_asset` of the piece's place, None where it has none. `option` is the
    option it is in, 0 for every one; `extra` the extra it is, 0 for none; `prices` its price by the option's number.
    """

    name: str
    description: str
    balloons: int
    colours: list[dict[str, Any]]
    price_minor: int
    drawing: str
    photo: bytes | None = None
    option: int = 0
    extra: int = 0
    prices: Mapping[str, int] = field(default_factory=dict)

    def price_in(self, option: int) -> int | None:
        """Its part of the price of an option, None where it is not in it."""
        return price_in(option, self.prices, self.price_minor) if self.option in (0, option) else None


def quote_pdf(
    *,
    told: Mapping[str, Any],
    pieces: Sequence[PaperPiece],
    currency: str,
    price_minor: int,
    tax_minor: int,
    total_minor: int,
    deposit_minor: int,
    made_at: datetime,
    paper: Paper = "A4",
    offer: Offer | None = None,
) -> bytes:
    """The PDF of a quote, the same bytes for the same input.

    `told` is what the client is told, as the quote keeps it: studio (name, email, phone, address), client, title,
    number, version, day, ready_by, place, terms, cautions, tax_percent, valid_until and changes. `offer` is what can
    be chosen, None where that is the whole quote. Raises PaperFault where a drawing cannot be read, PaperTooLarge
    beyond `MOST_LINES`, ValueError where a colour's swatch is not #rrggbb.
    """
    if len(pieces) > MOST_LINES:
        raise PaperTooLarge(f"a quote lists at most {MOST_LINES} pieces (this one {len(pieces):,})")
    html = quote_html(
        told=told,
        pieces=pieces,
        currency=currency,
        price_minor=price_minor,
        tax_minor=tax_minor,
        total_minor=total_minor,
        deposit_minor=deposit_minor,
        offer=offer,
    )
    name = f"Quote {told['number']}, version {told['version']}"
    return pdf_from_html(
        html,
        stylesheets=[
            (_STATIC / "css" / "paper.css").read_text(encoding="utf-8"),
            f"@page {{ size: {_SIZES[paper]} }}",
            _disc_rules(pieces),
            paper_rules(told["studio"].get("accent", "")),
        ],
        assets=assets_in(_STATIC / "fonts") | _pictures(pieces) | _discs(pieces),
        title=f"{name}: {told['title']}" if told["title"] else name,
        author=told["studio"]["name"],
        identifier=f"{name}, {paper}, {made_at.isoformat()}",
        made_at=made_at,
    )


def quote_html(
    *,
    told: Mapping[str, Any],
    pieces: Sequence[PaperPiece],
    currency: str,
    price_minor: int,
    tax_minor: int,
    total_minor: int,
    deposit_minor: int,
    offer: Offer | None = None,
) -> str:
    """The page behind `quote_pdf`. Its pictures are asset:///piece-<n>.svg, its discs asset:///disc-<rrggbb>.svg."""
    terms = _paragraphs(told["terms"])
    changes = _first_changes(told["changes"])
    compared = _compared(pieces, offer)
    extras = offer.extras if offer else ()
    rows = (len(compared) + _ROWS_OF_SUMS if compared else 0) + (len(extras) + 1 if extras else 0)
    setting = _setting([*terms, *told["cautions"]], changes, pieces, rows)
    return render_to_string(
        "paper/quote.html",
        {
            "told": told,
            "pieces": [
                {
                    "piece": piece,
                    "picture": f"piece-{n}.svg" if piece.drawing else "",
                    "discs": _legend(piece),
                    "where": _where(piece, offer),
                }
                for n, piece in enumerate(pieces)
            ],
            "balloons": sum(piece.balloons for piece in pieces),
            "options": offer.options if offer and len(offer.options) > 1 else (),
            "compared": compared,
            "extras": extras,
            "setting": setting,
            "hero": _place_of(pieces[0].drawing if pieces else "", setting),
            "terms": terms,
            "terms_in": "two" if sum(map(len, terms)) > 400 else "one",
            "changes": changes,
            "more_changes": len(told["changes"]) - len(changes),
            "currency": currency,
            "price_minor": price_minor,
            "tax_minor": tax_minor,
            "total_minor": total_minor,
            "deposit_minor": deposit_minor,
        },
    )


def _where(piece: PaperPiece, offer: Offer | None) -> str:
    """Where a piece is in what is offered, in a word or two; empty where nothing else is offered."""
    if piece.extra:
        return "Extra"
    if offer is None or len(offer.options) == 1:
        return ""
    return next((one.name for one in offer.options if one.number == piece.option), "In every option")


def _compared(pieces: Sequence[PaperPiece], offer: Offer | None) -> list[dict[str, Any]]:
    """Each piece with its price in each option; nothing where there is one option."""
    if offer is None or len(offer.options) == 1:
        return []
    return [
        {"name": piece.name, "prices": [piece.price_in(one.number) for one in offer.options]}
        for piece in pieces
        if not piece.extra
    ]


def _paragraphs(terms: str) -> list[str]:
    """The lines of the terms, blank ones left out; very many short ones become one paragraph."""
    lines = [line.strip() for line in terms.splitlines() if line.strip()]
    return lines if len(lines) <= _MOST_LINES_OF_TERMS else [" · ".join(lines)]


def _first_changes(changes: Sequence[str]) -> list[str]:
    """The changes there is room for, in their order."""
    so_far = accumulate(len(change) for change in changes)
    return [change for change, length in zip(changes, so_far, strict=True) if length <= _MOST_CHANGES]


def _setting(small_print: Sequence[str], changes: Sequence[str], pieces: Sequence[PaperPiece], rows: int) -> str:
    """How tightly the page is set, by the lines of text it has to hold, pictures counted as the lines they take.

    `rows` are those of the tables of options and extras.
    """
    lines = sum(ceil(len(text) / 55) for text in small_print) / 2 + sum(ceil(len(text) / 110) for text in changes)
    for piece in pieces:
        legend = sum(len(colour["name"]) + 9 for colour in piece.colours)
        said = ceil(len(piece.name) / 60) + ceil(len(piece.description) / 80) + ceil(legend / 80)
        lines += max(said + 1, 6)
    if rows:
        # Tables may make it a little smaller, not small: they take another page instead.
        lines = max(lines, min(lines + _LINES_BESIDE_TABLES + _LINES_OF_A_ROW * rows, _SNUG))
    return next((setting for setting, most in _SETTINGS if lines <= most), "tight least")


def _place_of(drawing: str, setting: str) -> str:
    """Where the first picture stands: wide above the title, beside it, or nowhere where there is none."""
    view = _VIEW.search(drawing[:600])
    if view is None:
        return "bare"
    width, height = float(view[1]), float(view[2])
    return "wide" if _LETTER_WIDTH * height <= _HIGHEST[setting] * width else "beside"


def photo_asset(position: int) -> str:
    """Where a piece's drawing finds the photo behind it."""
    return f"asset:///piece-{position}.jpg"


def _pictures(pieces: Sequence[PaperPiece]) -> dict[str, Asset]:
    pictures = {
        f"piece-{n}.svg": Asset(piece.drawing.encode(), "image/svg+xml")
        for n, piece in enumerate(pieces)
        if piece.drawing
    }
    photos = {f"piece-{n}.jpg": Asset(piece.photo, "image/jpeg") for n, piece in enumerate(pieces) if piece.photo}
    return pictures | photos


def _legend(piece: PaperPiece) -> list[dict[str, Any]]:
    return [{**colour, "disc": _disc_name(colour["swatch"])} for colour in piece.colours]


def _disc_name(swatch: str) -> str:
    if not _SWATCH.fullmatch(swatch):
        raise ValueError(f"A swatch is written #rrggbb (got {swatch!r}).")
    return f"disc-{swatch[1:].lower()}"


def _swatches(pieces: Sequence[PaperPiece]) -> list[str]:
    return sorted({colour["swatch"] for piece in pieces for colour in piece.colours})


def _disc_rules(pieces: Sequence[PaperPiece]) -> str:
    """Each disc is a background: the count and the name stand beside it, so there is nothing to read out."""
    names = [_disc_name(swatch) for swatch in _swatches(pieces)]
    return "\n".join(f'.legend .{name} {{ background-image: url("asset:///{name}.svg") }}' for name in names)


def _discs(pieces: Sequence[PaperPiece]) -> dict[str, Asset]:
    """A balloon of each colour, lit as the balloons of the pictures are."""
    return {f"{_disc_name(swatch)}.svg": Asset(_disc(swatch).encode(), "image/svg+xml") for swatch in _swatches(pieces)}


def _disc(swatch: str) -> str:
    circles = "".join(
        f'<circle cx="{10 + 9 * shade.dx:.2f}" cy="{10 + 9 * shade.dy:.2f}" r="{9 * shade.scale:.2f}" fill="{lit}"/>'
        for shade, lit in zip(PAPER_SHADES, paper_shades(swatch), strict=True)
    )
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20">{circles}</svg>'
