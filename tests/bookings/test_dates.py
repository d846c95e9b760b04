"""Dates that are held, days that are full, and the times of a job as they are typed."""

import datetime as dt
import uuid

import pytest
import vobject
from django.db import IntegrityError, transaction
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.actions.dates import HoldRefused, hold_date, hold_date_for_client, let_date_go
from bookings.models import Booking, DateHold, DayLimits, Quote
from bookings.queries.dates import clashes_of, full_days, held_dates, hold_of
from studio.models import Studio, User
from tests.factories import NOON, TODAY, BookingFactory, ClientFactory, QuoteFactory, token_of
from tests.opened import send_opened

EVENT = TODAY + dt.timedelta(days=19)
"""A Saturday, 20 June."""
UTC = dt.UTC


@pytest.fixture(autouse=True)
def at_noon(monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: NOON)


def job(title: str = "Winter gala", **known: object) -> Booking:
    return BookingFactory(**{"title": title, "event_on": EVENT, "client": ClientFactory(name="Ines Vale")} | known)


def booked(title: str, **known: object) -> Booking:
    return job(title, **{"stage": "booked", "needed_on": EVENT - dt.timedelta(days=1)} | known)


def quoted(**known: object) -> Quote:
    return QuoteFactory(booking=job(stage="quoted"), **{"valid_until": TODAY + dt.timedelta(days=14)} | known)


def day_after(days: int) -> dt.date:
    return TODAY + dt.timedelta(days=days)


def held(booking: Booking, owner: User, days: int = 3) -> DateHold:
    return hold_date(booking=booking, until=day_after(days), today=TODAY, by=owner, at=NOON)


def sent(**typed: str) -> dict[str, str]:
    return {"form_key": str(uuid.uuid4())} | typed


@pytest.mark.django_db
class TestHolding:
    def test_a_held_date_lapses_by_itself(self, owner):
        booking = job()
        held(booking, owner, days=3)
        assert hold_of(booking, today=day_after(3)) is not None
        assert hold_of(booking, today=day_after(4)) is None

    def test_a_longer_hold_takes_the_place_of_a_shorter(self, owner):
        booking = job()
        held(booking, owner, days=3)
        held(booking, owner, days=9)
        assert [hold.until for hold in held_dates(today=TODAY)] == [day_after(9)]

    def test_a_date_let_go_is_free(self, owner):
        booking = job()
        held(booking, owner)
        let_date_go(booking=booking, by=owner, at=NOON)
        let_date_go(booking=booking, by=owner, at=NOON)
        assert held_dates(today=TODAY) == []
        assert booking.history.filter(what="The date is no longer held.").count() == 1

    def test_a_booked_job_is_not_merely_held(self, owner):
        booking = job()
        held(booking, owner)
        Booking.objects.update(stage="booked", needed_on=EVENT)
        assert held_dates(today=TODAY) == []

    @pytest.mark.parametrize(
        ("known", "days", "said"),
        [
            pytest.param({"event_on": None}, 3, "Set the event day first", id="no date"),
            pytest.param({"stage": "lost"}, 3, "This job is lost", id="lost"),
            pytest.param({}, -1, "got Sun 31 May", id="a day gone by"),
            pytest.param({}, 20, "from today to the event, Sat 20 Jun", id="past the event"),
        ],
    )
    def test_what_cannot_be_held_says_why(self, owner, known, days, said):
        with pytest.raises(HoldRefused, match=said):
            held(job(**known), owner, days=days)

    def test_the_database_keeps_one_hold_a_job(self, owner):
        booking = job()
        held(booking, owner)
        with pytest.raises(IntegrityError), transaction.atomic():
            DateHold.objects.create(booking=booking, until=day_after(5), made_at=NOON)

    def test_the_owner_holds_a_date_on_its_page(self, owner_client):
        booking = job()
        answer = owner_client.post(reverse("bookings:hold", args=[booking.pk]), sent(until="2026-06-05"))
        assert answer.status_code == 302
        page = owner_client.get(reverse("bookings:detail", args=[booking.pk])).content.decode()
        assert "Held for Ines Vale until Fri 5 Jun" in page

    def test_a_hold_past_the_event_keeps_what_was_typed(self, owner_client):
        booking = job()
        answer = owner_client.post(reverse("bookings:hold", args=[booking.pk]), sent(until="2026-06-21"))
        assert answer.status_code == 422
        assert "21 June 2026 is not one." in answer.content.decode()
        assert 'value="2026-06-21"' in answer.content.decode()

    def test_the_week_says_what_is_held(self, owner, owner_client):
        held(job(), owner)
        page = owner_client.get(reverse("week")).content.decode()
        assert "Held for <bdi>Ines Vale</bdi> until Thu 4 Jun" in page


