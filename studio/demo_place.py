"""The places of the demo's two booked jobs: one cleared, and one with something left to mend."""

from datetime import datetime, time
from decimal import Decimal

from bookings.actions.site import keep_place, keep_strike
from bookings.models import Booking
from studio.models import User

_FOOT = Decimal("304.8")


def write_the_places(ferry: Booking, gala: Booking, *, by: User, at: datetime) -> None:
    """What somebody saw who stood there. Every name and figure is invented."""
    keep_place(
        booking=ferry,
        place={
            "address": "Ferry office\nSlip 2\nPort Alder",
            "contact_name": "Marit at the desk",
            "contact_phone": "555-0163",
            "access_from": time(7),
            "access_until": time(9, 30),
            "access_notes": "Side door by the bollards; ring twice.",
            "parking": "Ten minutes on the slip to unload, then the lot behind the chandlery.",
            "ceiling_notes": "Beams every 4 ft, painted last year: screw eyes are there already.",
            "sprinklers": "none",
            "exits": "clear",
            "latex": "none",
            "point_grams": 4500,
            "photos_wanted": "The counter from the door, before it opens.",
        },
        by=by,
        at=at,
    )
    keep_place(
        booking=gala,
        place={
            "address": "Corn Hall\n11 Market Row\nPort Alder",
            "contact_name": "Odile, the caretaker",
            "contact_phone": "555-0171",
            "access_from": time(9),
            "access_notes": "Goods lift on the left, key with the caretaker.",
            "parking": "Yard, through the arch: 7 ft high.",
            "sprinklers": "some",
            "sprinkler_gap_mm": Decimal("355.6"),
            "exits": "clear",
            "point_grams": 2000,
            "room_length_mm": 60 * _FOOT,
            "room_width_mm": 40 * _FOOT,
            "room_height_mm": 16 * _FOOT,
            "photos_wanted": "The doorway with the lights on, and the big balloon from the stage.",
        },
        by=by,
        at=at,
    )
    keep_strike(
        booking=gala,
        strike={"people": 2, "who": "Mo and Jan", "notes": "The bar closes at midnight; the lift stops at one."},
        by=by,
        at=at,
    )
