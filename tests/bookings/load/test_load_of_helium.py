"""Helium on a job's page: its cylinders, the van, the wind, and how full a balloon may be."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from django.urls import reverse

from bookings.models import Booking
from bookings.queries.estimates import booking_estimate, place_of
from estimating.kinds import BouquetSpec, FloatsSpec, LetteredSpec
from estimating.layout import Balloon, Layout
from estimating.lines import Site
from estimating.queries import advice_on, inflated_in_force
from stock.models import Colour
from studio.models import User
from tests.bookings.load.conftest import FOOT, about, card, colour, keep
from tests.factories import BookingFactory

pytestmark = pytest.mark.django_db


def test_helium_outdoors_is_warned_of(garland):
    booking = garland(outdoors=True)
    afloat = Layout((Balloon(0, -60, 0, 9.5, 11, colour().key, "float", gas="helium"),), (), 60, 10, points=())
    booking.pieces.update(layout=afloat.to_json())

    assert "Wind lays helium balloons flat" in about(card(booking), "Garland in the wind").answer.sentence


def test_the_place_written_down_is_what_helium_is_reckoned_for():
    written = BookingFactory.build(altitude_mm=Decimal("1609344"), celsius=Decimal("31.4"), hours_afloat=9)
    assert place_of(written) == Site(altitude_m=1609, celsius=31, hours_afloat=9)
    assert place_of(BookingFactory.build()) == Site()


@pytest.fixture
def bouquets(owner: User) -> Callable[..., Booking]:
    """A booking with as many helium bouquets of seven as asked for, so many times over."""

    def make(alike: int, *, times: int = 1, **fields: Any) -> Booking:
        booking = BookingFactory(created_by=owner, **fields)
        spec = BouquetSpec(latex=((colour().key, 11, 7),), foils=(), alike=alike, helium=True)
        for n in range(times):
            keep(booking, owner, "bouquet", spec, f"Bouquets {n}")
        return booking

    return make


@pytest.mark.parametrize(
    ("times", "said"),
    [
        pytest.param(1, "1 cylinder of class KH (244 ft³ each)", id="the smallest that does alone"),
        pytest.param(4, "3 cylinders of class T (291 ft³ each)", id="more than one holds"),
    ],
)
def test_helium_says_which_cylinders_fill_it(bouquets, times, said):
    assert said in about(card(bouquets(60, times=times)), "Helium").answer.sentence


def test_more_cylinders_than_a_vehicle_may_carry_are_said(bouquets):
    assert "at most 440 lb" in about(card(bouquets(60, times=4)), "Helium").answer.sentence


def test_helium_is_cautioned(bouquets):
    assert "never breathe it" in about(card(bouquets(1)), "Helium").more


def test_a_hot_hall_asks_for_less_in_each_balloon(bouquets):
    assert "grows to" in about(card(bouquets(1, celsius=Decimal(40))), "From the studio to the hall").answer.sentence


def test_a_job_without_helium_says_nothing_of_it(garland):
    assert "Helium" not in {one.about for one in card(garland()).told}


@pytest.mark.parametrize(
    ("kind", "made"),
    [
        pytest.param("floats", lambda key: FloatsSpec(10 * FOOT, 10 * FOOT, ((key, 100),)), id="floats"),
        pytest.param("bouquet", lambda key: BouquetSpec(latex=((key, 11, 5),)), id="a bouquet"),
        pytest.param("lettered", lambda key: LetteredSpec(key, size=24), id="a large one"),
    ],
)
def test_a_page_opens_when_what_was_to_float_no_longer_does(owner_client, owner, kind, made):
    """The colour turned out to be foil, and the place to be in the mountains."""
    booking, black = BookingFactory(created_by=owner), colour()
    keep(booking, owner, kind, made(black.key), "Afloat")
    Colour.objects.filter(pk=black.pk).update(finish=Colour.Finish.FOIL)
    Booking.objects.filter(pk=booking.pk).update(altitude_mm=5_000_000)

    assert owner_client.get(reverse("bookings:detail", args=[booking.pk])).status_code == 200
    estimate = booking_estimate(Booking.objects.get(pk=booking.pk), currency="USD")
    assert estimate is not None
    site = place_of(Booking.objects.get(pk=booking.pk))
    advice = advice_on(estimate.pieces[0].piece, site=site, inflated=inflated_in_force())
    assert "does not carry itself on helium at 5,000 m" in " ".join(advice)
