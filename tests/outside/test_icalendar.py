"""Calendars held to RFC 5545 (iCalendar, September 2009), and read by a program that shares no code with ours.

The sections are named beside each check. The days of the clock changes of 2026 are those of the IANA time zone
database: United States 8 March and 1 November, United Kingdom 29 March and 25 October, Sydney 5 April and 4 October.
"""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from bookings.feed import FeedEvent, as_calendar, zone_changes
from bookings.timetable import Said, moment, timetable

LONDON, NEW_YORK, SYDNEY = ZoneInfo("Europe/London"), ZoneInfo("America/New_York"), ZoneInfo("Australia/Sydney")
LORD_HOWE, KOLKATA, UTC = ZoneInfo("Australia/Lord_Howe"), ZoneInfo("Asia/Kolkata"), ZoneInfo("UTC")
CHANGED = dt.datetime(2026, 1, 2, 3, 4, 5, tzinfo=dt.UTC)
DAY = dt.date(2026, 6, 20)


def event(**said: object) -> FeedEvent:
    usual = {
        "uid": "0142-event@garlandry",
        "summary": "Event: Winter gala",
        "day": DAY,
        "last_day": DAY,
        "status": "CONFIRMED",
        "sequence": 3,
        "changed": CHANGED,
    }
    return FeedEvent(**usual | said)  # type: ignore[arg-type]


def timed(begins: dt.datetime, ends: dt.datetime, **said: object) -> FeedEvent:
    return event(day=begins.date(), last_day=ends.date(), begins=begins, ends=ends, **said)


def written(*events: FeedEvent, zone: ZoneInfo = LONDON) -> str:
    return as_calendar("Tern & Tide Balloons", events, zone=zone).decode()


def read(*events: FeedEvent, zone: ZoneInfo = LONDON) -> list[Any]:
    # The reader keeps the first description of a zone it meets; each calendar is to be read by its own.
    vobject.icalendar.__tzidMap.pop(zone.key, None)
    if zone is UTC:
        vobject.icalendar.registerTzid("UTC", dt.UTC)
    return vobject.readOne(written(*events, zone=zone)).vevent_list


def logical_lines(text: str) -> list[str]:
    """The lines as they were before they were folded (section 3.1)."""
    return text.replace("\r\n ", "").split("\r\n")


NAMES = "Zoë’s “barn”, Öl & 風船 🎈🎉👩‍👩‍👧 " * 8


def test_lines_end_in_cr_lf_and_are_at_most_75_octets_long():
    """Section 3.1."""
    body = as_calendar(NAMES, [event(summary=NAMES, location=NAMES, description=NAMES)], zone=LONDON)
    assert b"\n" not in body.replace(b"\r\n", b"")
    assert b"\r" not in body.replace(b"\r\n", b"")
    assert max(len(line) for line in body.split(b"\r\n")) <= 75


def test_no_line_is_folded_inside_a_character():
    """Section 3.1: folded between octets of one character, a line could not be read by itself."""
    for line in as_calendar(NAMES, [event(summary=NAMES)], zone=LONDON).split(b"\r\n"):
        line.decode("utf-8")


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        pytest.param("a,b", r"a\,b", id="comma"),
        pytest.param("a;b", r"a\;b", id="semicolon"),
        pytest.param("a\\b", r"a\\b", id="backslash"),
        pytest.param("a\nb", r"a\nb", id="newline"),
        pytest.param("a\r\nb", r"a\nb", id="carriage return and newline"),
        pytest.param('a:b "c"', 'a:b "c"', id="colons and quotes stay"),
        pytest.param("🎈\x00\x07\x1b", "🎈", id="no control characters"),
        pytest.param(
            "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
            r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
            id="the example of the section",
        ),
    ],
)
def test_text_is_escaped(said, expected):
    """Section 3.3.11."""
    assert f"DESCRIPTION:{expected}" in logical_lines(written(event(description=said)))


text = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=120).map(str.strip).filter(bool)


@given(summary=text, location=text, description=st.lists(text, min_size=1, max_size=4).map("\n".join))
def test_any_text_is_read_back_as_it_was(summary, location, description):
    body = as_calendar("Studio", [event(summary=summary, location=location, description=description)], zone=LONDON)
    assert max(len(line) for line in body.split(b"\r\n")) <= 75
    # The reader splits lines where Python does, which is at more characters than the standard has.
    lines = logical_lines(body.decode())
    unescaped = {
        name: value.replace("\\\\", "\0")
        .replace("\\n", "\n")
        .replace("\\,", ",")
        .replace("\\;", ";")
        .replace("\0", "\\")
        for name, _, value in (line.partition(":") for line in lines)
    }
    assert (unescaped["SUMMARY"], unescaped["LOCATION"], unescaped["DESCRIPTION"]) == (summary, location, description)


