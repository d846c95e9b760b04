"""A booking, a colour to make its pieces in, and a garland on it."""

import pytest

from bookings.models import Booking, Piece
from stock.models import Colour
from tests.factories import BookingFactory, ColourFactory
from tests.sent_pieces import new, typed


@pytest.fixture
def ink(db) -> Colour:
    return ColourFactory(name="Ink", swatch="#1f2a44")


@pytest.fixture
def booking(owner, ink) -> Booking:
    return BookingFactory(title="Film gala", created_by=owner)


@pytest.fixture
def kept(owner_client, booking, ink) -> Piece:
    """A garland on the booking."""
    owner_client.post(new(booking), typed(ink))
    return Piece.objects.get()
