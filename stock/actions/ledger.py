"""What comes onto the shelf and what leaves it: written once, lot by lot, the soonest to expire first."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from stock.lots import LotLeft, months_after, take
from stock.models import Item, Lot, Movement, OrderLine, ShelfRules
from stock.queries import lots_on_hand, on_hand
from studio.models import User

MOST = 1_000_000
"""The largest quantity one entry takes: beyond it a slipped finger is likelier than a delivery."""
_YEARS_APART = 20


class StockRefusal(Exception):
    """A movement the shelf cannot make; the message is a sentence for the page."""


def lock_items(ids: Iterable[int] | None) -> dict[int, Item]:
    """The items of these keys, or with None every item, held until the transaction ends; unknown keys are left out.

    Always locked in the order of their keys, so that two bookings that need the same items wait for each other
    instead of deadlocking. Call it inside a transaction.
    """
    items = Item.objects.select_for_update(of=("self",), no_key=True).with_colour().order_by("pk")
    if ids is not None:
        items = items.filter(pk__in=set(ids))
    return {item.pk: item for item in items}


def lock_keys(ids: Iterable[int]) -> set[int]:
    """Hold items as `lock_items` does, where nothing need be known of them; the keys of those there are."""
    items = Item.objects.select_for_update(no_key=True).filter(pk__in=set(ids)).order_by("pk")
    return set(items.values_list("pk", flat=True))


def check_quantity(field: str, quantity: int, *, least: int = 1) -> None:
    """Refuse a quantity that is not between `least` and `MOST`."""
    if not least <= quantity <= MOST:
        raise StockRefusal(f"{field} must be {least:,} to {MOST:,} (got {quantity:,}).")


def usual_best_before(item: Item, received_on: date, rules: ShelfRules) -> date | None:
    """The last day something that came on a day is good, where nobody says otherwise; None for what keeps."""
    months = item.best_before_months
    if months is None:
        months = rules.latex_months if item.ages else 0
    return months_after(received_on, months) if months else None


def put_away(
    *,
    item: Item,
    quantity: int,
    by: User,
    at: datetime,
    why: str = "",
    order_line: OrderLine | None = None,
    best_before: date | None = None,
    place: str = "",
    rules: ShelfRules | None = None,
) -> Movement:
    """Make a lot of what came and write it down. The item is locked already, and the transaction is the caller's."""
    received_on = timezone.localdate(at)
    if best_before is not None and abs(best_before.year - received_on.year) > _YEARS_APART:
        raise StockRefusal(f"Best-before must be within {_YEARS_APART} years (got {best_before:%Y-%m-%d}).")
    if best_before is None:
        best_before = usual_best_before(item, received_on, rules or ShelfRules.objects.current())
    lot = Lot.objects.create(
        item=item,
        received_on=received_on,
        best_before=best_before,
        place=place.strip(),
    )
    return Movement.objects.create(
        item=item, kind=Movement.Kind.RECEIVED, quantity=quantity, at=at, by=by, why=why, order_line=order_line, lot=lot
    )


@transaction.atomic
def receive(
    *,
    item: Item,
    quantity: int,
    by: User,
    at: datetime,
    why: str = "",
    order_line: OrderLine | None = None,
    best_before: date | None = None,
    place: str = "",
) -> Movement:
    """Put `quantity` onto the shelf as a lot of its own, from an order line where it was ordered here.

    Without `best_before` it is good for as many months as the item, or the studio's rule for latex, says.
    """
    check_quantity("Received", quantity)
    locked = lock_items([item.pk])
    return put_away(
        item=locked[item.pk],
        quantity=quantity,
        by=by,
        at=at,
        why=why,
        order_line=order_line,
        best_before=best_before,
        place=place,
    )


