"""The kit of a booking: promised, let go, taken out and brought back with it."""

from datetime import date, datetime

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.models import Booking
from stock import actions as stock
from stock.models import Kit, KitPromise
from studio.models import User

_OVER = (Booking.Stage.DONE, Booking.Stage.LOST, Booking.Stage.CANCELLED)


@transaction.atomic
def promise_kit(
    *, booking: Booking, kit: Kit, quantity: int, out_on: date, back_on: date, by: User, at: datetime
) -> KitPromise:
    """Promise so many of a kit to the booking, firmly where it is booked; what it was promised of it is changed.

    Raises KitRefusal where the job is over, and for what the kit cannot be promised for.
    """
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    if booking.stage in _OVER:
        raise stock.KitRefusal(f"No kit is promised to this job any more: it is {booking.stage}.")
    promise = stock.promise_kit(
        kit=kit,
        quantity=quantity,
        out_on=out_on,
        back_on=back_on,
        booking=booking.pk,
        booking_name=booking.shown_title,
        firm=booking.stage == Booking.Stage.BOOKED,
        by=by,
        at=at,
    )
    days = f"{out_on.day} {out_on:%b} to {back_on.day} {back_on:%b}"
    write_history(booking, f"Kit promised: {quantity:,} {kit}, {days}.", at=at, by=by)
    return promise


@transaction.atomic
def let_kit_go(*, booking: Booking, kit: Kit, by: User, at: datetime) -> int:
    """The booking does without a kit after all; how many promises that was. What is out stays out."""
    gone = stock.let_kit_go(booking=booking.pk, kit=kit, by=by, at=at)
    if gone:
        write_history(booking, f"Kit let go: {kit}.", at=at, by=by)
    return gone


@transaction.atomic
def load_kit(*, booking: Booking, by: User, at: datetime) -> list[KitPromise]:
    """Everything the booking was promised and that is not out yet goes out, all of it or none. Raises KitRefusal."""
    waiting = KitPromise.objects.standing().filter(booking=booking.pk, taken_out_at__isnull=True)
    taken = stock.take_kit_out(promises=list(waiting.values_list("pk", flat=True)), by=by, at=at)
    if taken:
        write_history(booking, f"Kit went out: {_named(taken)}.", at=at, by=by)
    return taken


@transaction.atomic
def bring_kit_home(*, booking: Booking, by: User, at: datetime) -> list[KitPromise]:
    """Everything of the booking that is out came back, sound."""
    out = KitPromise.objects.out().filter(booking=booking.pk)
    came = stock.bring_kit_back(promises=list(out.values_list("pk", flat=True)), by=by, at=at)
    if came:
        write_history(booking, f"Kit came back: {_named(came)}.", at=at, by=by)
    return came


def _named(promises: list[KitPromise]) -> str:
    """“2 Base plate, 1 Ladder”."""
    return ", ".join(f"{promise.quantity:,} {promise.kit}" for promise in promises)
