"""What jobs teach: more spares and other hours, never another picture."""

import pytest
from hypothesis import given
from hypothesis import strategies as some

from estimating.hours import HourRates, Pace, Step, at_pace, getting_ready, job_hours, minutes_by_part, with_crew
from estimating.kinds import CountedSpec, counted
from estimating.learning import PopsSeen
from estimating.lessons import BalloonsSeen, Lessons, MinutesSeen, pops_of, share_words
from estimating.materials import count_with_spares
from estimating.models import Rates
from estimating.queries import JobEstimate, PieceToMake, estimate_job
from tests.factories import ColourFactory

SIX_JOBS = Lessons(balloons=(BalloonsSeen("counted", 11, 6, 1200, 1328),))
SLOW = Lessons(minutes=(MinutesSeen("hang", 6, 720, 1008),))


def a_job(lessons: Lessons | None = None, pops: tuple[PopsSeen, ...] = (), minutes: int = 0) -> JobEstimate:
    """A hand-counted piece of 200 balloons of 11 inches."""
    spec = CountedSpec(lines=((ColourFactory().key, 11, 200),), minutes=minutes)
    piece = PieceToMake("Heap", "counted", spec, counted.lay_out(spec))
    return estimate_job([piece], rates=Rates(), currency="USD", lessons=lessons, pops_seen=pops)


def test_a_size_no_job_has_used_is_as_the_layout_says():
    known = Lessons().balloons_of("garland", 5, 400)
    assert (known.prior, known.learned, known.jobs) == (1, 1, 0)
    assert Lessons().more_in("garland", [5, 11], 400) == {}


def test_what_is_learned_lies_between_the_prior_and_what_was_seen():
    known = SIX_JOBS.balloons_of("counted", 11, 400)
    assert known.learned == pytest.approx((400 + 1328) / (400 + 1200))
    assert known.low < known.learned < known.high
    assert SIX_JOBS.balloons_of("garland", 11, 400).jobs == SIX_JOBS.balloons_of("counted", 5, 400).jobs == 0


@pytest.mark.django_db
def test_more_used_than_drawn_goes_along_as_spares_and_the_picture_stays():
    plain, taught = a_job(), a_job(SIX_JOBS)
    assert taught.lines[0].needed == plain.lines[0].needed == 200
    assert taught.lines[0].total == count_with_spares(216, 0.03, 0.95) > plain.lines[0].total
    assert taught.learned == ("Reckoned from 6 jobs like it: 8 % more 11-inch than the layout.",)


@pytest.mark.django_db
def test_fewer_used_than_drawn_takes_nothing_away_from_the_picture():
    taught = a_job(Lessons(balloons=(BalloonsSeen("counted", 11, 6, 1200, 900),)))
    assert (taught.lines[0].needed, taught.lines[0].total) == (200, a_job().lines[0].total)


@pytest.mark.django_db
def test_slow_hands_lengthen_the_hours_and_the_price_follows():
    plain, taught = a_job(), a_job(SLOW)
    assert taught.reckoned.person_minutes == plain.hours.person_minutes
    assert plain.hours.person_minutes + 6 == taught.hours.person_minutes
    assert taught.cost_minor > plain.cost_minor
    assert taught.minutes_range.estimate == pytest.approx(taught.person_minutes)
    assert "20 % more, from 6 jobs" in next(step.why for step in taught.hours.steps if step.name == "Set up")
    assert taught.learned == ("Reckoned from 6 jobs: 20 % more time to set up and hang than your rates say.",)


@pytest.mark.django_db
def test_minutes_typed_by_hand_are_taken_as_typed():
    lessons = Lessons(minutes=(MinutesSeen("make", 6, 720, 1440),))
    assert a_job(lessons, minutes=90).pieces[0].steps[0].minutes == 90


@pytest.mark.django_db
def test_a_pin_is_used_instead_and_said():
    pinned = Lessons(SIX_JOBS.balloons, pins={"balloons-counted-11": 1.25, "minutes-strike": 2.0, "pops-in-11": 0.10})
    job = a_job(pinned, pops=(PopsSeen(11, False, 9_000, 0),))
    assert job.lines[0].total == count_with_spares(250, 0.10, 0.95)
    assert next(step.minutes for step in job.hours.steps if step.name == "Strike") == 60
    assert job.learned == (
        "As you pinned it: 25 % more 11-inch than the layout.",
        "As you pinned it: 100 % more time to strike than your rates say.",
    )


def test_a_pinned_setting_still_says_what_jobs_would_make_of_it():
    known = Lessons(SIX_JOBS.balloons, pins={"balloons-counted-11": 1.25}).balloons_of("counted", 11, 400)
    assert (known.used, known.learned) == (1.25, pytest.approx(1.08))


def test_pops_of_a_size_start_from_the_studios_figure():
    nothing = pops_of([], size=11, outdoors=False, expected=0.03, strength=400, pinned=None)
    seen = pops_of([PopsSeen(11, False, 1000, 100)], size=11, outdoors=False, expected=0.03, strength=400, pinned=None)
    assert (nothing.learned, seen.learned) == (pytest.approx(0.03), pytest.approx(112 / 1400))
    assert seen.high - seen.low < seen.learned


@pytest.mark.parametrize(
    ("factor", "said"),
    [
        pytest.param(1.08, "8 % more", id="more"),
        pytest.param(0.95, "5 % less", id="less"),
        pytest.param(1.004, "as reckoned", id="as good as nothing"),
        pytest.param(1.006, "1 % more", id="a little"),
    ],
)
def test_a_factor_in_words(factor, said):
    assert share_words(factor, "as reckoned") == said


def test_a_step_nothing_is_known_of_stays_as_it_is():
    step = Step("Hang", 30, "10 points")
    assert at_pace(step, {"strike": Pace(2, "slow")}) is step
    assert at_pace(step, {"hang": Pace(1.5, "50 % more, from 3 jobs")}) == Step(
        "Hang", 45, "10 points; 50 % more, from 3 jobs"
    )


@given(
    minutes=some.lists(some.integers(0, 600), min_size=1, max_size=4),
    travel=some.integers(0, 300),
    crew=some.integers(1, 6),
    factor=some.floats(0.25, 4),
    litres=some.integers(0, 900),
    decals=some.integers(0, 9),
)
def test_the_parts_of_a_job_add_up_to_everybodys_minutes(minutes, travel, crew, factor, litres, decals):
    names = ("Inflate", "Assemble", "Hang", "Letter")
    steps = tuple(Step(name, length, "") for name, length in zip(names, minutes, strict=False))
    paces = {part: Pace(factor, "") for part in ("make", "hang", "travel")}
    rates = HourRates()
    ready = getting_ready(litres=litres, decals=decals, rates=rates)
    hours = job_hours([steps], rates=rates, travel_minutes=travel, crew=crew, ready=ready, paces=paces)
    parts = minutes_by_part(hours)
    assert parts.get("ready", 0) == (45 if litres else 0) + 10 * decals == hours.ready_minutes
    assert with_crew(hours, crew, crew_exponent=rates.crew_exponent) == hours
    assert sum(parts.values()) == hours.person_minutes
    assert parts.get("travel", 0) == crew * hours.travel_minutes
