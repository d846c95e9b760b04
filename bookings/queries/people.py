"""The people of the studio: when they work, who is on which job, and what each has to do. No amount is in it."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta, tzinfo

from bookings.models import Booking, DayLimits, DayOff, OnTheJob, WorkDay
from bookings.queries.dates import LIVE, between, diary_job, with_standing
from bookings.queries.entries import Entry
from bookings.queries.known import may_have
from bookings.staffing import WEEK, CannotGo, Person, Turn, cannot_go
from bookings.timetable import timetable
from studio.models import User

MY_WEEKS = 6
_DAY = timedelta(days=1)


def everybody() -> list[User]:
    """Who works here: every account that is not closed, by name."""
    return list(User.objects.filter(is_active=True).order_by("first_name", "username"))


def staff(users: Iterable[User] | None = None) -> list[Person]:
    """People with their weeks and all their days off; everybody who works here unless others are named."""
    those = everybody() if users is None else list(users)
    keys = [user.pk for user in those]
    weeks: dict[int, list[int]] = defaultdict(lambda: [0] * WEEK)
    for row in WorkDay.objects.filter(person__in=keys):
        weeks[row.person_id][row.weekday] = row.minutes
    off = defaultdict(list)
    for gone in DayOff.objects.filter(person__in=keys).order_by("first", "last"):
        off[gone.person_id].append((gone.first, gone.last))
    return [Person(user.pk, user.shown_name, tuple(weeks[user.pk]), tuple(off[user.pk])) for user in those]


def days_off(*, person: User | None = None, today: date) -> list[DayOff]:
    """The days off that are not over, the next first; of everybody who works here, or of one person."""
    found = DayOff.objects.filter(last__gte=today, person__is_active=True).select_related("person")
    found = found if person is None else found.filter(person=person)
    return list(found.order_by("first", "last", "pk"))


def turns(jobs: Sequence[Booking], *, today: date, zone: tzinfo, limits: DayLimits) -> list[Turn]:
    """Everybody's turns at the install and the strike of jobs, by the same hours as the diary keeps."""
    on = OnTheJob.objects.filter(booking__in=[job.pk for job in jobs]).select_related("person")
    rows = list(on.order_by("pk"))
    people = {person.key: person for person in staff({row.person for row in rows})} if rows else {}
    going = defaultdict(list)
    for row in rows:
        going[row.booking_id].append(people[row.person_id])
    named = [job for job in jobs if job.pk in going]
    works = {job.pk: diary_job(job, limits=limits, zone=zone).works for job in named}
    return [
        Turn(person, job.pk, job.shown_title, work)
        for job in named
        for person in going[job.pk]
        for work in works[job.pk]
        if work.people
    ]


def cannot_go_between(first: date, last: date, *, today: date, zone: tzinfo, limits: DayLimits) -> list[CannotGo]:
    """Who cannot be where they should on the days from `first` to `last`."""
    jobs = with_standing(Booking.objects.filter(between(first, last), stage__in=LIVE), today=today)
    found = cannot_go(turns(list(jobs.order_by("pk")), today=today, zone=zone, limits=limits))
    return [one for one in found if first <= one.day <= last]


@dataclass(frozen=True, slots=True)
class PeopleCard:
    """Who is on a job, how many it was estimated with, and who of them cannot go."""

    on: tuple[OnTheJob, ...]
    wanted: int
    problems: tuple[CannotGo, ...]

    @property
    def lacking(self) -> int:
        """How many more it was estimated with than are on it."""
        return max(self.wanted - len(self.on), 0)


def people_on(booking: Booking, *, today: date, zone: tzinfo) -> PeopleCard:
    """The people of a job, the first put on it first; once it is over or gone by, nobody is in anybody's way."""
    on = (
        tuple(OnTheJob.objects.filter(booking=booking).select_related("person").order_by("pk"))
        if may_have(booking, "people")
        else ()
    )
    problems: tuple[CannotGo, ...] = ()
    if on and booking.event_on is not None and booking.event_on >= today and booking.stage in LIVE:
        limits = DayLimits.objects.current()
        slots = timetable(booking.said, zone=zone, usual=limits.usual)
        first, last = min(slot.day for slot in slots) - _DAY, max(slot.last_day for slot in slots) + _DAY
        found = cannot_go_between(first, last, today=today, zone=zone, limits=limits)
        problems = tuple(one for one in found if booking.pk in one.bookings)
    return PeopleCard(on, booking.crew, problems)


@dataclass(slots=True)
class MyDay:
    """A day of a person: what they do on which job, how long they work, whether they are off."""

    day: date
    minutes: int
    is_off: bool
    entries: list[tuple[Entry, str]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class MyDays:
    """What a person has to do from today on, who cannot go where, and their days off."""

    days: tuple[MyDay, ...]
    problems: tuple[CannotGo, ...]
    off: tuple[DayOff, ...]
    has_hours: bool


def my_days(user: User, *, today: date, zone: tzinfo) -> MyDays:
    """The days on which a person has something to do on jobs they are on, for some weeks. Only what is booked."""
    last = today + timedelta(weeks=MY_WEEKS)
    limits = DayLimits.objects.current()
    (person,) = staff([user])
    mine = dict(OnTheJob.objects.filter(person=user).values_list("booking", "does"))
    jobs = Booking.objects.filter(between(today, last), pk__in=mine).going_ahead().select_related("client")
    found: dict[date, MyDay] = {}
    for job in jobs.order_by("event_on", "pk"):
        for slot in timetable(job.said, zone=zone, usual=limits.usual):
            if slot.part != "event" and slot.last_day >= today and slot.day <= last:
                day = found.setdefault(slot.day, _my_day(person, slot.day))
                day.entries.append((Entry(job, slot, "booked"), mine[job.pk]))
    for day in found.values():
        day.entries.sort(key=lambda pair: pair[0].slot.begins.timestamp() if pair[0].slot.begins else 0.0)
    problems = cannot_go_between(today, last, today=today, zone=zone, limits=limits)
    return MyDays(
        days=tuple(found[day] for day in sorted(found)),
        problems=tuple(one for one in problems if one.person == user.pk),
        off=tuple(days_off(person=user, today=today)),
        has_hours=any(person.week),
    )


def _my_day(person: Person, day: date) -> MyDay:
    return MyDay(day, person.minutes_on(day), person.is_off(day))
