"""One material for another in a job that was accepted."""

from datetime import date, datetime

from django.db import transaction

from bookings.actions.books import hold
from bookings.actions.jobs import write_history
from bookings.models import Booking, MaterialSwap
from stock import actions as stock
from stock.models import Item
from studio.models import User


@transaction.atomic
def swap_material(
    *,
    booking: Booking,
    give_up: Item,
    take: Item,
    quantity: int,
    today: date,
    by: User,
    at: datetime,
    inside: Item | None = None,
) -> MaterialSwap:
    """Hold so many of `take` for a booked job in place of `give_up`, and remember that its picture shows the other.

    With `inside`, as many of it too: each goes into one taken. Raises PromiseRefusal where the job is not booked, holds
    less, less is free on its prep day, or no recipe of the studio's says that the two look like what is given up.
    """
    booking = hold(booking.pk)
    if booking.stage != Booking.Stage.BOOKED:
        raise stock.PromiseRefusal(f"Only a booked job holds materials to swap; this one is {booking.stage}.")
    stock.swap(
        booking=booking.pk,
        booking_name=booking.shown_title,
        give_up=give_up.pk,
        take=take.pk,
        inside=inside.pk if inside else None,
        quantity=quantity,
        today=today,
        by=by,
        at=at,
    )
    made = MaterialSwap.objects.create(
        booking=booking, given_up=give_up, taken=take, inside=inside, quantity=quantity, at=at, by=by
    )
    write_history(booking, f"{quantity:,} {give_up.label} swapped for {made.taken_words}.", at=at, by=by)
    return made
