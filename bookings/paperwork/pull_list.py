"""The pull list on paper: what to take off the shelf and load, with a box for every line. No price is on it."""

from datetime import datetime
from pathlib import Path

from django.template.loader import render_to_string

from bookings.models import Booking
from bookings.queries import PullList
from bookings.queries.allergies import allergies_of
from bookings.queries.bringing import BringList
from studio.models import Studio
from studio.pdf import assets_in, pdf_from_html

_STATIC = Path(__file__).resolve().parents[2] / "studio" / "static"
_ROOMY_UP_TO = 16
"""Lines to take before the list is set a little smaller."""


def pull_list_pdf(pulled: PullList, along: BringList, booking: Booking, studio: Studio, *, made_at: datetime) -> bytes:
    """The list as it stands, what is ticked ticked; the same bytes for the same list and moment."""
    name = f"Pull list of booking {booking.pk}"
    context = {"pulled": pulled, "along": along, "booking": booking, "studio": studio, "made_at": made_at}
    context["allergies"] = allergies_of(booking)
    context["setting"] = "roomy" if len(pulled.lines) <= _ROOMY_UP_TO else "snug"
    size = "letter" if studio.measures == Studio.Measures.IMPERIAL else "A4"
    sheets = [(_STATIC / "css" / f"{sheet}.css").read_text(encoding="utf-8") for sheet in ("paper", "paper-list")]
    return pdf_from_html(
        render_to_string("paper/pull_list.html", context),
        stylesheets=[*sheets, f"@page {{ size: {size} }}"],
        assets=assets_in(_STATIC / "fonts"),
        title=f"{name}, {booking.shown_title}",
        author=studio.name,
        identifier=f"{name}, {pulled.stamp}{along.stamp}, {made_at.isoformat()}",
        made_at=made_at,
    )
