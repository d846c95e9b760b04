"""Which days cannot take their jobs, and why."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings.diary import DiaryJob, Limits, Standing, Work, clashes, clashes_with, most_at_once

DAY = dt.date(2026, 12, 12)
LIMITS = Limits(jobs=2, people=3, hours=10, vans=1)


def at(hour: int, minute: int = 0) -> dt.datetime:
    return dt.datetime(2026, 12, 12, hour, minute, tzinfo=dt.UTC)


def job(
    number: int, *works: Work, standing: Standing = "booked", name: str = "", until: dt.date | None = None
) -> DiaryJob:
    return DiaryJob(number, name or f"Job {number}", standing, works, until)


def out(
    begins: int | None = None, ends: int | None = None, *, people: int = 1, vans: int = 1, minutes: int = 60
) -> Work:
    """At a venue: all day, or between two hours."""
    first = at(begins) if begins is not None else None
    last = at(ends) if ends is not None else None
    return Work(DAY, minutes, people, vans, first, last, is_the_job=True)


@pytest.mark.parametrize(
    ("jobs", "lacking"),
    [
        pytest.param([], [], id="an empty day"),
        pytest.param([job(1, out())], [], id="one job"),
        pytest.param([job(1, out(9, 11)), job(2, out(11, 13))], [], id="one after the other"),
        pytest.param([job(1, out(9, 12)), job(2, out(11, 13))], ["vans"], id="both want the van"),
        pytest.param([job(1, out()), job(2, out(11, 13))], ["vans"], id="one has no time"),
        pytest.param([job(1, out(vans=0)), job(2, out(vans=0)), job(3, out(vans=0))], ["jobs"], id="three jobs"),
        pytest.param([job(1, out(people=2, vans=0)), job(2, out(people=2))], ["people"], id="four people at once"),
        pytest.param([job(1, out(9, 10, people=2)), job(2, out(10, 11, people=2))], [], id="two, then two others"),
        pytest.param([job(1, out(people=4))], ["people"], id="one job for more people than there are"),
        pytest.param([job(1, out(minutes=1800))], [], id="every hour there is"),
        pytest.param([job(1, out(minutes=1801))], ["hours"], id="a minute more"),
        pytest.param(
            [job(1, out(minutes=1200)), job(2, Work(DAY, minutes=900))], ["hours"], id="prep for another day counts"
        ),
        pytest.param([job(1, out(), standing="held"), job(2, out())], ["vans"], id="a held date counts"),
        pytest.param([job(1, out(), standing="offered"), job(2, out())], [], id="an offer does not"),
        pytest.param([job(1, out(), standing="asked"), job(2, out())], [], id="an enquiry does not"),
    ],
)
def test_what_a_day_lacks(jobs, lacking):
    assert [clash.lack for clash in clashes(jobs, LIMITS)] == lacking


def test_a_clash_says_the_day_the_lack_and_whose_jobs():
    jobs = [
        job(1, out(9, 12), name="Winter gala"),
        job(2, out(11, 13), name="Barn wedding", standing="held", until=dt.date(2026, 11, 27)),
    ]
    (clash,) = clashes(jobs, LIMITS)
    assert clash.sentence == (
        "Saturday 12 December: 2 vans needed at once at 11:00, and there is 1. "
        "Winter gala (booked), Barn wedding (held until Fri 27 Nov)."
    )
    assert clash.bookings == (1, 2)


def test_without_times_the_clash_says_that_times_would_tell():
    assert clashes([job(1, out()), job(2, out())], LIMITS)[0].sentence.endswith(
        "Times would tell whether one can follow the other."
    )


def test_hours_are_said_as_rounded_up():
    (clash,) = clashes([job(1, out(minutes=1801))], LIMITS)
    assert "about 31 hours of work, and there are 30 in a day of 3 people" in clash.sentence


def test_an_enquiry_hears_of_the_clash_it_would_make():
    asked = job(3, out(), standing="asked", name="Ines")
    (clash,) = clashes_with(asked, [job(1, out()), job(2, Work(DAY + dt.timedelta(1)))], LIMITS)
    assert (clash.lack, clash.might) == ("vans", False)
    assert "Ines (asked for)" in clash.sentence


def test_an_open_quote_makes_a_clash_that_might_come():
    asked = job(3, out(), standing="asked")
    (clash,) = clashes_with(asked, [job(1, out(), standing="offered")], LIMITS)
    assert clash.might
    assert clash.sentence.startswith("If every open quote is accepted: Saturday 12 December")


def test_a_clash_of_others_is_not_this_jobs():
    prep = job(3, Work(DAY, minutes=10), standing="asked")
    assert clashes_with(prep, [job(1, out()), job(2, out())], LIMITS) == []


def test_a_job_does_not_clash_with_itself():
    assert clashes_with(job(1, out()), [job(1, out())], LIMITS) == []


def test_the_hour_that_happens_twice_is_two_hours():
    new_york = ZoneInfo("America/New_York")
    first = dt.datetime(2026, 11, 1, 1, 0, tzinfo=new_york)
    again = first.replace(fold=1)
    end = dt.datetime(2026, 11, 1, 2, 0, tzinfo=new_york)
    day = dt.date(2026, 11, 1)
    jobs = [
        job(1, Work(day, people=1, vans=1, begins=first, ends=again)),
        job(2, Work(day, people=1, vans=1, begins=again, ends=end)),
    ]
    assert clashes(jobs, LIMITS) == []


def test_who_is_out_past_midnight_is_out_on_the_next_day_too():
    night = Work(DAY, people=1, vans=1, begins=at(23), ends=at(23) + dt.timedelta(hours=3))
    early = Work(DAY + dt.timedelta(1), people=1, vans=1, begins=at(1) + dt.timedelta(1), ends=at(3) + dt.timedelta(1))
    (clash,) = clashes([job(1, night), job(2, early)], LIMITS)
    assert (clash.day, clash.lack) == (DAY + dt.timedelta(1), "vans")


def test_what_ends_at_midnight_leaves_the_next_day_alone():
    night = Work(DAY, people=1, vans=1, begins=at(20), ends=at(0) + dt.timedelta(1))
    all_day = Work(DAY + dt.timedelta(1), people=1, vans=1)
    assert clashes([job(1, night), job(2, all_day)], LIMITS) == []


hours = st.integers(0, 22)
works = st.builds(
    lambda begins, length, people, vans, minutes, timed: out(
        *((begins, min(begins + length, 23)) if timed else (None, None)), people=people, vans=vans, minutes=minutes
    ),
    hours,
    st.integers(1, 6),
    st.integers(0, 3),
    st.integers(0, 2),
    st.integers(0, 900),
    st.booleans(),
)
standings: st.SearchStrategy[Standing] = st.sampled_from(["booked", "held", "offered", "asked"])
diaries = st.lists(st.tuples(works, standings), max_size=6).map(
    lambda made: [job(n, work, standing=standing) for n, (work, standing) in enumerate(made)]
)
limits = st.builds(Limits, st.integers(0, 4), st.integers(0, 6), st.integers(1, 12), st.integers(0, 3))


@given(diary=diaries)
def test_the_most_at_once_is_the_most_of_any_minute(diary):
    there = [(one, work) for one in diary for work in one.works]
    each_minute = [
        sum(work.people for _, work in there if work.begins is None or work.begins <= minute < work.ends)
        for minute in (at(0) + dt.timedelta(minutes=30 * n) for n in range(48))
    ]
    assert most_at_once(there, "people")[0] == max(each_minute)


@given(diary=diaries, limits=limits, order=st.randoms(use_true_random=False))
def test_the_order_jobs_are_listed_in_changes_no_clash(diary, limits, order):
    shuffled = order.sample(diary, len(diary))
    assert {(clash.day, clash.lack) for clash in clashes(diary, limits)} == {
        (clash.day, clash.lack) for clash in clashes(shuffled, limits)
    }


@given(diary=diaries, more=works, limits=limits)
def test_one_job_more_takes_no_clash_away(diary, more, limits):
    before = {clash.lack for clash in clashes(diary, limits)}
    assert before <= {clash.lack for clash in clashes([*diary, job(99, more)], limits)}


@given(diary=diaries, limits=limits)
def test_room_for_one_more_of_everything_adds_no_clash(diary, limits):
    roomier = Limits(limits.jobs + 1, limits.people + 1, limits.hours + 1, limits.vans + 1)
    assert {clash.lack for clash in clashes(diary, roomier)} <= {clash.lack for clash in clashes(diary, limits)}


@given(diary=diaries, limits=limits)
def test_every_clash_names_jobs_that_are_there(diary, limits):
    names = {one.booking: one.name for one in diary}
    for clash in clashes(diary, limits):
        assert clash.bookings
        assert all(names[number] in clash.sentence for number in clash.bookings)
