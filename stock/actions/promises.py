"""What is held for whom: firm once a booking is accepted, tentative while its quote is open.

Promises rank by their keys, in the order they were made. So a promise that is replaced goes to the end of the
queue, and one that only moves to another day keeps its place.
"""

from collections.abc import Mapping
from datetime import date, datetime

from django.db import transaction

from stock.actions.ledger import MOST, lock_items
from stock.models import Reservation
from studio.models import User


class PromiseRefusal(Exception):
    """A promise that cannot be made; the message is a sentence for the page."""


@transaction.atomic
def reserve(
    *,
    needs: Mapping[int, int],
    needed_on: date,
    booking: int,
    booking_name: str,
    firm: bool,
    by: User | None,
    at: datetime,
    lapses_on: date | None = None,
) -> list[Reservation]:
    """Hold `needs` (item key to quantity) for a booking, in place of what it held before.

    Open reservations of the same firmness are closed; a firm promise closes the tentative ones too. A need of
    nothing holds nothing. More may be promised than there is: cover then says who is short. A tentative promise
    may lapse by itself: `lapses_on` is the last day it holds. `by` is None where the client said yes. Nothing is
    changed when a need is refused.
    """
    for quantity in needs.values():
        if not 0 <= quantity <= MOST:
            raise PromiseRefusal(f"Quantity must be 0 to {MOST:,} (got {quantity:,}).")
    if firm and lapses_on is not None:
        raise PromiseRefusal(f"A firm promise does not lapse (got {lapses_on:%Y-%m-%d}).")
    wanted = {item: quantity for item, quantity in needs.items() if quantity}
    held = Reservation.objects.open().of_bookings([booking])
    if not firm:
        held = held.filter(firm=False)
    items = lock_items([*wanted, *held.values_list("item_id", flat=True)])
    unknown = sorted(wanted.keys() - items.keys())
    if unknown:
        raise PromiseRefusal(f"Item must be one on the shelf's list (got number {unknown[0]}).")
    held.update(closed_at=at)
    # In the order of the items' keys, so that the same needs always rank in the same order among themselves.
    return [
        Reservation.objects.create(
            item=items[item],
            quantity=wanted[item],
            needed_on=needed_on,
            booking=booking,
            booking_name=booking_name,
            firm=firm,
            made_at=at,
            lapses_on=lapses_on,
        )
        for item in sorted(wanted)
    ]


@transaction.atomic
def release(*, booking: int, firm: bool | None = None, by: User | None, at: datetime) -> int:
    """Let go of what a booking holds, or only of the firm or the tentative part; how many were let go."""
    held = Reservation.objects.open().of_bookings([booking])
    if firm is not None:
        held = held.filter(firm=firm)
    lock_items(held.values_list("item_id", flat=True))
    return held.update(closed_at=at)


@transaction.atomic
def move(
    *, booking: int, needed_on: date | None = None, booking_name: str | None = None, by: User | None, at: datetime
) -> int:
    """Change the day or the name of what a booking holds, each keeping its place in the queue; how many changed."""
    changes: dict[str, date | str] = {}
    if needed_on is not None:
        changes["needed_on"] = needed_on
    if booking_name is not None:
        changes["booking_name"] = booking_name
    if not changes:
        raise PromiseRefusal("A move changes the day or the name (got neither).")
    held = Reservation.objects.open().of_bookings([booking])
    lock_items(held.values_list("item_id", flat=True))
    return held.update(**changes)
