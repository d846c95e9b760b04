"""The steps of a job with their times: backwards from ready-by, past midnight and through clock changes."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings.run_steps import RunStep, Work, minutes_between, run_steps
from bookings.timetable import Said

NEW_YORK = ZoneInfo("America/New_York")
DAY = dt.date(2026, 6, 13)
WORK = Work(travel=35, install=90, strike=60, prep=240)


def steps(said: Said, work: Work = WORK) -> dict[str, RunStep]:
    """The steps by what is done."""
    return {step.what: step for step in run_steps(said, work, zone=NEW_YORK)}


def clock(step: RunStep) -> str:
    """“13 13:00–14:00”."""
    assert step.begins is not None and step.ends is not None
    return f"{step.day.day} {step.begins:%H:%M}–{step.ends:%H:%M}"


# prep (the day before) | load 11:25 | drive 11:55 | install 12:30 | ready 14:00 | event 18:00–23:00 | strike | home
def test_everything_goes_backwards_from_ready_by():
    said = Said(DAY, DAY - dt.timedelta(1), ready_by=dt.time(14), starts_at=dt.time(18), ends_at=dt.time(23))
    made = steps(said)
    assert list(made) == [
        "Inflate and assemble",
        "Load the van",
        "Drive there",
        "Install",
        "Ready",
        "The event",
        "Strike",
        "Bring it home",
    ]
    assert clock(made["Load the van"]) == "13 11:25–11:55"
    assert clock(made["Drive there"]) == "13 11:55–12:30"
    assert clock(made["Install"]) == "13 12:30–14:00"
    assert clock(made["Strike"]) == "13 23:00–00:00"
    assert (made["Inflate and assemble"].day, made["Inflate and assemble"].minutes) == (dt.date(2026, 6, 12), 240)


def test_a_strike_after_midnight_is_on_the_next_day():
    said = Said(DAY, ready_by=dt.time(14), starts_at=dt.time(20), ends_at=dt.time(1))
    made = steps(said)
    assert made["The event"].ends_next_day
    assert clock(made["Strike"]) == "14 01:00–02:00"
    assert clock(made["Bring it home"]) == "14 02:00–02:35"


def test_an_install_before_midnight_loads_the_day_before():
    said = Said(DAY, install_at=dt.time(23, 30), ready_by=dt.time(1))
    assert clock(steps(said)["Load the van"]) == "12 22:25–22:55"


def test_what_somebody_said_is_not_called_reckoned():
    made = steps(Said(DAY, install_at=dt.time(11), ready_by=dt.time(14)))
    assert not made["Install"].is_reckoned
    assert made["Load the van"].is_reckoned


@pytest.mark.parametrize(
    ("said", "known"),
    [
        pytest.param(Said(), [], id="nothing"),
        pytest.param(Said(prep_on=DAY), ["Inflate and assemble"], id="a prep day"),
        pytest.param(Said(DAY), ["The event"], id="a day alone"),
        pytest.param(Said(DAY, strike_on=DAY), ["The event", "Strike", "Bring it home"], id="a strike day"),
    ],
)
def test_only_what_is_known_is_a_step(said, known):
    assert list(steps(said)) == known


def test_no_drive_where_it_takes_no_time():
    made = steps(Said(DAY, ready_by=dt.time(14)), Work(travel=0, install=60))
    assert "Drive there" not in made
    assert clock(made["Load the van"]) == "13 12:30–13:00"


# The clocks of New York go from 02:00 to 03:00 on 8 March 2026, and from 02:00 back to 01:00 on 1 November.
@pytest.mark.parametrize(
    ("day", "strike", "home", "told"),
    [
        pytest.param(dt.date(2026, 3, 7), "8 01:00–03:00", "8 03:00–03:35", "forward by 60", id="spring"),
        pytest.param(dt.date(2026, 10, 31), "1 01:00–01:00", "1 01:00–01:35", "back by 60", id="autumn"),
    ],
)
def test_an_hour_of_striking_is_an_hour_on_the_night_the_clocks_change(day, strike, home, told):
    made = steps(Said(day, ready_by=dt.time(14), starts_at=dt.time(20), ends_at=dt.time(1)))
    assert (clock(made["Strike"]), made["Strike"].minutes) == (strike, 60)
    assert clock(made["Bring it home"]) == home
    assert f"The clocks go {told} minutes" in made["Strike"].clock


@given(
    day=st.dates(dt.date(2026, 1, 1), dt.date(2027, 12, 31)),
    ready=st.times().map(lambda at: at.replace(second=0, microsecond=0)),
    travel=st.integers(0, 600),
    install=st.integers(5, 900),
)
def test_every_step_begins_when_the_one_before_it_ends(day, ready, travel, install):
    made = steps(Said(day, ready_by=ready), Work(travel=travel, install=install))
    load, there = made["Load the van"], made["Install"]
    assert load.begins
    assert there.begins
    assert there.ends
    assert minutes_between(load.begins, there.begins) == 30 + travel
    assert minutes_between(there.begins, there.ends) == install == there.minutes
