"""The plan of one job, and its steps: those of the plan of the weeks ahead, or by itself where it is in none."""

from collections.abc import Iterable
from datetime import date, tzinfo
from itertools import groupby
from typing import NamedTuple

from bookings.models import Booking, DayLimits
from bookings.planning import Making
from bookings.queries.people import hands_for
from bookings.queries.plan import EarlyStart, last_planned, other_troubles, plan
from bookings.queries.planned import is_going_on, job_to_plan, work_of
from bookings.queries.site import MadeJob, made_job
from bookings.queries.steps import on_best_days, steps_of, with_who
from bookings.queries.troubles import Trouble
from bookings.run_steps import RunStep, run_steps
from estimating.models import Rates
from studio.models import Studio


class JobPlan(NamedTuple):
    """The plan of one job: its pieces with the days they may be made on, and its steps by day.

    `troubles` and `early` are of this job; `is_planned` says that its prep was put on days with that of all others.
    """

    makings: list[Making]
    steps: list[tuple[date, list[RunStep]]]
    troubles: list[Trouble]
    early: EarlyStart | None
    is_planned: bool


def job_plan(booking: Booking, *, today: date, studio: Studio, zone: tzinfo) -> JobPlan:
    """One job planned backwards: within the plan of the weeks ahead where it is in it, else by itself."""
    made = made_job(booking, currency=studio.currency)
    job = job_to_plan(booking, made, limits=DayLimits.objects.current(), zone=zone)
    makings = [] if job is None else job.makings
    if is_going_on(booking, today=today, last=last_planned(today)):
        whole = plan(today=today, studio=studio, zone=zone)
        if booking.pk in whole.steps:
            troubles = [one for one in whole.troubles if booking.pk in {other.pk for other in one.bookings}]
            early = next((one for one in whole.early if one.booking.pk == booking.pk), None)
            return JobPlan(makings, by_day(whole.steps[booking.pk]), troubles, early, True)
    alone = []
    if job is not None and job.loaded >= today:
        alone = other_troubles([job], crew_exponent=Rates.objects.current().crew_exponent)
    return JobPlan(makings, by_day(steps_alone(booking, made, zone=zone)), alone, None, False)


def steps_of_job(booking: Booking, made: MadeJob | None, *, today: date, studio: Studio, zone: tzinfo) -> list[RunStep]:
    """The steps of a job as the plan of the weeks ahead has them; where it is not in it, by the job itself."""
    if is_going_on(booking, today=today, last=last_planned(today)):
        found = plan(today=today, studio=studio, zone=zone, with_troubles=False).steps.get(booking.pk)
        if found is not None:
            return list(found)
    return steps_alone(booking, made, zone=zone)


def steps_alone(booking: Booking, made: MadeJob | None, *, zone: tzinfo) -> list[RunStep]:
    """The steps of a job that is in no plan: each of its prep on its best day."""
    hands = hands_for([booking])
    job = job_to_plan(booking, made, limits=DayLimits.objects.current(), zone=zone)
    if job is None:
        return with_who(booking, run_steps(booking.said, work_of(booking, made), zone=zone), hands)
    return steps_of(booking, job, on_best_days(job, hands), hands)


def by_day(steps: Iterable[RunStep]) -> list[tuple[date, list[RunStep]]]:
    """The steps by their days, the event itself with its day; in the order they are done."""
    return [(day, list(of_day)) for day, of_day in groupby(steps, key=lambda step: step.day)]
