"""The plan of the weeks ahead."""

import datetime as dt
import re

import pytest
from django.utils import timezone

from bookings.actions.people import keep_week, take_days_off
from tests.bookings.conftest import EVENT
from tests.factories import NOON, BookingFactory


@pytest.fixture(autouse=True)
def at_noon(monkeypatch, db):
    monkeypatch.setattr(timezone, "now", lambda: NOON)


def words(browser, page: str = "/plan/") -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", browser.get(page).content.decode()).split())


@pytest.fixture
def job(owner, add_garland):
    """A booked job with a garland of some 8 hours' work."""
    booking = BookingFactory(
        title="Winter gala", event_on=EVENT, needed_on=EVENT - dt.timedelta(days=1), created_by=owner
    )
    add_garland(booking, feet=120)
    booking.stage, booking.ready_by = "booked", dt.time(14)
    booking.save()
    return booking


def everyday(person, hours: float, owner) -> None:
    keep_week(person=person, week=[round(hours * 60)] * 7, by=owner, at=NOON)


def test_nothing_booked_is_nothing_to_plan(owner_client):
    assert "there is nothing to plan" in words(owner_client)


def test_without_anybodys_hours_a_day_is_what_its_limits_say(owner_client, job):
    page = words(owner_client)
    assert "Nobody’s hours are written down, so every day is taken for 3 people of 10 hours." in page
    assert "All prep of the next 8 weeks fits." in page


def test_prep_is_on_the_last_day_that_has_room(owner_client, owner, job):
    everyday(owner, 12, owner)
    page = words(owner_client)
    assert "All prep of the next 8 weeks fits." in page
    assert f"{EVENT - dt.timedelta(days=1):%A}" in page


def test_what_does_not_fit_is_said_with_what_would_make_it_fit(owner_client, owner, job):
    everyday(owner, 0.25, owner)
    page = words(owner_client)
    assert "over:" in page
    assert "of Winter gala finds no place, even with all overtime." in page
    assert "It fits with" in page


def test_everybody_off_leaves_no_hours(owner_client, owner, job):
    everyday(owner, 12, owner)
    take_days_off(
        person=owner, first=EVENT - dt.timedelta(days=5), last=EVENT + dt.timedelta(days=1), by=owner, at=NOON
    )
    page = words(owner_client)
    assert "of Winter gala finds no place" in page
    assert "It fits with" in page


def test_a_job_without_a_time_says_so_and_is_planned_all_the_same(owner_client, job):
    job.ready_by = None
    job.save()
    page = words(owner_client)
    assert "Winter gala has no time to be ready by: it is planned by its day alone." in page
    assert "Inflate and assemble: Winter gala Garland" in page


def test_a_job_without_pieces_is_named(owner_client):
    BookingFactory(title="Barn wedding", stage="booked", event_on=EVENT, needed_on=EVENT)
    assert "Barn wedding has no pieces yet, so its prep is not in the plan." in words(owner_client)


def test_what_is_only_quoted_is_not_planned(owner_client, job):
    job.stage = "quoted"
    job.save()
    assert "Winter gala" not in words(owner_client)


def test_crew_reads_the_plan(crew_client, job):
    assert "Winter gala" in words(crew_client)


def test_a_job_is_planned_backwards_from_when_it_must_be_ready(crew_client, job):
    page = words(crew_client, f"/bookings/{job.pk}/plan/")
    assert "Filled with air: up to three days ahead." in page
    assert page.index("Inflate and assemble") < page.index("Load the van") < page.index("Ready")


@pytest.mark.parametrize(
    ("given", "said"),
    [
        pytest.param({"event_on": None, "needed_on": None}, "It has no event day", id="no day"),
        pytest.param({"event_on": EVENT}, "It has no pieces yet", id="no pieces"),
    ],
)
def test_a_job_that_cannot_be_planned_says_why(owner_client, given, said):
    booking = BookingFactory(title="Barn wedding", **given)
    assert said in words(owner_client, f"/bookings/{booking.pk}/plan/")
