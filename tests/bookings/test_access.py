"""The hours of a place: the install and the strike within them, over midnight and over clock changes."""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings.access import Access, Room
from bookings.run_steps import Work, rooms, run_steps
from bookings.timetable import Said, minutes_between, moment

NEW_YORK = ZoneInfo("America/New_York")
SATURDAY = dt.date(2026, 6, 20)


def at(text: str) -> dt.time:
    return dt.time.fromisoformat(text)


def said(**given: str) -> Said:
    """Saturday, with times as they are typed."""
    return Said(SATURDAY, **{name: at(text) for name, text in given.items()})  # type: ignore[arg-type]


def access(**given: str) -> Access:
    return Access(**{name: at(text) for name, text in given.items()})


def room(part: str, job: Said, hours: Access, minutes: int = 120) -> Room | None:
    work = Work(install=minutes, strike=minutes)
    return next((one for one in rooms(job, work, zone=NEW_YORK, access=hours) if one.part == part), None)


def span(part: str, job: Said, hours: Access, minutes: int = 120) -> str:
    """“20 08:00–20 10:00”, as the step of it is placed."""
    work = Work(install=minutes, strike=minutes)
    (step,) = [one for one in run_steps(job, work, zone=NEW_YORK, access=hours) if one.what == part]
    assert step.begins is not None
    assert step.ends is not None
    return f"{step.begins:%d %H:%M}–{step.ends:%d %H:%M}"


#        07:00        08:00                  10:00
# access                [---------------------...
# install    needs 3 h: [-----2 h-----|      ]ready
def test_a_place_that_opens_too_late_leaves_too_little_time():
    found = room("install", said(ready_by="10:00"), access(opens="08:00"), 180)
    assert found is not None
    assert (found.minutes, found.is_short) == (120, True)
    assert found.opens is not None
    assert found.shuts is not None
    assert (found.opens.why, found.shuts.why) == ("one may get in from 08:00", "it must be ready by 10:00")


def test_what_fits_between_opening_and_ready_is_not_short():
    found = room("install", said(ready_by="10:00"), access(opens="08:00"), 120)
    assert found is not None
    assert not found.is_short


def test_a_place_that_shuts_before_it_must_be_ready_moves_the_install_forward():
    job, hours = said(ready_by="14:00"), access(opens="07:00", closes="09:30")
    assert span("Install", job, hours) == "20 07:30–20 09:30"


def test_an_install_that_does_not_fit_begins_when_the_place_opens():
    assert span("Install", said(ready_by="10:00"), access(opens="08:00"), 180) == "20 08:00–20 10:00"


def test_a_time_somebody_set_is_kept():
    job, hours = said(install_at="07:00", ready_by="10:00"), access(opens="08:00")
    assert span("Install", job, hours) == "20 07:00–20 10:00"
    found = room("install", job, hours)
    assert found is not None
    assert found.too_early == "The install begins at 07:00, and one may get in from 08:00 only."


def test_a_time_somebody_set_may_leave_too_little_without_any_hours_of_the_place():
    found = room("install", said(install_at="13:00", ready_by="14:00"), access(), 90)
    assert found is not None
    assert (found.minutes, found.is_short) == (60, True)


# Fri 22:00 [-------access-------] Sat 04:00
@pytest.mark.parametrize(
    ("job", "placed"),
    [
        pytest.param({"ready_by": "04:00"}, "20 02:00–20 04:00", id="ready just when it shuts"),
        pytest.param({"ready_by": "03:00"}, "20 01:00–20 03:00", id="ready while it is open"),
        pytest.param({"ready_by": "23:30"}, "20 22:00–20 23:30", id="ready in the next night"),
        pytest.param({"install_at": "23:00", "ready_by": "02:00"}, "19 23:00–20 02:00", id="from the evening before"),
    ],
)
def test_hours_past_midnight_are_of_the_night_that_is_open(job, placed):
    assert span("Install", said(**job), access(opens="22:00", closes="04:00")) == placed


