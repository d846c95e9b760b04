"""Holding a date for a client, and letting it go; the private links of the calendar."""

from datetime import date, datetime

from django.conf import settings
from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.diary import Clash, long_day, short_day
from bookings.links import hash_of, new_salt, token_for
from bookings.models import Booking, CalendarLink, DateHold, Quote, SeenClash
from bookings.queries import state_of
from bookings.queries.dates import clashes_of, client_has_held, hold_of, last_day_to_hold
from studio.models import Studio, User


class HoldRefused(Exception):
    """The date cannot be held; the message is a sentence for the page."""


def take_turns_over_days() -> None:
    """Let one at a time take a day, until their transaction ends, so that the second sees what the first took.

    It is the last lock that is taken: whoever holds it waits for no other.
    """
    Studio.objects.select_for_update(no_key=True).filter(pk=Studio.objects.current().pk).values_list("pk").first()


@transaction.atomic
def see_clash(*, clash: Clash, by: User, at: datetime) -> None:
    """Write down that somebody has seen what a day cannot take, and in the story of each of its jobs; once."""
    _, is_new = SeenClash.objects.get_or_create(stamp=clash.stamp, defaults={"day": clash.day, "by": by, "at": at})
    if is_new:
        for booking in Booking.objects.filter(pk__in=clash.bookings).order_by("pk"):
            write_history(booking, f"{long_day(clash.day)} takes more than there is: seen.", at=at, by=by)


@transaction.atomic
def hold_date(*, booking: Booking, until: date, today: date, by: User, at: datetime) -> DateHold:
    """Hold the job's date until the end of a day, in place of any hold it had. Raises HoldRefused."""
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    _check(booking, until, today)
    _let_go(booking, at)
    hold = DateHold.objects.create(booking=booking, until=until, made_at=at, made_by=by)
    write_history(booking, f"Date held until {short_day(until)}.", at=at, by=by)
    return hold


@transaction.atomic
def hold_date_for_client(*, quote: Quote, until: date, today: date, at: datetime) -> DateHold:
    """The client holds their date from an open quote, once a version. Asking twice is once. Raises HoldRefused.

    A day that is full is not held: what is booked and held already was promised first.
    """
    booking = Booking.objects.select_for_update().get(pk=quote.booking_id)
    quote.booking = booking
    held = hold_of(booking, today=today)
    if held is not None:
        return held
    last = last_day_to_hold(quote, today=today)
    if state_of(quote, today=today) != "open" or last is None:
        raise HoldRefused("This date cannot be held from here any more. Write to us: it may still be free.")
    if client_has_held(quote):
        raise HoldRefused("You have held this date before. Write to us if you need longer.")
    if until > last:
        raise HoldRefused(f"Your date can be held until {short_day(last)} at the latest (you asked for {until}).")
    _check(booking, until, today)
    take_turns_over_days()
    if any(clash.is_sure for clash in clashes_of(booking, today=today, zone=Studio.objects.current().zone)):
        raise HoldRefused("Somebody else has asked for this day too, so it cannot be held from here. Talk to us first.")
    _let_go(booking, at)
    hold = DateHold.objects.create(booking=booking, until=until, quote=quote, made_at=at)
    write_history(booking, f"The client holds the date until {short_day(until)}.", at=at)
    return hold


@transaction.atomic
def let_date_go(*, booking: Booking, by: User, at: datetime) -> None:
    """Free the date again; twice is once."""
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    if _let_go(booking, at):
        write_history(booking, "The date is no longer held.", at=at, by=by)


def _let_go(booking: Booking, at: datetime) -> int:
    return DateHold.objects.filter(booking=booking, let_go_at__isnull=True).update(let_go_at=at)


def _check(booking: Booking, until: date, today: date) -> None:
    """Refuse a hold of no date, for no time, or past the event."""
    if booking.event_on is None:
        raise HoldRefused("Set the event day first: there is no date to hold.")
    if booking.stage not in (Booking.Stage.ENQUIRY, Booking.Stage.QUOTED):
        raise HoldRefused(f"This job is {booking.stage}: its date is not held any more.")
    if not today <= until <= booking.event_on:
        raise HoldRefused(
            f"Hold it until a day from today to the event, {short_day(booking.event_on)} (got {short_day(until)})."
        )


@transaction.atomic
def make_calendar_link(*, person: User, at: datetime) -> CalendarLink:
    """Give the person a private link to the calendar; one they had before leads nowhere from then on."""
    salt = new_salt()
    CalendarLink.objects.filter(person=person).delete()
    return CalendarLink.objects.create(person=person, salt=salt, hash=hash_of(calendar_token(salt)), made_at=at)


def calendar_token(salt: str) -> str:
    """The token in a calendar's address, made anew from its salt."""
    return token_for(salt, key=settings.LINK_KEY, opens="calendar")


def end_calendar_link(*, person: User) -> None:
    """From now on the person's link leads nowhere; twice is once."""
    CalendarLink.objects.filter(person=person).delete()