@pytest.mark.django_db
class TestTheClient:
    def hold(self, quote: Quote, days: int = 5) -> DateHold:
        return hold_date_for_client(quote=quote, until=day_after(days), today=TODAY, at=NOON)

    def test_holds_their_date_from_their_quote(self):
        quote = quoted()
        path = reverse("bookings:client-hold", args=[token_of(quote)])
        answer = Browser().post(path, sent(until="2026-06-05"))
        assert (answer.status_code, answer.headers["Location"]) == (302, "../")
        page = Browser().get(reverse("bookings:client", args=[token_of(quote)])).content.decode()
        assert "Saturday 20 June is held for you until Friday 5 June." in page

    def test_is_offered_the_most_days_the_studio_allows(self):
        DayLimits.objects.create(pk=1, hold_days=4)
        page = Browser().get(reverse("bookings:client", args=[token_of(quoted())])).content.decode()
        assert 'max="2026-06-05"' in page

    def test_is_not_offered_what_the_studio_does_not_do(self):
        DayLimits.objects.create(pk=1, hold_days=0)
        page = Browser().get(reverse("bookings:client", args=[token_of(quoted())])).content.decode()
        assert "Hold my date" not in page

    def test_holds_no_longer_than_the_quote_is_open(self):
        with pytest.raises(HoldRefused, match="until Wed 3 Jun at the latest"):
            self.hold(quoted(valid_until=day_after(2)))

    def test_holds_once_a_version(self):
        quote = quoted()
        first = self.hold(quote)
        assert self.hold(quote) == first
        DateHold.objects.update(let_go_at=NOON)
        with pytest.raises(HoldRefused, match="held this date before"):
            self.hold(quote)

    @pytest.mark.parametrize(
        "known",
        [
            pytest.param({"withdrawn_at": NOON}, id="withdrawn"),
            pytest.param({"replaced_at": NOON}, id="replaced"),
            pytest.param({"valid_until": TODAY - dt.timedelta(days=1)}, id="expired"),
        ],
    )
    def test_holds_only_from_an_open_quote(self, known):
        with pytest.raises(HoldRefused):
            self.hold(quoted(**known), days=0)

    def test_cannot_hold_a_full_day_from_here(self):
        for n in range(2):
            booked(f"Job {n}", ready_by=dt.time(9 + 5 * n))
        with pytest.raises(HoldRefused, match="Talk to us first"):
            self.hold(quoted())

    def test_is_told_in_a_sentence_why_it_is_not_held(self):
        quote = quoted()
        path = reverse("bookings:client-hold", args=[token_of(quote)])
        answer = Browser().post(path, sent(until="2026-06-19"))
        assert answer.status_code == 422
        assert "19 June 2026 is not one." in answer.content.decode()

    def test_adds_the_event_to_their_calendar(self):
        Studio.objects.create(pk=1, name="Tern & Tide Balloons", time_zone="America/New_York")
        quote = QuoteFactory(booking=job(stage="quoted", starts_at=dt.time(18), place="Corn Hall", budget="900"),
                             valid_until=day_after(9))  # fmt: skip
        answer = Browser().get(reverse("bookings:client-calendar", args=[token_of(quote)]))
        (event,) = vobject.readOne(answer.content.decode()).vevent_list
        assert event.summary.value == "Winter gala (Tern & Tide Balloons)"
        assert event.dtstart.value.astimezone(UTC) == dt.datetime(2026, 6, 20, 22, tzinfo=UTC)
        assert event.status.value == "TENTATIVE"
        assert token_of(quote) not in answer.content.decode()
        assert "Ines" not in answer.content.decode()
        assert answer.headers["Content-Disposition"] == 'attachment; filename="date.ics"'

    def test_of_a_withdrawn_quote_is_led_back_to_it(self):
        quote = quoted(withdrawn_at=NOON)
        answer = Browser().get(reverse("bookings:client-calendar", args=[token_of(quote)]))
        assert answer.status_code == 302


