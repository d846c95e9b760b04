"""Holding one item for a booking in place of another."""

from datetime import date, datetime
from functools import partial

from django.db import transaction

from stock.actions.ledger import lock_items
from stock.actions.promises import PromiseRefusal, reserve
from stock.models import Reservation
from stock.queries import free_on, held_firmly
from studio.models import User


@transaction.atomic
def swap(
    *, booking: int, booking_name: str, give_up: int, take: int, quantity: int, today: date, by: User, at: datetime
) -> date:
    """Let go of `quantity` of what a booking holds firmly and hold as many of another item for the same day; which day.

    What is kept keeps its place in the queue, what is taken goes to its end. Raises PromiseRefusal where the booking
    holds less, or less is free that day: nobody who was promised first goes without for a swap.
    """
    items = lock_items([give_up, take])
    if give_up == take or len(items) < 2:
        raise PromiseRefusal("A swap needs two items of the shelf's list.")
    held = held_firmly(booking)
    have = held.get(give_up, 0)
    if not 1 <= quantity <= have:
        raise PromiseRefusal(
            f"Quantity must be 1 to {have:,}, what is held of {items[give_up].label} (got {quantity:,})."
        )
    firm = Reservation.objects.open().firm().of_bookings([booking]).filter(item=give_up).order_by("pk")
    needed_on = firm.values_list("needed_on", flat=True)[0]
    free = max(free_on([take], needed_on, today)[take], 0)
    if quantity > free:
        raise PromiseRefusal(f"{items[take].label} has {free:,} free on {needed_on:%Y-%m-%d} (got {quantity:,}).")
    tentative = list(Reservation.objects.open().of_bookings([booking]).filter(firm=False).order_by("pk"))
    held[give_up] -= quantity
    held[take] = held.get(take, 0) + quantity
    hold = partial(reserve, booking=booking, booking_name=booking_name, needed_on=needed_on, by=by, at=at)
    hold(needs=held, firm=True)
    # A firm promise ends the tentative ones: what an open quote holds beyond it is held again.
    if tentative:
        again: dict[int, int] = {}
        for asked in tentative:
            again[asked.item_id] = again.get(asked.item_id, 0) + asked.quantity
        hold(needs=again, firm=False, lapses_on=tentative[0].lapses_on)
    return needed_on
