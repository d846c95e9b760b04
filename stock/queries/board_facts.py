"""What the database knows about items for the weekly check, read in as few statements as there are tables."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any

from django.db.models import CharField, F, Func, IntegerField, Sum
from django.db.models.functions import Cast

from stock.cover import Arrival, Need
from stock.lots import LotLeft
from stock.models import Item, Offer, Order, OrderLine, ReservationQuerySet
from stock.queries.balances import lots_on_hand

AT_ONCE = 5_000
MOST_NAMED = 10_000
"""The most items a statement names by their keys; beyond it reading them all is quicker anyway."""

_day = lru_cache(maxsize=4096)(date.fromisoformat)


class _DayInWords(Func):
    """A day as "2026-06-01": of tens of thousands few differ, and each read as a date takes twice as long."""

    output_field = CharField()
    template = "CAST(%(expressions)s AS text)"

    def as_postgresql(self, compiler: Any, connection: Any) -> Any:
        """Whatever way of writing days the server is set to."""
        return self.as_sql(compiler, connection, template="to_char(%(expressions)s, 'YYYY-MM-DD')")


@dataclass(frozen=True)
class Facts:
    """What the database knows about some items, by the key of the item; of what is promised, only how much it is."""

    items: list[Item]
    lots: dict[int, list[LotLeft]]
    promised: dict[int, int]
    arrivals: dict[int, list[Arrival]]
    planned: dict[int, int]

    def is_plenty_of(self, item: Item) -> bool:
        """Whether what is on the shelf is enough for all that is promised, with what is kept back left over."""
        have = sum(lot.left for lot in self.lots.get(item.pk, []))
        return have - item.keep_back >= self.promised.get(item.pk, 0)

    def is_busy(self, item: Item) -> bool:
        """Whether it is promised, or on its way."""
        return bool(self.promised.get(item.pk) or self.arrivals.get(item.pk))


def facts_of(held: ReservationQuerySet, item_ids: Iterable[int] | None) -> Facts:
    listed = Item.objects.with_colour().shelf_order()
    if item_ids is not None:
        listed = listed.filter(pk__in=list(item_ids))
    items = list(listed)
    # Of every item, nothing needs naming: a list of thousands of keys is more than a statement can hold.
    keys = None if item_ids is None else [item.pk for item in items]
    arrivals, planned = _orders(keys)
    if keys is not None:
        held = held.filter(item__in=keys)
    promised = dict(held.order_by().values("item_id").annotate(sum=Sum("quantity")).values_list("item_id", "sum"))
    return Facts(items, lots_on_hand(keys), promised, arrivals, planned)


def needs_of(held: ReservationQuerySet, items: list[Item], *, is_most: bool) -> dict[int, list[Need]]:
    """Every promise of some items, in no order."""
    needs: dict[int, list[Need]] = {item.pk: [] for item in items}
    if len(items) <= MOST_NAMED and not is_most:
        held = held.filter(item__in=list(needs))
    rows = held.order_by().values_list(
        "item_id", "pk", _DayInWords("needed_on"), "booking", "booking_name", "quantity", Cast("firm", IntegerField())
    )
    for item, key, day, booking, name, quantity, firm in rows.iterator(AT_ONCE):
        if item in needs:
            needs[item].append(Need(key, _day(day), booking, name, quantity, firm == 1))
    return needs


def _orders(keys: list[int] | None) -> tuple[dict[int, list[Arrival]], dict[int, int]]:
    """What placed orders have still to bring, and how many planned ones would."""
    lines = OrderLine.objects.filter(
        order__state__in=[Order.State.PLANNED, Order.State.PLACED], received__lt=F("packs") * F("pack_size")
    )
    if keys is not None:
        lines = lines.filter(item__in=keys)
    arrivals: dict[int, list[Arrival]] = defaultdict(list)
    planned: dict[int, int] = defaultdict(int)
    for line in lines.select_related("order").order_by("order__expected_on", "pk"):
        if line.order.state == Order.State.PLACED and line.order.expected_on is not None:
            arrivals[line.item_id].append(Arrival(line.order.expected_on, line.outstanding, str(line.order)))
        else:
            planned[line.item_id] += line.outstanding
    return arrivals, planned


def offers_of(items: list[Item]) -> dict[int, list[Offer]]:
    made = Offer.objects.select_related("supplier").order_by("pk")
    if len(items) <= MOST_NAMED:
        made = made.filter(item__in=[item.pk for item in items])
    by_key = {item.pk: item for item in items}
    offers: dict[int, list[Offer]] = defaultdict(list)
    for offer in made:
        if offer.item_id not in by_key:
            continue
        offer.item = by_key[offer.item_id]
        offers[offer.item_id].append(offer)
    return offers
