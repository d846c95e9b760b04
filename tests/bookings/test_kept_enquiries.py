"""An enquiry that a phone kept, handed over: once, and only by somebody signed in."""

import json
import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from bookings.models import Booking, HistoryEntry
from bookings.views.signal import FILES, LARGEST
from studio.models import Studio, Submission

pytestmark = pytest.mark.django_db


def item(**changes: Any) -> dict[str, Any]:
    """An enquiry as a phone keeps it."""
    return {
        "key": str(uuid.uuid4()),
        "version": 1,
        "typed_at": timezone.now().isoformat(),
        "fields": {"name": "Ines Vale", "wants": "24 ft garland in navy and sand", "budget": "about 300"},
    } | changes


def hand_over(browser: Browser, sent: Any) -> Any:
    """Send it as the script does."""
    return browser.post(reverse("bookings:enquiry-kept"), json.dumps(sent), content_type="application/json")


def test_it_becomes_an_enquiry_and_the_answer_names_its_key(owner_client):
    sent = item()
    answer = hand_over(owner_client, sent)
    booking = Booking.objects.get()
    assert answer.status_code == 200
    assert answer.json() == {"key": sent["key"], "url": reverse("bookings:detail", args=[booking.pk])}
    assert (booking.client.name, booking.wants, booking.budget, booking.stage) == (
        "Ines Vale",
        "24 ft garland in navy and sand",
        "about 300",
        "enquiry",
    )


def test_crew_may_hand_one_over(crew_client):
    assert hand_over(crew_client, item()).status_code == 200


def test_sent_again_it_is_answered_as_before_and_nothing_is_doubled(owner_client):
    sent = item()
    answers = [hand_over(owner_client, sent).json() for _ in range(3)]
    assert answers[0] == answers[1] == answers[2]
    assert Booking.objects.count() == Submission.objects.count() == 1


def test_the_same_key_with_other_words_is_refused_and_says_where_the_first_one_is(owner_client):
    sent = item()
    first = hand_over(owner_client, sent).json()
    answer = hand_over(owner_client, sent | {"fields": {"name": "Somebody else"}})
    assert answer.status_code == 409
    assert answer.json() == first
    assert Booking.objects.count() == 1


def test_what_arrived_stays_arrived_though_its_day_has_gone_by(owner_client, monkeypatch):
    today = timezone.localdate()
    sent = item(fields={"name": "Ines", "event_on": f"{today + timedelta(days=1)}"})
    first = hand_over(owner_client, sent).json()
    monkeypatch.setattr(timezone, "localdate", lambda: today + timedelta(days=5))
    assert hand_over(owner_client, sent).json() == first


@pytest.mark.parametrize(
    ("fields", "field", "rule"),
    [
        pytest.param({}, "name", "one of them is enough", id="nobody to answer"),
        pytest.param({"name": "I", "event_on": "2020-01-01"}, "event_on", "has gone by", id="a day of the past"),
        pytest.param({"name": "I", "budget": "x" * 61}, "budget", "at most 60 characters", id="too long"),
    ],
)
def test_what_is_wrong_with_it_is_said_by_field_and_it_may_be_sent_again(owner_client, fields, field, rule):
    sent = item(fields=fields)
    answer = hand_over(owner_client, sent)
    assert answer.status_code == 422
    assert answer.json()["key"] == sent["key"]
    assert rule in answer.json()["errors"][field][0]
    assert not Booking.objects.exists()
    assert hand_over(owner_client, sent | {"fields": {"name": "Ines"}}).status_code == 200


