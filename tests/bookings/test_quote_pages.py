"""The owner's side of a quote."""

import datetime as dt
import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings.models import Booking, Quote
from tests.factories import BookingFactory


@pytest.fixture
def ready(owner, add_garland) -> Booking:
    """A job that can be quoted today."""
    booking = BookingFactory(title="Winter gala", event_on=timezone.localdate() + dt.timedelta(days=30))
    add_garland(booking)
    return booking


def send(browser, booking: Booking, key: str | None = None):
    return browser.post(reverse("bookings:quote-issue", args=[booking.pk]), {"form_key": key or str(uuid.uuid4())})


def test_looking_it_over_shows_price_cost_and_earnings(owner_client, ready):
    page = owner_client.get(reverse("bookings:quote-issue", args=[ready.pk])).content.decode()
    assert all(words in page for words in ("Deposit to hold the date", "Only you see", "an hour"))


def test_issuing_leads_to_the_quote_and_its_link(owner_client, ready):
    answer = send(owner_client, ready)
    quote = Quote.objects.get()
    assert answer.headers["Location"] == reverse("bookings:quote", args=[quote.pk])
    assert "/q/" in owner_client.get(answer.headers["Location"]).content.decode()


def test_pressing_twice_issues_once(owner_client, ready):
    key = str(uuid.uuid4())
    assert send(owner_client, ready, key).headers["Location"] == send(owner_client, ready, key).headers["Location"]
    assert Quote.objects.count() == 1


@pytest.mark.parametrize(
    ("change", "said"),
    [
        pytest.param({"event_on": None}, "Set the event day first", id="no day"),
        pytest.param({"needed_on": dt.date(2020, 1, 1)}, "has gone by", id="prep day gone by"),
        pytest.param({"stage": "lost"}, "no quote can be sent", id="lost"),
    ],
)
def test_what_cannot_be_sent_says_why(owner_client, ready, change, said):
    Booking.objects.filter(pk=ready.pk).update(**change)
    page = owner_client.post(
        reverse("bookings:quote-issue", args=[ready.pk]), {"form_key": str(uuid.uuid4())}, follow=True
    )
    assert said in page.content.decode()
    assert not Quote.objects.exists()


def test_a_job_without_pieces_has_nothing_to_quote(owner_client):
    booking = BookingFactory(event_on=timezone.localdate() + dt.timedelta(days=30))
    page = owner_client.get(reverse("bookings:quote-issue", args=[booking.pk]), follow=True)
    assert "Add a piece first" in page.content.decode()


def test_the_stored_paper_is_what_is_served(owner_client, ready):
    send(owner_client, ready)
    quote = Quote.objects.get()
    answer = owner_client.get(reverse("bookings:quote-pdf", args=[quote.pk]))
    assert (answer.content, answer.headers["Content-Type"]) == (bytes(quote.pdf), "application/pdf")


def test_withdrawing_is_said_on_the_page(owner_client, ready):
    send(owner_client, ready)
    quote = Quote.objects.get()
    page = owner_client.post(
        reverse("bookings:quote-withdraw", args=[quote.pk]), {"form_key": str(uuid.uuid4())}, follow=True
    )
    assert "Withdrawn on" in page.content.decode()


@pytest.mark.parametrize("name", ["quote", "quote-pdf"])
def test_crew_see_no_quote(crew_client, owner_client, ready, name):
    send(owner_client, ready)
    assert crew_client.get(reverse(f"bookings:{name}", args=[Quote.objects.get().pk])).status_code == 403


def test_the_link_is_stored_only_as_a_hash(owner_client, ready):
    send(owner_client, ready)
    quote = Quote.objects.get()
    page = owner_client.get(reverse("bookings:quote", args=[quote.pk])).content.decode()
    token = page.split("/q/")[1].split("/")[0]
    assert token not in {str(value) for value in Quote.objects.values().get(pk=quote.pk).values()}
