"""Collecting gas and cutting decals: the same minutes in the plan, in the price and in what a job really earned."""

import datetime as dt
import re
from decimal import Decimal
from typing import Any

import pytest
from django.urls import reverse

from bookings import actions
from bookings.actions import Counted, Told
from bookings.models import Booking, DayLimits, JobEarnings, OptionName, Piece
from bookings.queries import booking_estimate, wrap_up_page
from bookings.queries.expected import expected_of
from bookings.queries.known import known_of_hours
from bookings.queries.offering import Offering, offering_of
from bookings.queries.planned import job_to_plan, made_jobs
from estimating.hours import HourRates
from estimating.kinds import BouquetSpec, LetteredSpec
from estimating.models import Rates
from estimating.queries import JobEstimate, pace_stamp
from stock.models import Colour
from studio.models import Studio
from tests.factories import NOON, MovementFactory

pytestmark = pytest.mark.django_db
INCH = Decimal("25.4")


@pytest.fixture
def add(owner):
    """Keep a piece of a kind on a booking."""

    def add(booking: Booking, kind: str, name: str, **goes: Any) -> Piece:
        colour = Colour.objects.order_by("pk").first()
        assert colour is not None
        spec = {
            "bouquet": lambda: BouquetSpec(latex=((colour.key, 11, 7),)),
            "lettered": lambda: LetteredSpec(
                colour=colour.key,
                text="20 years",
                decal_width_mm=10 * INCH,
                decal_height_mm=4 * INCH,
                height_mm=84 * INCH,
            ),
        }[kind]()
        piece: Piece = actions.keep_piece(
            booking=booking, piece=None, edition=0, name=name, kind=kind, spec=spec, typed={}, by=owner, at=NOON
        )
        if goes:
            Piece.objects.filter(pk=piece.pk).update(**goes)
        return piece

    return add


def estimate(booking: Booking) -> JobEstimate:
    found = booking_estimate(booking, currency="USD")
    assert found is not None
    return found


def planned(booking: Booking) -> dict[str, int]:
    """What the plan puts on days of gas and decals, by what it is."""
    made = made_jobs([booking], known_of_hours(), currency="USD")[booking.pk]
    job = job_to_plan(booking, made, limits=DayLimits.objects.current(), zone=dt.UTC)
    assert job is not None
    return {work.what: work.minutes for work in job.works if work.making is None}


@pytest.mark.parametrize(
    ("kinds", "rates"),
    [
        pytest.param(["bouquet"], {}, id="gas"),
        pytest.param(["lettered"], {}, id="gas and decals"),
        pytest.param(
            ["bouquet", "lettered", "lettered"], {"gas_minutes": 70, "decal_minutes": 13}, id="at other rates"
        ),
        pytest.param(["lettered"], {"gas_minutes": 0, "decal_minutes": 0}, id="brought and ready-cut"),
        pytest.param([], {}, id="neither"),
    ],
)
@pytest.mark.parametrize("crew", [1, 3])
def test_the_plan_and_the_price_have_the_same_minutes(priced, add, kinds, rates, crew):
    Rates.objects.update_or_create(pk=1, defaults=rates)
    for n, kind in enumerate(kinds):
        add(priced, kind, f"{kind} {n}")
    Booking.objects.filter(pk=priced.pk).update(crew=crew)
    priced.refresh_from_db()
    hours = estimate(priced).hours
    in_the_plan = planned(priced)
    assert in_the_plan == {
        step.name: step.minutes for step in hours.steps if step.name in ("Collect gas", "Cut decals")
    }
    assert sum(in_the_plan.values()) == hours.ready_minutes
    assert bool(in_the_plan) == (bool(kinds) and rates.get("gas_minutes") != 0)


def test_the_price_pays_for_them(priced, add):
    """45 minutes at 25 an hour, and what is reckoned on top of costs."""
    add(priced, "bouquet", "Bouquet")
    reasons = {label: (minor, why) for label, minor, why in estimate(priced).reasons}
    assert reasons["Gas and decals"] == (1875, "45 minutes of one person at 25.00 an hour")
    Rates.objects.update_or_create(pk=1, defaults={"gas_minutes": 0})
    without = estimate(priced)
    assert "Gas and decals" not in {label for label, _, _ in without.reasons}


def test_the_owner_reads_them_where_the_hours_are_broken_down(owner_client, priced, add):
    add(priced, "lettered", "Big balloon")
    said = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", owner_client.get(f"/bookings/{priced.pk}/").content.decode()))
    assert re.search(r"Gas and decals [\d]+ minutes of one person at 25.00 an hour", said)
    assert re.search(r"Collect gas [\d,]+ litres of helium, one person, each job 45 min", said)
    assert re.search(r"Cut decals \d decals? at 10 minutes each, one person \d\d min", said)


def test_a_quote_that_is_out_keeps_what_it_asked(priced, add, issue):
    add(priced, "bouquet", "Bouquet")
    Rates.objects.update_or_create(pk=1, defaults={"gas_minutes": 0})
    before = issue(priced)
    asked = (before.price_minor, before.person_minutes, before.reasons)
    Rates.objects.update(gas_minutes=90)
    before.refresh_from_db()
    assert (before.price_minor, before.person_minutes, before.reasons) == asked
    assert issue(priced).person_minutes == asked[1] + 90


