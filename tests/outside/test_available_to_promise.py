"""Discrete available-to-promise, as a widely used operations-management textbook tabulates it.

The data are published; the row of answers was given from memory and recomputed from the definition: the first
period has what is on hand plus what is made, less all orders due before something is made again; a later period
in which something is made has that, less the orders until the next; any other has none.

Here one week is one day. What can be promised for a day (the lowest balance from then on) adds those up, so the
textbook's row is how much it grows in each week in which something is made.
"""

import datetime as dt
from datetime import timedelta

import pytest

from stock.cover import Arrival, ItemCover, Need, cover

FIRST = dt.date(2026, 1, 5)
FORECAST = [30, 30, 30, 30, 40, 40, 40, 40]
ORDERS = [33, 20, 10, 4, 2, 0, 0, 0]


def checked(on_hand: int, made: list[int], due: list[int]) -> ItemCover:
    days = [FIRST + timedelta(days=week) for week in range(len(made))]
    arrivals = [Arrival(day, quantity, "made") for day, quantity in zip(days, made, strict=True) if quantity]
    needs = [
        Need(week, day, week, f"week {week + 1}", quantity, True)
        for week, (day, quantity) in enumerate(zip(days, due, strict=True))
        if quantity
    ]
    return cover(on_hand, arrivals, needs, today=FIRST, lead_days=None)


def available_to_promise(found: ItemCover, made: list[int]) -> list[int | None]:
    """The textbook's row: in the first week and whenever something is made, how much more can be promised."""
    row: list[int | None] = []
    before = 0
    for week, quantity in enumerate(made):
        now = found.available(FIRST + timedelta(days=week))
        row.append(now - before if week == 0 or quantity else None)
        before = now
    return row


@pytest.mark.parametrize(
    ("on_hand", "made", "orders", "row"),
    [
        pytest.param(
            64, [0, 0, 70, 0, 70, 0, 70, 70], ORDERS, [11, None, 56, None, 68, None, 70, 70], id="the textbook's"
        ),
        pytest.param(
            60, [0, 70, 0, 70, 0, 70, 0, 70], ORDERS, [27, 40, None, 64, None, 70, None, 70],
            id="made when fewer than ten are left",
        ),
        pytest.param(
            31, [0, 70, 0, 70, 0, 70, 70], [25, 16, 11, 8, 3, 0, 0], [6, 43, None, 59, None, 70, 70],
            id="the same a week later",
        ),
    ],
)  # fmt: skip
def test_available_to_promise(on_hand, made, orders, row):
    assert available_to_promise(checked(on_hand, made, orders), made) == row


@pytest.mark.parametrize(
    ("on_hand", "made", "projected"),
    [
        pytest.param(64, [0, 0, 70, 0, 70, 0, 70, 70], [31, 1, 41, 11, 41, 1, 31, 61], id="the textbook's"),
        pytest.param(
            60, [0, 70, 0, 70, 0, 70, 0, 70], [27, 67, 37, 77, 37, 67, 27, 57], id="made when fewer than ten are left"
        ),
    ],
)
def test_projected_on_hand(on_hand, made, projected):
    """The larger of forecast and orders is what is expected to leave."""
    expected = [max(pair) for pair in zip(FORECAST, ORDERS, strict=True)]
    found = checked(on_hand, made, expected)
    assert [found.balance_on(FIRST + timedelta(days=week)) for week in range(8)] == projected
