"""A day that cannot take its jobs: told on the job, on the week and in the letter, until the owner has seen it."""

import datetime as dt
import re
import uuid
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.actions.dates import hold_date, see_clash
from bookings.actions.letters import mail_acceptance
from bookings.models import Booking, DayLimits, MailTemplate, Quote, SeenClash
from bookings.queries.dates import dates_of, full_days
from studio.models import OutgoingMail, Studio, User
from tests.factories import NOON, TODAY, BookingFactory, ClientFactory, QuoteFactory

pytestmark = pytest.mark.django_db
EVENT = TODAY + dt.timedelta(days=19)


@pytest.fixture(autouse=True)
def one_job_a_day(monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: NOON)
    DayLimits.objects.create(pk=1, jobs=1, people=9, hours=24, vans=9)
    Studio.objects.create(pk=1, name="Tern & Tide", email="hello@tern-and-tide.example")


def job(title: str, **known: Any) -> Booking:
    booking: Booking = BookingFactory(title=title, event_on=EVENT, client=ClientFactory(name="Ines Vale"), **known)
    return booking


def booked(title: str) -> Booking:
    return job(title, stage="booked", needed_on=EVENT - dt.timedelta(days=1))


def quoted(title: str) -> Quote:
    quote: Quote = QuoteFactory(booking=job(title, stage="quoted"), valid_until=TODAY + dt.timedelta(days=9))
    return quote


def say_yes(quote: Quote) -> None:
    actions.accept_quote(quote=quote, name="Ines", today=TODAY, at=NOON, address=None, browser="")
    mail_acceptance(quote=quote, base="https://studio.example", today=TODAY, at=NOON)


def page_of(browser: Any, booking: Booking) -> str:
    return " ".join(browser.get(reverse("bookings:detail", args=[booking.pk])).content.decode().split())


def see(browser: Any, booking: Booking) -> Any:
    """Press the button on a job's page."""
    clashes = re.findall(r'name="clash" value="([^"]+)"', page_of(browser, booking))
    typed = {"clash": clashes, "booking": booking.pk, "form_key": str(uuid.uuid4())}
    return browser.post(reverse("bookings:clash-seen"), typed, follow=True)


def test_of_two_yeses_to_one_day_both_jobs_say_that_it_is_full(owner_client):
    first, second = quoted("Winter gala"), quoted("Barn wedding")
    say_yes(first)
    assert "Booked on a full day" not in page_of(owner_client, first.booking)
    say_yes(second)
    for quote in (first, second):
        page = page_of(owner_client, quote.booking)
        assert '<h2 id="full">Booked on a full day</h2>' in page
        assert "2 jobs, and you take 1 a day" in page


def test_the_letter_to_the_owner_begins_with_it():
    say_yes(quoted("Winter gala"))
    say_yes(quoted("Barn wedding"))
    first, second = OutgoingMail.objects.filter(purpose="accepted").order_by("pk")
    assert "cannot take all its jobs" not in first.text
    assert second.text.startswith("Look at the day first: it cannot take all its jobs.\n\nSaturday 20 June: 2 jobs")
    assert "Winter gala (booked)" in second.text


def test_the_letter_says_it_whatever_words_the_studio_gave_it_and_makes_no_link_of_a_title():
    MailTemplate.objects.create(purpose="accepted", subject="Yes", text="Hurrah. {link}")
    say_yes(quoted("Winter {link} gala"))
    say_yes(quoted("Barn wedding"))
    text = OutgoingMail.objects.filter(purpose="accepted").latest("pk").text
    assert text.startswith("Look at the day first") and text.count("{link}") == 1 and text.endswith("Hurrah. {link}")


def test_a_date_that_is_held_says_that_it_was_taken(owner, owner_client):
    held = job("Lifeboat supper", stage="quoted")
    hold_date(booking=held, until=TODAY + dt.timedelta(days=5), today=TODAY, by=owner, at=NOON)
    assert "The held date is taken" not in page_of(owner_client, held)
    say_yes(quoted("Winter gala"))
    assert '<h2 id="full">The held date is taken</h2>' in page_of(owner_client, held)
    assert "Lifeboat supper (held until Sat 6 Jun)" in OutgoingMail.objects.get(purpose="accepted").text


def test_once_seen_it_is_told_no_more_on_the_week_nor_on_either_job(owner, owner_client):
    first, second = booked("Winter gala"), booked("Barn wedding")
    assert "2 jobs, and you take 1 a day" in owner_client.get(reverse("week")).content.decode()
    answer = see(owner_client, second)
    assert answer.redirect_chain == [(reverse("bookings:detail", args=[second.pk]), 302)]
    for booking in (first, second):
        page = page_of(owner_client, booking)
        assert 'id="full"' not in page
        assert "2 jobs, and you take 1 a day" in page
        assert "Saturday 20 June takes more than there is: seen." in page
    assert "you take 1 a day" not in owner_client.get(reverse("week")).content.decode()


def test_all_that_a_page_tells_of_is_seen_at_once(owner_client):
    DayLimits.objects.update(people=1, vans=1)
    first = booked("Winter gala")
    booked("Barn wedding")
    assert page_of(owner_client, first).count('name="clash"') == 3
    see(owner_client, first)
    assert 'id="full"' not in page_of(owner_client, first)
    assert SeenClash.objects.count() == 3


def test_another_job_on_the_day_is_told_again(owner, owner_client):
    first = booked("Winter gala")
    booked("Barn wedding")
    see(owner_client, first)
    booked("Lifeboat supper")
    assert "3 jobs, and you take 1 a day" in page_of(owner_client, first).split('id="pieces"')[0]
    assert "3 jobs, and you take 1 a day" in owner_client.get(reverse("week")).content.decode()


def test_seeing_twice_is_once(owner):
    booking = booked("Winter gala")
    booked("Barn wedding")
    (clash,) = full_days(EVENT, EVENT, today=TODAY, zone=dt.UTC)
    see_clash(clash=clash, by=owner, at=NOON)
    see_clash(clash=clash, by=owner, at=NOON)
    assert SeenClash.objects.count() == 1
    assert booking.history.filter(what__endswith=": seen.").count() == 1


def test_what_has_changed_meanwhile_is_not_taken_for_seen(owner_client):
    first = booked("Winter gala")
    booked("Barn wedding")
    sent = {"clash": [f"{EVENT} {'f' * 16}"], "booking": first.pk, "form_key": str(uuid.uuid4())}
    answer = owner_client.post(reverse("bookings:clash-seen"), sent, follow=True)
    assert "has changed since" in answer.content.decode()
    assert not SeenClash.objects.exists()


def test_the_crew_read_it_and_cannot_put_it_aside(crew_client, owner):
    booking = booked("Winter gala")
    booked("Barn wedding")
    page = page_of(crew_client, booking)
    assert "Booked on a full day" in page
    assert reverse("bookings:clash-seen") not in page
    assert crew_client.post(reverse("bookings:clash-seen"), {"form_key": str(uuid.uuid4())}).status_code == 403


def test_an_enquiry_for_a_full_day_is_not_cried_about(owner_client):
    asked = job("Bakery birthday", stage="enquiry")
    booked("Winter gala")
    page = page_of(owner_client, asked)
    assert 'id="full"' not in page
    assert "2 jobs, and you take 1 a day" in page


def test_a_day_that_has_gone_by_is_told_no_more(owner: User):
    booking = booked("Winter gala")
    booked("Barn wedding")
    after = EVENT + dt.timedelta(days=1)
    assert dates_of(booking, today=TODAY, zone=dt.UTC).unseen
    assert not dates_of(booking, today=after, zone=dt.UTC).unseen
