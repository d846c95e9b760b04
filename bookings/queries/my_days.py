"""What one person has to do, day by day, as the plan has it. No amount is in it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta, tzinfo
from typing import NamedTuple

from bookings.models import Booking
from bookings.queries.plan import plan
from bookings.run_steps import MOMENTS, RunStep
from bookings.staffing import CannotGo, Person
from studio.models import Studio, User

MY_WEEKS = 6


@dataclass(slots=True)
class MyDay:
    """A day of a person: what they do for which job, in order, with what they do there as it was said."""

    day: date
    minutes: int
    is_off: bool
    rows: list[tuple[Booking, RunStep, str]] = field(default_factory=list)


class Gone(NamedTuple):
    """Days off, both counted."""

    first: date
    last: date


@dataclass(frozen=True, slots=True)
class MyDays:
    """What a person has to do from today on, who cannot go where, and their days off."""

    days: tuple[MyDay, ...]
    problems: tuple[CannotGo, ...]
    off: tuple[Gone, ...]
    has_hours: bool
    allergies: Mapping[int, str]


def my_days(user: User, *, today: date, studio: Studio, zone: tzinfo) -> MyDays:
    """The days on which the plan has something for a person, for some weeks: the jobs they are on, and prep that is
    for whoever works then. Only what is booked.
    """
    last = today + timedelta(weeks=MY_WEEKS)
    whole = plan(today=today, studio=studio, zone=zone, with_troubles=False)
    person = next(one for one in whole.hands.everybody if one.key == user.pk)
    does = whole.hands.does
    found: dict[date, MyDay] = {}
    for key, steps in whole.steps.items():
        for step in steps:
            if user.pk in step.people and step.what not in MOMENTS and today <= step.day <= last:
                day = found.setdefault(step.day, _my_day(person, step.day))
                day.rows.append((whole.jobs[key], step, does.get((key, user.pk), "") if step.begins else ""))
    for day in found.values():
        day.rows.sort(key=lambda row: row[1].begins.timestamp() if row[1].begins else 0.0)
    return MyDays(
        days=tuple(found[day] for day in sorted(found)),
        problems=tuple(one for one in whole.cannot_go if one.person == user.pk and one.day <= last),
        off=tuple(Gone(first, last) for first, last in person.off if last >= today),
        has_hours=any(person.week),
        allergies=whole.allergies,
    )


def _my_day(person: Person, day: date) -> MyDay:
    return MyDay(day, person.minutes_on(day), person.is_off(day))
