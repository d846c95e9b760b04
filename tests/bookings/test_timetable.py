"""When the parts of a job are: usual times, past midnight, and through clock changes."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings.timetable import PARTS, Said, happens, later, left_out, moment, timetable

LISBON, NEW_YORK, SYDNEY = ZoneInfo("Europe/Lisbon"), ZoneInfo("America/New_York"), ZoneInfo("Australia/Sydney")
DAY = dt.date(2026, 12, 12)


def at(hour: int, minute: int = 0) -> dt.time:
    return dt.time(hour, minute)


def told(said: Said, zone: dt.tzinfo = LISBON) -> dict[str, str]:
    """Each part as “Sat 12:00–14:00”, or its day alone."""
    return {
        slot.part: f"{slot.begins:%a %H:%M}–{slot.ends:%H:%M}" if slot.begins else f"{slot.day:%a}"
        for slot in timetable(said, zone=zone)
    }


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        pytest.param(Said(), {}, id="nothing known"),
        pytest.param(Said(prep_on=DAY), {"prep": "Sat"}, id="a prep day alone"),
        pytest.param(Said(event_on=DAY), {"event": "Sat"}, id="a day without times has one part"),
        pytest.param(
            Said(event_on=DAY, ready_by=at(14)),
            {"install": "Sat 12:00–14:00", "event": "Sat 14:00–18:00", "strike": "Sat 18:00–19:00"},
            id="ready by: usual times around it",
        ),
        pytest.param(
            Said(event_on=DAY, install_at=at(9), ready_by=at(12), starts_at=at(13), ends_at=at(22)),
            {"install": "Sat 09:00–12:00", "event": "Sat 13:00–22:00", "strike": "Sat 22:00–23:00"},
            id="all said but the strike",
        ),
        pytest.param(
            Said(event_on=DAY, starts_at=at(19), ends_at=at(1)),
            {"install": "Sat 17:00–19:00", "event": "Sat 19:00–01:00", "strike": "Sun 01:00–02:00"},
            id="a party past midnight is struck on the next day",
        ),
        pytest.param(
            Said(event_on=DAY, starts_at=at(19), ends_at=at(23), strike_at=at(0, 30)),
            {"install": "Sat 17:00–19:00", "event": "Sat 19:00–23:00", "strike": "Sun 00:30–01:30"},
            id="a strike after midnight belongs to the next day",
        ),
        pytest.param(
            Said(event_on=DAY, starts_at=at(19), strike_at=at(22)),
            {"install": "Sat 17:00–19:00", "event": "Sat 19:00–23:00", "strike": "Sat 22:00–23:00"},
            id="a strike before the usual end is on the same evening",
        ),
        pytest.param(
            Said(event_on=DAY, starts_at=at(19), ends_at=at(23), strike_on=DAY + dt.timedelta(2), strike_at=at(8)),
            {"install": "Sat 17:00–19:00", "event": "Sat 19:00–23:00", "strike": "Mon 08:00–09:00"},
            id="a strike on a day of its own",
        ),
        pytest.param(
            Said(event_on=DAY, strike_on=DAY + dt.timedelta(1)),
            {"event": "Sat", "strike": "Sun"},
            id="a strike day alone",
        ),
        pytest.param(
            Said(event_on=DAY, install_at=at(20), ready_by=at(8)),
            {"install": "Fri 20:00–08:00", "event": "Sat 08:00–12:00", "strike": "Sat 12:00–13:00"},
            id="an install later than ready-by is on the evening before",
        ),
        pytest.param(
            Said(event_on=DAY, ready_by=at(1)),
            {"install": "Fri 23:00–01:00", "event": "Sat 01:00–05:00", "strike": "Sat 05:00–06:00"},
            id="a usual install reaches back over midnight",
        ),
    ],
)
def test_the_parts_of_a_job(said, expected):
    assert told(said) == expected


@pytest.mark.parametrize(
    ("zone", "day", "time", "expected"),
    [
        pytest.param(NEW_YORK, dt.date(2026, 3, 8), at(2, 30), "03:30 -0400", id="New York, spring: left out"),
        pytest.param(NEW_YORK, dt.date(2026, 11, 1), at(1, 30), "01:30 -0400", id="New York, autumn: the first of two"),
        pytest.param(ZoneInfo("Europe/London"), dt.date(2026, 3, 29), at(1, 30), "02:30 +0100", id="London, spring"),
        pytest.param(ZoneInfo("Europe/London"), dt.date(2026, 10, 25), at(1, 30), "01:30 +0100", id="London, autumn"),
        pytest.param(SYDNEY, dt.date(2026, 4, 5), at(2, 30), "02:30 +1100", id="Sydney, its autumn: the first of two"),
        pytest.param(SYDNEY, dt.date(2026, 10, 4), at(2, 30), "03:30 +1100", id="Sydney, its spring: left out"),
    ],
)
def test_a_time_at_a_clock_change(zone, day, time, expected):
    assert f"{moment(day, time, zone):%H:%M %z}" == expected


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        pytest.param(Said(event_on=dt.date(2026, 3, 8), ready_by=at(2, 30)), [("ready_by", 8)], id="on the day"),
        pytest.param(
            Said(event_on=dt.date(2026, 3, 7), starts_at=at(19), ends_at=at(2, 30)),
            [("ends_at", 8)],
            id="after midnight",
        ),
        pytest.param(
            Said(event_on=dt.date(2026, 3, 7), starts_at=at(19), ends_at=at(1), strike_at=at(2, 15)),
            [("strike_at", 8)],
            id="the strike of the night",
        ),
        pytest.param(
            Said(event_on=dt.date(2026, 3, 9), install_at=at(2, 30), ready_by=at(2)),
            [("install_at", 8)],
            id="the evening before",
        ),
        pytest.param(Said(event_on=dt.date(2026, 11, 1), ready_by=at(1, 30)), [], id="twice is not left out"),
        pytest.param(Said(event_on=dt.date(2026, 3, 7), ready_by=at(2, 30)), [], id="another day"),
        pytest.param(Said(ready_by=at(2, 30)), [], id="no day"),
    ],
)
def test_times_a_clock_change_leaves_out_are_named(said, expected):
    assert [(name, day.day) for name, day, _ in left_out(said, zone=NEW_YORK)] == expected


def test_a_strike_of_an_hour_through_the_autumn_change_ends_at_the_same_clock_time():
    said = Said(event_on=dt.date(2026, 10, 31), starts_at=at(19), ends_at=at(23), strike_at=at(1, 30))
    strike = timetable(said, zone=NEW_YORK)[-1]
    assert f"{strike.begins:%d %H:%M %z} {strike.ends:%H:%M %z}" == "01 01:30 -0400 01:30 -0500"


def test_a_night_through_the_spring_change_is_an_hour_shorter():
    said = Said(event_on=dt.date(2026, 3, 7), starts_at=at(20), ends_at=at(4))
    event = next(slot for slot in timetable(said, zone=NEW_YORK) if slot.part == "event")
    assert event.begins is not None and event.ends is not None
    assert event.ends.astimezone(dt.UTC) - event.begins.astimezone(dt.UTC) == dt.timedelta(hours=7)


def test_what_ends_at_midnight_is_not_on_the_next_day():
    event = timetable(Said(event_on=DAY, starts_at=at(19), ends_at=at(0)), zone=LISBON)[1]
    assert event.last_day == DAY


ZONES = [LISBON, NEW_YORK, SYDNEY, ZoneInfo("Australia/Lord_Howe"), ZoneInfo("Asia/Kolkata"), ZoneInfo("UTC")]
times = st.none() | st.times().map(lambda time: time.replace(second=0, microsecond=0))


@given(
    zone=st.sampled_from(ZONES),
    day=st.dates(dt.date(2026, 1, 1), dt.date(2028, 12, 31)),
    install=times,
    ready=times,
    starts=times,
    ends=times,
    strike=times,
)
def test_the_parts_stand_in_order_and_no_part_ends_before_it_begins(zone, day, install, ready, starts, ends, strike):
    if ready and starts and ready > starts:
        ready = None
    ends = ends if starts or ready else None
    prep = day - dt.timedelta(days=1)
    said = Said(day, prep, install, ready, starts, ends, None, strike)
    slots = timetable(said, zone=zone)
    assert [slot.part for slot in slots] == [part for part in PARTS if part in {slot.part for slot in slots}]
    for slot in slots:
        if slot.begins is not None and slot.ends is not None:
            # The clock may jump over both, so that a while is nothing.
            assert slot.begins.astimezone(dt.UTC) <= slot.ends.astimezone(dt.UTC)
            assert slot.begins.utcoffset() == slot.begins.astimezone(dt.UTC).astimezone(zone).utcoffset()
    by_part = {slot.part: slot for slot in slots}
    event = by_part["event"]
    install, strike = by_part.get("install"), by_part.get("strike")
    if strike and strike.begins and event.begins:
        assert strike.begins.astimezone(dt.UTC) >= event.begins.astimezone(dt.UTC)
    if install and install.ends and event.begins:
        assert install.ends.astimezone(dt.UTC) <= event.begins.astimezone(dt.UTC)


@given(
    zone=st.sampled_from(ZONES),
    day=st.dates(dt.date(2026, 1, 1), dt.date(2028, 12, 31)),
    time=st.times().map(lambda time: time.replace(second=0, microsecond=0)),
    minutes=st.integers(0, 3000),
)
def test_a_while_is_minutes_that_pass(zone, day, time, minutes):
    start = moment(day, time, zone)
    assert later(start, minutes).astimezone(dt.UTC) - start.astimezone(dt.UTC) == dt.timedelta(minutes=minutes)
    assert happens(day, time, zone) == (start.time() == time)
