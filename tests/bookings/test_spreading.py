import datetime as dt
import warnings
from dataclasses import replace
from itertools import product

import pulp
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookings.spreading import QUARTER, Cure, Day, Prep, cures, spread, without

MONDAY = dt.date(2026, 6, 1)
TUESDAY, WEDNESDAY, THURSDAY = (MONDAY + dt.timedelta(days=n) for n in (1, 2, 3))


def prep(minutes, first=MONDAY, last=WEDNESDAY, name="Arch", booking=1, **more):
    return Prep(booking, name, minutes, first, last, **more)


def week(*minutes, overtime=0):
    return {MONDAY + dt.timedelta(days=n): Day(m, overtime) for n, m in enumerate(minutes)}


def test_prep_is_done_as_late_as_hours_allow():
    found = spread([prep(240)], week(480, 480, 480))
    assert found.of(0) == [(WEDNESDAY, 240)]
    assert found.is_proven


def test_what_a_day_cannot_take_is_done_the_day_before():
    found = spread([prep(240), prep(240, name="Wall", booking=2)], week(480, 480, 300))
    assert (sum(found.on(WEDNESDAY).values()), sum(found.on(TUESDAY).values())) == (300, 180)
    assert not found.overtime
    assert not found.left_over


def test_an_earlier_day_comes_before_overtime():
    found = spread([prep(300)], week(60, 120, 120, overtime=240))
    assert found.overtime == {}
    assert found.of(0) == [(MONDAY, 60), (TUESDAY, 120), (WEDNESDAY, 120)]


def test_overtime_comes_before_work_that_finds_no_place():
    found = spread([prep(300, first=WEDNESDAY)], week(480, 480, 240, overtime=60))
    assert found.overtime == {WEDNESDAY: 60}
    assert not found.left_over


def test_what_does_not_fit_is_left_over():
    found = spread([prep(300, first=WEDNESDAY)], week(480, 480, 240))
    assert (found.of(0), found.left_over) == ([(WEDNESDAY, 240)], {0: 60})


@pytest.mark.parametrize(
    "preps",
    [
        pytest.param([], id="nothing to do"),
        pytest.param([prep(0)], id="a job without work"),
    ],
)
def test_no_work_needs_no_day(preps):
    found = spread(preps, week(480))
    assert (found.parts, found.overtime, found.left_over, found.is_proven) == ({}, {}, {}, True)


@pytest.mark.parametrize(
    ("job", "days"),
    [
        pytest.param(prep(60, first=WEDNESDAY, last=MONDAY), week(480, 480, 480), id="no day is left"),
        pytest.param(prep(60), {}, id="nobody's hours are known"),
        pytest.param(prep(60), week(0, 0, 0), id="everybody is off"),
        pytest.param(prep(60), week(10, 10, 10), id="minutes too few to begin"),
    ],
)
def test_where_there_are_no_hours_all_of_it_is_left_over(job, days):
    assert spread([job], days).left_over == {0: 60}


def test_a_day_with_thirty_hours_of_work_keeps_to_its_hours():
    found = spread([prep(1800, first=WEDNESDAY)], week(0, 0, 960, overtime=120))
    assert (found.on(WEDNESDAY), found.left_over) == ({0: 1080}, {0: 720})


def test_what_comes_after_other_work_waits_until_that_is_finished():
    """Gas on Tuesday at the earliest, so nothing is filled on Monday."""
    gas = prep(60, first=TUESDAY, key="gas", best=MONDAY)
    filled = prep(120, key="helium", after=("gas",), best=MONDAY)
    found = spread([gas, filled], week(480, 480, 480))
    assert (found.of(0), found.of(1)) == ([(TUESDAY, 60)], [(TUESDAY, 120)])


def test_what_waits_for_work_without_a_place_has_none_either():
    gas, filled = prep(60, first=MONDAY, last=MONDAY, key="gas"), prep(120, key="helium", after=("gas",))
    assert spread([gas, filled], week(45, 480, 480)).left_over == {0: 15, 1: 120}


