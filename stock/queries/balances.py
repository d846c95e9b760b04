"""Sums over the ledger, the promises and the orders: on hand is never stored, so it can never be wrong."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import accumulate
from typing import Any, NamedTuple

from django.db.models import DateField, F, Q, QuerySet, Sum, Value
from django.db.models.functions import Coalesce

from stock.lots import LotLeft, in_order_of_use
from stock.models import Item, Movement, Offer, Order, OrderLine, Reservation

_TAKEN_AND_BROUGHT = (Movement.Kind.USED, Movement.Kind.RECEIVED)


@dataclass(frozen=True)
class UnitCost:
    """What one of an item costs, bought in the pack that is cheapest for each.

    `unit_minor` is in the currency's smallest unit, to 28 digits: not rounded to coins.
    """

    unit_minor: Decimal
    offer: Offer


class Coming(NamedTuple):
    """What is still to come on one line of a placed order. `label` names the order."""

    item: int
    day: date
    quantity: int
    label: str


def on_hand(item_ids: Iterable[int] | None = None) -> dict[int, int]:
    """Item key to the sum of its movements; 0 for an item that has none. Of every item, unless some are named."""
    items = Item.objects.all() if item_ids is None else Item.objects.filter(pk__in=list(item_ids))
    sums = items.annotate(sum=Coalesce(Sum("movements__quantity"), 0)).order_by("pk")
    return dict(sums.values_list("pk", "sum"))


def lots_on_hand(item_ids: Iterable[int] | None = None) -> dict[int, list[LotLeft]]:
    """Item key to what is left of each of its lots, in order of use; what is of no lot is one of them, without a key.

    An item that has nothing left has no lots. Their sum is what is on hand, always: both are sums of movements.
    """
    moved = Movement.objects.all() if item_ids is None else Movement.objects.filter(item__in=list(item_ids))
    left = moved.values("item_id", "lot_id").annotate(left=Sum("quantity")).exclude(left=0).order_by()
    lots: dict[int, list[LotLeft]] = defaultdict(list)
    for item, *lot in left.values_list(
        "item_id", "lot_id", "left", "lot__received_on", "lot__best_before", "lot__place"
    ):
        key, quantity, received_on, best_before, place = lot
        lots[item].append(LotLeft(key, quantity, received_on, best_before, place or ""))
    for item in lots:
        lots[item] = in_order_of_use(lots[item])
    return lots


def arriving(item_ids: Iterable[int] | None = None) -> list[Coming]:
    """What placed orders have still to bring, by day. One line of an order is one arrival."""
    lines = _outstanding()
    if item_ids is not None:
        lines = lines.filter(item__in=list(item_ids))
    return [
        Coming(item, day, packs * pack_size - received, f"Order {order}")
        for item, day, packs, pack_size, received, order in lines.order_by("order__expected_on", "pk").values_list(
            "item_id", "order__expected_on", "packs", "pack_size", "received", "order_id"
        )
        if day is not None
    ]


def _outstanding() -> QuerySet[OrderLine]:
    """Lines of placed orders that have not all come."""
    return OrderLine.objects.filter(order__state=Order.State.PLACED, received__lt=F("packs") * F("pack_size"))


def pack_costs(item_ids: Iterable[int]) -> dict[int, UnitCost]:
    """Item key to what one costs at the best offer; an item nobody offers is missing.

    Of two offers that cost the same for each, the smaller pack is taken.
    """
    cheapest: dict[int, tuple[Fraction, Offer]] = {}
    offers = Offer.objects.filter(item__in=list(item_ids)).select_related("supplier").order_by("pack_size", "pk")
    for offer in offers:
        unit = Fraction(offer.price_minor, offer.pack_size)
        if offer.item_id not in cheapest or unit < cheapest[offer.item_id][0]:
            cheapest[offer.item_id] = (unit, offer)
    return {
        item: UnitCost(Decimal(unit.numerator) / Decimal(unit.denominator), offer)
        for item, (unit, offer) in cheapest.items()
    }


def free_on(item_ids: Iterable[int], day: date, today: date, *, besides: int | None = None) -> dict[int, int]:
    """Item key to how many can still be promised for `day` without taking from anybody who was promised firmly.

    The least the shelf, with arrivals and less firm promises, holds on that day or any later one. Less than 0
    where it runs short already. A promise from before today still takes from today; a delivery that should have
    come already counts for nothing until it does. What the booking `besides` was promised is its own, and left out.
    """
    ids = list(item_ids)
    day = max(day, today)
    # Whatever happens up to the day has happened by then, so it stands first.
    changes: dict[int, dict[date, int]] = {item: {day: 0} for item in ids}
    for item, happens_on, quantity in _changes(ids, today, besides=besides):
        then = day if happens_on is None else max(happens_on, day)
        changes[item][then] = changes[item].get(then, 0) + quantity
    return {item: min(accumulate(by_day[then] for then in sorted(by_day))) for item, by_day in changes.items()}


def _changes(ids: Sequence[int], today: date, *, besides: int | None) -> Iterable[tuple[int, date | None, int]]:
    """(item, day, how many) of firm promises, of what is still to come, and of what is there now, which has no day.

    One statement for the three. What the booking `besides` was promised is left out.
    """
    firm = Reservation.objects.open().firm().filter(item__in=ids)
    if besides is not None:
        firm = firm.exclude(booking=besides)
    lines = _outstanding().filter(item__in=ids, order__expected_on__gte=today)
    moved = Movement.objects.filter(item__in=ids).order_by().values("item_id").annotate(sum=Sum("quantity"))
    return (
        firm.order_by()
        .values_list("item_id", "needed_on", -F("quantity"))
        .union(
            lines.order_by().values_list("item_id", "order__expected_on", F("packs") * F("pack_size") - F("received")),
            moved.values_list("item_id", Value(None, DateField()), "sum"),
            all=True,
        )
    )


def held_firmly(booking: int) -> dict[int, int]:
    """Item key to how many a booking holds since it was accepted; items it holds none of are missing."""
    return dict(_held_firmly(booking).values_list("item_id", "sum"))


def taken_for(booking: int) -> dict[int, int]:
    """Item key to how many a booking took off the shelf and has not brought home; what is none is missing."""
    return dict(_taken_for(booking).values_list("item_id", "sum"))


def held_and_taken(booking: int) -> tuple[dict[int, int], dict[int, int]]:
    """Both, by what is held and by what was taken. One statement."""
    held, taken = _held_firmly(booking), _taken_for(booking)
    columns = ("item_id", "sum")
    found: tuple[dict[int, int], dict[int, int]] = ({}, {})
    rows = held.values_list(Value(0), *columns).union(taken.values_list(Value(1), *columns), all=True)
    for n, item, quantity in rows:
        found[n][item] = quantity
    return found


def _held_firmly(booking: int) -> QuerySet[Any]:
    held = Reservation.objects.open().firm().of_bookings([booking]).order_by().values("item_id")
    return held.annotate(sum=Sum("quantity"))


def _taken_for(booking: int) -> QuerySet[Any]:
    moved = Movement.objects.filter(booking=booking, kind__in=_TAKEN_AND_BROUGHT).order_by().values("item_id")
    return moved.annotate(sum=-Sum("quantity")).filter(sum__gt=0)


def items_taken_for(booking: int) -> dict[Item, int]:
    """What was `taken_for` a booking by the items themselves, in the order of the shelf. One statement."""
    moved = Q(movements__booking=booking, movements__kind__in=_TAKEN_AND_BROUGHT)
    items: QuerySet[Any] = Item.objects.filter(moved).with_colour().shelf_order()
    items = items.annotate(taken=-Sum("movements__quantity")).filter(taken__gt=0)
    return {item: item.taken for item in items}
