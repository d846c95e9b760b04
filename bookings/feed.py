"""Dates as any calendar reads them: iCalendar, RFC 5545.

Times stand in the studio's zone, and the zone's changes are written out with them, so that a reader needs to know no
zone by its name. What ends in the second run of an hour that happens twice is written in UTC, because a time with a
zone would mean the first (section 3.3.5). Nothing here knows an amount of money.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Literal
from zoneinfo import ZoneInfo

if TYPE_CHECKING:
    # Loaded when a calendar is written: it takes a tenth of a second, which no other page should wait for.
    from icalendar import Component, Event, Timezone

CONTENT_TYPE = "text/calendar; charset=utf-8"
REFRESH = timedelta(hours=1)
"""How often a calendar is asked to come back."""
YEARS_AROUND = 3
"""How many years before and after its days a calendar says what its zone does."""

Status = Literal["CONFIRMED", "TENTATIVE", "CANCELLED"]

_DAY = timedelta(days=1)
_UTC_NAMES = ("UTC", "Etc/UTC", "Etc/UCT", "UCT", "Zulu", "Etc/Zulu", "Universal", "Etc/Universal")


@dataclass(frozen=True, slots=True)
class FeedEvent:
    """One entry: from `begins` to `ends`, or all of the days from `day` to `last_day`.

    `sequence` grows with every change and `changed` is the moment of the last one.
    """

    uid: str
    summary: str
    day: date
    last_day: date
    status: Status
    sequence: int
    changed: datetime
    begins: datetime | None = None
    ends: datetime | None = None
    location: str = ""
    description: str = ""
    url: str = ""
    is_busy: bool = True


def as_calendar(name: str, events: Sequence[FeedEvent], *, zone: ZoneInfo) -> bytes:
    """The calendar as a file: CRLF, folded at 75 octets, text escaped. The same events give the same bytes."""
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", "-//Garlandry//Studio calendar//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", plain(name))
    calendar.add("x-wr-calname", plain(name))
    calendar.add("refresh-interval", REFRESH, parameters={"VALUE": "DURATION"})
    calendar.add("x-published-ttl", "PT1H")
    days = [day for event in events if event.begins for day in (event.day, event.last_day)]
    if days and zone.key not in _UTC_NAMES:
        calendar.add_component(zone_changes(zone, min(days), max(days)))
    for event in events:
        calendar.add_component(_entry(event, zone))
    return calendar.to_ical()


def _entry(event: FeedEvent, zone: ZoneInfo) -> "Event":
    from icalendar import Event

    entry = Event()
    entry.add("uid", event.uid)
    # Without a request to somebody, the stamp is the moment of the last change (section 3.8.7.2).
    changed = event.changed.astimezone(UTC).replace(microsecond=0)
    entry.add("dtstamp", changed)
    entry.add("last-modified", changed)
    entry.add("sequence", event.sequence)
    entry.add("status", event.status)
    entry.add("transp", "OPAQUE" if event.is_busy and event.status != "CANCELLED" else "TRANSPARENT")
    entry.add("summary", plain(event.summary))
    if event.begins is None or event.ends is None:
        entry.add("dtstart", event.day)
        # The end of whole days is the day after them (section 3.6.1).
        entry.add("dtend", event.last_day + _DAY)
    else:
        begins, ends = event.begins.astimezone(zone), event.ends.astimezone(zone)
        written = UTC if begins.fold or ends.fold or zone.key in _UTC_NAMES else zone
        entry.add("dtstart", begins.astimezone(written))
        entry.add("dtend", ends.astimezone(written))
    for what, said in (("location", event.location), ("description", event.description), ("url", event.url)):
        if said:
            entry.add(what, plain(said))
    return entry


def plain(text: str) -> str:
    """The text without control characters, which no TEXT may hold (section 3.3.11), its line ends as one."""
    one = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(char for char in one if char in "\n\t" or (char >= " " and not "\x7f" <= char <= "\x9f"))


def zone_changes(zone: ZoneInfo, first: date, last: date) -> "Timezone":
    """The zone as it is in the years around these days (section 3.6.5).

    Each change is written at the local time before it, which is the time its TZOFFSETFROM is of. The years are more
    than are needed, because there are readers that keep the first description of a zone they meet.
    """
    from icalendar import Timezone

    start = datetime(max(first.year - YEARS_AROUND, 2), 1, 1, tzinfo=UTC) - _DAY
    end = datetime(min(last.year + YEARS_AROUND, 9990) + 1, 1, 2, tzinfo=UTC)
    component = Timezone()
    component.add("tzid", zone.key)
    component.add_component(_observance(start, start, zone))
    for change in _changes(zone, start, end):
        component.add_component(_observance(change - timedelta(seconds=1), change, zone))
    return component


def _observance(before: datetime, at: datetime, zone: ZoneInfo) -> "Component":
    """What the zone is from the moment `at` on, coming from what it was just `before`."""
    from icalendar import TimezoneDaylight, TimezoneStandard

    old, new = before.astimezone(zone), at.astimezone(zone)
    offset_from, offset_to = old.utcoffset() or timedelta(), new.utcoffset() or timedelta()
    component = TimezoneDaylight() if new.dst() else TimezoneStandard()
    component.add("dtstart", (at + offset_from).replace(tzinfo=None))
    component.add("tzoffsetfrom", offset_from)
    component.add("tzoffsetto", offset_to)
    component.add("tzname", new.tzname() or zone.key)
    return component


@lru_cache(maxsize=16)
def _changes(zone: ZoneInfo, start: datetime, end: datetime) -> tuple[datetime, ...]:
    """The moments the zone's offset changes, found by halving the day they are in."""
    found = []
    for low in _steps(start, end):
        high = low + _DAY
        if _offset(low, zone) == _offset(high, zone):
            continue
        while high - low > timedelta(seconds=1):
            middle = low + timedelta(seconds=int((high - low).total_seconds()) // 2)
            if _offset(middle, zone) == _offset(low, zone):
                low = middle
            else:
                high = middle
        found.append(high)
    return tuple(found)


def _steps(start: datetime, end: datetime) -> Iterable[datetime]:
    return (start + n * _DAY for n in range((end - start).days))


def _offset(at: datetime, zone: ZoneInfo) -> timedelta | None:
    return at.astimezone(zone).utcoffset()
