"""Two clients say yes to one day at the same moment, and it takes one job: whoever came second is told of with it."""

import datetime as dt
from collections.abc import Callable
from itertools import count

import pytest
from django.db import transaction

from bookings import actions
from bookings.actions.letters import mail_acceptance
from bookings.models import DayLimits, Quote
from bookings.queries.dates import full_days
from studio.models import OutgoingMail, Studio
from tests.factories import NOON, TODAY, BookingFactory, QuoteFactory

_DAYS = count(1)


@pytest.fixture
def small(shared) -> None:
    """A studio that takes one job a day."""
    DayLimits.objects.update_or_create(pk=1, defaults={"jobs": 1, "people": 20, "hours": 24, "vans": 20})
    Studio.objects.update_or_create(pk=1, defaults={"name": "Tern & Tide", "email": "hello@tern-and-tide.example"})


def yes_to(quote: Quote) -> Callable[[], None]:
    """The yes as a client's page sends it: what it means and the letters it sends are one."""

    @transaction.atomic
    def act() -> None:
        mine = Quote.objects.get(pk=quote.pk)
        actions.accept_quote(quote=mine, name="Ines", today=TODAY, at=NOON, address=None, browser="")
        mail_acceptance(quote=mine, base="https://studio.example", today=TODAY, at=NOON)

    return act


def check_the_second_is_told_of(by, together) -> None:
    """Both are booked, the day is full, and the later letter says so."""
    day = TODAY + dt.timedelta(days=4 * next(_DAYS))
    quotes = []
    for _ in range(2):
        booking = BookingFactory(stage="quoted", event_on=day, created_by=by)
        quotes.append(QuoteFactory(booking=booking, number=30_000 + booking.pk, issued_by=by, valid_until=day))
    answers = together([yes_to(quote) for quote in quotes])

    assert answers == [None, None]
    (clash,) = full_days(day, day, today=TODAY, zone=dt.UTC)
    assert set(clash.bookings) == {quote.booking_id for quote in quotes}
    letters = OutgoingMail.objects.filter(purpose="accepted", about__in=clash.bookings)
    told = sorted("cannot take all its jobs" in letter.text for letter in letters)
    assert told == [False, True]
    stories = [quote.booking.history.filter(what__startswith="Booked on a full day").count() for quote in quotes]
    assert sorted(stories) == [0, 1]


def test_of_two_yeses_to_one_day_the_second_letter_says_that_it_is_full(small, by, together):
    for _ in range(8):
        check_the_second_is_told_of(by, together)


# Without the lock the check finds the fault it is there for.


@pytest.mark.postgresql
def test_without_taking_turns_neither_letter_says_it(small, by, together, monkeypatch):
    monkeypatch.setattr("bookings.actions.acceptance.take_turns_over_days", lambda: None)
    with pytest.raises(AssertionError):
        for _ in range(40):
            check_the_second_is_told_of(by, together)
