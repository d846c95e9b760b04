"""What comes onto the shelf and what leaves it: one movement each, written once."""

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction

from stock.models import Item, Movement, OrderLine
from stock.queries import on_hand
from studio.models import User

MOST = 1_000_000
"""The largest quantity one entry takes: beyond it a slipped finger is likelier than a delivery."""


class StockRefusal(Exception):
    """A movement the shelf cannot make; the message is a sentence for the page."""


def lock_items(ids: Iterable[int]) -> dict[int, Item]:
    """The items of these keys, held until the transaction ends; unknown keys are left out.

    Always locked in the order of their keys, so that two bookings that need the same items wait for each other
    instead of deadlocking. Call it inside a transaction.
    """
    wanted = sorted(set(ids))
    items = Item.objects.select_for_update(of=("self",)).with_colour().filter(pk__in=wanted).order_by("pk")
    return {item.pk: item for item in items}


def check_quantity(field: str, quantity: int, *, least: int = 1) -> None:
    """Refuse a quantity that is not between `least` and `MOST`."""
    if not least <= quantity <= MOST:
        raise StockRefusal(f"{field} must be {least:,} to {MOST:,} (got {quantity:,}).")


@transaction.atomic
def receive(
    *, item: Item, quantity: int, by: User, at: datetime, why: str = "", order_line: OrderLine | None = None
) -> Movement:
    """Put `quantity` onto the shelf, from an order line where it was ordered here."""
    check_quantity("Received", quantity)
    lock_items([item.pk])
    return Movement.objects.create(
        item=item, kind=Movement.Kind.RECEIVED, quantity=quantity, at=at, by=by, why=why, order_line=order_line
    )


@transaction.atomic
def use(*, item: Item, quantity: int, by: User, at: datetime, booking: int | None = None, why: str = "") -> Movement:
    """Take `quantity` off the shelf for a booking; more than is on hand is refused."""
    check_quantity("Used", quantity)
    return _take(item, Movement.Kind.USED, quantity, "used", by=by, at=at, booking=booking, why=why)


@transaction.atomic
def write_off(*, item: Item, quantity: int, why: str, by: User, at: datetime, booking: int | None = None) -> Movement:
    """Take `quantity` off the shelf that is spoilt or lost, with the reason; more than is on hand is refused."""
    check_quantity("Written off", quantity)
    if not why.strip():
        raise StockRefusal("Why must be said when something is written off (got nothing).")
    return _take(item, Movement.Kind.WRITTEN_OFF, quantity, "written off", by=by, at=at, booking=booking, why=why)


@transaction.atomic
def count(*, item: Item, counted: int, by: User, at: datetime, why: str = "") -> Movement:
    """Set on hand to what was `counted`, by writing the difference: a difference of none is written too.

    The ledger then says when the item was last counted, and by whom.
    """
    check_quantity("Counted", counted, least=0)
    lock_items([item.pk])
    difference = counted - on_hand([item.pk])[item.pk]
    return Movement.objects.create(item=item, kind=Movement.Kind.COUNTED, quantity=difference, at=at, by=by, why=why)


def _take(
    item: Item, kind: Movement.Kind, quantity: int, word: str, *, by: User, at: datetime, booking: int | None, why: str
) -> Movement:
    locked = lock_items([item.pk])
    have = on_hand([item.pk])[item.pk]
    if quantity > have:
        raise StockRefusal(f"{locked[item.pk].label} has {have:,} on hand; {quantity:,} cannot be {word}.")
    return Movement.objects.create(item=item, kind=kind, quantity=-quantity, at=at, by=by, why=why, booking=booking)
