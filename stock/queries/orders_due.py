"""Which orders are to be placed, and which should arrive by a day. Nothing here changes anything."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Count, F, Sum
from django.db.models.functions import Coalesce, Greatest

from stock.models import Order

_TO_COME = F("lines__packs") * F("lines__pack_size") - F("lines__received")


@dataclass(frozen=True, slots=True)
class OrderDue:
    """An order that should arrive on `expected_on`, and how many are still to come of it."""

    order: Order
    expected_on: date
    to_come: int
    is_late: bool


@dataclass(frozen=True, slots=True)
class OrderToPlace:
    """An order that is planned and not placed, and how many lines it has."""

    order: Order
    lines: int


def orders_due(today: date, *, until: date) -> list[OrderDue]:
    """Placed orders that should be here by `until` and are not, the longest overdue first. One statement."""
    placed = Order.objects.filter(state=Order.State.PLACED, expected_on__lte=until)
    placed = placed.annotate(to_come=Coalesce(Sum(Greatest(_TO_COME, 0)), 0))
    return [
        OrderDue(order, order.expected_on, order.to_come, is_late=order.expected_on < today)
        for order in placed.select_related("supplier").order_by("expected_on", "pk")
        if order.expected_on is not None
    ]


def orders_to_place() -> list[OrderToPlace]:
    """Planned orders that buy something, by supplier. One statement."""
    planned = Order.objects.filter(state=Order.State.PLANNED).annotate(line_count=Count("lines"))
    listed = planned.filter(line_count__gt=0).select_related("supplier").order_by("supplier__name", "pk")
    return [OrderToPlace(order, order.line_count) for order in listed]
