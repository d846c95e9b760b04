"""From where to where a job most likely comes out, on its estimate."""

from typing import Any

import pytest

from estimating.kinds import CountedSpec, counted
from estimating.learning import Beta, PopsSeen
from estimating.materials import count_with_spares
from estimating.models import Rates
from estimating.queries import JobEstimate, PieceToMake, estimate_job
from stock.models import Colour
from tests.factories import ColourFactory

pytestmark = pytest.mark.django_db


def a_job(minutes: int = 300, rates: Rates | None = None, **also: Any) -> JobEstimate:
    """A hand-counted piece of 200 balloons, said to take so long."""
    spec = CountedSpec(lines=((ColourFactory().key, 11, 200),), minutes=minutes)
    piece = PieceToMake("Heap", "counted", spec, counted.lay_out(spec))
    return estimate_job([piece], rates=rates or Rates(), currency=also.pop("currency", "USD"), **also)


def an_hour(job: JobEstimate) -> tuple[int, int, int]:
    """What an hour earns at the least, as reckoned, and at the most."""
    assert job.hourly_range is not None and job.hourly_minor is not None
    return job.hourly_range[0], job.hourly_minor, job.hourly_range[1]


def test_the_range_is_round_the_hours_and_the_count_reckoned():
    job = a_job()

    assert job.person_minutes == 360
    assert (job.minutes_range.estimate, job.count_range.estimate) == (360, 200)
    assert 260 < job.minutes_range.low < 360 < job.minutes_range.high < 460
    assert 170 < job.count_range.low < 200 < job.count_range.high < 230


def test_an_hour_earns_less_where_the_job_takes_longer():
    job = a_job()

    lowest, reckoned, highest = an_hour(job)
    assert lowest < reckoned < highest
    # What is earned stays: less an hour over more hours.
    earned = reckoned * job.person_minutes
    assert lowest == pytest.approx(earned / job.minutes_range.high, abs=0.6)
    assert highest == pytest.approx(earned / job.minutes_range.low, abs=0.6)


def test_a_currency_without_small_coins_keeps_to_whole_ones():
    lowest, reckoned, highest = an_hour(a_job(rates=Rates(hourly_minor=2500, rounding_minor=10), currency="JPY"))
    assert 2000 < lowest < reckoned < highest


def test_no_time_reckoned_says_no_hourly_range():
    rates = Rates(setup_minutes=0, strike_minutes=0, seconds_medium=0)
    job = a_job(minutes=0, rates=rates)

    assert job.person_minutes == 0
    assert (job.hourly_minor, job.hourly_range) == (None, None)
    assert (job.minutes_range.low, job.minutes_range.high) == (0, 0)


def test_surer_figures_narrow_the_range():
    unsure, sure = a_job(rates=Rates(evidence_hours=2)), a_job(rates=Rates(evidence_hours=200))

    assert unsure.minutes_range.low < sure.minutes_range.low
    assert sure.minutes_range.high < unsure.minutes_range.high


def test_jobs_wrapped_up_narrow_the_range_and_move_it():
    fresh = a_job()
    taught = a_job(minutes_seen=[(360, 420)] * 6, balloons_seen=[(200, 204)] * 6)

    assert taught.minutes_range.estimate > fresh.minutes_range.estimate
    width = taught.count_range.high - taught.count_range.low
    assert width < fresh.count_range.high - fresh.count_range.low


def test_the_price_does_not_move_with_the_range():
    assert a_job(minutes_seen=[(300, 600)]).price_minor == a_job().price_minor


def test_pops_seen_decide_the_spares_and_the_price_follows():
    """200 of 11 inches: 3 % expected takes 10 spares; where 10 % popped of a thousand, it takes more."""
    plain, indoors, outdoors = (
        a_job(pops_seen=seen)
        for seen in ((), (PopsSeen(11, False, 1000, 100),), (PopsSeen(11, True, 1000, 100), PopsSeen(5, False, 99, 50)))
    )
    totals = [job.lines[0].total for job in (plain, indoors, outdoors)]

    assert totals[0] == totals[2] == count_with_spares(200, 0.03, 0.95)
    assert totals[1] == Beta(112, 1288).to_inflate(200, 0.95) > totals[0]
    assert indoors.cost_minor > plain.cost_minor


def test_a_colour_of_foil_is_reckoned_as_foil_whatever_the_piece():
    latex, foil = ColourFactory(name="Sand"), ColourFactory(name="Gold", finish=Colour.Finish.FOIL)

    def made(key: str) -> JobEstimate:
        spec = CountedSpec(lines=((key, 18, 100),))
        return estimate_job(
            [PieceToMake("Heap", "counted", spec, counted.lay_out(spec))], rates=Rates(), currency="USD"
        )

    plain, shiny = made(latex.key), made(foil.key)
    assert shiny.lines[0].total == count_with_spares(100, 0.01, 0.95) < plain.lines[0].total
    assert [job.pieces[0].steps[0].minutes for job in (plain, shiny)] == [50, 34]
