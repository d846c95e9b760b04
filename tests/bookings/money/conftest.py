"""A job that was accepted, and its money as an owner's browser sends it."""

import csv
import datetime as dt
import io
import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.models import Booking
from bookings.queries.money import standing
from tests.factories import TOLD, BookingFactory, ClientFactory, QuoteFactory, QuotePieceFactory

DEPOSIT, TOTAL = 62_000, 134_230


@pytest.fixture
def booked(owner):
    """A job accepted today for an event in 40 days, its ladder of notice 30 days: 25 %, else half."""
    day = timezone.localdate()
    client = ClientFactory(name="Ines Vale", email="ines@example.org")
    booking = BookingFactory(
        client=client, title="Winter gala", stage="quoted", event_on=day + dt.timedelta(days=40), created_by=owner
    )
    quote = QuoteFactory(
        booking=booking, issued_by=owner, needed_on=day + dt.timedelta(days=39), valid_until=day,
        told=TOLD | {"notice": [[30, 25], [0, 50]]},
    )  # fmt: skip
    QuotePieceFactory(quote=quote, position=0, price_minor=100_000)
    QuotePieceFactory(quote=quote, position=1, price_minor=24_000, name="Column")
    actions.accept_quote(quote=quote, name="Ines", today=day, at=timezone.now(), address=None, browser="")
    return Booking.objects.select_related("client").get(pk=booking.pk)


def typed(seen: int, **changes: str) -> dict[str, str]:
    said = {"amount": "620", "method": "card", "day": f"{timezone.localdate():%Y-%m-%d}", "note": "", "seen": str(seen)}
    return {"form_key": str(uuid.uuid4())} | said | changes


def pay(browser, booking, **changes: str):
    form = typed(standing(booking.pk).owed) | changes
    return browser.post(reverse("bookings:payment", args=[booking.pk]), form)


def bill(browser, booking, kind: str):
    return browser.post(reverse("bookings:invoice-issue", args=[booking.pk, kind]), {"form_key": str(uuid.uuid4())})


def said(answer) -> str:
    return answer.content.decode()


def journal(browser) -> list[dict[str, str]]:
    year = timezone.localdate().year
    address = f"{reverse('bookings:journal')}?first={year}-01-01&last={year}-12-31"
    text = b"".join(browser.get(address).streaming_content).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))
