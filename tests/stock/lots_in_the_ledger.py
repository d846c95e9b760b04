"""Lots for tests: received, and what is left of them."""

import datetime as dt

from stock import actions
from stock.models import Item, Movement
from stock.queries import lots_on_hand
from tests.factories import NOON, TODAY


def day(ahead: int) -> dt.date:
    return TODAY + dt.timedelta(days=ahead)


def receive(item: Item, quantity: int, by, **said) -> Movement:
    return actions.receive(item=item, quantity=quantity, by=by, at=NOON, **said)


def left(item: Item) -> list[tuple[dt.date | None, int]]:
    """Best-before and number left of each lot, in order of use."""
    return [(lot.best_before, lot.left) for lot in lots_on_hand([item.pk])[item.pk]]


def left_of(movement: Movement) -> dt.date | None:
    assert movement.lot is not None
    return movement.lot.best_before
