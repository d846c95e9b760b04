"""The days of the plan: the hours there are, the time on site, and prep put on what is left."""

import time
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta, tzinfo

from bookings.models import Booking, DayLimits
from bookings.queries.people import Hands
from bookings.queries.planned import JobToPlan, PlannedPrep, on_site
from bookings.queries.troubles import Trouble, hours_trouble
from bookings.run_steps import RunStep
from bookings.spreading import MOST_SECONDS, Day, Spread, spread
from bookings.staffing import Person
from studio.templatetags.look import clock

OVERTIME_MINUTES = 120
"""How long anybody may stay on (common practice, no source)."""

_DAY = timedelta(days=1)

Troubled = tuple[list[PlannedPrep], dict[date, Day], Spread]
"""A group of prep of which something finds no place, the hours there are for it, and how it was spread."""


@dataclass(slots=True)
class PlanDay:
    """A day: minutes people have, are out on site, have of prep and of overtime, and the steps of every job on it.

    `parts` is prep as it was put on the day, `left_over` what had to be done on it at the latest and finds no place.
    `rows` are the steps of prep, and `out` those on site of each job.
    """

    day: date
    hours: int
    on_site: int = 0
    prep: int = 0
    overtime: int = 0
    parts: list[tuple[PlannedPrep, int]] = field(default_factory=list)
    left_over: list[tuple[PlannedPrep, int]] = field(default_factory=list)
    rows: list[tuple[Booking, RunStep]] = field(default_factory=list)
    out: list[tuple[Booking, list[RunStep]]] = field(default_factory=list)

    @property
    def busy(self) -> int:
        """Minutes of work."""
        return self.on_site + self.prep

    @property
    def is_over(self) -> bool:
        """Whether there is more work than hours."""
        return self.busy > self.hours

    @property
    def site_share(self) -> int:
        """Per cent of the bar that is time on site."""
        return round(100 * self.on_site / max(self.hours, self.busy, 1))

    @property
    def prep_share(self) -> int:
        """Per cent of the bar that is prep."""
        return min(round(100 * self.prep / max(self.hours, self.busy, 1)), 100 - self.site_share)

    @property
    def words(self) -> str:
        """“3 h of prep, 5 h on site, of 16 h”."""
        said = [f"{clock(self.prep)} of prep"] if self.prep else []
        said += [f"{clock(self.on_site)} on site"] if self.on_site else []
        return f"{', '.join(said) or 'nothing'}, of {clock(self.hours)}"


def days_of(
    jobs: Sequence[Booking],
    known: Mapping[int, JobToPlan | None],
    hands: Hands,
    limits: DayLimits,
    *,
    today: date,
    last: date,
    zone: tzinfo,
) -> dict[date, PlanDay]:
    """Every day with the hours there are and the time on site."""
    people = hands.everybody
    usual = 0 if any(any(person.week) for person in people) else limits.people * limits.hours * 60
    days = {
        day: PlanDay(day, usual or sum(person.minutes_on(day) for person in people))
        for day in (today + n * _DAY for n in range((last - today).days + 1))
    }
    for job in jobs:
        for day, minutes in on_site(job, known[job.pk], limits=limits, zone=zone):
            if day in days:
                days[day].on_site += minutes
    return days


def spread_over(
    preps: Sequence[PlannedPrep], days: dict[date, PlanDay], people: Sequence[Person], limits: DayLimits
) -> tuple[list[Troubled], bool]:
    """Put prep on the days. Jobs that share no day are solved apart: neither takes anything from the other.

    Which of them do not fit, with the hours they were given; and whether nothing better is possible.
    """
    room = {day: _room(shown.day, shown.hours, shown.on_site, people, limits) for day, shown in days.items()}
    troubled, proven = [], True
    for group in _groups(preps):
        found = spread([one.prep for one in group], room)
        proven = proven and found.is_proven
        for (n, day), minutes in sorted(found.parts.items(), key=lambda part: (part[0][1], part[0][0])):
            days[day].prep += minutes
            days[day].parts.append((group[n], minutes))
        for day, minutes in found.overtime.items():
            days[day].overtime += minutes
        for n, minutes in found.left_over.items():
            days[group[n].prep.last].left_over.append((group[n], minutes))
        if found.left_over:
            troubled.append((group, room, found))
    return troubled, proven


def hours_troubles(
    troubled: Sequence[Troubled],
    days: Mapping[date, PlanDay],
    people: Sequence[Person],
    limits: DayLimits,
    *,
    today: date,
) -> list[Trouble]:
    """Each of them in words, with what would make it fit."""
    # All of them together get the time that one would: a page is waited for.
    until, found = time.monotonic() + MOST_SECONDS, []
    for group, room, how in troubled:
        room_with = _RoomWith(group, days, people, limits)
        seconds = until - time.monotonic()
        found.append(hours_trouble(group, room, how, today=today, room_with=room_with, seconds=seconds))
    return found


@dataclass(frozen=True, slots=True)
class _RoomWith:
    """The hours that days have for the prep of a group, were one of its jobs out at other times.

    What other jobs have on the days stays as it was put.
    """

    group: Sequence[PlannedPrep]
    days: Mapping[date, PlanDay]
    people: Sequence[Person]
    limits: DayLimits

    def __call__(self, job: JobToPlan) -> dict[date, Day]:
        was = next(one.job for one in self.group if one.booking.pk == job.booking.pk)
        out: dict[date, int] = defaultdict(int)
        for sign, one in ((-1, was), (1, job)):
            for day, minutes in on_site(one.booking, one, limits=self.limits, zone=one.zone):
                out[day] += sign * minutes
        mine = {id(one) for one in self.group}
        room = {}
        for day, shown in self.days.items():
            others = sum(minutes for prep, minutes in shown.parts if id(prep) not in mine)
            busy = shown.on_site + out[day] + others
            room[day] = _room(day, shown.hours, busy, self.people, self.limits)
        return room


def _room(day: date, hours: int, busy: int, people: Sequence[Person], limits: DayLimits) -> Day:
    there = sum(1 for person in people if person.minutes_on(day)) or (limits.people if hours else 0)
    free = hours - busy
    return Day(max(free, 0), max(there * OVERTIME_MINUTES + min(free, 0), 0))


def _groups(preps: Sequence[PlannedPrep]) -> list[list[PlannedPrep]]:
    """Those of one job, and those that could share a day, were each begun as early as sealing allows, together."""
    groups: list[tuple[set[date | int], list[PlannedPrep]]] = []
    for one in preps:
        days: set[date | int] = {*one.prep.days, one.booking.pk}
        days |= {one.earliest + n * _DAY for n in range((one.prep.first - one.earliest).days)}
        members = [one]
        for group in [group for group in groups if group[0] & days]:
            groups.remove(group)
            days, members = days | group[0], [*group[1], *members]
        groups.append((days, members))
    return [members for _, members in groups]
