"""When each part of a job is: prep, install, event and strike, through midnight and through clock changes.

Times are kept as they were said, on the clock of the place, and become moments here. A time that happens twice is the
first of the two, and one that a clock change leaves out is counted on from before the change (RFC 5545, section
3.3.5). A while is counted in minutes that pass, not on the clock's face.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import Literal

Part = Literal["prep", "install", "event", "strike"]

PARTS: tuple[Part, ...] = ("prep", "install", "event", "strike")

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Said:
    """What is known of a job's days and times; everything may be missing.

    `install_at` after `ready_by` is on the day before. `ends_at` no later than the start is after midnight.
    """

    event_on: date | None = None
    prep_on: date | None = None
    install_at: time | None = None
    ready_by: time | None = None
    starts_at: time | None = None
    ends_at: time | None = None
    strike_on: date | None = None
    strike_at: time | None = None


@dataclass(frozen=True, slots=True)
class Usual:
    """How many minutes a part takes where nobody has said."""

    install: int = 120
    event: int = 240
    strike: int = 60


@dataclass(frozen=True, slots=True)
class Slot:
    """A part of a job: its day, and its moments in the zone asked for; without moments it is the whole day.

    `is_usual` says that a moment follows from how long such a part usually takes.
    """

    part: Part
    day: date
    begins: datetime | None = None
    ends: datetime | None = None
    is_usual: bool = False

    @property
    def last_day(self) -> date:
        """The day it ends on. What ends at midnight ends the day before."""
        if self.begins is None or self.ends is None or self.ends <= self.begins:
            return self.day
        return max(self.day, (self.ends - timedelta(microseconds=1)).date())


def moment(day: date, at: time, zone: tzinfo) -> datetime:
    """The moment the clock in `zone` shows `at` on `day`: the first of two, or as if it had not been put forward."""
    return datetime.combine(day, at.replace(fold=0), tzinfo=zone).astimezone(UTC).astimezone(zone)


def happens(day: date, at: time, zone: tzinfo) -> bool:
    """Whether the clock in `zone` shows `at` on `day` at all: not in the hour it is put forward over."""
    return moment(day, at, zone).replace(tzinfo=None) == datetime.combine(day, at.replace(fold=0))


def later(start: datetime, minutes: int) -> datetime:
    """`minutes` that pass after `start`, in its own zone."""
    return (start.astimezone(UTC) + timedelta(minutes=minutes)).astimezone(start.tzinfo)


def minutes_between(begins: datetime, ends: datetime) -> int:
    """Minutes that pass from one moment to another; in one zone Python subtracts by the clock's face."""
    return round((ends.timestamp() - begins.timestamp()) / 60)


def timetable(said: Said, *, zone: tzinfo, usual: Usual = Usual()) -> list[Slot]:
    """The parts of a job in the order they happen, as far as they are known.

    What has neither a time nor a day of its own (an install, a strike) is told within the event.
    """
    slots = []
    if said.prep_on is not None:
        slots.append(Slot("prep", said.prep_on))
    if said.event_on is None:
        return slots
    event = _event(said, said.event_on, zone, usual)
    install = _install(said, said.event_on, zone, usual)
    strike = _strike(said, event, zone, usual)
    return [*slots, *([install] if install else []), event, *([strike] if strike else [])]


def _event(said: Said, day: date, zone: tzinfo, usual: Usual) -> Slot:
    at = said.starts_at or said.ready_by
    if at is None:
        return Slot("event", day)
    begins = moment(day, at, zone)
    if said.ends_at is None:
        return Slot("event", day, begins, later(begins, usual.event), is_usual=True)
    ends = moment(day if said.ends_at > at else day + _DAY, said.ends_at, zone)
    return Slot("event", day, begins, ends, is_usual=said.starts_at is None)


def _install(said: Said, day: date, zone: tzinfo, usual: Usual) -> Slot | None:
    done = said.ready_by or said.starts_at
    if said.install_at is None:
        if done is None:
            return None
        ends = moment(day, done, zone)
        begins = later(ends, -usual.install)
        return Slot("install", begins.date(), begins, ends, is_usual=True)
    if done is None:
        begins = moment(day, said.install_at, zone)
        return Slot("install", day, begins, later(begins, usual.install), is_usual=True)
    first = day - _DAY if said.install_at > done else day
    return Slot("install", first, moment(first, said.install_at, zone), moment(day, done, zone))


def _strike(said: Said, event: Slot, zone: tzinfo, usual: Usual) -> Slot | None:
    if said.strike_at is not None:
        begins = moment(said.strike_on or _strike_day(said, event, said.strike_at, zone), said.strike_at, zone)
    elif event.ends is not None and said.strike_on in (None, event.ends.date()):
        begins = event.ends
    else:
        return Slot("strike", said.strike_on) if said.strike_on is not None else None
    return Slot("strike", begins.date(), begins, later(begins, usual.strike), is_usual=True)


def _strike_day(said: Said, event: Slot, at: time, zone: tzinfo) -> date:
    """The first day the clock shows `at` no earlier than the event's end; than its start, where no end was said."""
    over = event.ends if said.ends_at is not None else event.begins
    if over is None:
        return event.day
    days = (event.day + n * _DAY for n in range(3))
    return next(day for day in days if moment(day, at, zone).astimezone(UTC) >= over.astimezone(UTC))


def left_out(said: Said, *, zone: tzinfo) -> Iterator[tuple[str, date, time]]:
    """Each time that was said and that a clock change leaves out: the name of its field, its day, and the time."""
    if said.event_on is None:
        return
    day = said.event_on
    start, done = said.starts_at or said.ready_by, said.ready_by or said.starts_at
    before = said.install_at is not None and done is not None and said.install_at > done
    after = start is not None and said.ends_at is not None and said.ends_at <= start
    event = _event(said, day, zone, Usual())
    strike = said.strike_on or (_strike_day(said, event, said.strike_at, zone) if said.strike_at else day)
    days = {
        "install_at": day - _DAY if before else day,
        "ready_by": day,
        "starts_at": day,
        "ends_at": day + _DAY if after else day,
        "strike_at": strike,
    }
    for name, on in days.items():
        at = getattr(said, name)
        if at is not None and not happens(on, at, zone):
            yield name, on, at
