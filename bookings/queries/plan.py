"""The plan: the prep of every booked job spread over people's hours, and what does not fit. No amount is in it."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta, tzinfo
from itertools import groupby
from typing import NamedTuple

from bookings.diary import long_day
from bookings.models import Booking, DayLimits
from bookings.planning import Batch, Window, loaded_on, together, window_of
from bookings.queries.dates import diary_job, with_standing
from bookings.queries.people import staff
from bookings.queries.run_sheet import work_of
from bookings.queries.site import MadeJob, made_job, made_jobs
from bookings.run_steps import RunStep, run_steps
from bookings.spreading import Cure, Day, Prep, Spread, cures, spread
from bookings.staffing import Person
from estimating.afloat import UNTREATED_HOURS, hours_afloat
from estimating.hours import minutes_by_part, part_of
from estimating.queries import PieceEstimate
from studio.models import Studio
from studio.money import shares
from studio.templatetags.look import clock

WEEKS = 8
OVERTIME_MINUTES = 120
"""How long anybody may stay on (common practice, no source)."""

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class PlannedBatch:
    """Pieces of a job that are made on the same days."""

    booking: Booking
    names: tuple[str, ...]
    window: Window
    prep: Prep


@dataclass(slots=True)
class PlanDay:
    """A day: minutes people have, are out on site, have of prep and of overtime, and which jobs' prep that is."""

    day: date
    hours: int
    on_site: int
    prep: int = 0
    overtime: int = 0
    parts: list[tuple[PlannedBatch, int]] = field(default_factory=list)
    out: list[Booking] = field(default_factory=list)

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


class Trouble(NamedTuple):
    """What does not fit, in a sentence, and what would each alone make it fit."""

    sentence: str
    bookings: tuple[Booking, ...]
    cures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """The weeks ahead. `nobody` says why hours are taken from the limits of a day."""

    days: tuple[PlanDay, ...]
    troubles: tuple[Trouble, ...]
    notes: tuple[str, ...]
    batches: tuple[PlannedBatch, ...]
    nobody: str
    is_proven: bool


def batches_of(booking: Booking, made: MadeJob, *, zone: tzinfo) -> list[tuple[Batch, Window]]:
    """Each piece of a job with its minutes and the days it may be made on."""
    parts = minutes_by_part(made.estimate.hours)
    own = [sum(step.minutes for step in one.steps if part_of(step) in ("make", "own")) for one in made.estimate.pieces]
    total = parts.get("make", 0) + parts.get("own", 0)
    split = shares(total, own) if any(own) else [0] * len(own)
    work = work_of(booking, made)
    batches = [_batch(one, minutes) for one, minutes in zip(made.estimate.pieces, split, strict=True)]
    return [(batch, window_of(batch, booking.said, work, zone=zone)) for batch in batches]


def _batch(one: PieceEstimate, minutes: int) -> Batch:
    """What bounds a piece: where it goes, and how long its floating latex floats, the one that comes down first."""
    floating = {
        balloon.size
        for balloon in one.piece.layout.balloons
        if balloon.gas == "helium" and not balloon.is_foil and balloon.size in UNTREATED_HOURS
    }
    name, outdoors = one.piece.name, one.materials.outdoors
    if not floating:
        return Batch(name, minutes, outdoors)
    is_sealed = bool(getattr(one.piece.spec, "sealed", False))
    floats = min(hours_afloat(size, sealed=is_sealed).least for size in floating)
    better = None if is_sealed else min(hours_afloat(size, sealed=True).least for size in floating)
    return Batch(name, minutes, outdoors, floats, better)


def plan(*, today: date, studio: Studio, zone: tzinfo) -> Plan:
    """Every booked job of the weeks ahead, its prep spread over people's hours, all of them at once."""
    last = today + timedelta(weeks=WEEKS)
    limits, people = DayLimits.objects.current(), staff()
    booked = Booking.objects.going_ahead().filter(event_on__gte=today, event_on__lte=last)
    jobs = list(with_standing(booked, today=today).order_by("event_on", "pk"))
    made = made_jobs(jobs, currency=studio.currency)
    notes, batches = _planned(jobs, made, today=today, zone=zone)
    days = _days(jobs, people, limits, today=today, last=last, zone=zone)
    troubles, is_proven = _spread(batches, days, people, limits)
    shown = tuple(day for day in days.values() if day.busy)
    notes += [f"{long_day(day.day)} takes {clock(day.overtime)} of overtime." for day in shown if day.overtime]
    notes += [
        f"{long_day(day.day)} takes {clock(day.on_site)} on site, and people have {clock(day.hours)}."
        for day in shown
        if day.on_site > day.hours
    ]
    nobody = "" if any(any(person.week) for person in people) else _nobody(limits)
    return Plan(shown, tuple(troubles), tuple(notes), tuple(batches), nobody, is_proven)


def _nobody(limits: DayLimits) -> str:
    people = "1 person" if limits.people == 1 else f"{limits.people} people"
    return f"Nobody’s hours are written down, so every day is taken for {people} of {limits.hours} hours."


