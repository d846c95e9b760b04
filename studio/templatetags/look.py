"""How an amount, a length, a day, a while and a balloon are shown.

{% disc item=item %}    {% disc swatch="#1b1b1f" ink="#fffdf9" size=11 label="Black 11-inch" %}
{% badge "covered" "covered" %}    {{ booking.event_on|when }}
{{ piece.price_minor|money:studio.currency }}    {{ piece.length_mm|measured:studio.measures }}
{{ day|day }}  Sat 12 Dec    {{ day|long_day }}  Saturday 12 December    {{ minutes|clock }}  5 h 10
"""

import datetime as dt
import uuid
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from studio import marks
from studio import money as amounts
from studio.once import FIELD, key_to_show_again
from studio.units import System, show_length

register = template.Library()

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


@register.simple_tag
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
) -> SafeString:
    """An item drawn as its balloon: its own colour, sized by its nominal size, the size written in it.

    `item` is anything with `swatch`, `ink` and `size`; the arguments win over it. `text` replaces the size,
    and an empty one leaves the disc blank. `label` names it for a screen reader; without one it is hidden
    from it, for the name stands beside it. `big` is half as large again; `flat` needs no style sheet (paper).
    """
    swatch = swatch or getattr(item, "swatch", None) or "#cfc6d6"
    ink = ink or getattr(item, "ink", None) or "#211c2b"
    size = size if size is not None else getattr(item, "size", None)
    return marks.disc(swatch, ink, size, None if text is None else str(text), label, big=big, flat=flat)


@register.simple_tag
def badge(word: object, state: str = "plain") -> SafeString:
    """A word in a pill. `state`: short, covered, waiting or plain."""
    return marks.badge(str(word), state or "plain")


@register.filter(expects_localtime=True)
def when(value: dt.date | None) -> str:
    """A day as a row begins with it: SAT over 12; nothing for no day."""
    return marks.when(marks.date_of(value)) if value else ""


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
    return marks.dated(marks.date_of(value), "D j M") if value else ""


@register.filter(expects_localtime=True)
def long_day(value: dt.date | None) -> str:
    """A day in a sentence: "Saturday 12 December"."""
    return marks.dated(marks.date_of(value), "l j F") if value else ""


@register.filter(expects_localtime=True)
def full_day(value: dt.date | None) -> str:
    """A day of any year: "12 Dec 2026"."""
    return marks.dated(marks.date_of(value), "j M Y") if value else ""


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