def test_work_of_another_job_is_not_waited_for():
    gas = prep(60, first=WEDNESDAY, key="gas", booking=2)
    found = spread([gas, prep(120, last=TUESDAY, after=("gas",))], week(480, 480, 480))
    assert not found.left_over


def test_a_day_after_the_best_one_is_better_than_one_before_it():
    found = spread([prep(240, best=TUESDAY)], week(480, 120, 480))
    assert found.of(0) == [(TUESDAY, 120), (WEDNESDAY, 120)]


def test_minutes_below_nothing_are_refused():
    with pytest.raises(ValueError, match="minutes must be 0 or more"):
        spread([prep(-15)], week(60))


quarters = st.integers(0, 6).map(lambda n: n * QUARTER)
days = st.lists(st.builds(Day, quarters, st.integers(0, 2).map(lambda n: n * QUARTER)), min_size=3, max_size=3)
spans = st.sampled_from([(0, 0, 0), (0, 1, 1), (0, 2, 2), (1, 1, 1), (1, 2, 2), (2, 2, 2), (0, 2, 0), (0, 2, 1)])
works = st.lists(st.tuples(st.integers(0, 5), spans, st.booleans()), min_size=1, max_size=3)


def _in_order(works):
    """Jobs from drawn figures; where it was drawn so, each comes after the one before it."""
    return [
        prep(
            n * QUARTER,
            *(MONDAY + dt.timedelta(days=day) for day in (first, last)),
            best=MONDAY + dt.timedelta(days=best),
            key=str(place),
            after=(str(place - 1),) if waits else (),
        )
        for place, (n, (first, last, best), waits) in enumerate(works)
    ]


jobs = works.map(_in_order)


def _ways(job):
    """Every way of doing a job: quarters on each of its days."""
    return [way for way in product(range(job.quarters + 1), repeat=len(job.days)) if sum(way) <= job.quarters]


def _keeps_order(preps, ways):
    """Whether nothing is done on a day on which what it comes after is not finished."""
    done = [dict(zip(job.days, way, strict=True)) for job, way in zip(preps, ways, strict=True)]
    for place, job in enumerate(preps):
        for earlier, before in enumerate(preps):
            if before.key not in job.after:
                continue
            for day, n in done[place].items():
                if n and sum(m for at, m in done[earlier].items() if at <= day) < before.quarters:
                    return False
    return True


def _early_and_late(job, day):
    """Days before the best day count twice."""
    return 2 * max((job.best - day).days, 0) + max((day - job.best).days, 0)


