"""One kept enquiry from two tabs and two phones at the same moment: it arrives once, and each is told the same."""

import json
import uuid
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from bookings.models import Booking, Client
from studio.models import Submission, User
from tests.factories import UserFactory

TABS = 4


@pytest.fixture
def phones(by) -> list[Browser]:
    """Two phones, the owner's and a crew member's, with as many tabs each."""
    browsers = []
    for person in (by, UserFactory(role=User.Role.CREW)):
        for _ in range(TABS):
            browser = Browser()
            browser.force_login(person)
            browsers.append(browser)
    return browsers


def item(number: int, *, live: bool) -> dict[str, Any]:
    """An enquiry as a phone keeps it, from a caller whose number nobody else has."""
    fields = {"name": f"Aud {number}", "phone": f"+1 212 555 {1000 + number}", "wants": "a garland"}
    made = {"key": str(uuid.uuid4()), "version": 1, "typed_at": "2026-06-01T12:00:00+00:00", "fields": fields}
    return made | {"live": live}


def send(browser: Browser, sent: Any) -> tuple[int, Any]:
    answer = browser.post(reverse("bookings:enquiry-kept"), json.dumps(sent), content_type="application/json")
    return answer.status_code, answer.json()


@pytest.mark.parametrize("live", [False, True], ids=["had waited", "at the form"])
def test_one_key_sent_from_everywhere_at_once_is_one_booking_and_one_answer(phones, together, live):
    for round_ in range(6):
        number = 100 * live + round_
        sent = item(number, live=live)
        answers = together([lambda phone=phone, sent=sent: send(phone, sent) for phone in phones])
        booking = Booking.objects.get(client__name=f"Aud {number}")
        told = {"key": sent["key"], "url": reverse("bookings:detail", args=[booking.pk])}
        assert answers == [(200, told)] * len(phones)
        assert Client.objects.filter(name=f"Aud {number}").count() == 1
        assert Submission.objects.filter(key=sent["key"]).count() == 1
        assert booking.history.filter(what="Enquiry logged.").count() == 1


def test_one_key_with_two_wordings_at_once_is_the_first_and_the_others_are_told_where_it_is(phones, together):
    sent = item(900, live=False)
    other = sent | {"fields": sent["fields"] | {"wants": "a column"}}
    answers = together([lambda p=phone, n=n: send(p, (sent, other)[n % 2]) for n, phone in enumerate(phones)])
    booking = Booking.objects.get(client__name="Aud 900")
    told = {"key": sent["key"], "url": reverse("bookings:detail", args=[booking.pk])}
    won = 0 if booking.wants == "a garland" else 1
    assert answers == [(200 if n % 2 == won else 409, told) for n in range(len(phones))]
