"""The calendar's month and its agenda."""

import datetime as dt
import re

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings.models import Booking, DayLimits
from studio.models import Studio
from tests.factories import NOON, BookingFactory, ClientFactory, UserFactory

PAGE = "/calendar/"
SATURDAY = dt.date(2026, 6, 20)


@pytest.fixture(autouse=True)
def at_noon(monkeypatch, db):
    monkeypatch.setattr(timezone, "now", lambda: NOON)


@pytest.fixture
def gala():
    return BookingFactory(
        title="Winter gala",
        stage="booked",
        event_on=SATURDAY,
        needed_on=SATURDAY - dt.timedelta(days=1),
        starts_at=dt.time(19),
        ends_at=dt.time(23),
        strike_at=dt.time(0, 30),
        place="Corn Hall",
    )


def words(answer) -> str:
    """What is read on the page."""
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def test_a_job_is_on_each_of_its_days(crew_client, gala):
    page = words(crew_client.get(PAGE, {"month": "2026-06"}))
    assert "Prep: Winter gala" in page
    assert "19:00 Winter gala" in page
    assert "Strike: Winter gala" in page


def test_the_day_that_is_chosen_says_everything_of_it(crew_client, gala):
    page = words(crew_client.get(PAGE, {"month": "2026-06", "day": "2026-06-20"}))
    assert "Event: Winter gala 19:00 to 23:00 · Corn Hall booked" in page
    assert "Install: Winter gala about 17:00 to 19:00" in page


def test_the_agenda_has_each_day_on_which_something_is(crew_client, gala):
    page = words(crew_client.get(PAGE, {"month": "2026-06", "view": "agenda"}))
    found = [page.index(day) for day in ("Friday 19 June", "Saturday 20 June", "Sunday 21 June")]
    assert found == sorted(found)
    assert "Thursday 18 June" not in page


@pytest.mark.parametrize("view", ["", "agenda"])
def test_an_empty_month_says_so(crew_client, view):
    assert "Nothing is on in" in words(crew_client.get(PAGE, {"month": "2026-07", "view": view}))


@pytest.mark.parametrize(
    "asked",
    [
        pytest.param({"month": "soon"}, id="no month"),
        pytest.param({"month": "2026-13"}, id="no such month"),
        pytest.param({"month": "2026-06", "day": "2026-02-30"}, id="no such day"),
        pytest.param({"month": "2026-06", "day": "2031-01-01"}, id="a day of another month"),
        pytest.param({"month": "0001-01"}, id="the first month there is"),
        pytest.param({"month": "9999-12"}, id="the last month there is"),
        pytest.param({"month": "9999-12", "view": "agenda"}, id="the last month as an agenda"),
    ],
)
def test_any_address_has_an_answer(crew_client, asked):
    assert crew_client.get(PAGE, asked).status_code == 200


def test_the_months_before_and_after_are_a_link_away(crew_client):
    page = crew_client.get(PAGE, {"month": "2026-01"}).content.decode()
    assert 'rel="prev" href="?month=2025-12"' in page
    assert 'rel="next" href="?month=2026-02"' in page


@pytest.mark.parametrize(("start", "first"), [(0, "Monday"), (6, "Sunday")])
def test_weeks_begin_on_the_day_the_studio_says(crew_client, start, first):
    DayLimits.objects.create(pk=1, week_start=start)
    page = crew_client.get(PAGE).content.decode()
    assert re.findall(r'<abbr title="(\w+)"', page)[0] == first


def test_today_is_the_studios_today(crew_client, monkeypatch):
    Studio.objects.create(pk=1, time_zone="Pacific/Auckland")
    monkeypatch.setattr(timezone, "now", lambda: dt.datetime(2026, 5, 31, 13, 0, tzinfo=dt.UTC))
    page = crew_client.get(PAGE).content.decode()
    assert "<h1>June 2026</h1>" in page
    assert re.search(r'day=2026-06-01#day" aria-current="date"', page)


def test_an_enquiry_a_quote_and_what_is_lost(crew_client):
    BookingFactory(title="Asked", event_on=SATURDAY)
    BookingFactory(title="Gone", event_on=SATURDAY, stage="lost")
    page = words(crew_client.get(PAGE, {"month": "2026-06"}))
    assert "Enquiry: Asked" in page
    assert "Gone" not in page


def test_a_full_day_says_why(crew_client, gala):
    BookingFactory(title="Other", stage="booked", event_on=SATURDAY, needed_on=SATURDAY, starts_at=dt.time(19))
    page = crew_client.get(PAGE, {"month": "2026-06", "day": "2026-06-20"}).content.decode()
    assert 'aria-label="Saturday 20 June, 6 entries, full"' in page
    assert "2 vans needed at once" in page


def test_crew_read_no_amount(crew_client, gala):
    Booking.objects.update(budget="about $7,919", wants="for $7,919")
    for view in ("", "agenda"):
        assert "7,919" not in crew_client.get(PAGE, {"month": "2026-06", "view": view}).content.decode()


@pytest.mark.parametrize("view", ["", "agenda"])
def test_two_hundred_jobs_take_as_many_queries_as_one(crew_client, gala, view, django_assert_num_queries):
    def look():
        # The session, the person, the studio; the limits and the jobs of the month.
        with django_assert_num_queries(5):
            return crew_client.get(PAGE, {"month": "2026-06", "view": view})

    look()
    client, owner = ClientFactory(), UserFactory()
    Booking.objects.bulk_create(
        Booking(client=client, title=f"Job {n}", stage="booked", event_on=SATURDAY - dt.timedelta(days=n % 19),
                needed_on=SATURDAY - dt.timedelta(days=n % 19), created_at=NOON, created_by=owner)
        for n in range(200)
    )  # fmt: skip
    assert "more" in words(look()) or view


def test_the_week_leads_to_the_calendar(crew_client):
    assert f'href="{reverse("bookings:calendar")}"' in crew_client.get(reverse("week")).content.decode()
