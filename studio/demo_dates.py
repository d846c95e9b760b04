"""The demo's days: what one takes, the times of two jobs, and a date that is held for a client."""

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from bookings.actions.dates import hold_date
from bookings.models import Booking, DayLimits
from studio.models import User

_DAYS_HELD = 5

# The job by its title: install from, the event's start and end, and strike from.
_TIMES: dict[str, tuple[time, time, time, time]] = {
    "Winter gala": (time(10), time(18), time(23, 30), time(0, 15)),
    "Barn wedding": (time(9), time(15), time(23), time(23, 30)),
}


def set_dates(jobs: Iterable[Booking], *, by: User, today: date, at: datetime) -> None:
    """Two jobs get their times; the first quoted job's date is held for its client."""
    DayLimits.objects.create(pk=1, jobs=2, people=3, hours=10, vans=1, week_start=DayLimits.WeekStart.SUNDAY)
    jobs = list(jobs)
    for job in jobs:
        if job.title in _TIMES:
            job.install_at, job.starts_at, job.ends_at, job.strike_at = _TIMES[job.title]
            job.save(update_fields=["install_at", "starts_at", "ends_at", "strike_at"])
    waiting = Booking.objects.filter(pk__in=[job.pk for job in jobs], stage=Booking.Stage.QUOTED).order_by("pk").first()
    if waiting is not None:
        hold_date(booking=waiting, until=today + timedelta(days=_DAYS_HELD), today=today, by=by, at=at)
