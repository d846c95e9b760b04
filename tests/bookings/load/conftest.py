"""A garland to load and hang, and what the card of its job tells."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest

from bookings import actions
from bookings.models import Booking
from bookings.queries.estimates import booking_estimate
from bookings.queries.load import SiteCard, Told, load_and_site
from estimating.kinds import GarlandSpec
from estimating.models import Rates
from stock.models import Colour
from studio.models import User
from studio.units import System
from tests.factories import NOON, BookingFactory, ColourFactory

FOOT = Decimal("304.8")


def keep(booking: Booking, owner: User, kind: str, spec: Any, name: str) -> None:
    """Add a piece to a booking."""
    actions.keep_piece(
        booking=booking, piece=None, edition=0, name=name, kind=kind, spec=spec, typed={}, by=owner, at=NOON
    )


def colour() -> Colour:
    """The one colour there is."""
    return Colour.objects.first() or ColourFactory(name="Black")


@pytest.fixture
def garland(owner: User) -> Callable[..., Booking]:
    """A booking with a straight garland of 10 ft, indoors or out."""

    def make(*, outdoors: bool = False, feet: int = 10, **fields: Any) -> Booking:
        booking = BookingFactory(created_by=owner, **fields)
        spec = GarlandSpec(
            length_mm=FOOT * feet,
            width_mm=Decimal("25.4") * 16,
            mix=((5, 40), (11, 60)),
            colours=((colour().key, 100),),
            outdoors=outdoors,
            shape="straight",
        )
        keep(booking, owner, "garland", spec, "Garland")
        return booking

    return make


def card(booking: Booking, measures: System = "imperial", **rates: Any) -> SiteCard:
    """The card of a booking as its page shows it."""
    estimate = booking_estimate(booking, currency="USD")
    assert estimate is not None
    booking.refresh_from_db()
    return load_and_site(estimate, booking, rates=Rates(**rates), measures=measures)


def about(told: SiteCard, title: str) -> Told:
    """What the card tells of one thing."""
    return next(one for one in told.told if one.about == title)
