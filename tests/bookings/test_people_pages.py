"""Hours, days off, who is on a job, and what each sees of it."""

import datetime as dt
import re
import uuid

import pytest
from django.utils import timezone

from bookings.models import DayOff, OnTheJob, WorkDay
from tests.factories import NOON, BookingFactory, ClientFactory, UserFactory

SATURDAY = dt.date(2026, 6, 20)


@pytest.fixture(autouse=True)
def at_noon(monkeypatch, db):
    monkeypatch.setattr(timezone, "now", lambda: NOON)


def job(title: str, **given):
    usual = {"stage": "booked", "event_on": SATURDAY, "needed_on": SATURDAY - dt.timedelta(days=1)}
    return BookingFactory(title=title, client=ClientFactory(name="Ines Vale"), **usual | given)


@pytest.fixture
def gala():
    return job("Winter gala", install_at=dt.time(10), ready_by=dt.time(14), starts_at=dt.time(18), ends_at=dt.time(23))


@pytest.fixture
def wedding():
    return job("Barn wedding", install_at=dt.time(12), ready_by=dt.time(15), starts_at=dt.time(16), ends_at=dt.time(20))


def form(**typed: str) -> dict[str, str]:
    """What was typed into a form that has just been shown."""
    return {"form_key": str(uuid.uuid4())} | typed


def words(answer) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def test_a_week_is_kept_by_the_day(owner_client, crew):
    owner_client.post(f"/people/{crew.pk}/hours/", form(day0="8", day4="4.5", day6="0"))
    assert list(WorkDay.objects.order_by("weekday").values_list("weekday", "minutes")) == [(0, 480), (4, 270)]


def test_a_day_of_thirty_hours_is_refused_and_what_was_typed_stays(owner_client, crew):
    answer = owner_client.post(f"/people/{crew.pk}/hours/", form(day0="30", day1="7"))
    assert answer.status_code == 422
    assert "a number from 0 to 24" in words(answer)
    assert 'value="30"' in answer.content.decode()
    assert 'value="7"' in answer.content.decode()
    assert not WorkDay.objects.exists()


def test_one_day_off_needs_one_day(owner_client, crew):
    owner_client.post(f"/people/{crew.pk}/days-off/", form(first="2026-06-20", last=""))
    assert DayOff.objects.get().last == SATURDAY


@pytest.mark.parametrize(
    ("typed", "rule"),
    [
        pytest.param({"first": "2026-06-20", "last": "2026-06-19"}, "no earlier than the first", id="backwards"),
        pytest.param({"first": "2026-06-20", "last": "2028-06-19"}, "at most 366 in a row", id="years"),
        pytest.param({"first": "", "last": ""}, "Say from which day", id="empty"),
        pytest.param({"first": "soon", "last": ""}, "That is no day", id="no day"),
        pytest.param({"first": "2026-06-10", "last": "2026-06-15"}, "already", id="twice"),
    ],
)
def test_days_off_that_make_no_sense_are_refused(owner_client, crew, typed, rule):
    DayOff.objects.create(person=crew, first=dt.date(2026, 6, 12), last=dt.date(2026, 6, 18))
    answer = owner_client.post(f"/people/{crew.pk}/days-off/", form(**typed))
    assert answer.status_code == 422
    assert rule in words(answer)
    assert DayOff.objects.count() == 1


def test_days_off_can_be_taken_away(owner_client, crew):
    gone = DayOff.objects.create(person=crew, first=SATURDAY, last=SATURDAY)
    owner_client.post(f"/people/{crew.pk}/days-off/{gone.pk}/", form())
    assert not DayOff.objects.exists()


def test_crew_reads_everybodys_hours_and_sets_none(crew_client, crew):
    assert "No hours are written down." in words(crew_client.get("/people/hours/"))
    assert crew_client.post(f"/people/{crew.pk}/hours/", {"day0": "8"}).status_code == 403


def test_who_is_on_the_job_is_on_its_page_and_in_its_story(owner_client, crew, gala):
    owner_client.post(
        f"/bookings/{gala.pk}/people/", form(**{f"on{crew.pk}": "on", f"does{crew.pk}": "drives the van"})
    )
    page = words(owner_client.get(f"/bookings/{gala.pk}/"))
    assert "drives the van" in page
    assert f"On the job: {crew.shown_name}." in page


def test_two_sites_at_once_are_flagged_with_both_jobs_named(owner_client, crew, gala, wedding):
    for one in (gala, wedding):
        OnTheJob.objects.create(booking=one, person=crew)
    jobs = (f"/bookings/{gala.pk}/", f"/bookings/{wedding.pk}/", f"/bookings/{wedding.pk}/people/")
    for address in (*jobs, "/plan/", "/"):
        assert (
            "is on two jobs at once: Winter gala (out 10:00 to 14:00) and Barn wedding (out 12:00 to 15:00)"
            in words(owner_client.get(address))
        )


def test_a_day_off_on_the_day_of_the_job_is_flagged(owner_client, crew, gala):
    OnTheJob.objects.create(booking=gala, person=crew)
    DayOff.objects.create(person=crew, first=SATURDAY, last=SATURDAY)
    assert f"{crew.shown_name} is off, and is on Winter gala." in words(owner_client.get(f"/bookings/{gala.pk}/"))


def test_taking_somebody_off_the_job_takes_nobody_else(owner_client, crew, gala):
    other = UserFactory(username="kim", first_name="Kim")
    OnTheJob.objects.create(booking=gala, person=crew)
    OnTheJob.objects.create(booking=gala, person=other)
    owner_client.post(f"/bookings/{gala.pk}/people/", form(**{f"on{other.pk}": "on"}))
    assert [row.person for row in gala.people.all()] == [other]


def test_my_days_are_the_jobs_i_am_on_and_no_others(crew_client, crew, gala, wedding):
    OnTheJob.objects.create(booking=gala, person=crew, does="hangs")
    page = words(crew_client.get("/my-days/"))
    assert "Install: Winter gala 10:00 to 14:00" in page
    assert "hangs" in page
    assert "Barn wedding" not in page


def test_my_days_have_no_amount(crew_client, crew, gala):
    gala.budget = "about 7,919.37"
    gala.save()
    OnTheJob.objects.create(booking=gala, person=crew)
    assert "7,919" not in words(crew_client.get("/my-days/"))


def test_my_days_say_that_there_is_nothing_to_do(crew_client):
    assert "You are on no job in the next six weeks." in words(crew_client.get("/my-days/"))


def test_a_cancelled_job_is_nobodys_day(crew_client, crew, gala):
    gala.stage = "cancelled"
    gala.save()
    OnTheJob.objects.create(booking=gala, person=crew)
    assert "Winter gala" not in words(crew_client.get("/my-days/"))


def test_my_days_ask_as_often_however_many_jobs_there_are(crew_client, crew, django_assert_max_num_queries):
    for number in range(12):
        OnTheJob.objects.create(
            booking=job(f"Job {number}", event_on=SATURDAY + dt.timedelta(days=number)), person=crew
        )
    with django_assert_max_num_queries(19):
        crew_client.get("/my-days/")