@transaction.atomic
def use(
    *,
    item: Item,
    quantity: int,
    by: User,
    at: datetime,
    booking: int | None = None,
    why: str = "",
    lot: int | None = None,
) -> list[Movement]:
    """Take `quantity` off the shelf for a booking: one movement a lot, the soonest to expire first.

    From one `lot`, by its key, where it is named. More than is there is refused.
    """
    check_quantity("Used", quantity)
    return _take(item, Movement.Kind.USED, quantity, "used", by=by, at=at, booking=booking, why=why, lot=lot)


@transaction.atomic
def write_off(
    *,
    item: Item,
    quantity: int,
    why: str,
    by: User,
    at: datetime,
    booking: int | None = None,
    lot: int | None = None,
) -> list[Movement]:
    """Take `quantity` off the shelf that is spoilt or lost, with the reason, as `use` does."""
    check_quantity("Written off", quantity)
    if not why.strip():
        raise StockRefusal("Why must be said when something is written off (got nothing).")
    kind = Movement.Kind.WRITTEN_OFF
    return _take(item, kind, quantity, "written off", by=by, at=at, booking=booking, why=why, lot=lot)


@transaction.atomic
def count(*, item: Item, counted: int, by: User, at: datetime, why: str = "") -> list[Movement]:
    """Set on hand to what was `counted`, by writing the difference: a difference of none is written too.

    The ledger then says when the item was last counted, and by whom. What is missing is taken from the lots in
    order of use; what was found is of no lot, for nobody knows when it came.
    """
    check_quantity("Counted", counted, least=0)
    lock_items([item.pk])
    lots = lots_on_hand([item.pk])[item.pk]
    return put_right(item.pk, counted - sum(lot.left for lot in lots), lots, by=by, at=at, why=why)


def put_right(
    item: int, difference: int, lots: Sequence[LotLeft], *, by: User, at: datetime, why: str
) -> list[Movement]:
    """Write the difference a count has found, with what is left of every lot. The item is locked already."""
    made = differences(item, difference, lots, by=by, at=at, why=why)
    for movement in made:
        movement.save()
    return made


def differences(
    item: int, difference: int, lots: Sequence[LotLeft], *, by: User, at: datetime, why: str
) -> list[Movement]:
    """The movements that put a count right, not written yet: one a lot that some are missing of."""
    parts: list[tuple[int | None, int]] = [(None, difference)]
    if difference < 0 and -difference <= sum(max(lot.left, 0) for lot in lots):
        parts = [(lot.key, -part) for lot, part in take(lots, -difference)]
    return [
        Movement(item_id=item, kind=Movement.Kind.COUNTED, quantity=part, at=at, by=by, why=why, lot_id=lot)
        for lot, part in parts
    ]


@transaction.atomic
def change_lot(*, lot: Lot, best_before: date | None, place: str, by: User, at: datetime) -> Lot:
    """Say until when a lot is good, and where it lies, where that was not known or is not so any more."""
    lot = Lot.objects.select_for_update(of=("self",)).select_related("item__colour").get(pk=lot.pk)
    lot.best_before, lot.place = best_before, place.strip()
    lot.save(update_fields=["best_before", "place"])
    return lot


def _take(
    item: Item,
    kind: Movement.Kind,
    quantity: int,
    word: str,
    *,
    by: User,
    at: datetime,
    booking: int | None,
    why: str,
    lot: int | None,
) -> list[Movement]:
    locked = lock_items([item.pk])
    have = on_hand([item.pk])[item.pk]
    if quantity > have:
        raise StockRefusal(f"{locked[item.pk].label} has {have:,} on hand; {quantity:,} cannot be {word}.")
    lots = lots_on_hand([item.pk])[item.pk]
    if lot is not None:
        lots = [left for left in lots if left.key == lot]
        of_it = sum(left.left for left in lots)
        if quantity > of_it:
            raise StockRefusal(
                f"Of that lot of {locked[item.pk].label} {of_it:,} are left; {quantity:,} cannot be {word}."
            )
    return [
        Movement.objects.create(
            item=item, kind=kind, quantity=-part, at=at, by=by, why=why, booking=booking, lot_id=left.key
        )
        for left, part in take(lots, quantity)
    ]
