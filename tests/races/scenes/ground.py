"""What every scene stands on: items, what is on hand of them, and jobs that hold them."""

import datetime as dt
from dataclasses import dataclass
from itertools import count
from typing import Any

from stock import actions as stock
from stock.models import Item, Reservation
from stock.queries import on_hand
from studio.models import User
from tests.factories import NOON, TODAY, ItemFactory

SOON = TODAY + dt.timedelta(days=10)
_numbers = count(500_000)


def next_job() -> int:
    """The number of a job that no other scene has."""
    return next(_numbers)


@dataclass(frozen=True)
class Done:
    """Who does it, and when."""

    by: User
    at: dt.datetime = NOON

    @property
    def said(self) -> dict[str, Any]:
        """As every action takes it."""
        return {"by": self.by, "at": self.at}


def stocked(done: Done, *quantities: int) -> list[Item]:
    """An item for each quantity, with so many on hand."""
    items: list[Item] = [ItemFactory() for _ in quantities]
    for item, quantity in zip(items, quantities, strict=True):
        if quantity:
            stock.receive(item=item, quantity=quantity, **done.said)
    return items


def hold(done: Done, booking: int, needs: dict[Item, int], *, firm: bool = True, day: dt.date = SOON) -> None:
    """Promise a booking so many of each item."""
    stock.reserve(
        needs={item.pk: quantity for item, quantity in needs.items()},
        needed_on=day,
        booking=booking,
        booking_name="A job",
        firm=firm,
        **done.said,
    )


def have(items: list[Item]) -> list[int]:
    """How many of each are on hand."""
    found = on_hand([item.pk for item in items])
    return [found[item.pk] for item in items]


def held(booking: int, items: list[Item]) -> list[tuple[int, bool, int, dt.date]]:
    """What a booking still holds: which item, how firmly, how many, for which day."""
    place = {item.pk: n for n, item in enumerate(items)}
    rows = Reservation.objects.open().of_bookings([booking])
    return sorted((place[row.item_id], row.firm, row.quantity, row.needed_on) for row in rows)
