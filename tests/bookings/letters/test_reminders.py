"""A quote that runs out is reminded of: once, by day, and only who was mailed it."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings.actions.letters import (
    keep_rules,
    post_due_reminders,
)
from bookings.models import Quote
from bookings.queries.letters import letter_about
from studio.models import OutgoingMail, Studio
from studio.outbox.queue import post, send_waiting
from tests.factories import token_of
from tests.sending import accept, only

pytestmark = pytest.mark.django_db
State = OutgoingMail.State


def mailed(quote: Quote, studio: Studio, at: dt.datetime) -> None:
    letter = letter_about(quote.booking, "quote", studio=studio, today=at.date())
    mail = post(letter, key=f"by hand {quote.pk}", about=quote.booking_id, base="https://garlandry.example", at=at)
    OutgoingMail.objects.filter(pk=mail.pk).update(state=State.SENT, sent_at=at)


def test_a_quote_is_reminded_of_once_some_days_before_it_runs_out(quote, box, studio, nine):
    mailed(quote, studio, nine(8))
    keep_rules(remind_days=3, sends_receipts=True, tells_us=True)
    assert [post_due_reminders(at=nine(days)) for days in (4, 3, 3, 2)] == [0, 1, 0, 0]
    send_waiting(now=lambda: nine(2))
    found = only(box)
    assert found.message["Subject"].startswith("Your quote is open until ")
    assert f"https://garlandry.example{reverse('bookings:client', args=[token_of(quote)])}" in found.text


@pytest.mark.parametrize("hour", [0, 8, 18, 23])
def test_nobody_is_reminded_at_night(quote, box, studio, nine, hour):
    mailed(quote, studio, nine(8))
    keep_rules(remind_days=3, sends_receipts=True, tells_us=True)
    assert post_due_reminders(at=nine(3).replace(hour=hour)) == 0


def not_mailed(quote: Quote) -> None:
    OutgoingMail.objects.all().delete()


def reminded_by_hand(quote: Quote) -> None:
    OutgoingMail.objects.create(
        key="r", purpose="reminder", about=quote.booking_id, made_at=timezone.now(), due_at=timezone.now(),
        state="sent", sent_at=timezone.now(),
    )  # fmt: skip


def switched_off(quote: Quote) -> None:
    keep_rules(remind_days=None, sends_receipts=True, tells_us=True)


def taken_back(quote: Quote) -> None:
    Quote.objects.filter(pk=quote.pk).update(withdrawn_at=timezone.now())


@pytest.mark.parametrize("why", [not_mailed, reminded_by_hand, switched_off, taken_back, accept])
def test_nobody_is_reminded_without_need(quote, box, studio, nine, why):
    mailed(quote, studio, quote.issued_at)
    keep_rules(remind_days=3, sends_receipts=True, tells_us=True)
    why(quote)
    assert post_due_reminders(at=nine(3)) == 0
