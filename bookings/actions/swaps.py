"""One material for another in a job that was accepted."""

from datetime import date, datetime

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.models import Booking, MaterialSwap
from stock import actions as stock
from stock.models import Item
from studio.models import User


@transaction.atomic
def swap_material(
    *, booking: Booking, give_up: Item, take: Item, quantity: int, today: date, by: User, at: datetime
) -> MaterialSwap:
    """Hold so many of `take` for a booked job in place of `give_up`, and remember that its picture shows the other.

    Raises PromiseRefusal where the job is not booked, holds less, or less is free on its prep day.
    """
    booking = Booking.objects.select_for_update().select_related("client").get(pk=booking.pk)
    if booking.stage != Booking.Stage.BOOKED:
        raise stock.PromiseRefusal(f"Only a booked job holds materials to swap; this one is {booking.stage}.")
    stock.swap(
        booking=booking.pk,
        booking_name=booking.shown_title,
        give_up=give_up.pk,
        take=take.pk,
        quantity=quantity,
        today=today,
        by=by,
        at=at,
    )
    made = MaterialSwap.objects.create(booking=booking, given_up=give_up, taken=take, quantity=quantity, at=at, by=by)
    write_history(booking, f"{quantity:,} {give_up.label} swapped for {take.label}.", at=at, by=by)
    return made
