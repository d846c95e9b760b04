"""Builders for jobs that have come some way."""

import datetime as dt
from collections.abc import Callable, Iterator
from decimal import Decimal

import pytest

from bookings import actions
from bookings.models import Booking, Quote
from bookings.paperwork import prepare_quote
from estimating.kinds import GarlandSpec
from stock.models import Colour
from studio.models import Studio, User
from tests.factories import NOON, TODAY, BookingFactory, ColourFactory
from tests.made_before import remember_garlands

EVENT = TODAY + dt.timedelta(days=20)


def garland_spec(*colours: Colour, feet: int = 6, inches: int = 16) -> GarlandSpec:
    """A small garland, its colours shared evenly."""
    share = 100 // len(colours)
    shares = [(colour.key, share) for colour in colours[1:]]
    return GarlandSpec(
        length_mm=Decimal("304.8") * feet,
        width_mm=Decimal("25.4") * inches,
        mix=((5, 40), (11, 60)),
        colours=((colours[0].key, 100 - share * len(shares)), *shares),
    )


@pytest.fixture(scope="module", autouse=True)
def _garlands_are_made_once() -> Iterator[None]:
    """Most jobs here have the same small garland."""
    with pytest.MonkeyPatch.context() as patch:
        remember_garlands(patch)
        yield


@pytest.fixture
def add_garland(owner: User) -> Callable[..., None]:
    """Adds a garland to a booking."""

    def add(booking: Booking, *, name: str = "Garland", feet: int = 6) -> None:
        colour = Colour.objects.first() or ColourFactory(name="Black")
        spec = garland_spec(colour, feet=feet)
        actions.keep_piece(
            booking=booking, piece=None, edition=0, name=name, kind="garland", spec=spec, typed={}, by=owner, at=NOON
        )

    return add


@pytest.fixture
def priced(owner: User, add_garland: Callable[..., None]) -> Booking:
    """A booking with a day and one garland."""
    booking = BookingFactory(event_on=EVENT, created_by=owner)
    add_garland(booking)
    return booking


@pytest.fixture
def issue(owner: User) -> Callable[[Booking], Quote]:
    """Issues the next version of a booking's quote."""

    def send(booking: Booking, *, today: dt.date = TODAY, at: dt.datetime = NOON) -> Quote:
        booking = Booking.objects.select_related("client").get(pk=booking.pk)
        paper = prepare_quote(booking, studio=Studio.objects.current(), today=today, at=at)
        return actions.issue_quote(paper=paper, by=owner, at=at)

    return send


@pytest.fixture
def say_yes() -> Callable[[Quote], object]:
    """The client accepts a quote."""

    def accept(quote: Quote, *, today: dt.date = TODAY) -> object:
        return actions.accept_quote(quote=quote, name="Ines", today=today, at=NOON, address=None, browser="")

    return accept
