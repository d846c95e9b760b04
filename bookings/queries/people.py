"""The people of the studio: when they work, who is on which job, and what each has to do. No amount is in it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, tzinfo
from typing import Any, NamedTuple

from django.db.models import DateField, Exists, IntegerField, OuterRef, Q, Value

from bookings.diary import Clash, clashes
from bookings.models import Booking, DayLimits, DayOff, OnTheJob, WorkDay
from bookings.queries.dates import Around, around, diary_job, live_between
from bookings.queries.known import may_have
from bookings.staffing import WEEK, CannotGo, Person, Turn, cannot_go
from studio.models import User


def everybody() -> list[User]:
    """Who works here: every account that is not closed, by name."""
    return list(User.objects.filter(is_active=True).order_by("first_name", "username"))


def staff(users: Iterable[User] | None = None) -> list[Person]:
    """People with their weeks and all their days off; everybody who works here unless others are named.

    One statement for both, and one for everybody.
    """
    those = everybody() if users is None else list(users)
    keys = [user.pk for user in those]
    no_day, no_number = Value(None, DateField()), Value(None, IntegerField())
    worked = WorkDay.objects.filter(person__in=keys).values_list("person_id", "weekday", "minutes", no_day, no_day)
    gone = DayOff.objects.filter(person__in=keys).values_list("person_id", no_number, no_number, "first", "last")
    weeks: dict[int, list[int]] = defaultdict(lambda: [0] * WEEK)
    off: dict[int, list[tuple[date, date]]] = defaultdict(list)
    for person, weekday, minutes, first, last in worked.union(gone, all=True):
        if first is None:
            weeks[person][weekday] = minutes
        else:
            off[person].append((first, last))
    return [Person(user.pk, user.shown_name, tuple(weeks[user.pk]), tuple(sorted(off[user.pk]))) for user in those]


def days_off(*, person: User | None = None, today: date) -> list[DayOff]:
    """The days off that are not over, the next first; of everybody who works here, or of one person."""
    found = DayOff.objects.filter(last__gte=today, person__is_active=True).select_related("person")
    found = found if person is None else found.filter(person=person)
    return list(found.order_by("first", "last", "pk"))


@dataclass(frozen=True, slots=True)
class Hands:
    """Who works here, who of them orders, and who is on which job by its key; what they do there, where that is said,
    by the keys of the job and the person."""

    everybody: Sequence[Person] = ()
    owners: Sequence[Person] = ()
    on: Mapping[int, Sequence[Person]] = field(default_factory=dict)
    does: Mapping[tuple[int, int], str] = field(default_factory=dict)

    def on_job(self, booking: Booking) -> Sequence[Person]:
        """Who is on a job, the first put on it first."""
        return self.on.get(booking.pk, ())


def hands_for(jobs: Sequence[Booking]) -> Hands:
    """Everybody, and who is on these jobs, though they may work here no more. Three statements."""
    on = OnTheJob.objects.filter(booking__in=[job.pk for job in jobs])
    rows = list(on.order_by("pk"))
    known = Q(is_active=True) | Q(pk__in={row.person_id for row in rows})
    users = list(User.objects.filter(known).order_by("first_name", "username"))
    people = {person.key: person for person in staff(users)}
    here = [user for user in users if user.is_active]
    return Hands(
        [people[user.pk] for user in here],
        [people[user.pk] for user in here if user.is_owner],
        _by_job(rows, people),
        {(row.booking_id, row.person_id): row.does for row in rows},
    )


def _on_these(jobs: Sequence[Booking]) -> list[OnTheJob]:
    found = OnTheJob.objects.filter(booking__in=[job.pk for job in jobs]).select_related("person")
    return list(found.order_by("pk"))


def _by_job(rows: Sequence[OnTheJob], people: Mapping[int, Person]) -> dict[int, list[Person]]:
    on: dict[int, list[Person]] = defaultdict(list)
    for row in rows:
        on[row.booking_id].append(people[row.person_id])
    return on


def turns(jobs: Sequence[Booking], hands: Hands, *, zone: tzinfo, limits: DayLimits) -> list[Turn]:
    """Everybody's turns at the install and the strike of jobs, by the same hours as the diary keeps."""
    named = [job for job in jobs if hands.on_job(job)]
    works = {job.pk: diary_job(job, limits=limits, zone=zone).works for job in named}
    return [
        Turn(person, job.pk, job.shown_title, work)
        for job in named
        for person in hands.on_job(job)
        for work in works[job.pk]
        if work.people
    ]


def cannot_go_of(
    jobs: Sequence[Booking], hands: Hands, *, first: date, last: date, zone: tzinfo, limits: DayLimits
) -> list[CannotGo]:
    """Who of those on these jobs cannot be where they should on the days from `first` to `last`."""
    found = cannot_go(turns(jobs, hands, zone=zone, limits=limits))
    return [one for one in found if first <= one.day <= last]


class Clashing(NamedTuple):
    """The days that cannot take their jobs, and the people who cannot go to theirs."""

    full: list[Clash]
    cannot_go: list[CannotGo]


def what_clashes(first: date, last: date, *, today: date, zone: tzinfo, limits: DayLimits | None = None) -> Clashing:
    """Both from `first` to `last`, of jobs that are read once; people only where any is on a job."""
    limits = limits or DayLimits.objects.current()
    on_it = OnTheJob.objects.filter(booking=OuterRef("pk"))
    live: list[Any] = list(live_between(first, last, today=today).annotate(has_people=Exists(on_it)).order_by("pk"))
    found = clashes([diary_job(job, limits=limits, zone=zone) for job in live], limits.limits)
    full = [clash for clash in found if first <= clash.day <= last]
    jobs = [job for job in live if job.has_people]
    if not jobs:
        return Clashing(full, [])
    rows = _on_these(jobs)
    people = {person.key: person for person in staff({row.person for row in rows})}
    hands = Hands(on=_by_job(rows, people))
    return Clashing(full, cannot_go_of(jobs, hands, first=first, last=last, zone=zone, limits=limits))


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


def people_on(booking: Booking, *, today: date, zone: tzinfo, near: Around | None = None) -> PeopleCard:
    """The people of a job, the first put on it first; once it is over or gone by, nobody is in anybody's way.

    `near` is what is `around` it, where the caller has read it.
    """
    if not may_have(booking, "people"):
        return PeopleCard((), booking.crew, ())
    near = near or around(booking, today=today, zone=zone)
    rows = _on_these(near.jobs or [booking])
    on = tuple(row for row in rows if row.booking_id == booking.pk)
    problems: tuple[CannotGo, ...] = ()
    if on and near.jobs:
        hands = Hands(on=_by_job(rows, {one.key: one for one in staff({row.person for row in rows})}))
        found = cannot_go_of(near.jobs, hands, first=near.first, last=near.last, zone=zone, limits=near.limits)
        problems = tuple(one for one in found if booking.pk in one.bookings)
    return PeopleCard(on, booking.crew, problems)
