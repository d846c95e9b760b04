"""How an amount, a length, a day, a while and a balloon are shown.

{% disc item=item %}    {% disc swatch="#1b1b1f" ink="#fffdf9" size=11 label="Black 11-inch" %}
{{ piece.price_minor|money:studio.currency }}    {{ piece.length_mm|measured:studio.measures }}
{{ day|day }}  Sat 12 Dec    {{ day|long_day }}  Saturday 12 December    {{ minutes|clock }}  5 h 10
"""

import datetime as dt
import itertools
import uuid
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import template
from django.utils import formats
from django.utils.html import format_html

from studio import money as amounts
from studio.once import FIELD, key_to_show_again
from studio.units import System, show_length

register = template.Library()

# What a latex balloon of a nominal size (inches) is drawn at (pixels): sizes stay apart at a glance, and a
# 36-inch one still fits a row. Between two of these the width is read off the line that joins them.
_DRAWN_AT = ((5, 24), (11, 34), (16, 38), (24, 44), (36, 46))
_BAR_WIDTH, _BAR_HEIGHT = 18, 38
_MODELLING_SIZES_FROM = 100

_BOOKING_PAGES = frozenset(["bookings", "clients", "calendar", "estimating"])
_STUDIO_PAGES = frozenset(["settings", "studio"])
# How the names of the pages beside the jobs begin, and under which link each stands.
_BESIDE_THE_JOBS = {
    "list": "list",
    "calendar": "calendar",
    "plan": "plan",
    "client-money": "money",
    "client": "clients",
    "money": "money",
    "invoice": "money",
    "how-it-went": "money",
    "mail": "mail",
}


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


@register.inclusion_tag("_components/disc.html")
def disc(
    item: Any = None,
    *,
    swatch: str | None = None,
    ink: str | None = None,
    size: int | Decimal | None = None,
    text: object = None,
    label: str = "",
    big: bool = False,
    flat: bool = False,
) -> dict[str, object]:
    """An item drawn as its balloon: its own colour, sized by its nominal size, the size written in it.

    `item` is anything with `swatch`, `ink` and `size`; the arguments win over it. `text` replaces the size,
    and an empty one leaves the disc blank. `label` names it for a screen reader; without one it is hidden
    from it, for the name stands beside it. `big` is half as large again; `flat` needs no style sheet (paper).
    """
    swatch = swatch or getattr(item, "swatch", None) or "#cfc6d6"
    ink = ink or getattr(item, "ink", None) or "#211c2b"
    size = size if size is not None else getattr(item, "size", None)
    bar = size is not None and size >= _MODELLING_SIZES_FROM
    width, height = (_BAR_WIDTH, _BAR_HEIGHT) if bar else (disc_width(size), disc_width(size))
    written = ("" if size is None else f"{size}") if text is None else str(text)
    if big:
        width, height = width * 3 // 2, height * 3 // 2
    # Three figures take the room of two by being set smaller; words smaller still.
    font_size = 12 if bar else max(10, (12 if width < 30 else 13 if width < 42 else 15) - max(0, len(written) - 2))
    return {
        "swatch": swatch,
        "ink": ink,
        "label": label,
        "flat": flat,
        "bar": bar,
        "width": width,
        "height": height,
        "radius": 8 if bar else width // 2,
        "text": written,
        "centre_x": f"{width / 2:g}",
        "centre_y": f"{height / 2:g}",
        "font_size": font_size,
    }


@register.filter
def money(minor: int | None, currency: str) -> str:
    """An amount of minor units as people write it; nothing for no amount."""
    return "" if minor is None else amounts.show(minor, currency)


@register.filter
def measured(mm: Decimal | None, measures: System) -> str:
    """A length kept in millimetres, in feet and inches or in metres; nothing for no length."""
    return "" if mm is None else show_length(mm, measures)


@register.filter(expects_localtime=True)
def day(value: dt.date | None) -> str:
    """A day in a list: "Sat 12 Dec"."""
    return formats.date_format(value, "D j M") if value else ""


@register.filter(expects_localtime=True)
def long_day(value: dt.date | None) -> str:
    """A day in a sentence: "Saturday 12 December"."""
    return formats.date_format(value, "l j F") if value else ""


@register.filter
def clock(minutes: int | Decimal | None) -> str:
    """A while: "45 min", "3 h", "5 h 10"; nothing for no time given."""
    if minutes is None:
        return ""
    whole = int(Decimal(minutes).to_integral_value(ROUND_HALF_UP))
    hours, rest = divmod(abs(whole), 60)
    sign = "−" if whole < 0 else ""
    if not hours:
        return f"{sign}{rest} min"
    return f"{sign}{hours} h {rest:02}" if rest else f"{sign}{hours} h"


@register.filter
def signed(number: int | Decimal | None) -> str:
    """A figure with a real minus sign: "−56"."""
    return "" if number is None else f"{number:,}".replace("-", "−")


@register.simple_tag(takes_context=True)
def current_section(context: template.Context) -> dict[str, str]:
    """Where in the navigation this page stands: `section`, `page` and `part`, read from its address's name.

    `part` is the link of Bookings it stands under; nothing for a page of one job. A page that belongs elsewhere than
    its address says puts `section` (week, bookings, stock, studio, mine) in its context.
    """
    match = getattr(context.get("request"), "resolver_match", None)
    namespace, name = (match.namespace, match.url_name or "") if match else ("", "")
    where = namespace.split(":")[0] or name.split("_")[0].split("-")[0]
    if where in _BOOKING_PAGES:
        where = "bookings"
    elif where in _STUDIO_PAGES:
        where = "studio"
    page = name
    if where == "stock":
        buying = any(word in name for word in ("order", "supplier", "offer", "plan"))
        page = "orders" if buying else next((own for own in ("cover", "count", "kit") if name.startswith(own)), "shelf")
    section = str(context.get("section") or where)
    parts = (part for begins, part in _BESIDE_THE_JOBS.items() if name.startswith(begins))
    return {"section": section, "page": page, "part": next(parts, "") if section == "bookings" else ""}


@register.filter
def said_of(error: str, label: str) -> str:
    """A refusal read without its field beside it: the label goes before it where it does not begin with that."""
    return error if error.casefold().startswith(label.casefold()) else f"{label}: {error}"


@register.simple_tag(takes_context=True)
def form_key(context: template.Context) -> str:
    """The hidden field that makes a form act once; a form shown again after a mistake keeps its key."""
    request = context.get("request")
    kept = None if request is None else key_to_show_again(request)
    return format_html('<input type="hidden" name="{}" value="{}">', FIELD, kept or uuid.uuid4())
