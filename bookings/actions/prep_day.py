"""Moving the prep day of a booked job to where the plan begins."""

from datetime import date, datetime

from django.db import transaction

from bookings.actions.books import hold
from bookings.actions.jobs import move_what_it_holds, write_history
from bookings.diary import short_day
from bookings.models import Booking
from bookings.queries.kit import kit_days
from studio.models import User


class PrepDayRefused(Exception):
    """The prep day cannot be moved there; the message is a sentence for the page."""


@transaction.atomic
def move_prep_day(*, booking: Booking, to: date, seen: date, today: date, by: User, at: datetime) -> Booking:
    """The prep day is `to`, and everything the booking holds is needed for it.

    `seen` is the prep day it had when this was offered. Raises PrepDayRefused where it has another meanwhile, where the
    job is not booked, and for a day gone by or after the event.
    """
    booking = hold(booking.pk)
    if booking.stage != Booking.Stage.BOOKED:
        raise PrepDayRefused(f"This job is {booking.stage}: its prep day is not moved any more.")
    if booking.prep_day != seen:
        now = "none" if booking.prep_day is None else short_day(booking.prep_day)
        raise PrepDayRefused(f"The prep day was changed meanwhile, to {now}. Look at the plan again.")
    if to < today:
        raise PrepDayRefused(f"The prep day must be today or later (got {short_day(to)}).")
    if booking.event_on is not None and to > booking.event_on:
        raise PrepDayRefused(f"The prep day must be no later than {short_day(booking.event_on)} (got {short_day(to)}).")
    kit_before = kit_days(booking)
    booking.needed_on = to
    booking.save(update_fields=["needed_on"])
    move_what_it_holds(booking, kit_before=kit_before, by=by, at=at)
    write_history(booking, f"Prep day moved from {short_day(seen)} to {short_day(to)}.", at=at, by=by)
    return booking