@pytest.mark.django_db
class TestFullDays:
    def test_an_enquiry_is_told_what_is_on_its_day(self, crew_client):
        for n in range(2):
            booked(f"Job {n}", ready_by=dt.time(9 + 5 * n))
        page = crew_client.get(reverse("bookings:day-said"), {"event_on": "2026-06-20"}).content.decode()
        assert "Saturday 20 June: 3 jobs, and you take 2 a day: " not in page
        assert "Saturday 20 June: 3 jobs, and you take 2 a day. Job 0 (booked), Job 1 (booked)" in page.replace(
            "This enquiry, ", ""
        )

    @pytest.mark.parametrize("typed", ["", "soon", "2026-05-31", "9999-99-99", "9999-12-31"])
    def test_no_day_to_come_is_told_nothing(self, crew_client, typed):
        assert crew_client.get(reverse("bookings:day-said"), {"event_on": typed}).content.decode().strip() == ""

    def test_an_empty_day_is_said_to_be_empty(self, crew_client):
        page = crew_client.get(reverse("bookings:day-said"), {"event_on": "2026-06-20"}).content.decode()
        assert "Nothing else is on that day." in page

    def test_a_held_date_counts_while_it_holds(self, owner):
        first, second = job("Held", ready_by=dt.time(14)), booked("Booked", ready_by=dt.time(14))
        assert clashes_of(second, today=TODAY, zone=UTC) == []
        held(first, owner)
        assert [clash.lack for clash in clashes_of(second, today=TODAY, zone=UTC)] == ["vans"]
        assert clashes_of(second, today=day_after(4), zone=UTC) == []

    def test_a_quote_on_a_full_day_goes_out_once_it_was_seen(self, owner_client, priced):
        booked("Other", event_on=priced.event_on, needed_on=priced.event_on, ready_by=dt.time(14))
        Booking.objects.filter(pk=priced.pk).update(ready_by=dt.time(14))
        page = reverse("bookings:quote-issue", args=[priced.pk])
        refused = owner_client.post(page, sent())
        assert refused.status_code == 422
        assert "Tick that you have seen it" in refused.content.decode()
        assert priced.quotes.count() == 0
        assert owner_client.post(page, sent(clash_seen="on")).status_code == 302
        assert priced.quotes.count() == 1

    def test_a_yes_on_a_full_day_is_taken_and_told(self, owner_client, priced, issue, say_yes):
        booked("Other", event_on=priced.event_on, needed_on=priced.event_on, ready_by=dt.time(14))
        Booking.objects.filter(pk=priced.pk).update(ready_by=dt.time(14))
        say_yes(issue(priced))
        priced.refresh_from_db()
        assert priced.stage == "booked"
        assert priced.history.filter(what__startswith="Booked on a full day.").count() == 1
        assert "Other (booked)" in owner_client.get(reverse("week")).content.decode()
        assert (
            "2 vans needed at once" in owner_client.get(reverse("bookings:detail", args=[priced.pk])).content.decode()
        )

    def test_every_full_day_is_found_in_four_queries_or_fewer(self, django_assert_max_num_queries):
        for n in range(12):
            booked(f"Job {n}")
        with django_assert_max_num_queries(4):
            assert {clash.day for clash in full_days(TODAY, EVENT, today=TODAY, zone=UTC)} == {
                EVENT - dt.timedelta(days=1),
                EVENT,
            }

    def test_the_owner_says_what_a_day_takes(self, owner_client):
        typed = {"jobs": "5", "people": "4", "hours": "8", "vans": "2", "job_hours": "6", "install_minutes": "90",
                 "strike_minutes": "45",
                 "hold_days": "3", "week_start": "6"}  # fmt: skip
        assert send_opened(owner_client, reverse("bookings:day-limits"), sent(**typed)).status_code == 302
        assert (DayLimits.objects.current().jobs, DayLimits.objects.current().usual.install) == (5, 90)
        refused = send_opened(owner_client, reverse("bookings:day-limits"), sent(**typed | {"vans": "none"}))
        assert refused.status_code == 422
        assert "whole number from 1 to 20" in refused.content.decode()