def _best_of_all(preps, hours):
    """Work left over, overtime and days from the best one of the best of every way there is."""
    best = None
    for ways in product(*map(_ways, preps)):
        if not _keeps_order(preps, ways):
            continue
        on: dict[dt.date, int] = {}
        for job, way in zip(preps, ways, strict=True):
            for day, n in zip(job.days, way, strict=True):
                on[day] = on.get(day, 0) + n
        over = {day: max(0, n - hours[day].minutes // QUARTER) for day, n in on.items()}
        if any(over[day] > hours[day].overtime // QUARTER for day in on):
            continue
        left = sum(job.quarters - sum(way) for job, way in zip(preps, ways, strict=True))
        early = sum(
            _early_and_late(job, day) * n
            for job, way in zip(preps, ways, strict=True)
            for day, n in zip(job.days, way, strict=True)
        )
        found = (left, sum(over.values()), early)
        best = found if best is None else min(best, found)
    return best


def _measured(preps, found):
    early = sum(_early_and_late(preps[n], day) * minutes for (n, day), minutes in found.parts.items())
    return tuple(
        n // QUARTER for n in (sum(found.left_over.values()), sum(found.overtime.values()), early)
    )  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(jobs, days)
def test_no_other_way_is_better(preps, three):
    hours = dict(zip((MONDAY, TUESDAY, WEDNESDAY), three, strict=True))
    found = spread(preps, hours)
    assert found.is_proven
    assert _measured(preps, found) == _best_of_all(preps, hours)


@settings(max_examples=20, deadline=None)
@given(jobs, days)
def test_every_minute_is_done_or_left_over_within_the_hours(preps, three):
    hours = dict(zip((MONDAY, TUESDAY, WEDNESDAY), three, strict=True))
    found = spread(preps, hours)
    for n, job in enumerate(preps):
        assert sum(minutes for _, minutes in found.of(n)) + found.left_over.get(n, 0) == job.quarters * QUARTER
        assert all(job.first <= day <= job.last for day, _ in found.of(n))
    for day, has in hours.items():
        done, over = sum(found.on(day).values()), found.overtime.get(day, 0)
        assert over <= has.overtime
        assert done <= has.minutes // QUARTER * QUARTER + over


@settings(max_examples=8, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 40), st.integers(0, 9), st.integers(0, 4)), min_size=5, max_size=20),
    st.lists(st.integers(0, 40), min_size=14, max_size=14),
)
def test_another_solver_finds_no_less_left_over(works, has):
    """CBC, through PuLP, on the same fortnight written down anew."""
    preps = [
        prep(n * QUARTER, MONDAY + dt.timedelta(days=first), MONDAY + dt.timedelta(days=first + length))
        for n, first, length in works
    ]
    hours = week(*(n * QUARTER for n in has))
    found = spread(preps, hours)
    other = pulp.LpProblem("prep", pulp.LpMaximize)
    done = {
        (n, day): other.add_variable(f"x{n}_{day:%d}", 0, cat="Integer")
        for n, job in enumerate(preps)
        for day in job.days
    }
    other += pulp.lpSum(done.values())
    for n, job in enumerate(preps):
        other += pulp.lpSum(done[n, day] for day in job.days) <= job.quarters
    for day, there in hours.items():
        other += pulp.lpSum(x for (_, at), x in done.items() if at == day) <= there.minutes // QUARTER
    with warnings.catch_warnings():
        # The solver that comes with it is to go from a later version; this one still has it, and it is the right size.
        warnings.simplefilter("ignore", DeprecationWarning)
        other.solve(pulp.PULP_CBC_CMD(msg=False))
    assert sum(found.parts.values()) == round(pulp.value(other.objective)) * QUARTER


def test_more_hours_on_the_latest_day_that_helps_are_a_cure():
    preps, hours = [prep(300, first=TUESDAY)], week(480, 120, 60)
    assert cures(preps, hours, spread(preps, hours), earliest={})[0] == Cure(day=WEDNESDAY, minutes=120)


def test_beginning_a_day_earlier_is_a_cure_where_the_balloons_allow_it():
    preps, hours = [prep(300, first=WEDNESDAY), prep(60, first=WEDNESDAY)], week(480, 480, 240)
    found = spread(preps, hours)
    assert Cure(job=0, begin=TUESDAY) in cures(preps, hours, found, earliest={0: MONDAY})
    assert not [cure for cure in cures(preps, hours, found, earliest={}) if cure.begin]


def test_the_smallest_job_that_makes_room_could_be_given_up():
    preps, hours = [prep(300, first=WEDNESDAY), prep(90, first=WEDNESDAY)], week(0, 0, 330)
    assert cures(preps, hours, spread(preps, hours), earliest={})[-1] == Cure(job=1)


def test_giving_up_what_waits_gives_up_what_is_only_done_for_it():
    gas, filled, arch = prep(60, key="gas"), prep(300, key="helium", after=("gas",)), prep(60, key="arch")
    assert without([gas, filled, arch], 1) == [arch]
    assert Cure(job=1) in cures(
        [gas, filled, arch], week(0, 0, 120), spread([gas, filled, arch], week(0, 0, 120)), earliest={}
    )


def test_what_is_waited_for_is_not_given_up_alone():
    """Without the gas there would be room, and nothing to fill."""
    preps, hours = [prep(60, key="gas"), prep(120, key="helium", after=("gas",))], week(0, 0, 150)
    assert Cure(job=0) not in cures(preps, hours, spread(preps, hours), earliest={})


