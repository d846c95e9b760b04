"""The plan of one job, and its steps: those of the plan of the weeks ahead, or by itself where it is in none."""

from collections.abc import Iterable, Sequence
from datetime import date, tzinfo
from itertools import groupby
from typing import NamedTuple

from bookings.models import Booking, DayLimits
from bookings.planning import Making
from bookings.queries.known import Known, known_of_hours
from bookings.queries.people import hands_for
from bookings.queries.plan import EarlyStart, last_planned, other_troubles, plan
from bookings.queries.planned import is_going_on, job_to_plan, work_of
from bookings.queries.site import MadeJob, made_anew, made_job
from bookings.queries.steps import on_best_days, steps_of, with_who
from bookings.queries.troubles import Trouble
from bookings.run_steps import RunStep, run_steps
from stock.models import Item, KitPromise
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
    limits = DayLimits.objects.current()
    if is_going_on(booking, today=today, last=last_planned(today)):
        whole = plan(today=today, studio=studio, zone=zone, limits=limits)
        if booking.pk in whole.steps:
            planned = whole.planned[booking.pk]
            makings = [] if planned is None else planned.makings
            troubles = [one for one in whole.troubles if booking.pk in {other.pk for other in one.bookings}]
            early = next((one for one in whole.early if one.booking.pk == booking.pk), None)
            return JobPlan(makings, by_day(whole.steps[booking.pk]), troubles, early, True)
    known = known_of_hours()
    made = made_job(booking, currency=studio.currency, known=known)
    job = job_to_plan(booking, made, limits=limits, zone=zone)
    alone = []
    if job is not None and job.loaded >= today:
        alone = other_troubles([job], crew_exponent=known.rates.crew_exponent)
    makings, steps = [] if job is None else job.makings, steps_alone(booking, made, limits=limits, zone=zone)
    return JobPlan(makings, by_day(steps), alone, None, False)


def made_and_planned(
    booking: Booking,
    known: Known,
    limits: DayLimits,
    *,
    promised: Sequence[KitPromise],
    held: Sequence[Item],
    today: date,
    studio: Studio,
    zone: tzinfo,
) -> tuple[MadeJob | None, list[RunStep]]:
    """A job as it is made, None while it has no pieces, and its steps as the plan of the weeks ahead has them; where it
    is not in it, by the job itself.

    What estimates stand on is `known`; `held` are the items it was promised, and `promised` is its kit.
    """
    if is_going_on(booking, today=today, last=last_planned(today)):
        whole = plan(
            today=today,
            studio=studio,
            zone=zone,
            with_troubles=False,
            known=known,
            limits=limits,
            orders_for=[item.pk for item in held],
        )
        if booking.pk in whole.steps:
            job = whole.planned[booking.pk]
            made = None if job is None else made_anew(job.made, booking, studio.currency, known, promised)
            return made, list(whole.steps[booking.pk])
    made = made_job(booking, currency=studio.currency, known=known, promised=promised)
    return made, steps_alone(booking, made, limits=limits, zone=zone)


def steps_alone(booking: Booking, made: MadeJob | None, *, limits: DayLimits, zone: tzinfo) -> list[RunStep]:
    """The steps of a job that is in no plan: each of its prep on its best day."""
    hands = hands_for([booking])
    job = job_to_plan(booking, made, limits=limits, zone=zone)
    if job is None:
        return with_who(booking, run_steps(booking.said, work_of(booking, made), zone=zone), hands)
    return steps_of(booking, job, on_best_days(job, hands), hands)


def by_day(steps: Iterable[RunStep]) -> list[tuple[date, list[RunStep]]]:
    """The steps by their days, the event itself with its day; in the order they are done."""
    return [(day, list(of_day)) for day, of_day in groupby(steps, key=lambda step: step.day)]
