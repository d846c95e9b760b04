"""When a place lets one in to install and by when everything must be out of it, and whether the work fits between.

Venues say hours and no days, so each is of the night or day it is nearest to: whoever may take down from 23:00 and has
the event end at 22:00 waits an hour, and nobody waits longer than half a day.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo
from typing import Literal

from bookings.timetable import Said, Slot, later, minutes_between, moment

_DAY = timedelta(days=1)
_LONGEST_WAIT = 12 * 60


@dataclass(frozen=True, slots=True)
class Access:
    """The hours of a place: getting in to install, and taking it down. An end no later than its start is past midnight.

    Everything may be missing; without `opens` there is no `closes`.
    """

    opens: time | None = None
    closes: time | None = None
    out_from: time | None = None
    out_by: time | None = None


ANY_TIME = Access()
"""Of a place nobody has asked."""


@dataclass(frozen=True, slots=True)
class Limit:
    """A moment before or after which a part cannot be done, and why in words."""

    at: datetime
    why: str


@dataclass(frozen=True, slots=True)
class Room:
    """The time there is for an install or a strike that needs so many minutes on the clock; a limit may be missing.

    `too_early` says that the time somebody set for it is before one may.
    """

    part: Literal["install", "strike"]
    needed: int
    opens: Limit | None = None
    shuts: Limit | None = None
    too_early: str = ""

    @property
    def minutes(self) -> int | None:
        """How many minutes there are, none below 0; None where an end is open."""
        if self.opens is None or self.shuts is None:
            return None
        return max(minutes_between(self.opens.at, self.shuts.at), 0)

    @property
    def is_short(self) -> bool:
        """Whether the work takes longer than there is time."""
        return self.minutes is not None and self.minutes < self.needed

    def placed(self, slot: Slot) -> Slot:
        """A part of which nobody said when it begins, within these limits; as it was where it does not fit at all."""
        if slot.begins is None or slot.ends is None or not slot.is_usual or self.minutes == 0:
            return slot
        begins, ends = slot.begins, slot.ends
        if self.part == "install" and self.shuts is not None:
            ends = self.shuts.at
            begins = later(ends, -self.needed)
            begins = begins if self.opens is None else _later_of(begins, self.opens.at)
        elif self.part == "strike" and self.opens is not None:
            begins, ends = self.opens.at, later(self.opens.at, self.needed)
        return Slot(slot.part, begins.date(), begins, ends, is_usual=True)


def install_room(said: Said, slots: Sequence[Slot], access: Access, *, needed: int, zone: tzinfo) -> Room | None:
    """The time there is for the install; None where no time is known or nothing limits it."""
    slot = next((slot for slot in slots if slot.part == "install"), None)
    if slot is None or slot.begins is None or slot.ends is None:
        return None
    done = said.ready_by or said.starts_at
    shuts = [] if done is None else [Limit(slot.ends, f"it must be ready by {done:%H:%M}")]
    opens = [] if said.install_at is None else [Limit(slot.begins, f"it begins at {said.install_at:%H:%M}")]
    too_early = ""
    if access.opens is not None:
        near = slot.begins if said.install_at is not None else slot.ends
        first, last = _open_at(near, access.opens, access.closes, zone, or_ends=said.install_at is None)
        if opens and first.timestamp() > slot.begins.timestamp():
            too_early = f"The install begins at {slot.begins:%H:%M}, and one may get in from {first:%H:%M} only."
        opens.append(Limit(first, f"one may get in from {first:%H:%M}"))
        if last is not None:
            shuts.append(Limit(last, f"one must be out again by {last:%H:%M}"))
    if not opens and not shuts:
        return None
    return Room("install", needed, _latest(opens), _earliest(shuts), too_early)


def strike_room(said: Said, slots: Sequence[Slot], access: Access, *, needed: int, zone: tzinfo) -> Room | None:
    """The time there is for the strike; None where no time is known or nothing limits it."""
    found = {slot.part: slot for slot in slots}
    slot, event = found.get("strike"), found.get("event")
    if slot is None or slot.begins is None or (access.out_from is None and access.out_by is None):
        return None
    begins = slot.begins
    is_said = said.strike_at is not None
    opens = Limit(begins, f"it begins at {begins:%H:%M}" if is_said else f"the event ends at {begins:%H:%M}")
    # By when everything must be out is of the night of the event, else of when somebody set the strike.
    night = begins if is_said or event is None or event.begins is None else event.begins
    too_early = ""
    if access.out_from is not None:
        first, last = _may_take_down(begins, access.out_from, access.out_by, zone)
        if first.timestamp() > begins.timestamp():
            why = f"one may take it down from {first:%H:%M}"
            if is_said:
                too_early = f"The strike begins at {begins:%H:%M}, and {why} only."
            opens = Limit(first, why)
    else:
        assert access.out_by is not None
        last = _next(night, access.out_by, zone)
    shuts = None if last is None else Limit(last, f"everything must be out by {last:%H:%M}")
    return Room("strike", needed, opens, shuts, too_early)


def _open_at(
    near: datetime, opens: time, closes: time | None, zone: tzinfo, *, or_ends: bool
) -> tuple[datetime, datetime | None]:
    """The opening of the day of a moment; of the night before where that is still open then, or closes just then."""
    day = near.date()
    if closes is not None and closes <= opens:
        first, last = _span(day - _DAY, opens, closes, zone)
        if near.timestamp() < last.timestamp() or (or_ends and near.timestamp() == last.timestamp()):
            return first, last
    if closes is None:
        return moment(day, opens, zone), None
    return _span(day, opens, closes, zone)


def _span(day: date, opens: time, closes: time, zone: tzinfo) -> tuple[datetime, datetime]:
    return moment(day, opens, zone), moment(day if closes > opens else day + _DAY, closes, zone)


def _may_take_down(
    begins: datetime, out_from: time, out_by: time | None, zone: tzinfo
) -> tuple[datetime, datetime | None]:
    """From when to when it may be taken down by who would begin then: at once, after a wait, or too late already."""
    before = _last(begins, out_from, zone)
    after = _next(begins, out_from, zone)
    shut = None if out_by is None else _next(before, out_by, zone)
    is_open = (
        minutes_between(before, begins) <= _LONGEST_WAIT if shut is None else shut.timestamp() > begins.timestamp()
    )
    if is_open:
        return begins, shut
    if minutes_between(begins, after) <= _LONGEST_WAIT:
        return after, None if out_by is None else _next(after, out_by, zone)
    return begins, shut


def _next(after: datetime, at: time, zone: tzinfo) -> datetime:
    """The first moment after another at which the clock shows a time."""
    days = (after.date() + n * _DAY for n in range(3))
    return next(found for day in days if (found := moment(day, at, zone)).timestamp() > after.timestamp())


def _last(until: datetime, at: time, zone: tzinfo) -> datetime:
    """The last moment no later than another at which the clock shows a time."""
    days = (until.date() - n * _DAY for n in range(3))
    return next(found for day in days if (found := moment(day, at, zone)).timestamp() <= until.timestamp())


def _latest(limits: Sequence[Limit]) -> Limit | None:
    return max(limits, key=lambda limit: limit.at.timestamp(), default=None)


def _earliest(limits: Sequence[Limit]) -> Limit | None:
    return min(limits, key=lambda limit: limit.at.timestamp(), default=None)


def _later_of(one: datetime, other: datetime) -> datetime:
    return one if one.timestamp() >= other.timestamp() else other
