"""What there is to plan of a job: its pieces as they are estimated, the hours of its place, and its prep."""

from collections import defaultdict
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass
from datetime import date, time, tzinfo
from math import ceil

from django.db.models import QuerySet

from bookings.access import Access
from bookings.models import Booking, DayLimits, Piece, Place, Strike
from bookings.planning import Batch, Making, PrepWork, Window, loaded_on, prep_works, together, window_of
from bookings.queries.dates import diary_job
from bookings.queries.known import Known
from bookings.queries.site import MadeJob, made_of
from bookings.queries.sketches import with_sketches
from bookings.run_steps import MOMENTS, RunStep, Work, run_steps
from bookings.spreading import Prep
from estimating.afloat import UNTREATED_HOURS, hours_afloat
from estimating.hours import COLLECT_GAS, CUT_DECALS, Hours, minutes_by_part, part_of
from estimating.queries import PieceEstimate
from studio.money import shares


@dataclass(frozen=True, slots=True)
class JobToPlan:
    """A job with everything its plan follows from. `pairs` are its pieces with the days each may be made on."""

    booking: Booking
    made: MadeJob
    work: Work
    access: Access
    limits: DayLimits
    zone: tzinfo
    pairs: tuple[tuple[Batch, Window], ...]
    loaded: date

    @property
    def makings(self) -> list[Making]:
        """Its pieces, together where they are made on the same days."""
        return together(self.pairs)

    @property
    def works(self) -> list[PrepWork]:
        """Its prep: gas, decals, balloons, all as long as its price reckons with."""
        hours = self.made.estimate.hours
        return prep_works(
            self.makings,
            prep_on=self.booking.prep_day or self.loaded,
            gas_minutes=hours.minutes_of(COLLECT_GAS),
            decal_minutes=hours.minutes_of(CUT_DECALS),
        )

    def ready_by(self, at: time) -> "JobToPlan":
        """The same job, were it to be ready by another time."""
        moved = copy(self.booking)
        moved.ready_by = at
        return _job(moved, self.made, [batch for batch, _ in self.pairs], self.access, self.limits, self.zone)


@dataclass(frozen=True, slots=True)
class PlannedPrep:
    """Some prep of a job, and as it is put on days."""

    job: JobToPlan
    work: PrepWork
    prep: Prep

    @property
    def booking(self) -> Booking:
        """Whose it is."""
        return self.job.booking

    @property
    def earliest(self) -> date:
        """The first day it could be begun on, were its latex sealed inside."""
        making = self.work.making
        return self.prep.first if making is None else min(making.window.earliest, self.prep.first)


def is_going_on(booking: Booking, *, today: date, last: date) -> bool:
    """Whether a job is booked and has its event or its strike on a day from today to `last`."""
    days = [day for day in (booking.event_on, booking.strike_on) if day is not None]
    return booking.stage == Booking.Stage.BOOKED and any(today <= day <= last for day in days)


def with_its_place(jobs: QuerySet[Booking]) -> QuerySet[Booking]:
    """The jobs with their places and how they are taken down, in the same statement."""
    return jobs.select_related("its_place", "its_strike")


def access_of(booking: Booking) -> Access:
    """The hours of a booking's place, asked for where they were not read with it."""
    return Place.objects.of(booking).access


def made_jobs(jobs: Sequence[Booking], known: Known, *, currency: str) -> dict[int, MadeJob | None]:
    """Each job as it stands by its key, None for one without pieces, from what is `known_of_hours`."""
    kept: dict[int, list[Piece]] = defaultdict(list)
    for piece in with_sketches(Piece.objects.filter(booking__in=[job.pk for job in jobs]).order_by("position")):
        kept[piece.booking_id].append(piece)
    return {job.pk: made_of(job, kept[job.pk], currency, known, []) for job in jobs}


def job_to_plan(
    booking: Booking, made: MadeJob | None, *, limits: DayLimits, zone: tzinfo, access: Access | None = None
) -> JobToPlan | None:
    """A job as it is planned; None while it has no day or no pieces."""
    if made is None or booking.event_on is None:
        return None
    parts = minutes_by_part(made.estimate.hours)
    own = [sum(step.minutes for step in one.steps if part_of(step) in ("make", "own")) for one in made.estimate.pieces]
    total = parts.get("make", 0) + parts.get("own", 0)
    split = shares(total, own) if any(own) else [0] * len(own)
    batches = [_batch(one, minutes) for one, minutes in zip(made.estimate.pieces, split, strict=True)]
    return _job(booking, made, batches, access_of(booking) if access is None else access, limits, zone)


