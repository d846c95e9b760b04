"""The demo's days: what one takes, who works when, the times of two jobs, and a date that is held for a client."""

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from bookings.actions.dates import hold_date
from bookings.actions.people import keep_week, put_on_the_job, take_days_off
from bookings.models import Booking, DayLimits
from studio.models import User

_DAYS_HELD = 5

# The job by its title: install from, the event's start and end, and strike from.
_TIMES: dict[str, tuple[time, time, time, time]] = {
    "Winter gala": (time(10), time(18), time(23, 30), time(0, 15)),
    "Barn wedding": (time(9), time(15), time(23), time(23, 30)),
}


_HOUR = 60

# Minutes from Monday to Sunday, by how they sign in. The studio prepares in the evenings and on Saturdays.
_WEEKS: dict[str, tuple[int, ...]] = {
    "mo": (0, 2 * _HOUR, 0, 0, _HOUR, 8 * _HOUR, 4 * _HOUR),
    "jan": (0, 0, 0, _HOUR, _HOUR // 2, 8 * _HOUR, 0),
}


def set_people(jobs: Iterable[Booking], *, by: User, today: date, at: datetime) -> None:
    """Everybody's week, Jan's days off before the gala, and both of them on what is booked."""
    people = {person.username: person for person in User.objects.filter(username__in=_WEEKS)}
    for name, person in people.items():
        keep_week(person=person, week=_WEEKS[name], by=by, at=at)
    booked = [job for job in jobs if Booking.objects.filter(pk=job.pk, stage=Booking.Stage.BOOKED).exists()]
    for job in booked:
        does = {"mo": "hangs", "jan": "drives the van"} if job.crew > 1 else {"mo": ""}
        put_on_the_job(booking=job, does={people[name]: words for name, words in does.items()}, by=by, at=at)
        if job.crew > 1 and job.event_on is not None:
            first = job.event_on - timedelta(days=3)
            take_days_off(person=people["jan"], first=first, last=first + timedelta(days=2), by=by, at=at)


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
