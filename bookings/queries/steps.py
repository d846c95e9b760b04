"""The steps of a job as it is planned, with who does each: the same for its page, its run sheet and people's days."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from bookings.diary import short_day
from bookings.models import Booking
from bookings.planning import GAS, INFLATE, ORDER, PrepWork
from bookings.queries.people import Hands
from bookings.queries.pictured import isolated
from bookings.queries.planned import JobToPlan, PlannedPrep, people_for
from bookings.run_steps import MOMENTS, RunStep, run_steps
from bookings.staffing import names_of, who_goes, who_prepares
from stock.queries import cover_board

NO_PLACE = "finds no place in anybody’s hours"

MOST_NAMED = 3
"""How many items an order names before it counts the rest."""


def orders_of(
    jobs: Collection[int], hands: Hands, *, today: date, weeks: int, items: Collection[int] | None = None
) -> dict[int, list[RunStep]]:
    """By when what booked jobs lack must be ordered, by their keys: the day it runs out for them less the lead days.

    What can no longer come in time, or nobody sells, is for today, and says so. Where only some of the jobs are looked
    at, `items` are the keys of all they were promised.
    """
    wanted: dict[int, dict[tuple[date, str], list[str]]] = defaultdict(lambda: defaultdict(list))
    for row in cover_board(today, weeks=weeks, item_ids=items).short_rows:
        for hit in row.cover.hit:
            if hit.booking in jobs:
                lead = row.cover.lead_days
                last = None if lead is None else hit.day - timedelta(days=lead)
                what = f"{isolated(row.item.label)} ({hit.short:,} short)"
                wanted[hit.booking][_when(last, row.is_on_plan, today)].append(what)
    who, keys = names_of(hands.owners, "or"), tuple(person.key for person in hands.owners)
    return {
        booking: [
            RunStep(ORDER, day, note=_some(items) + said, who=who, people=keys)
            for (day, said), items in sorted(by_day.items())
        ]
        for booking, by_day in wanted.items()
    }


def _when(last: date | None, is_on_plan: bool, today: date) -> tuple[date, str]:
    """The day to order on, and what there is to say of it."""
    if last is None:
        return today, ": nobody is known to sell it"
    if last < today:
        return today, f": {short_day(last)} was the last day to order, so look for a stand-in"
    return last, ": on an order that is not placed yet" if is_on_plan else ""


def _some(items: Sequence[str]) -> str:
    more = len(items) - MOST_NAMED
    return f"{', '.join(items[:MOST_NAMED])} and {more} more" if more > 0 else ", ".join(items)


def prep_step(prep: PlannedPrep, day: date, minutes: int, hands: Hands) -> RunStep:
    """Some prep on a day. What is inflated is everybody's, the rest one person's."""
    # A quarter of an hour is the least the plan counts in, and more than there may be.
    return _step(prep.booking, prep.work, day, min(minutes, prep.work.minutes), hands)


def left_over_step(prep: PlannedPrep, day: date, minutes: int, hands: Hands) -> RunStep:
    """Some prep that finds no place, on the last day it could be done on; whoever is on the job is told."""
    keys = tuple(person.key for person in hands.on_job(prep.booking))
    taken = min(minutes, prep.work.minutes)
    return RunStep(prep.work.what, day, minutes=taken, note=prep.work.note, who=NO_PLACE, people=keys)


def on_best_days(job: JobToPlan, hands: Hands) -> list[RunStep]:
    """The prep of a job that is not in the plan of the weeks ahead, all of each on its best day."""
    return [_step(job.booking, work, work.best, work.minutes, hands) for work in job.works]


def _step(booking: Booking, work: PrepWork, day: date, minutes: int, hands: Hands) -> RunStep:
    people = who_prepares(day, hands.on_job(booking), hands.everybody)
    who = names_of(people, "and" if work.what == INFLATE else "or")
    keys = tuple(person.key for person in people)
    return RunStep(work.what, day, minutes=minutes, note=work.note, who=who, people=keys)


def steps_of(booking: Any, job: JobToPlan, prep: Sequence[RunStep], hands: Hands) -> list[RunStep]:
    """Everything there is to do for a job, in order, with who does it."""
    steps = run_steps(booking.said, job.work, zone=job.zone, access=job.access, prep=in_order(prep))
    return with_who(booking, steps, hands)


def with_who(booking: Any, steps: Iterable[RunStep], hands: Hands) -> list[RunStep]:
    """The steps with who goes: to what is on site, those who are on the job."""
    on = hands.on_job(booking)
    keys = tuple(person.key for person in on)
    return [
        step
        if step.is_prep and step.who
        else replace(step, people=keys)
        if step.what in MOMENTS
        else replace(step, who=who_goes(on, people_for(booking, step)), people=keys)
        for step in steps
    ]


def in_order(steps: Iterable[RunStep]) -> list[RunStep]:
    """Prep by day; of one day, what is ordered and collected first."""
    first = {ORDER: 0, GAS: 1}
    return sorted(steps, key=lambda step: (step.day, step.what == INFLATE, first.get(step.what, 2)))
