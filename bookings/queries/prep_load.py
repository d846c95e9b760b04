"""How much work the booked jobs of the next days are, by the day it has to be prepared on."""

from dataclasses import dataclass
from datetime import date
from itertools import groupby

from bookings.models import Booking
from bookings.queries.estimates import booking_estimate


@dataclass(frozen=True, slots=True)
class PrepJob:
    """A booked job and the person-minutes of it, as on its own page; None while it has no pieces."""

    booking: Booking
    minutes: int | None


@dataclass(frozen=True, slots=True)
class PrepDay:
    """The jobs with their prep on one day."""

    day: date
    jobs: tuple[PrepJob, ...]

    @property
    def minutes(self) -> int:
        """Person-minutes of all of them."""
        return sum(job.minutes or 0 for job in self.jobs)


def prep_load(*, today: date, until: date, currency: str) -> list[PrepDay]:
    """The days from `today` to `until` on which booked jobs are prepared; each job is estimated as on its page."""
    jobs = (
        Booking.objects.going_ahead()
        .filter(needed_on__gte=today, needed_on__lte=until)
        .select_related("client")
        .order_by("needed_on", "pk")
    )
    return [
        PrepDay(day, tuple(PrepJob(job, _minutes(job, currency)) for job in of_day))
        for day, of_day in groupby(jobs, key=lambda job: job.needed_on)
        if day is not None
    ]


def _minutes(booking: Booking, currency: str) -> int | None:
    estimate = booking_estimate(booking, currency=currency)
    return None if estimate is None else estimate.person_minutes
