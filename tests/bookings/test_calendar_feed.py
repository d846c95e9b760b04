"""The private feed: who may read it, what it says, and how it changes."""

import datetime as dt
from typing import Any

import pytest
import vobject
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.actions.dates import calendar_token, end_calendar_link, hold_date, make_calendar_link
from bookings.guessing import MOST_MISSES
from bookings.models import Booking, CalendarLink, HistoryEntry, Piece
from studio.models import Studio, User
from tests.every_route import CANARY_WRITTEN, furnished
from tests.factories import NOON, TODAY, BookingFactory, ClientFactory, QuoteFactory, UserFactory, token_of

EVENT = TODAY + dt.timedelta(days=20)


@pytest.fixture(autouse=True)
def at_noon(monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: NOON)


@pytest.fixture
def studio(db):
    return Studio.objects.create(pk=1, name="Tern & Tide Balloons", time_zone="America/New_York")


@pytest.fixture
def token(owner, studio):
    return calendar_token(make_calendar_link(person=owner, at=NOON).salt)


def path_of(token: str) -> str:
    return reverse("bookings:calendar-feed", args=[token])


def read(token: str, browser: Browser | None = None) -> dict[str, Any]:
    """The feed's events by what they are called, as another reader of calendars sees them."""
    body = (browser or Browser()).get(path_of(token)).content.decode()
    return {event.summary.value: event for event in getattr(vobject.readOne(body), "vevent_list", [])}


def gala(**known: object) -> Booking:
    said = {
        "title": "Winter gala",
        "stage": "booked",
        "event_on": EVENT,
        "needed_on": EVENT - dt.timedelta(days=1),
        "install_at": dt.time(10),
        "ready_by": dt.time(14),
        "starts_at": dt.time(18),
        "ends_at": dt.time(23, 30),
        "strike_at": dt.time(0, 15),
        "place": "Corn Hall, Port Alder",
        "client": ClientFactory(name="Ines Vale", phone="+1 555 0142"),
    }
    booking = BookingFactory(**said | known)
    HistoryEntry.objects.create(booking=booking, at=NOON, what="Enquiry logged.")
    return booking


def test_a_booked_job_has_its_prep_its_install_its_event_and_its_strike(token):
    gala()
    new_york = Studio.objects.current().zone
    found = {name: event.dtstart.value for name, event in read(token).items()}
    assert found == {
        "Prep: Winter gala": EVENT - dt.timedelta(days=1),
        "Install: Winter gala": dt.datetime.combine(EVENT, dt.time(10), new_york),
        "Event: Winter gala": dt.datetime.combine(EVENT, dt.time(18), new_york),
        "Strike: Winter gala": dt.datetime.combine(EVENT + dt.timedelta(days=1), dt.time(0, 15), new_york),
    }


def test_an_event_says_where_for_whom_and_what_and_no_budget(token):
    booking = gala(budget="about 900", wants="A garland for $900")
    Piece.objects.create(booking=booking, name="Door garland", kind="counted", spec={}, layout={})
    event = read(token)["Event: Winter gala"]
    assert event.location.value == "Corn Hall, Port Alder"
    assert "Door garland\nReady by 14:00.\n1 person on the job.\nIn" in event.description.value
    assert event.url.value == f"http://testserver/bookings/{booking.pk}/"
    # Line by line: to write an event out, vobject asks a list of zones that every test before has left its own in.
    assert [line.name for line in event.lines() if "900" in str(line.value) and line.name != "UID"] == []


def test_no_amount_of_a_furnished_studio_is_in_the_feed(db):
    things = furnished()
    token = calendar_token(CalendarLink.objects.filter(person=things.owner).get().salt)
    body = Browser().get(path_of(token)).content.decode()
    assert "Winter gala, booked" in body.replace("\r\n ", "").replace("\\,", ",")
    assert [written for written in CANARY_WRITTEN if written in body] == []
    assert things.sets[0]["token"] not in body


@pytest.mark.parametrize(
    ("stage", "expected"),
    [
        pytest.param("booked", "CONFIRMED", id="booked"),
        pytest.param("done", "CONFIRMED", id="done"),
        pytest.param("cancelled", "CANCELLED", id="cancelled"),
        pytest.param("enquiry", None, id="an enquiry is not in it"),
        pytest.param("lost", None, id="nor is a lost one"),
    ],
)
def test_the_status_of_an_event_follows_the_stage(token, stage, expected):
    gala(stage=stage)
    event = read(token).get("Event: Winter gala")
    assert (event.status.value if event else None) == expected