def test_where_work_waits_a_few_minutes_more_may_be_enough():
    """Fifteen minutes of gas are missing on Monday; the two hours that wait for it have room on Tuesday."""
    preps = [prep(60, last=MONDAY, key="gas"), prep(120, key="helium", after=("gas",), last=TUESDAY)]
    hours = week(45, 480, 480)
    assert cures(preps, hours, spread(preps, hours), earliest={})[0] == Cure(day=MONDAY, minutes=15)


def test_where_no_one_day_is_enough_two_are_named():
    preps, hours = [prep(120, last=MONDAY), prep(90, first=WEDNESDAY, booking=2)], week(60, 480, 60)
    assert cures(preps, hours, spread(preps, hours), earliest={}) == [
        Cure(day=MONDAY, minutes=60, also=((WEDNESDAY, 30),))
    ]


def test_four_days_of_too_much_are_no_one_change():
    alone = [MONDAY + dt.timedelta(days=n) for n in range(4)]
    preps, hours = [prep(60, first=day, last=day, booking=n) for n, day in enumerate(alone)], week(0, 0, 0, 0)
    assert cures(preps, hours, spread(preps, hours), earliest={}) == []


def test_a_day_of_odd_minutes_is_rounded_up_first():
    """Fifty minutes are three quarters of an hour; ten more are the fourth that is missing."""
    preps, hours = [prep(60, first=WEDNESDAY)], week(0, 0, 50)
    assert cures(preps, hours, spread(preps, hours), earliest={}) == [Cure(day=WEDNESDAY, minutes=10), Cure(job=0)]


@settings(max_examples=15, deadline=None)
@given(jobs, days)
def test_no_day_needs_fewer_minutes_than_are_said(preps, three):
    """Tried one by one: no day, given a quarter of an hour less than the best, leaves nothing over."""
    hours = dict(zip((MONDAY, TUESDAY, WEDNESDAY), three, strict=True))
    found = spread(preps, hours)
    said = [cure for cure in cures(preps, hours, found, earliest={}) if cure.day is not None and not cure.also]
    most = said[0].minutes - QUARTER if said else sum(job.quarters for job in preps) * QUARTER
    for day in hours if found.left_over else ():
        then = {**hours, day: Day(hours[day].minutes + most, hours[day].overtime)}
        assert spread(preps, then).left_over


@settings(max_examples=15, deadline=None)
@given(jobs, days)
def test_no_smaller_job_given_up_makes_it_fit(preps, three):
    hours = dict(zip((MONDAY, TUESDAY, WEDNESDAY), three, strict=True))
    found = spread(preps, hours)
    waited_for = {job.key for later in preps for job in preps if job.key in later.after and job.quarters}
    would = [
        preps[n].minutes
        for n in range(len(preps))
        if found.left_over and preps[n].key not in waited_for and not spread(without(preps, n), hours).left_over
    ]
    said = [cure.job for cure in cures(preps, hours, found, earliest={}) if cure.job is not None]
    assert [preps[n].minutes for n in said] == ([min(would)] if would else [])


def test_what_fits_needs_no_cure():
    preps, hours = [prep(60)], week(60, 60, 60)
    assert cures(preps, hours, spread(preps, hours), earliest={0: MONDAY - dt.timedelta(days=3)}) == []


@settings(max_examples=15, deadline=None)
@given(jobs, days)
def test_every_cure_does_make_it_fit(preps, three):
    hours = dict(zip((MONDAY, TUESDAY, WEDNESDAY), three, strict=True))
    earliest = dict.fromkeys(range(len(preps)), MONDAY)
    for cure in cures(preps, hours, spread(preps, hours), earliest=earliest):
        changed, then = list(preps), dict(hours)
        if cure.day is not None:
            for day, minutes in ((cure.day, cure.minutes), *cure.also):
                then[day] = Day(hours[day].minutes + minutes, hours[day].overtime)
        elif cure.job is not None and cure.begin is not None:
            changed[cure.job] = replace(preps[cure.job], first=cure.begin)
        elif cure.job is not None:
            changed = without(preps, cure.job)
        assert not spread(changed, then).left_over
