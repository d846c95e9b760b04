"""The plan: the prep of every booked job spread over people's hours, and what does not fit. No amount is in it."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta, tzinfo
from decimal import Decimal
from itertools import groupby
from typing import NamedTuple

from bookings.diary import long_day, short_day
from bookings.models import Booking, DayLimits
from bookings.queries.allergies import allergies_of
from bookings.queries.dates import live_between
from bookings.queries.known import Known, known_of_hours
from bookings.queries.people import Hands, cannot_go_of, hands_for
from bookings.queries.pictured import isolated
from bookings.queries.plan_days import PlanDay, days_of, hours_troubles, spread_over
from bookings.queries.planned import (
    JobToPlan,
    PlannedPrep,
    is_going_on,
    job_to_plan,
    made_jobs,
    preps_of,
    with_its_place,
    work_of,
)
from bookings.queries.steps import left_over_step, orders_of, prep_step, steps_of, with_who
from bookings.queries.troubles import Trouble, access_troubles, helium_troubles, sun_troubles
from bookings.run_steps import MOMENTS, RunStep, run_steps
from bookings.staffing import CannotGo
from studio.models import Studio
from studio.templatetags.look import clock

WEEKS = 8


class EarlyStart(NamedTuple):
    """A job whose prep begins before its prep day: the shelf holds nothing for it then."""

    booking: Booking
    begins: date

    @property
    def sentence(self) -> str:
        """“Prep of Winter gala begins on Thu 10 Dec, and the shelf holds its balloons for Fri 11 Dec.”"""
        assert self.booking.prep_day is not None
        held = short_day(self.booking.prep_day)
        name = isolated(self.booking.shown_title)
        return f"Prep of {name} begins on {short_day(self.begins)}, and the shelf holds its balloons for {held}."


@dataclass(frozen=True, slots=True)
class Plan:
    """The weeks ahead. `nobody` says why hours are taken from the limits of a day, `cannot_go` who cannot go where.

    `steps` are those of each job by its key, as its own page and its run sheet have them; `planned` is what each was
    planned by, None where it has no pieces; `allergies` what a list says of those with any.
    """

    days: tuple[PlanDay, ...]
    troubles: tuple[Trouble, ...]
    early: tuple[EarlyStart, ...]
    cannot_go: tuple[CannotGo, ...]
    notes: tuple[str, ...]
    preps: tuple[PlannedPrep, ...]
    steps: Mapping[int, tuple[RunStep, ...]]
    planned: Mapping[int, JobToPlan | None]
    jobs: Mapping[int, Booking]
    allergies: Mapping[int, str]
    hands: Hands
    nobody: str
    is_proven: bool


def last_planned(today: date) -> date:
    """The last day that is planned."""
    return today + timedelta(weeks=WEEKS)


def plan(
    *,
    today: date,
    studio: Studio,
    zone: tzinfo,
    with_troubles: bool = True,
    known: Known | None = None,
    limits: DayLimits | None = None,
    orders_for: Collection[int] | None = None,
) -> Plan:
    """Every booked job of the weeks ahead, its prep spread over people's hours, all of them at once.

    What would make fit what does not is looked for by solving again, many times; without `with_troubles` it is not.
    What has to be ordered is looked up for every job, or only where it is among these items. What estimates stand on
    is `known`, and the `limits` of a day are read, where the caller has not.
    """
    last, limits = last_planned(today), limits or DayLimits.objects.current()
    live = list(with_its_place(live_between(today, last, today=today)).order_by("event_on", "pk"))
    jobs = [job for job in live if is_going_on(job, today=today, last=last)]
    hands = hands_for(live)
    known = known_of_hours(known)
    made = made_jobs(jobs, known, currency=studio.currency)
    planned = {job.pk: job_to_plan(job, made[job.pk], limits=limits, zone=zone) for job in jobs}
    preps = [prep for job in planned.values() if job is not None for prep in preps_of(job, today=today)]
    days = days_of(jobs, planned, hands, limits, today=today, last=last, zone=zone)
    troubled, is_proven = spread_over(preps, days, hands.everybody, limits)
    steps = _steps(jobs, planned, days, hands, today=today, zone=zone, orders_for=orders_for)
    for job in jobs:
        _show(job, steps[job.pk], days)
    shown = tuple(day for day in days.values() if day.busy or day.rows or day.out)
    nobody = "" if any(any(person.week) for person in hands.everybody) else _nobody(limits)
    troubles: list[Trouble] = []
    if with_troubles:
        ahead = [job for job in planned.values() if job is not None and job.loaded >= today]
        troubles = hours_troubles(troubled, days, hands.everybody, limits, today=today)
        troubles += other_troubles(ahead, crew_exponent=known.rates.crew_exponent)
    return Plan(
        days=shown,
        troubles=tuple(troubles),
        early=tuple(_early(preps, days.values())),
        cannot_go=tuple(cannot_go_of(live, hands, first=today, last=last, zone=zone, limits=limits)),
        notes=tuple(_notes(jobs, planned, shown)),
        preps=tuple(preps),
        steps=steps,
        planned=planned,
        jobs={job.pk: job for job in jobs},
        allergies={job.pk: said for job in jobs if (said := allergies_of(job).badge)},
        hands=hands,
        nobody=nobody,
        is_proven=is_proven,
    )


def _show(job: Booking, steps: Sequence[RunStep], days: Mapping[date, PlanDay]) -> None:
    """Put the steps of a job on their days: prep one by one, what is on site together."""
    for day, of_day in groupby(steps, key=lambda step: step.day):
        if day not in days:
            continue
        there = [step for step in of_day if step.what not in MOMENTS]
        days[day].rows += [(job, step) for step in there if step.is_prep]
        if out := [step for step in there if not step.is_prep]:
            days[day].out.append((job, out))


def _nobody(limits: DayLimits) -> str:
    people = "1 person" if limits.people == 1 else f"{limits.people} people"
    return f"Nobody’s hours are written down, so every day is taken for {people} of {limits.hours} hours."


def other_troubles(jobs: Sequence[JobToPlan], *, crew_exponent: Decimal) -> list[Trouble]:
    """What does not fit within the hours of a place, or would come down or burst too early."""
    found = [trouble for job in jobs for trouble in (*helium_troubles(job), *sun_troubles(job))]
    return found + [trouble for job in jobs for trouble in access_troubles(job, crew_exponent=crew_exponent)]


def _notes(jobs: Sequence[Booking], known: Mapping[int, JobToPlan | None], shown: Sequence[PlanDay]) -> list[str]:
    notes = []
    for job in jobs:
        name = isolated(job.shown_title)
        if known[job.pk] is None:
            notes.append(f"{name} has no pieces yet, so its prep is not in the plan.")
        elif job.ready_by is None and job.starts_at is None:
            notes.append(f"{name} has no time to be ready by: it is planned by its day alone.")
    notes += [f"{long_day(day.day)} takes {clock(day.overtime)} of overtime." for day in shown if day.overtime]
    return notes + [
        f"{long_day(day.day)} takes {clock(day.on_site)} on site, and people have {clock(day.hours)}."
        for day in shown
        if day.on_site > day.hours
    ]


def _early(preps: Sequence[PlannedPrep], days: Iterable[PlanDay]) -> list[EarlyStart]:
    """Each job of which something is done before its prep day."""
    begins: dict[int, date] = {}
    for day in days:
        for prep, _ in day.parts:
            begins.setdefault(prep.booking.pk, day.day)
    jobs = {one.booking.pk: one.booking for one in preps}
    return [
        EarlyStart(jobs[key], first)
        for key, first in begins.items()
        if (held := jobs[key].prep_day) is not None and first < held
    ]


def _steps(
    jobs: Sequence[Booking],
    known: Mapping[int, JobToPlan | None],
    days: Mapping[date, PlanDay],
    hands: Hands,
    *,
    today: date,
    zone: tzinfo,
    orders_for: Collection[int] | None,
) -> dict[int, tuple[RunStep, ...]]:
    """The steps of each job, its prep on the days it was put on."""
    prep: dict[int, list[RunStep]] = defaultdict(list)
    if jobs:
        prep.update(orders_of({job.pk for job in jobs}, hands, today=today, weeks=WEEKS + 1, items=orders_for))
    for day in days.values():
        for part, minutes in day.parts:
            prep[part.booking.pk].append(prep_step(part, day.day, minutes, hands))
        for part, minutes in day.left_over:
            prep[part.booking.pk].append(left_over_step(part, day.day, minutes, hands))
    found = {}
    for job in jobs:
        one = known[job.pk]
        if one is None:
            found[job.pk] = tuple(with_who(job, run_steps(job.said, work_of(job, None), zone=zone), hands))
        else:
            found[job.pk] = tuple(steps_of(job, one, prep[job.pk], hands))
    return found
