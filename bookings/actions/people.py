"""Setting a person's week, their days off, and who is on a job."""

import logging
from collections.abc import Mapping, Sequence
from datetime import date, datetime

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.diary import short_day
from bookings.models import Booking, DayOff, OnTheJob, WorkDay
from studio.models import User

log = logging.getLogger(__name__)


class DaysOffRefused(Exception):
    """These days cannot be taken off; the message is a sentence for the page."""


@transaction.atomic
def keep_week(*, person: User, week: Sequence[int], by: User, at: datetime) -> None:
    """The minutes a person works on each day from Monday on, in place of what was set before."""
    User.objects.select_for_update().get(pk=person.pk)
    WorkDay.objects.filter(person=person).delete()
    WorkDay.objects.bulk_create(
        WorkDay(person=person, weekday=weekday, minutes=minutes) for weekday, minutes in enumerate(week) if minutes
    )
    log.info("week of person %s set by person %s at %s", person.pk, by.pk, at.isoformat())


@transaction.atomic
def take_days_off(*, person: User, first: date, last: date, by: User, at: datetime) -> DayOff:
    """A person is off from `first` to `last`. Raises DaysOffRefused for days that are off already."""
    User.objects.select_for_update().get(pk=person.pk)
    known = DayOff.objects.filter(person=person).touching(first, last).order_by("first").first()
    if known is not None:
        raise DaysOffRefused(
            f"{person.shown_name} is off from {short_day(known.first)} to {short_day(known.last)} already:"
            " take that away first, or choose other days."
        )
    made = DayOff.objects.create(person=person, first=first, last=last)
    log.info("days off %s of person %s by person %s at %s", made.pk, person.pk, by.pk, at.isoformat())
    return made


def work_after_all(*, day_off: int, person: User) -> bool:
    """Take days off away again; twice is once."""
    return bool(DayOff.objects.filter(pk=day_off, person=person).delete()[0])


@transaction.atomic
def put_on_the_job(*, booking: Booking, does: Mapping[User, str], by: User, at: datetime) -> None:
    """These people are on the job, each with what they do, and nobody else who still works here."""
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    before = {row.person_id: row for row in OnTheJob.objects.filter(booking=booking)}
    keys = {person.pk for person in does}
    OnTheJob.objects.filter(booking=booking, person__is_active=True).exclude(person__in=keys).delete()
    for person, words in does.items():
        OnTheJob.objects.update_or_create(booking=booking, person=person, defaults={"does": words})
    if {key: row.does for key, row in before.items()} != {person.pk: words for person, words in does.items()}:
        names = ", ".join(person.shown_name for person in does) or "nobody"
        write_history(booking, f"On the job: {names}.", at=at, by=by)
