"""The smallest things of a page that are drawn over and over: a balloon, a badge, a day.

Written by Python and kept, not by a template each time: a list has hundreds of them, and including a file for every one
took longer than all else on the page.
"""

import datetime as dt
import itertools
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache

from django.utils.dateformat import format as date_format
from django.utils.html import format_html
from django.utils.safestring import SafeString

# What a latex balloon of a nominal size (inches) is drawn at (pixels): sizes stay apart at a glance, and a
# 36-inch one still fits a row. Between two of these the width is read off the line that joins them.
_DRAWN_AT = ((5, 24), (11, 34), (16, 38), (24, 44), (36, 46))
_BAR_WIDTH, _BAR_HEIGHT = 18, 38
_MODELLING_SIZES_FROM = 100

_KEPT = 2048
"""So many of each are kept: more than a studio has colours times sizes, or days in what it looks at.

By type as well (`typed`): words that are marked safe equal the same words that are not, and must not stand in for them.
"""


def disc_width(size: int | Decimal | None) -> int:
    """The width in pixels a balloon of `size` inches is drawn at; 34 where the size is not known."""
    if size is None:
        return 34
    smallest, largest = _DRAWN_AT[0], _DRAWN_AT[-1]
    if size <= smallest[0]:
        return smallest[1]
    for (low, low_width), (high, high_width) in itertools.pairwise(_DRAWN_AT):
        if size <= high:
            along = (Decimal(size) - low) / (high - low)
            return int((low_width + along * (high_width - low_width)).to_integral_value(ROUND_HALF_UP))
    return largest[1]


@lru_cache(_KEPT, typed=True)
def disc(
    swatch: str, ink: str, size: int | Decimal | None, text: str | None, label: str, *, big: bool, flat: bool
) -> SafeString:
    """A balloon as SVG; what each argument means is said at the tag `disc`."""
    bar = size is not None and size >= _MODELLING_SIZES_FROM
    width, height = (_BAR_WIDTH, _BAR_HEIGHT) if bar else (disc_width(size), disc_width(size))
    written = ("" if size is None else f"{size}") if text is None else text
    if big:
        width, height = width * 3 // 2, height * 3 // 2
    parts = [
        format_html(
            '<svg class="disc{}{}" width="{}" height="{}" viewBox="0 0 {} {}" color="{}"{}>',
            " bar" if bar else "",
            " flat" if flat else "",
            width,
            height,
            width,
            height,
            swatch,
            format_html(' role="img" aria-label="{}"', label) if label else SafeString(' aria-hidden="true"'),
        )
    ]
    if flat:
        parts.append(
            format_html(
                '<rect x=".5" y=".5" width="{}" height="{}" rx="{}" fill="{}" stroke="#211c2b" stroke-opacity=".35"/>',
                width - 1,
                height - 1,
                8 if bar else width // 2,
                swatch,
            )
        )
    if written:
        # Three figures take the room of two by being set smaller; words smaller still.
        font_size = 12 if bar else max(10, (12 if width < 30 else 13 if width < 42 else 15) - max(0, len(written) - 2))
        x, y = f"{width / 2:g}", f"{height / 2:g}"
        parts.append(
            format_html(
                '<text x="{}" y="{}" dy=".36em" text-anchor="middle" font-size="{}" font-weight="700" fill="{}"{}>'
                "{}</text>",
                x,
                y,
                font_size,
                ink,
                format_html(' transform="rotate(-90 {} {})"', x, y) if bar else "",
                written,
            )
        )
    return SafeString("".join([*parts, SafeString("</svg>")]))


@lru_cache(_KEPT, typed=True)
def badge(word: str, state: str) -> SafeString:
    """A word in a pill; its colour is the state's, and the word says it too."""
    return format_html('<span class="badge {}">{}</span>', state, word)


@lru_cache(_KEPT)
def when(day: dt.date) -> SafeString:
    """A day as a row begins with it."""
    return format_html(
        '<time class="when" datetime="{}"><span class="when-day">{}</span> <span class="when-date">{}</span></time>',
        day.isoformat(),
        dated(day, "D"),
        day.day,
    )


@lru_cache(_KEPT)
def dated(day: dt.date, form: str) -> str:
    """A day in words, by the letters Django's `date` filter knows. Not of a moment: equal ones can read apart."""
    return date_format(day, form)


def date_of(value: dt.date) -> dt.date:
    """The day of a moment, in the zone it is told in; a day as it is."""
    return value.date() if isinstance(value, dt.datetime) else value