def test_an_independent_reader_reads_names_and_places():
    (found,) = read(event(summary="Event: Ines, “40”; 🎈", location="Corn Hall, Port Alder", description="One\nTwo\\"))
    assert found.summary.value == "Event: Ines, “40”; 🎈"
    assert found.location.value == "Corn Hall, Port Alder"
    assert found.description.value == "One\nTwo\\"


def test_a_calendar_says_its_version_and_who_made_it():
    """Sections 3.6, 3.7.3 and 3.7.4: both are required, once."""
    lines = logical_lines(written(event()))
    assert (lines[0], lines[-2:]) == ("BEGIN:VCALENDAR", ["END:VCALENDAR", ""])
    assert lines.count("VERSION:2.0") == 1
    assert sum(line.startswith("PRODID:") for line in lines) == 1


def test_an_event_has_what_it_must_and_what_tells_its_versions_apart():
    """Sections 3.6.1, 3.8.4.7, 3.8.7.2 (the stamp is the last change), 3.8.7.3 and 3.8.7.4."""
    lines = logical_lines(written(event()))
    for line in (
        "UID:0142-event@garlandry",
        "DTSTAMP:20260102T030405Z",
        "LAST-MODIFIED:20260102T030405Z",
        "SEQUENCE:3",
    ):
        assert lines.count(line) == 1


def test_the_end_of_a_whole_day_is_the_day_after():
    """Section 3.6.1: "DTEND" is the non-inclusive end."""
    lines = logical_lines(written(event()))
    assert "DTSTART;VALUE=DATE:20260620" in lines
    assert "DTEND;VALUE=DATE:20260621" in lines


@pytest.mark.parametrize("status", ["CONFIRMED", "TENTATIVE", "CANCELLED"])
def test_the_status_is_one_of_an_event(status):
    """Section 3.8.1.11."""
    assert read(event(status=status))[0].status.value == status


def test_whole_days_and_cancelled_jobs_do_not_make_anybody_busy():
    """Section 3.8.2.7."""
    begins = moment(DAY, dt.time(9), LONDON)
    free = [event(is_busy=False), timed(begins, begins, status="CANCELLED")]
    assert [found.transp.value for found in read(*free)] == ["TRANSPARENT", "TRANSPARENT"]
    assert read(timed(begins, begins))[0].transp.value == "OPAQUE"


@pytest.mark.parametrize(
    ("zone", "day", "offsets"),
    [
        pytest.param(LONDON, dt.date(2026, 3, 28), (0, 1), id="London, the night of the spring change"),
        pytest.param(LONDON, dt.date(2026, 10, 24), (1, 0), id="London, the night of the autumn change"),
        pytest.param(NEW_YORK, dt.date(2026, 3, 7), (-5, -4), id="New York, spring"),
        pytest.param(NEW_YORK, dt.date(2026, 10, 31), (-4, -5), id="New York, autumn"),
        pytest.param(SYDNEY, dt.date(2026, 4, 4), (11, 10), id="Sydney, its autumn"),
        pytest.param(SYDNEY, dt.date(2026, 10, 3), (10, 11), id="Sydney, its spring"),
    ],
)
def test_a_party_through_a_clock_change_is_read_at_the_moments_it_is(zone, day, offsets):
    """From 20:00 to 04:00, through midnight and through the change: sections 3.3.5 and 3.6.5."""
    party = timetable(Said(event_on=day, starts_at=dt.time(20), ends_at=dt.time(4)), zone=zone)[1]
    assert party.begins is not None and party.ends is not None
    (found,) = read(timed(party.begins, party.ends), zone=zone)
    begins, ends = found.dtstart.value, found.dtend.value
    assert (begins, ends) == (party.begins, party.ends)
    assert (begins.utcoffset(), ends.utcoffset()) == tuple(dt.timedelta(hours=hours) for hours in offsets)
    assert (begins.hour, ends.hour) == (20, 4)
    lasts = ends.astimezone(dt.UTC) - begins.astimezone(dt.UTC)
    assert lasts == dt.timedelta(hours=8 - (offsets[1] - offsets[0]))


