"""The steps of the plan: gas, decals and orders with their days, the hours of the place, the same words everywhere."""

import datetime as dt
import re
from dataclasses import replace
from decimal import Decimal

import pytest
from django.utils import timezone

from bookings import actions
from bookings.actions.people import keep_week
from bookings.diary import short_day
from bookings.models import Booking, OnTheJob, Place
from estimating.kinds import BouquetSpec, LetteredSpec
from estimating.models import Rates
from stock.models import Colour
from studio.models import Studio
from tests.bookings.conftest import EVENT, garland_spec
from tests.factories import (
    NOON,
    BookingFactory,
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OfferFactory,
    ReservationFactory,
)

INCH = Decimal("25.4")
PREP = EVENT - dt.timedelta(days=1)


@pytest.fixture(autouse=True)
def at_noon(monkeypatch, db):
    monkeypatch.setattr(timezone, "now", lambda: NOON)


@pytest.fixture
def gala(owner, crew, add_garland) -> Booking:
    """A booked garland, ready by two in the afternoon; the owner works ten hours a day and is on it."""
    booking = BookingFactory(
        title="Winter gala", event_on=EVENT, needed_on=PREP, ready_by=dt.time(14), created_by=owner
    )
    add_garland(booking)
    Booking.objects.filter(pk=booking.pk).update(stage="booked")
    booking.refresh_from_db()
    keep_week(person=owner, week=[600] * 7, by=owner, at=NOON)
    OnTheJob.objects.create(booking=booking, person=owner)
    return booking


def letter(booking: Booking, owner) -> None:
    """A big balloon on helium, with a decal."""
    colour = Colour.objects.first() or ColourFactory()
    spec = LetteredSpec(
        colour=colour.key, text="20 years", decal_width_mm=10 * INCH, decal_height_mm=4 * INCH, height_mm=84 * INCH
    )
    actions.keep_piece(
        booking=booking, piece=None, edition=0, name="Big balloon", kind="lettered", spec=spec, typed={}, by=owner,
        at=NOON,
    )  # fmt: skip


def change(booking: Booking, **given) -> Booking:
    """The job with other times, as they are typed; the place where they are of the place."""
    Booking.objects.filter(pk=booking.pk).update(**given)
    booking.refresh_from_db()
    return booking


