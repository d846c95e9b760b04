"""The forms of pieces as a browser sends them, and where to."""

import uuid

from django.urls import reverse

from bookings.models import Piece
from stock.models import Colour

GARLAND = {
    "name": "Garland over the doorway",
    "length": "10 ft",
    "width": "20 in",
    "shape": "swag",
    "outdoors": "False",
    "seed": "3",
    "sizes-5": "30",
    "sizes-11": "70",
    "sizes-16": "0",
}
HTMX = {"HTTP_HX_REQUEST": "true"}


def typed(colour: Colour, **changes: str | None) -> dict[str, str]:
    """The garland form as it is sent, under a key of its own."""
    sent = GARLAND | {f"colours-{colour.key}": "100", "form_key": str(uuid.uuid4())} | changes
    return {name: said for name, said in sent.items() if said is not None}


def new(booking, kind="garland") -> str:
    return reverse("bookings:piece-new", args=[booking.pk, kind])


def preview(booking, kind="garland") -> str:
    return reverse("bookings:piece-preview", args=[booking.pk, kind])


def page_of(piece: Piece) -> str:
    return reverse("bookings:piece", args=[piece.booking_id, piece.pk])


def counted(colour: Colour, **changes: str) -> dict[str, str]:
    """The counted form as it is sent."""
    line = {"line-0-colour": colour.key, "line-0-size": "11", "line-0-count": "12"}
    rest = {"name": "Bouquet", "outdoors": "False", "seed": "1", "minutes": "20", "line": "4 ft", "attachments": "1"}
    return rest | line | {"form_key": str(uuid.uuid4())} | changes