class TestExtras:
    def offering(self, booking: Booking) -> Offering:
        return offering_of(booking, Studio.objects.current())

    def test_an_extra_with_helium_pays_for_gas_that_is_not_collected_yet(self, priced, add):
        add(priced, "bouquet", "Bouquet to tick", goes_in=Piece.GoesIn.EXTRA)
        with_gas = self.offering(priced).extras[0]
        Rates.objects.update_or_create(pk=1, defaults={"gas_minutes": 0})
        assert with_gas.minutes == self.offering(priced).extras[0].minutes + 45

    def test_an_extra_does_not_collect_gas_again(self, priced, add):
        add(priced, "bouquet", "Bouquet to tick", goes_in=Piece.GoesIn.EXTRA)
        alone = self.offering(priced).extras[0]
        add(priced, "bouquet", "Bouquet")
        assert self.offering(priced).extras[0].minutes == alone.minutes - 45

    def test_one_option_without_gas_leaves_the_extra_to_pay_for_it(self, priced, add):
        add(priced, "bouquet", "Bouquet to tick", goes_in=Piece.GoesIn.EXTRA)
        alone = self.offering(priced).extras[0]
        for position, name in enumerate(("Plain", "With bouquet"), start=1):
            OptionName.objects.create(booking=priced, number=position, name=name)
        add(priced, "bouquet", "Bouquet", goes_in=Piece.GoesIn.SECOND)
        assert self.offering(priced).extras[0].minutes == alone.minutes

    def test_a_decal_of_an_extra_is_always_cut(self, priced, add):
        add(priced, "bouquet", "Bouquet")
        add(priced, "lettered", "Big balloon to tick", goes_in=Piece.GoesIn.EXTRA)
        cut = self.offering(priced).extras[0]
        Rates.objects.update_or_create(pk=1, defaults={"decal_minutes": 0})
        assert cut.minutes > self.offering(priced).extras[0].minutes


class TestWrappedUp:
    @pytest.fixture
    def loaded(self, owner, priced, add, issue, say_yes) -> Booking:
        """A booked job with a bouquet, all of it taken off the shelf."""
        add(priced, "bouquet", "Bouquet")
        quote = issue(priced)
        say_yes(quote)
        for line in quote.materials.all():
            MovementFactory(item=line.item, quantity=2_000)
        actions.tick_rest(booking=priced, by=owner, at=NOON)
        actions.issue_materials(booking=priced, by=owner, at=NOON)
        return Booking.objects.select_related("client").get(pk=priced.pk)

    def test_they_are_asked_for_with_the_other_hours(self, owner_client, loaded):
        page = owner_client.get(reverse("bookings:wrap-up", args=[loaded.pk]))
        assert page.context["form"]["hours_ready"].value() == "0:45"
        assert "Collect gas and cut decals" in page.content.decode()

    def test_what_they_took_is_in_what_the_job_earned_and_teaches_no_pace(self, owner, loaded):
        expected = expected_of(loaded, currency="USD")
        assert expected is not None
        rows = wrap_up_page(loaded).rows
        counted = {row.item.pk: Counted(row.used, 0, row.home) for row in rows}
        hours = expected.minutes | {"ready": 105}
        made = actions.wrap_up(
            booking=loaded, counted=counted, told=Told(hours=hours, timed=True), by=owner, at=NOON
        )  # fmt: skip
        earned = JobEarnings.objects.get()
        assert earned.minutes == expected.estimate.person_minutes + 60
        assert earned.work_minor == round(earned.minutes * 2500 / 60)
        figure = made.figures.get(part="ready")
        assert (figure.reckoned, figure.expected, figure.came, figure.pace) == (45, 45, 105, "")

    def test_what_an_hour_was_to_earn_is_what_the_quote_said(self, owner, loaded):
        expected = expected_of(loaded, currency="USD")
        assert expected is not None
        counted = {row.item.pk: Counted(row.used, 0, row.home) for row in wrap_up_page(loaded).rows}
        told = Told(hours=expected.minutes, timed=True)
        actions.wrap_up(booking=loaded, counted=counted, told=told, by=owner, at=NOON)
        hoped = JobEarnings.objects.get().hoped_minor
        assert hoped is not None
        assert abs(hoped - (expected.estimate.hourly_minor or 0)) <= 1


def test_what_errands_take_is_no_pace_of_the_hands():
    """Or every job wrapped up before they were priced would teach nothing any more."""
    stamp = pace_stamp(Rates())
    assert pace_stamp(Rates(gas_minutes=90, decal_minutes=0)) == stamp
    assert pace_stamp(Rates(setup_minutes=31)) != stamp
    assert HourRates().gas_minutes == Rates().gas_minutes


def test_they_are_set_with_the_rates(owner_client):
    page = owner_client.get(reverse("settings-rates"))
    assert [page.context["form"][name].value() for name in ("gas_minutes", "decal_minutes")] == [45, 10]
    assert "gas" not in owner_client.get(reverse("bookings:day-limits")).content.decode().lower()