def words(browser, page: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", browser.get(page).content.decode()).split())


def pages(booking: Booking) -> list[str]:
    return ["/plan/", f"/bookings/{booking.pk}/plan/", f"/bookings/{booking.pk}/run-sheet/", "/my-days/"]


class TestGasAndDecals:
    def test_they_are_steps_with_their_minutes_wherever_steps_are(self, owner_client, owner, gala):
        letter(gala, owner)
        for page in pages(gala):
            shown = words(owner_client, page)
            assert re.search(r"Collect gas.{0,20} [\d,]+ litres of helium 45 min of work", shown), page
            assert re.search(r"Cut decals.{0,20} \d decals? \d\d min of work", shown), page

    def test_what_is_brought_and_ready_cut_is_no_step(self, owner_client, owner, gala):
        letter(gala, owner)
        Rates.objects.create(pk=1, gas_minutes=0, decal_minutes=0)
        shown = words(owner_client, f"/bookings/{gala.pk}/plan/")
        assert "Collect gas" not in shown
        assert "Cut decals" not in shown

    def test_a_job_of_air_needs_neither(self, owner_client, gala):
        shown = words(owner_client, f"/bookings/{gala.pk}/plan/")
        assert "Inflate and assemble Garland" in shown
        assert "Collect gas" not in shown

    def test_a_job_that_is_only_quoted_has_them_on_its_best_days(self, owner_client, owner, gala):
        letter(gala, owner)
        change(gala, stage="quoted")
        shown = words(owner_client, f"/bookings/{gala.pk}/plan/")
        assert "By itself, each on its best day." in shown
        assert "litres of helium 45 min of work" in shown


class TestOrders:
    @pytest.fixture
    def short(self, gala):
        """The job is promised 30 and there are 10; a supplier takes four days."""
        item = ItemFactory(colour=ColourFactory(name="Sand"), size=5)
        MovementFactory(item=item, quantity=10)
        ReservationFactory(item=item, quantity=30, needed_on=PREP, booking=gala.pk, booking_name="Winter gala")
        return item

    def test_the_last_day_to_order_is_a_step(self, owner_client, owner, gala, short):
        OfferFactory(item=short, lead_days=4)
        for page in pages(gala):
            said = words(owner_client, page)
            assert re.search(rf"Order by.{{0,20}} Sand 5-inch \(20 short\) [^.]*{owner.shown_name}", said), page
        whole = words(owner_client, "/plan/")
        on = PREP - dt.timedelta(days=4)
        heading = f"{on:%A} {on.day} {on:%B}"
        assert whole.index(heading) < whole.index("Order by: Winter gala") < whole.index(f"{PREP:%A} {PREP.day}")

    def test_what_cannot_come_in_time_is_said_today(self, owner_client, gala, short):
        OfferFactory(item=short, lead_days=60)
        shown = words(owner_client, f"/bookings/{gala.pk}/plan/")
        assert "Sand 5-inch (20 short): Tue 21 Apr was the last day to order, so look for a stand-in" in shown

    def test_what_nobody_sells_is_said_today(self, owner_client, gala, short):
        assert "Sand 5-inch (20 short): nobody is known to sell it" in words(owner_client, "/plan/")

    def test_crew_reads_what_is_short_and_no_price(self, crew_client, gala, short):
        OfferFactory(item=short, lead_days=4, price_minor=791_937)
        shown = words(crew_client, "/plan/")
        assert "Sand 5-inch (20 short)" in shown
        assert "7,919" not in shown


class TestHoursOfThePlace:
    def trouble(self, browser, booking) -> str:
        return words(browser, f"/bookings/{booking.pk}/plan/")

    def test_a_window_too_short_for_the_install_is_said_with_its_figures_and_cures(self, owner_client, gala):
        Place.objects.create(booking=gala, access_from=dt.time(13, 50))
        shown = words(owner_client, "/plan/")
        assert re.search(
            r"Winter gala: the install takes [\dhmin ]+, and there are 10 min:"
            r" one may get in from 13:50, and it must be ready by 14:00\.",
            shown,
        )
        assert "It fits with" in shown or "It fits if one may get in from" in shown

    def test_being_ready_later_is_offered_and_does_make_it_fit(self, owner_client, gala):
        Place.objects.create(booking=gala, access_from=dt.time(13, 50))
        found = re.search(r"is ready by (\d\d:\d\d) instead of 14:00", self.trouble(owner_client, gala))
        assert found is not None
        later = dt.time.fromisoformat(found[1])
        before = (dt.datetime.combine(EVENT, later) - dt.timedelta(minutes=15)).time()
        assert "the install takes" in self.trouble(owner_client, change(gala, ready_by=before))
        assert "the install takes" not in self.trouble(owner_client, change(gala, ready_by=later))

    def test_it_is_not_offered_after_the_event_starts(self, owner_client, gala):
        Place.objects.create(booking=gala, access_from=dt.time(13, 50))
        change(gala, starts_at=dt.time(14))
        assert "instead of 14:00" not in self.trouble(owner_client, gala)

    def test_getting_in_as_early_as_is_said_makes_it_fit(self, owner_client, gala):
        place = Place.objects.create(booking=gala, access_from=dt.time(13, 50))
        found = re.search(r"It fits if one may get in from (\d\d:\d\d)", self.trouble(owner_client, gala))
        assert found is not None
        place.access_from = dt.time.fromisoformat(found[1])
        place.save()
        assert "the install takes" not in self.trouble(owner_client, gala)

    def test_everything_out_by_an_hour_limits_the_strike(self, owner_client, gala):
        Place.objects.create(booking=gala, out_by=dt.time(23, 5))
        change(gala, starts_at=dt.time(18), ends_at=dt.time(23))
        shown = self.trouble(owner_client, gala)
        assert "and there are 5 min: the event ends at 23:00, and everything must be out by 23:05." in shown
        assert re.search(r"It fits if everything may be out by 23:\d\d", shown)

    def test_a_strike_waits_until_it_may_begin(self, owner_client, gala):
        Place.objects.create(booking=gala, out_from=dt.time(23, 30))
        change(gala, starts_at=dt.time(18), ends_at=dt.time(23))
        shown = words(owner_client, f"/bookings/{gala.pk}/run-sheet/")
        assert "Strike About 23:30" in shown
        assert "Taking it down from 23:30" in shown

    def test_the_hours_are_typed_with_the_place(self, owner_client, gala):
        page = owner_client.get(f"/bookings/{gala.pk}/place/")
        typed = {
            name: re.search(rf'name="{name}" value="([^"]*)"', page.content.decode())[1]  # type: ignore[index]
            for name in ("form_key", "seen")
        }
        answer = owner_client.post(
            f"/bookings/{gala.pk}/place/", typed | {"out_from": "22:00", "out_by": "22:00", "access_notes": "Ring"}
        )
        assert answer.status_code == 422
        assert "Out by must be another time than from when (both are 22:00)." in answer.content.decode()
        assert ">Ring</textarea>" in answer.content.decode().replace("\r\n", "").replace("\n", "")
        owner_client.post(f"/bookings/{gala.pk}/place/", typed | {"out_from": "22:00", "out_by": "01:00"})
        assert Place.objects.of(gala).access.out_by == dt.time(1)


class TestHelium:
    @pytest.fixture
    def bouquet(self, owner, gala):
        """Eleven-inch floats for 8 hours at least: until half past eight it is filled from half past twelve on."""
        colour = Colour.objects.first() or ColourFactory()
        actions.keep_piece(
            booking=gala, piece=None, edition=0, name="Bouquet", kind="bouquet",
            spec=BouquetSpec(latex=((colour.key, 11, 5),)), typed={}, by=owner, at=NOON,
        )  # fmt: skip
        return change(gala, ready_by=dt.time(12), starts_at=dt.time(16), ends_at=dt.time(20, 30))

    def test_being_ready_later_is_offered_and_does_make_it_float_long_enough(self, owner_client, bouquet):
        page = f"/bookings/{bouquet.pk}/plan/"
        found = re.search(r"is ready by (\d\d:\d\d) instead of 12:00", words(owner_client, page))
        assert found is not None
        later = dt.time.fromisoformat(found[1])
        change(bouquet, ready_by=(dt.datetime.combine(EVENT, later) - dt.timedelta(minutes=15)).time())
        assert "before that: seal it inside" in words(owner_client, page)
        change(bouquet, ready_by=later)
        assert "before that:" not in words(owner_client, page)

    def test_it_is_not_offered_where_no_later_time_helps(self, owner_client, bouquet):
        change(bouquet, starts_at=dt.time(12, 30))
        shown = words(owner_client, f"/bookings/{bouquet.pk}/plan/")
        assert "before that: seal it inside" in shown
        assert "instead of 12:00" not in shown


class TestOutdoors:
    @pytest.fixture
    def lawn(self, gala):
        """The garland stands outdoors, on a day of 31 °C; somebody begins at eight, and it must be ready at two."""
        piece = gala.pieces.get()
        piece.spec |= {"outdoors": True}
        piece.save()
        return change(gala, install_at=dt.time(8), celsius=Decimal(31))

    def test_hours_in_the_sun_are_said_with_the_limit_and_what_helps(self, owner_client, lawn):
        shown = words(owner_client, "/plan/")
        found = re.search(
            r"Winter gala, Garland: up from (\d\d:\d\d), it stands outdoors for ([\dhmin ]+) at 31 °C \(88 °F\)"
            r" before it must be ready at 14:00\. Above 80 °F decorators leave latex in the sun for 30 minutes",
            shown,
        )
        assert found is not None, shown
        assert "It fits where there is shade until then." in shown
        assert "It fits if the install begins at" in words(owner_client, f"/bookings/{lawn.pk}/plan/")

    def test_it_does_fit_when_the_install_begins_as_was_said(self, owner_client, lawn):
        page = f"/bookings/{lawn.pk}/plan/"
        begin = re.search(r"It fits if the install begins at (\d\d:\d\d)", words(owner_client, page))
        assert begin is not None
        at = dt.datetime.combine(EVENT, dt.time.fromisoformat(begin[1]))
        change(lawn, install_at=(at - dt.timedelta(minutes=5)).time())
        assert "it stands outdoors for" in words(owner_client, page)
        change(lawn, install_at=at.time())
        assert "it stands outdoors for" not in words(owner_client, page)

    @pytest.mark.parametrize(
        "given",
        [
            pytest.param({"celsius": Decimal("26.6")}, id="no more than 80 °F"),
            pytest.param({"celsius": None}, id="nobody knows how warm"),
            pytest.param({"install_at": None}, id="put up just before"),
        ],
    )
    def test_what_no_limit_touches_is_not_said(self, owner_client, lawn, given):
        change(lawn, **given)
        assert "it stands outdoors" not in words(owner_client, "/plan/")

    def test_just_above_80_degrees_is_said(self, owner_client, lawn):
        change(lawn, celsius=Decimal("26.7"))
        assert "at 26.7 °C (80 °F) before" in words(owner_client, "/plan/")

    def test_a_night_outdoors_is_said_however_cool_it_is(self, owner_client, lawn):
        change(lawn, install_at=dt.time(18), celsius=Decimal(12))
        shown = words(owner_client, "/plan/")
        day = short_day(PREP)
        assert re.search(rf"Garland: up from \d\d:\d\d on {day}, it stands outdoors overnight\.", shown), shown
        assert "It fits if the install begins on the day." in shown

    def test_indoors_may_stand_for_hours(self, owner_client, gala):
        change(gala, install_at=dt.time(8), celsius=Decimal(31))
        assert "it stands outdoors" not in words(owner_client, "/plan/")


class TestTheSameEverywhere:
    def test_every_page_says_the_same_of_the_install(self, owner_client, gala):
        said = [
            re.search(r"Install.{0,25}[aA]bout (\d\d:\d\d to \d\d:\d\d)", words(owner_client, page))
            for page in pages(gala)
        ]
        assert None not in said
        assert len({found[1] for found in said if found}) == 1

    def test_whoever_is_on_the_job_is_named(self, owner_client, owner, gala):
        assert f"· {owner.shown_name}" in words(owner_client, f"/bookings/{gala.pk}/run-sheet/")

    def test_nobody_is_named_where_nobody_is_on_it(self, owner_client, gala):
        OnTheJob.objects.all().delete()
        assert "1 person, nobody is named yet" in words(owner_client, f"/bookings/{gala.pk}/run-sheet/")

    def test_the_page_of_the_job_fetches_its_steps(self, owner_client, gala):
        assert f'hx-get="/bookings/{gala.pk}/plan/"' in owner_client.get(f"/bookings/{gala.pk}/").content.decode()
        part = owner_client.get(f"/bookings/{gala.pk}/plan/", headers={"HX-Request": "true"}).content.decode()
        assert part.startswith("<section")
        assert "Load the van" in part

    def test_prep_that_finds_no_place_is_on_the_run_sheet_all_the_same(self, owner_client, owner, gala):
        keep_week(person=owner, week=[0] * 6 + [15], by=owner, at=NOON)
        shown = words(owner_client, f"/bookings/{gala.pk}/run-sheet/")
        assert re.search(r"Inflate and assemble Garland .{0,30}finds no place in anybody’s hours", shown)

    def test_prep_is_for_whoever_works_that_day_where_nobody_on_the_job_does(self, crew_client, crew, owner, gala):
        keep_week(person=owner, week=[0] * 7, by=owner, at=NOON)
        keep_week(person=crew, week=[600] * 7, by=owner, at=NOON)
        shown = words(crew_client, "/my-days/")
        assert "Inflate and assemble: Winter gala" in shown
        assert "Install: Winter gala" not in shown

    def test_a_run_sheet_opened_after_cancelling_says_so_and_keeps_its_steps(self, owner_client, owner, gala):
        letter(gala, owner)
        change(gala, stage="cancelled")
        shown = words(owner_client, f"/bookings/{gala.pk}/run-sheet/")
        assert "This job was cancelled: nobody goes." in shown
        assert "Collect gas" in shown
        assert "Load the van" in shown
        assert "Winter gala" not in words(owner_client, "/plan/")
        assert "Winter gala" not in words(owner_client, "/my-days/")

    def test_the_paper_has_the_same_steps(self, owner_client, owner, gala):
        letter(gala, owner)
        answer = owner_client.get(f"/bookings/{gala.pk}/run-sheet.pdf")
        assert answer.status_code == 200


class TestDaysThatAreNotLikeOthers:
    def test_a_job_across_midnight_is_planned_on_both_days(self, owner_client, gala):
        change(gala, install_at=dt.time(22), ready_by=dt.time(1), starts_at=dt.time(2), ends_at=dt.time(5))
        shown = words(owner_client, "/plan/")
        assert "Install 22:00 to 01:00 on" in shown
        evening = EVENT - dt.timedelta(days=1)
        assert shown.index(f"{evening:%A} {evening.day}") < shown.index("Load the van")

    def test_a_job_across_a_clock_change_takes_the_hours_that_pass(self, client, owner, add_garland, monkeypatch):
        """The clocks go back from 02:00 to 01:00 on 1 November: an event to 01:00 is struck in the first of two."""
        Studio.objects.update_or_create(pk=1, defaults={"time_zone": "America/New_York"})
        monkeypatch.setattr(timezone, "now", lambda: dt.datetime(2026, 10, 20, 12, tzinfo=dt.UTC))
        night = dt.date(2026, 10, 31)
        booking = BookingFactory(
            title="Harvest dance", event_on=night, needed_on=night - dt.timedelta(days=1), ready_by=dt.time(14),
            starts_at=dt.time(20), ends_at=dt.time(1), travel_minutes=90, created_by=owner,
        )  # fmt: skip
        add_garland(booking)
        change(booking, stage="booked")
        client.force_login(owner)
        shown = words(client, f"/bookings/{booking.pk}/run-sheet/")
        assert "Bring it home About 01:" in shown
        assert "The clocks go back by 60 minutes" in shown
        assert "Strike about 01:00 to 01:30" in words(client, "/plan/")

    def test_a_van_loaded_after_midnight_instead_of_before_gives_its_prep_a_day(self, owner_client, owner, gala):
        """Loaded at eleven in the evening it must be made the day before; ready two hours later, on the event's own."""
        keep_week(person=owner, week=[300 if n == EVENT.weekday() else 0 for n in range(7)], by=owner, at=NOON)
        Booking.objects.filter(pk=gala.pk).update(needed_on=EVENT)
        piece = gala.pieces.get()
        spec = replace(garland_spec(Colour.objects.get(), feet=6), outdoors=True)
        actions.keep_piece(
            booking=gala, piece=piece, edition=piece.edition, name="Garland", kind="garland", spec=spec, typed={},
            by=owner, at=NOON,
        )  # fmt: skip
        change(gala, ready_by=dt.time(1), travel_minutes=30)
        found = re.search(r"is ready by (\d\d:\d\d) instead of 01:00", words(owner_client, "/plan/"))
        assert found is not None
        change(gala, ready_by=dt.time.fromisoformat(found[1]))
        assert "All prep of the next 8 weeks fits." in words(owner_client, "/plan/")

    def test_thirty_hours_of_work_in_a_day_are_over(self, owner_client, owner, gala, add_garland):
        keep_week(person=owner, week=[0] * 7, by=owner, at=NOON)
        keep_week(person=owner, week=[480 if n == PREP.weekday() else 0 for n in range(7)], by=owner, at=NOON)
        for n in range(3):
            add_garland(gala, name=f"Tunnel {n}", feet=190)
        shown = words(owner_client, "/plan/")
        assert re.search(r"is \d\d h[ \d]* over: \d\d h[ \d]* of Winter gala finds no place", shown)
        assert "It fits with" in shown
