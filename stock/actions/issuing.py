"""What a booking takes off the shelf, and what comes home from it.

What was taken is used, by lot and with the booking's number, and no longer promised: it is neither on hand nor held,
but on the road. What comes home is received again into the lots it came out of. So the ledger alone says how much of
an item a booking still has, and cover needs no word for it.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import NamedTuple

from django.db import transaction

from stock.actions.ledger import StockRefusal, check_quantity, lock_items
from stock.actions.promises import settle
from stock.lots import LotLeft, take
from stock.models import Item, Movement
from stock.queries import lots_on_hand
from studio.models import User


class Taking(NamedTuple):
    """So many of an item, out of a lot where somebody said which (by keys; None for what is of no lot)."""

    item: int
    lot: int | None
    quantity: int


@transaction.atomic
def issue(*, booking: int, takings: Iterable[Taking], by: User, at: datetime) -> list[Movement]:
    """Take all of it off the shelf for a booking, and settle the booking's promise for as much; the movements.

    A lot that holds less than was taken out of it gives what it has, and the others the rest in order of use: the
    hand was right, the books were not. More than is on hand is refused, and then nothing is taken.
    """
    wanted = list(takings)
    for taking in wanted:
        check_quantity("Taken", taking.quantity)
    locked = lock_items(taking.item for taking in wanted)
    lots = lots_on_hand(locked)
    asked: dict[int, list[Taking]] = defaultdict(list)
    for taking in wanted:
        asked[taking.item].append(taking)
    refused = [
        f"{locked[item].label} has {have:,} on hand; {sum(one.quantity for one in of_it):,} cannot be taken."
        for item, of_it in asked.items()
        if sum(one.quantity for one in of_it) > (have := sum(lot.left for lot in lots.get(item, [])))
    ]
    if refused:
        raise StockRefusal(" ".join(refused))
    made = [
        Movement(item_id=item, kind=Movement.Kind.USED, quantity=-quantity, at=at, by=by, booking=booking, lot_id=lot)
        for item in sorted(asked)
        for lot, quantity in _out_of(lots[item], asked[item])
    ]
    Movement.objects.bulk_create(made)
    taken = {item: sum(one.quantity for one in of_it) for item, of_it in asked.items()}
    settle(booking=booking, taken=taken, by=by, at=at)
    return made


@transaction.atomic
def bring_home(*, booking: int, home: Mapping[int, int], by: User, at: datetime, why: str = "") -> list[Movement]:
    """Put back what came home from a booking (item key to quantity), into the lots it came out of, the last first.

    More than the booking took and has not brought back is refused, and then nothing is put back.
    """
    coming = {item: quantity for item, quantity in home.items() if quantity}
    for quantity in coming.values():
        check_quantity("Brought back", quantity)
    locked = lock_items(coming)
    out: dict[int, dict[int | None, int]] = defaultdict(dict)
    kinds = [Movement.Kind.USED, Movement.Kind.RECEIVED]
    moved = Movement.objects.filter(item__in=locked, booking=booking, kind__in=kinds).order_by("-pk")
    for item, lot, gone in moved.values_list("item_id", "lot_id", "quantity"):
        out[item][lot] = out[item].get(lot, 0) - gone
    refused = [
        f"Booking {booking} took {taken:,} of {locked[item].label}; {quantity:,} cannot come back."
        for item, quantity in coming.items()
        if quantity > (taken := sum(out[item].values()))
    ]
    if refused:
        raise StockRefusal(" ".join(refused))
    made = []
    for item in sorted(coming):
        left = coming[item]
        for key, gone in out[item].items():
            part = min(gone, left)
            if part > 0:
                left -= part
                made.append(
                    Movement(
                        item_id=item,
                        kind=Movement.Kind.RECEIVED,
                        quantity=part,
                        at=at,
                        by=by,
                        booking=booking,
                        lot_id=key,
                        why=why or "brought home",
                    )
                )
    return Movement.objects.bulk_create(made)


def bring_back(*, item: Item, quantity: int, booking: int, by: User, at: datetime, why: str = "") -> list[Movement]:
    """Put back `quantity` of one item that came home from a booking, as `bring_home` does."""
    check_quantity("Brought back", quantity)
    return bring_home(booking=booking, home={item.pk: quantity}, by=by, at=at, why=why)


def _out_of(lots: Iterable[LotLeft], takings: Iterable[Taking]) -> list[tuple[int | None, int]]:
    """How many come out of which lot: first what each was said to give, then the rest in order of use."""
    left = {lot.key: lot for lot in lots}
    given: dict[int | None, int] = defaultdict(int)
    unmet = 0
    for taking in takings:
        lot = left.get(taking.lot)
        part = max(min(taking.quantity, lot.left if lot else 0), 0)
        unmet += taking.quantity - part
        if lot is not None and part:
            given[lot.key] += part
            left[lot.key] = _less(lot, part)
    for lot, part in take(left.values(), unmet):
        given[lot.key] += part
    return list(given.items())


def _less(lot: LotLeft, part: int) -> LotLeft:
    return LotLeft(lot.key, lot.left - part, lot.received_on, lot.best_before, lot.place)
