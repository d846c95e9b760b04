"""A studio with a mail server of its own, and a quote to write about."""

import datetime as dt
from collections.abc import Callable, Iterator

import pytest
from django.utils import timezone

from bookings.models import Booking, Quote
from studio.models import Studio
from tests.factories import BookingFactory, ClientFactory, QuoteFactory, QuotePieceFactory
from tests.mailbox import Mailbox, mail_server


@pytest.fixture
def studio(db) -> Studio:
    return Studio.objects.create(pk=1, name="Tern & Tide Balloons", email="hello@ternandtide.example")


@pytest.fixture
def box(settings, studio) -> Iterator[Mailbox]:
    with mail_server() as box:
        settings.MAIL_SERVER = box.server
        yield box


@pytest.fixture
def quote(studio, owner) -> Quote:
    """An open quote for Ines."""
    client = ClientFactory(name="Ines Vale", email="ines@example.org")
    day = timezone.localdate() + dt.timedelta(days=40)
    booking = BookingFactory(client=client, title="Winter gala", event_on=day, stage=Booking.Stage.QUOTED)
    made = QuoteFactory(booking=booking, issued_by=owner, valid_until=timezone.localdate() + dt.timedelta(days=9))
    QuotePieceFactory(quote=made, position=0)
    return made


@pytest.fixture
def nine(quote) -> Callable[[int], dt.datetime]:
    """Nine in the morning, so many days before the quote runs out."""
    return lambda days: dt.datetime.combine(quote.valid_until - dt.timedelta(days=days), dt.time(9, 30), tzinfo=dt.UTC)