@pytest.mark.parametrize(
    "sent",
    [
        pytest.param([], id="a list"),
        pytest.param({"key": "x"}, id="hardly anything"),
        pytest.param(item(key="1"), id="no key"),
        pytest.param(item(typed_at="2026-06-01T12:00:00"), id="no zone"),
        pytest.param(item(typed_at=7), id="no time"),
        pytest.param(item(fields=["name"]), id="no fields"),
        pytest.param(item(fields={"wants": "x" * LARGEST}), id="too large"),
    ],
)
def test_what_is_no_kept_enquiry_is_refused_in_a_sentence(owner_client, sent):
    answer = hand_over(owner_client, sent)
    assert answer.status_code == 400
    assert answer.json()["error"].endswith(".")
    assert not Booking.objects.exists()


def test_a_way_of_keeping_that_is_not_known_is_kept_on_the_phone(owner_client):
    sent = item(version=99)
    answer = hand_over(owner_client, sent)
    assert answer.status_code == 422
    assert "version 99, known: 1" in answer.json()["errors"]["__all__"][0]


def test_the_story_says_when_it_was_typed_where_it_waited(owner_client):
    Studio.objects.create(pk=1, time_zone="Europe/London")
    hand_over(owner_client, item(typed_at=(timezone.now() - timedelta(hours=5)).isoformat()))
    assert any("waited for signal" in entry.what for entry in HistoryEntry.objects.all())


@pytest.mark.parametrize("late", [timedelta(0), timedelta(days=-3)], ids=["at once", "by a clock that is ahead"])
def test_the_story_says_nothing_where_it_did_not_wait(owner_client, late):
    hand_over(owner_client, item(typed_at=(timezone.now() - late).isoformat()))
    assert [entry.what for entry in HistoryEntry.objects.all()] == ["Enquiry logged."]


def test_a_stranger_is_sent_to_sign_in_and_nothing_is_written():
    answer = hand_over(Browser(), item())
    assert answer.status_code == 302
    assert not Booking.objects.exists()


def test_without_a_fresh_token_it_is_refused(owner):
    browser = Browser(enforce_csrf_checks=True)
    browser.force_login(owner)
    assert hand_over(browser, item()).status_code == 403
    token = browser.get(reverse("bookings:enquiry-kept")).json()["token"]
    answer = browser.post(
        reverse("bookings:enquiry-kept"),
        json.dumps(item()),
        content_type="application/json",
        headers={"X-CSRFToken": token},
    )
    assert answer.status_code == 200


def test_the_page_for_no_signal_says_the_same_to_everybody(owner_client):
    Studio.objects.create(pk=1, name="Tern & Tide Balloons")
    address = reverse("bookings:without-signal")
    mine, theirs = owner_client.get(address), Browser().get(address)
    assert mine.content == theirs.content
    assert b"csrf" not in mine.content
    assert b"Tern" not in mine.content


def test_the_worker_is_small_and_names_what_it_keeps(client):
    answer = client.get(reverse("bookings:worker"))
    assert answer.headers["Content-Type"].startswith("text/javascript")
    assert "no-store" in answer.headers["Cache-Control"]
    assert len(answer.content) <= 8 * 1024
    for name in FILES:
        assert name.rsplit("/", 1)[1].split(".", 1)[0] in answer.content.decode()


def test_somebody_at_the_form_is_asked_whether_they_know_the_client(owner_client):
    fields = {"name": "Ines Vale", "phone": "+1 212 555 0142"}
    first = hand_over(owner_client, item(fields=fields))
    client = Booking.objects.get().client
    sent = item(fields=fields, live=True)
    assert first.status_code == 200
    assert "who" in hand_over(owner_client, sent).json()["errors"]

    answer = hand_over(owner_client, sent | {"fields": fields | {"who": str(client.pk)}})
    assert answer.status_code == 200
    assert {booking.client for booking in Booking.objects.all()} == {client}


def test_what_waited_for_signal_waits_for_no_answer_and_is_taken_for_nobody(owner_client):
    fields = {"name": "Ines Vale", "phone": "+1 212 555 0142"}
    assert [hand_over(owner_client, item(fields=fields)).status_code for _ in range(2)] == [200, 200]
    assert len({booking.client for booking in Booking.objects.all()}) == 2