def _job(
    booking: Booking, made: MadeJob, batches: Sequence[Batch], access: Access, limits: DayLimits, zone: tzinfo
) -> JobToPlan:
    work, said = work_of(booking, made), booking.said
    pairs = tuple((batch, window_of(batch, said, work, zone=zone, access=access)) for batch in batches)
    loaded, _ = loaded_on(said, work, zone=zone, access=access)
    return JobToPlan(booking, made, work, access, limits, zone, pairs, loaded)


def _batch(one: PieceEstimate, minutes: int) -> Batch:
    """What bounds a piece: where it goes, and how long its floating latex floats, the one that comes down first."""
    floating = {
        balloon.size
        for balloon in one.piece.layout.balloons
        if balloon.gas == "helium" and not balloon.is_foil and balloon.size in UNTREATED_HOURS
    }
    name, outdoors = one.piece.name, one.materials.outdoors
    litres, decals = one.materials.total_of("gas"), one.materials.total_of("decal")
    latex = any(not balloon.is_foil for balloon in one.piece.layout.balloons)
    if not floating:
        return Batch(name, minutes, outdoors, litres=litres, decals=decals, latex=latex)
    is_sealed = bool(getattr(one.piece.spec, "sealed", False))
    floats = min(hours_afloat(size, sealed=is_sealed).least for size in floating)
    better = None if is_sealed else min(hours_afloat(size, sealed=True).least for size in floating)
    return Batch(name, minutes, outdoors, floats, better, litres, decals)


def work_of(booking: Booking, made: MadeJob | None) -> Work:
    """How long the parts of a job take its crew, by its estimate; as usual while nothing is made.

    What the decorator reckoned by hand, make and hang in one, is taken for making.
    """
    return Work(travel=booking.travel_minutes) if made is None else work_in(made.estimate.hours, booking.travel_minutes)


def work_in(hours: Hours, travel_minutes: int) -> Work:
    """How long the parts take on the clock with the crew of these hours."""
    parts, crew = minutes_by_part(hours), hours.crew
    return Work(
        travel=travel_minutes,
        install=ceil(parts.get("hang", 0) / crew),
        strike=ceil(parts.get("strike", 0) / crew),
        prep=ceil((parts.get("make", 0) + parts.get("own", 0)) / crew),
    )


def preps_of(job: JobToPlan, *, today: date) -> list[PlannedPrep]:
    """Its prep from today on; none once the van is loaded. What should have been done before is to be done today."""
    if job.loaded < today:
        return []
    return [PlannedPrep(job, work, _prep(job, work, today)) for work in job.works]


def _prep(job: JobToPlan, work: PrepWork, today: date) -> Prep:
    first, last, best = (max(day, today) for day in (work.first, work.last, work.best))
    title = job.booking.shown_title
    return Prep(job.booking.pk, title, work.minutes, first, last, best, work.key, work.after)


def on_site(booking: Booking, job: JobToPlan | None, *, limits: DayLimits, zone: tzinfo) -> list[tuple[date, int]]:
    """Person-minutes on site and on the way by day: of the steps as they are timed, else as the diary reckons them."""
    steps = [] if job is None else [step for step in site_steps(job) if not step.is_prep]
    if job is None or not steps or any(step.begins is None for step in steps):
        works = diary_job(booking, limits=limits, zone=zone).works
        return [(work.day, work.minutes) for work in works if work.people]
    return [(step.day, (step.minutes or 0) * people_for(booking, step)) for step in steps]


def site_steps(job: JobToPlan) -> list[RunStep]:
    """The steps from loading the van until it is home, without the event."""
    steps = run_steps(job.booking.said, job.work, zone=job.zone, access=job.access, prep=())
    return [step for step in steps if step.what not in MOMENTS]


def people_for(booking: Booking, step: RunStep) -> int:
    """How many a step on site takes: the crew, and for the strike as many as were said."""
    return (Strike.objects.of(booking).people if step.is_strike else None) or booking.crew


def later_times(booking: Booking) -> list[time]:
    """Every quarter of an hour after the time it must be ready by, until the event starts or the day ends."""
    if booking.ready_by is None:
        return []
    until = booking.starts_at or time(23, 45)
    first = booking.ready_by.hour * 60 + booking.ready_by.minute
    quarters = range(first - first % 15 + 15, 24 * 60, 15)
    return [at for n in quarters if (at := time(n // 60, n % 60)) <= until]
