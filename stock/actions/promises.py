"""What is held for whom: firm once a booking is accepted, tentative while its quote is open.

Promises rank by their keys, in the order they were made. What a booking holds keeps its place when the booking is
accepted again, changed or moved to another day; only what it wants beyond that goes to the end of the queue.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta

from django.db import transaction
from django.utils import timezone

from stock.actions.ledger import MOST, lock_keys
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
    """Hold `needs` (item key to quantity) for a booking, and no more than that; what is held of them, in order.

    What it was promised already keeps its place in the queue: its latest promises are let go of where less is wanted,
    and what is wanted beyond them is a promise of its own, at the end. A hold that has lapsed had no place any more.
    Open reservations of the same firmness of anything else are closed; a firm promise closes the tentative ones too.
    A need of nothing holds nothing. More may be promised than there is: cover then says who is short. A tentative
    promise may lapse by itself: `lapses_on` is the last day it holds. `by` is None where the client said yes. Nothing
    is changed when a need is refused.
    """
    for quantity in needs.values():
        if not 0 <= quantity <= MOST:
            raise PromiseRefusal(f"Quantity must be 0 to {MOST:,} (got {quantity:,}).")
    if firm and lapses_on is not None:
        raise PromiseRefusal(f"A firm promise does not lapse (got {lapses_on:%Y-%m-%d}).")
    wanted = {item: quantity for item, quantity in needs.items() if quantity}
    open_ones = Reservation.objects.open().of_bookings([booking])
    if not firm:
        open_ones = open_ones.filter(firm=False)
    known = lock_keys([*wanted, *open_ones.values_list("item_id", flat=True)])
    unknown = sorted(wanted.keys() - known)
    if unknown:
        raise PromiseRefusal(f"Item must be one on the shelf's list (got number {unknown[0]}).")
    rows = list(open_ones.order_by("pk"))
    today = timezone.localdate(at)
    earlier: dict[int, list[Reservation]] = defaultdict(list)
    for row in rows:
        if row.firm == firm and (row.lapses_on is None or row.lapses_on >= today):
            earlier[row.item_id].append(row)
    said = {"needed_on": needed_on, "booking_name": booking_name, "lapses_on": lapses_on}
    kept = [row for item in wanted for row in _kept(earlier[item], wanted[item])]
    for row in kept:
        for name, value in said.items():
            setattr(row, name, value)
        row.save(update_fields=["quantity", *said])
    closing = {row.pk for row in rows} - {row.pk for row in kept}
    if closing:
        Reservation.objects.filter(pk__in=closing).update(closed_at=at)
    held = Counter[int]()
    for row in kept:
        held[row.item_id] += row.quantity
    # In the order of the items' keys, so that the same needs always rank in the same order among themselves.
    more = [
        Reservation(
            item_id=item,
            quantity=wanted[item] - held[item],
            booking=booking,
            firm=firm,
            made_at=_moment(at, earlier[item]),
            **said,
        )
        for item in sorted(wanted)
        if wanted[item] > held[item]
    ]
    Reservation.objects.bulk_create(more)
    return sorted([*kept, *more], key=lambda row: row.pk)


@transaction.atomic
def release(*, booking: int, firm: bool | None = None, by: User | None, at: datetime) -> int:
    """Let go of what a booking holds, or only of the firm or the tentative part; how many were let go."""
    held = Reservation.objects.open().of_bookings([booking])
    if firm is not None:
        held = held.filter(firm=firm)
    lock_keys(held.values_list("item_id", flat=True))
    return held.update(closed_at=at)


@transaction.atomic
def settle(*, booking: int, taken: Mapping[int, int], by: User | None, at: datetime) -> None:
    """What a booking has taken of an item (key to quantity) is promised to it no more, what was promised first first.

    What it took beyond its firm promise settles nothing; what it was promised beyond that stays promised.
    """
    lock_keys(taken)
    left, fulfilled = dict(taken), []
    for row in Reservation.objects.open().firm().of_bookings([booking]).filter(item__in=taken).order_by("pk"):
        part = min(row.quantity, left[row.item_id])
        left[row.item_id] -= part
        if part == row.quantity:
            fulfilled.append(row.pk)
        elif part:
            row.quantity -= part
            row.save(update_fields=["quantity"])
    # Closed with its figure: what was promised, and when that was fulfilled.
    Reservation.objects.filter(pk__in=fulfilled).update(closed_at=at)


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
    lock_keys(held.values_list("item_id", flat=True))
    return held.update(**changes)


def _kept(earlier: Sequence[Reservation], wanted: int) -> list[Reservation]:
    """The promises that stand for `wanted`, the first ones first, the last of them reduced where it must be."""
    kept = []
    for row in earlier:
        if wanted <= 0:
            break
        row.quantity = min(row.quantity, wanted)
        wanted -= row.quantity
        kept.append(row)
    return kept


def _moment(at: datetime, earlier: Sequence[Reservation]) -> datetime:
    """When a promise is made, told apart from the booking's earlier ones of the same item, whatever the clock says."""
    return max([at, *(row.made_at + timedelta(microseconds=1) for row in earlier)])