def test_a_time_that_a_change_leaves_out_counts_from_before_it():
    """Section 3.3.5: 02:30 in New York on the day in March means 03:30 by the new clock (the section has 2007)."""
    skipped = moment(dt.date(2007, 3, 11), dt.time(2, 30), NEW_YORK)
    assert skipped == dt.datetime(2007, 3, 11, 7, 30, tzinfo=dt.UTC)
    assert (skipped.hour, skipped.minute) == (3, 30)


def test_a_time_that_happens_twice_is_the_first():
    """Section 3.3.5, its example: 01:30 in New York on 4 November 2007 is the daylight time, UTC-04:00."""
    first = moment(dt.date(2007, 11, 4), dt.time(1, 30), NEW_YORK)
    assert first.astimezone(dt.UTC) == dt.datetime(2007, 11, 4, 5, 30, tzinfo=dt.UTC)
    lines = logical_lines(written(timed(first, first + dt.timedelta(hours=1)), zone=NEW_YORK))
    assert "DTSTART;TZID=America/New_York:20071104T013000" in lines


def test_what_ends_in_the_second_of_two_hours_is_written_in_utc():
    """Section 3.3.5: with a zone it would be the first."""
    begins = moment(dt.date(2026, 11, 1), dt.time(1, 30), NEW_YORK)
    ends = (begins.astimezone(dt.UTC) + dt.timedelta(hours=1)).astimezone(NEW_YORK)
    assert (ends.hour, ends.minute) == (1, 30)
    lines = logical_lines(written(timed(begins, ends), zone=NEW_YORK))
    assert "DTSTART:20261101T053000Z" in lines
    assert "DTEND:20261101T063000Z" in lines


def test_a_zones_changes_are_written_as_in_the_example_of_new_york():
    """Section 3.6.5: the changes of 2007, 2 a.m. by the clock that is left, with its offset and its name."""
    text = zone_changes(NEW_YORK, dt.date(2007, 1, 1), dt.date(2007, 12, 31)).to_ical().decode()
    for kind, start, before, after, name in (
        ("DAYLIGHT", "20070311T020000", "-0500", "-0400", "EDT"),
        ("STANDARD", "20071104T020000", "-0400", "-0500", "EST"),
    ):
        part = next(part for part in text.split(f"BEGIN:{kind}") if f"DTSTART:{start}" in part)
        assert f"TZOFFSETFROM:{before}" in part
        assert f"TZOFFSETTO:{after}" in part
        assert f"TZNAME:{name}" in part


def test_a_zone_is_written_once_and_before_what_names_it():
    """Section 3.6.5: each zone that is named is in the calendar, once."""
    begins = moment(DAY, dt.time(9), LONDON)
    lines = logical_lines(written(timed(begins, begins), timed(begins, begins, uid="b")))
    assert lines.count("BEGIN:VTIMEZONE") == lines.count("TZID:Europe/London") == 1
    assert lines.index("BEGIN:VTIMEZONE") < lines.index("BEGIN:VEVENT")


def test_a_studio_on_utc_needs_no_zone():
    """Section 3.2.19: no TZID on a time in UTC."""
    begins = moment(DAY, dt.time(9), UTC)
    lines = logical_lines(written(timed(begins, begins), zone=UTC))
    assert "DTSTART:20260620T090000Z" in lines
    assert "BEGIN:VTIMEZONE" not in lines


ZONES = [LONDON, NEW_YORK, SYDNEY, LORD_HOWE, KOLKATA, UTC, ZoneInfo("Europe/Dublin"), ZoneInfo("America/St_Johns")]


@settings(deadline=None)  # The first time a zone is met its changes are looked for.
@given(
    zone=st.sampled_from(ZONES),
    day=st.dates(dt.date(2026, 1, 1), dt.date(2028, 12, 31)),
    time=st.times().map(lambda at: at.replace(microsecond=0)),
    minutes=st.integers(1, 24 * 60),
)
def test_an_independent_reader_reads_every_moment_as_it_is(zone, day, time, minutes):
    start = moment(day, time, zone)
    end = (start.astimezone(dt.UTC) + dt.timedelta(minutes=minutes)).astimezone(zone)
    (found,) = read(timed(start, end), zone=zone)
    assert found.dtstart.value.astimezone(dt.UTC) == start.astimezone(dt.UTC)
    assert found.dtend.value.astimezone(dt.UTC) == end.astimezone(dt.UTC)