def _planned(
    jobs: Sequence[Booking], made: dict[int, MadeJob | None], *, today: date, zone: tzinfo
) -> tuple[list[str], list[PlannedBatch]]:
    notes, found = [], []
    for job in jobs:
        of_job = made[job.pk]
        if of_job is None:
            notes.append(f"{job.shown_title} has no pieces yet, so its prep is not in the plan.")
            continue
        if job.ready_by is None and job.starts_at is None:
            notes.append(f"{job.shown_title} has no time to be ready by: it is planned by its day alone.")
        loaded, _ = loaded_on(job.said, work_of(job, of_job), zone=zone)
        if loaded < today:
            continue
        pairs = batches_of(job, of_job, zone=zone)
        notes += [
            f"{job.shown_title}, {batch.name}: {window.why} {window.too_late}"
            for batch, window in pairs
            if window.too_late
        ]
        for window, minutes, names in together(pairs):
            first, last = max(window.first, today), max(window.last, today)
            if minutes:
                found.append(PlannedBatch(job, names, window, Prep(job.pk, job.shown_title, minutes, first, last)))
    return notes, found


def _days(
    jobs: Sequence[Booking], people: Sequence[Person], limits: DayLimits, *, today: date, last: date, zone: tzinfo
) -> dict[date, PlanDay]:
    """Every day with the hours there are and the time on site, as the diary reckons it."""
    usual = 0 if any(any(person.week) for person in people) else limits.people * limits.hours * 60
    days = {
        day: PlanDay(day, usual or sum(person.minutes_on(day) for person in people), 0)
        for day in (today + n * _DAY for n in range((last - today).days + 1))
    }
    for job in jobs:
        for work in diary_job(job, limits=limits, zone=zone).works:
            if work.people and work.day in days:
                days[work.day].on_site += work.minutes
                days[work.day].out += [] if job in days[work.day].out else [job]
    return days


def _spread(
    batches: Sequence[PlannedBatch], days: dict[date, PlanDay], people: Sequence[Person], limits: DayLimits
) -> tuple[list[Trouble], bool]:
    """Put prep on the days. Jobs that share no day are solved apart: neither takes anything from the other."""
    room = {day: _room(shown, people, limits) for day, shown in days.items()}
    troubles, proven = [], True
    for group in _groups(batches):
        preps = [one.prep for one in group]
        found = spread(preps, room)
        proven = proven and found.is_proven
        for (n, day), minutes in sorted(found.parts.items(), key=lambda part: (part[0][1], part[0][0])):
            days[day].prep += minutes
            days[day].parts.append((group[n], minutes))
        for day, minutes in found.overtime.items():
            days[day].overtime += minutes
        if found.left_over:
            troubles.append(_trouble(group, preps, room, found))
    return troubles, proven


def _room(day: PlanDay, people: Sequence[Person], limits: DayLimits) -> Day:
    there = sum(1 for person in people if person.minutes_on(day.day)) or (limits.people if day.hours else 0)
    free = day.hours - day.on_site
    return Day(max(free, 0), max(there * OVERTIME_MINUTES + min(free, 0), 0))


def _groups(batches: Sequence[PlannedBatch]) -> list[list[PlannedBatch]]:
    """Those that could share a day, were each begun as early as sealing allows, together."""
    groups: list[tuple[set[date], list[PlannedBatch]]] = []
    for one in batches:
        days = set(one.prep.days)
        begin = min(one.window.earliest, one.prep.first)
        days |= {begin + n * _DAY for n in range((one.prep.first - begin).days)}
        members = [one]
        for group in [group for group in groups if group[0] & days]:
            groups.remove(group)
            days, members = days | group[0], [*group[1], *members]
        groups.append((days, members))
    return [members for _, members in groups]


def _trouble(group: list[PlannedBatch], preps: list[Prep], room: dict[date, Day], found: Spread) -> Trouble:
    lacking: dict[str, int] = defaultdict(int)
    for n, minutes in found.left_over.items():
        lacking[preps[n].name] += minutes
    first = min(preps[n].first for n in found.left_over)
    last = max(preps[n].last for n in found.left_over)
    when = long_day(last) if first == last else f"{long_day(first)} to {long_day(last)}"
    over = ", ".join(f"{clock(minutes)} of {name}" for name, minutes in lacking.items())
    sentence = f"{when} is {clock(sum(lacking.values()))} over: {over} finds no place, even with all overtime."
    earliest = {n: max(one.window.earliest, min(room)) for n, one in enumerate(group)}
    would = tuple(_cure_words(cure, group) for cure in cures(preps, room, found, earliest=earliest))
    jobs = {group[n].booking.pk: group[n].booking for n in found.left_over}
    return Trouble(sentence, tuple(jobs.values()), would)


def _cure_words(cure: Cure, group: Sequence[PlannedBatch]) -> str:
    if cure.day is not None:
        return f"It fits with {clock(cure.minutes)} more on {long_day(cure.day)}: somebody else, or a longer day."
    assert cure.job is not None
    one = group[cure.job]
    if cure.begin is not None:
        return f"It fits if the latex of {one.prep.name} is sealed inside and begun on {long_day(cure.begin)}."
    return f"It fits without {' and '.join(one.names)} of {one.prep.name}."


class JobPlan(NamedTuple):
    """The plan of one job: its pieces with their days, minutes and names, and its other steps by day."""

    windows: list[tuple[Window, int, tuple[str, ...]]]
    steps: list[tuple[date, list[RunStep]]]


def job_plan(booking: Booking, *, studio: Studio, zone: tzinfo) -> JobPlan:
    """One job planned backwards; without a day or without pieces nothing is known of its making."""
    made = made_job(booking, currency=studio.currency)
    steps = [step for step in run_steps(booking.said, work_of(booking, made), zone=zone) if step.begins is not None]
    by_day = [(day, list(of_day)) for day, of_day in groupby(steps, key=lambda step: step.day)]
    if made is None or booking.event_on is None:
        return JobPlan([], by_day)
    return JobPlan(together(batches_of(booking, made, zone=zone)), by_day)