def test_a_held_date_is_tentative_and_only_its_event_is_told(token, owner):
    booking = gala(stage="enquiry", needed_on=None)
    hold_date(booking=booking, until=TODAY + dt.timedelta(days=3), today=TODAY, by=owner, at=NOON)
    found = read(token)
    assert list(found) == ["Event: Winter gala"]
    assert found["Event: Winter gala"].status.value == "TENTATIVE"
    assert "Held until Thu 4 Jun." in found["Event: Winter gala"].description.value


def test_an_open_quote_is_tentative(token):
    booking = gala(stage="quoted", needed_on=None)
    QuoteFactory(booking=booking, valid_until=TODAY + dt.timedelta(days=3))
    assert read(token)["Event: Winter gala"].status.value == "TENTATIVE"


def test_a_change_keeps_the_uid_and_raises_the_sequence(token, owner):
    booking = gala()
    before = read(token)["Event: Winter gala"]
    later = NOON + dt.timedelta(hours=2)
    actions.edit_booking(booking=booking, client={}, job={"starts_at": dt.time(19)}, by=owner, at=later)
    after = read(token)["Event: Winter gala"]
    assert after.uid.value == before.uid.value
    assert int(after.sequence.value) > int(before.sequence.value)
    assert after.last_modified.value == later
    assert after.dtstart.value.hour == 19


def test_every_uid_is_its_own(token):
    gala()
    gala(title="Barn wedding")
    assert len({event.uid.value for event in read(token).values()}) == 8


def test_who_has_this_feed_already_is_told_that_nothing_changed(token, owner):
    booking = gala()
    first = Browser().get(path_of(token))
    again = Browser().get(path_of(token), headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    actions.edit_booking(booking=booking, client={}, job={"place": "The pier"}, by=owner, at=NOON)
    changed = Browser().get(path_of(token), headers={"If-None-Match": first.headers["ETag"]})
    assert changed.status_code == 200


def test_a_feed_is_private_and_a_calendar(token):
    answer = Browser().get(path_of(token))
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
    assert answer.headers["Cache-Control"] == "private, no-cache"


def test_a_guessed_link_gets_the_answer_of_every_dead_link(token, client):
    dead = client.get(reverse("bookings:client", args=["nothing"]))
    for guess in ("A" * 32, token[:-1], token + "A", "x"):
        answer = client.get(path_of(guess))
        assert (answer.status_code, answer.content) == (404, dead.content)


def test_a_quotes_token_opens_no_calendar(token, client):
    quote = QuoteFactory()
    assert client.get(path_of(token_of(quote))).status_code == 404


def test_guessing_calendars_is_slow(token, client):
    for n in range(MOST_MISSES):
        client.get(path_of(f"guess-{n}"))
    assert client.get(path_of(token)).status_code == 429


def test_a_new_link_kills_the_old_one_and_leaves_others_alone(token, owner, crew, client):
    theirs = calendar_token(make_calendar_link(person=crew, at=NOON).salt)
    mine = calendar_token(make_calendar_link(person=owner, at=NOON).salt)
    assert [client.get(path_of(one)).status_code for one in (token, mine, theirs)] == [404, 200, 200]


def test_an_ended_link_leads_nowhere(token, owner, client):
    end_calendar_link(person=owner)
    assert client.get(path_of(token)).status_code == 404


def test_who_no_longer_works_here_reads_no_feed(token, owner, client):
    User.objects.filter(pk=owner.pk).update(is_active=False)
    assert client.get(path_of(token)).status_code == 404


def test_a_person_makes_their_link_and_ends_it(crew_client, crew, studio):
    page = reverse("bookings:calendar-subscribe")
    key = "0b0fda0e-54a7-4ab4-a7b7-3a3f6a0ab101"
    crew_client.post(page, {"do": "make", "form_key": key})
    kept = CalendarLink.objects.get(person=crew)
    assert path_of(calendar_token(kept.salt)) in crew_client.get(page).content.decode()
    crew_client.post(page, {"do": "end", "form_key": key[:-1] + "2"})
    assert not CalendarLink.objects.exists()


def test_two_hundred_jobs_take_as_many_queries_as_one(token, django_assert_num_queries):
    gala()
    owner = UserFactory()
    # The link, the studio (by the request, then by the feed), the limits, the jobs, their pieces.
    with django_assert_num_queries(6):
        Browser().get(path_of(token))
    client = ClientFactory()
    Booking.objects.bulk_create(
        Booking(client=client, title=f"Job {n}", stage="booked", event_on=EVENT, needed_on=EVENT, created_at=NOON,
                created_by=owner)
        for n in range(200)
    )  # fmt: skip
    with django_assert_num_queries(6):
        assert Browser().get(path_of(token)).content.count(b"BEGIN:VEVENT") == 404


def test_a_job_long_gone_is_no_longer_in_it(token):
    gala(event_on=TODAY - dt.timedelta(days=61), needed_on=None, stage="done")
    assert read(token) == {}