@pytest.mark.parametrize(
    ("ends", "hours", "placed", "minutes"),
    [
        pytest.param("22:00", {"out_from": "23:00"}, "20 23:00–21 00:00", None, id="waits until it may begin"),
        pytest.param("23:30", {"out_from": "23:00"}, "20 23:30–21 00:30", None, id="begins at once"),
        pytest.param("00:30", {"out_from": "23:00"}, "21 00:30–21 01:30", None, id="begins at once past midnight"),
        pytest.param("23:30", {"out_from": "09:00", "out_by": "12:00"}, "21 09:00–21 10:00", 180, id="next morning"),
        pytest.param("23:00", {"out_by": "01:00"}, "20 23:00–21 00:00", 120, id="fits"),
        pytest.param("00:30", {"out_by": "01:00"}, "21 00:30–21 01:30", 30, id="too little"),
        pytest.param("01:30", {"out_by": "01:00"}, "21 01:30–21 02:30", 0, id="over before the event is"),
        pytest.param(
            "01:30", {"out_from": "23:00", "out_by": "01:00"}, "21 01:30–21 02:30", 0, id="over, and not again soon"
        ),
    ],
)
def test_the_strike_keeps_to_the_hours_of_the_place(ends, hours, placed, minutes):
    job = said(ready_by="17:00", starts_at="18:00", ends_at=ends)
    assert span("Strike", job, access(**hours), 60) == placed
    found = room("strike", job, access(**hours), 60)
    assert found is not None
    assert found.minutes == minutes
    assert found.is_short is (minutes is not None and minutes < 60)


def test_a_strike_that_was_set_too_early_is_said():
    job = said(starts_at="18:00", ends_at="21:00", strike_at="22:00")
    found = room("strike", job, access(out_from="23:00"))
    assert found is not None
    assert found.too_early == "The strike begins at 22:00, and one may take it down from 23:00 only."


# The clocks of New York go from 02:00 to 03:00 on 8 March 2026, and from 02:00 back to 01:00 on 1 November.
@pytest.mark.parametrize(
    ("night", "minutes"),
    [
        pytest.param(dt.date(2026, 3, 7), 4 * 60, id="spring has an hour less"),
        pytest.param(dt.date(2026, 10, 31), 6 * 60, id="autumn has an hour more"),
        pytest.param(SATURDAY, 5 * 60, id="any other night"),
    ],
)
def test_a_night_in_which_the_clocks_change_is_as_long_as_it_is(night, minutes):
    job = Said(night, starts_at=at("18:00"), ends_at=at("23:00"))
    found = room("strike", job, access(out_by="04:00"))
    assert found is not None
    assert found.minutes == minutes


@pytest.mark.parametrize(
    ("job", "hours"),
    [
        pytest.param(Said(), access(opens="08:00"), id="no day"),
        pytest.param(Said(SATURDAY), access(opens="08:00", out_by="01:00"), id="no times"),
    ],
)
def test_without_times_nothing_is_short(job, hours):
    assert rooms(job, Work(), zone=NEW_YORK, access=hours) == []


times = st.integers(0, 95).map(lambda n: dt.time(n // 4, 15 * (n % 4)))


@given(
    day=st.dates(dt.date(2026, 1, 1), dt.date(2026, 12, 31)),
    ready=times,
    opens=times,
    closes=st.none() | times,
    minutes=st.integers(5, 600),
)
def test_an_install_that_fits_is_within_the_hours_and_as_long_as_it_takes(day, ready, opens, closes, minutes):
    closes = None if closes == opens else closes
    job, work = Said(day, ready_by=ready), Work(install=minutes)
    hours = Access(opens=opens, closes=closes)
    (found,) = rooms(job, work, zone=NEW_YORK, access=hours)
    assert found.opens is not None
    assert found.shuts is not None
    if found.is_short:
        return
    (step,) = [one for one in run_steps(job, work, zone=NEW_YORK, access=hours) if one.what == "Install"]
    begins: Any = step.begins
    ends: Any = step.ends
    assert minutes_between(begins, ends) == minutes
    assert found.opens.at.timestamp() <= begins.timestamp()
    assert ends.timestamp() <= found.shuts.at.timestamp()
    assert ends.timestamp() <= moment(day, ready, NEW_YORK).timestamp()
