"""A booking from its enquiry to its end."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from bookings.actions.clients import ClientIsGone, add_what_is_new, client_now, with_keys
from bookings.actions.due_days import move_balance
from bookings.lifecycle import check_move
from bookings.models import AmountDue, Booking, Client, HistoryEntry, Quote
from bookings.queries.kit import kit_days
from stock import actions as stock
from studio.editions import StaleForm, edition_of
from studio.models import User
from studio.transitions import MoveRefused


def edition_of_details(booking: Booking) -> str:
    """The edition of what the page of a job's details shows: its own columns and its client's, not its stage."""
    return edition_of(booking, booking.client, but=frozenset({"stage", "client_id", "created_by_id"}))


def write_history(
    booking: Booking, what: str, *, at: datetime, by: User | None = None, money: bool = False
) -> HistoryEntry:
    """Add a sentence to the booking's story; `money` hides it from crew."""
    return HistoryEntry.objects.create(booking=booking, at=at, by=by, what=what[:400], money=money)


@transaction.atomic
def log_enquiry(
    *, client: Mapping[str, str], job: Mapping[str, Any], by: User, at: datetime, known: int | None = None
) -> Booking:
    """A new booking at stage enquiry. The forms have checked both.

    It is for a new client, or for the one whose key is `known`, or who they became: what was typed and not known of
    them yet is added. Raises ClientIsGone where they were erased meanwhile.
    """
    if known is None:
        asked_by = Client.objects.create(**with_keys(client))
    else:
        asked_by = client_now(known)
        add_what_is_new(asked_by, client, said=f"With the enquiry of {at:%Y-%m-%d}")
    booking = Booking.objects.create(client=asked_by, created_at=at, created_by=by, **job)
    write_history(booking, "Enquiry logged.", at=at, by=by)
    return booking


@transaction.atomic
def edit_booking(
    *,
    booking: Booking,
    client: Mapping[str, str],
    job: Mapping[str, Any],
    by: User,
    at: datetime,
    seen: str | None = None,
) -> Booking:
    """Change who it is for and what is known of the job; what it holds moves with its prep day and name, and the day
    its balance is due with its event.

    `seen` is the edition its form was opened with (None: it was not opened by a person). Raises StaleForm where it has
    moved on from that.
    """
    held = Booking.objects.select_for_update().get(pk=booking.pk)
    asked_by = held.client = client_now(held.client_id)
    if seen is not None and seen != edition_of_details(held):
        raise StaleForm("This job", opened=seen)
    kit_before, day_before = kit_days(held), held.event_on or held.prep_day
    booking.client = asked_by
    fields = with_keys(client)
    for name, value in fields.items():
        setattr(booking.client, name, value)
    booking.client.save(update_fields=list(fields))
    for name, value in job.items():
        setattr(booking, name, value)
    booking.save(update_fields=list(job))
    move_what_it_holds(booking, kit_before=kit_before, by=by, at=at)
    write_history(booking, "Details changed.", at=at, by=by)
    if said := move_balance(booking, before=day_before, today=timezone.localdate(at)):
        write_history(booking, said, at=at, by=by, money=True)
    return booking


def move_what_it_holds(booking: Booking, *, kit_before: tuple[date, date] | None, by: User, at: datetime) -> None:
    """What the booking holds follows its prep day and its name; kit its days, which were `kit_before`."""
    name = booking.shown_title
    if booking.prep_day is not None:
        stock.move(booking=booking.pk, needed_on=booking.prep_day, booking_name=name, by=by, at=at)
    kit_after = kit_days(booking)
    stock.move_kit(booking=booking.pk, booking_name=name, before=kit_before, after=kit_after, by=by, at=at)


def end_booking(booking: Booking, stage: str, what: str, *, by: User, at: datetime) -> Booking:
    """Move to a last stage and let go of everything the booking held, promised or was owed for."""
    check_move(booking.stage, stage)
    booking.stage = stage
    booking.save(update_fields=["stage"])
    stock.release(booking=booking.pk, by=by, at=at)
    stock.let_kit_go(booking=booking.pk, by=by, at=at)
    Quote.objects.filter(booking=booking, withdrawn_at__isnull=True, acceptance__isnull=True).update(withdrawn_at=at)
    AmountDue.objects.filter(booking=booking, void_at__isnull=True).update(void_at=at)
    write_history(booking, what, at=at, by=by)
    return booking


@transaction.atomic
def lose_booking(*, booking: Booking, why: str, by: User, at: datetime) -> Booking:
    """The client went elsewhere or never answered. Raises MoveRefused once it is booked."""
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    return end_booking(booking, Booking.Stage.LOST, f"Lost. {why}".strip(), by=by, at=at)


@transaction.atomic
def reopen_booking(*, booking: Booking, by: User, at: datetime) -> Booking:
    """A lost booking is an enquiry again. Raises MoveRefused at any other stage, and where its client was erased."""
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    check_move(booking.stage, Booking.Stage.ENQUIRY)
    if booking.client.erased_at is not None:
        raise MoveRefused(str(ClientIsGone(booking.client_id)), now=booking.stage, to=Booking.Stage.ENQUIRY)
    booking.stage = Booking.Stage.ENQUIRY
    booking.save(update_fields=["stage"])
    write_history(booking, "Opened again.", at=at, by=by)
    return booking