def edited(**typed: str) -> dict[str, str]:
    """The form of a job as it is sent."""
    usual = {"name": "Ines", "event_on": "2026-06-20", "distance": "0", "travel_minutes": "0", "crew": "1"}
    return sent(**usual | typed)


@pytest.mark.django_db
class TestTimes:
    def test_times_are_kept_as_they_were_said(self, owner_client):
        booking = job()
        typed = {"install_at": "10:00", "starts_at": "18:00", "ends_at": "01:00", "strike_at": "01:15"}
        answer = send_opened(owner_client, reverse("bookings:edit", args=[booking.pk]), edited(**typed))
        assert answer.status_code == 302
        page = owner_client.get(reverse("bookings:detail", args=[booking.pk])).content.decode()
        assert "Sat 20 Jun, 18:00 to 01:00 Sun" in page
        assert "Sun 21 Jun, about 01:15 to 02:15" in page

    @pytest.mark.parametrize(
        ("typed", "said"),
        [
            pytest.param({"ready_by": "19:00", "starts_at": "18:00"}, "19:00 is after 18:00", id="ready too late"),
            pytest.param({"ends_at": "18:00"}, "Say when the event starts too", id="an end without a start"),
            pytest.param({"event_on": "2047-01-01"}, "1 January 2047 is not.", id="an event in another age"),
            pytest.param({"strike_on": "2026-09-01"}, "within 60 days of the event", id="struck too late"),
            pytest.param({"strike_on": "2026-06-19"}, "19 June 2026 is before 20 June 2026", id="struck too early"),
            pytest.param(
                {"starts_at": "18:00", "strike_on": "2026-06-20", "strike_at": "00:30"},
                "Past midnight it is on the day after.",
                id="struck before it starts",
            ),
            pytest.param(
                {"event_on": "2027-03-14", "ready_by": "02:30"},
                "There is no 02:30 on 14 March 2027: the clocks are put forward over it.",
                id="a time a clock change leaves out",
            ),
        ],
    )
    def test_a_time_that_cannot_be_is_refused_and_still_there(self, owner_client, typed, said):
        Studio.objects.create(pk=1, time_zone="America/New_York")
        booking = job()
        answer = send_opened(owner_client, reverse("bookings:edit", args=[booking.pk]), edited(**typed))
        assert answer.status_code == 422
        page = answer.content.decode()
        assert said in page
        for value in typed.values():
            assert f'value="{value}"' in page

    def test_the_database_keeps_a_strike_behind_its_event(self):
        with pytest.raises(IntegrityError), transaction.atomic():
            job(strike_on=EVENT - dt.timedelta(days=1))

    def test_a_change_of_times_is_in_the_jobs_story(self, owner):
        booking = job()
        actions.edit_booking(booking=booking, client={}, job={"ends_at": dt.time(22)}, by=owner, at=NOON)
        assert booking.history.filter(what="Details changed.").exists()
