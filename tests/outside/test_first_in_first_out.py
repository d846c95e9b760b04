"""First in, first out, and first expired, first out.

The perpetual first-in-first-out example is a textbook's (widely used, figures recomputed): 10 units at 91
and 15 at 106; 20 are sold; 20 more come at 115 and 10 at 119; 23 are sold. First expired, first out is the
same rule with the lots sorted by expiry and only then by receipt: common practice, no source.
"""

import datetime as dt

import pytest

from stock.lots import LotLeft, take

DAY = dt.date(2026, 3, 1)


def cost(taken: list[tuple[LotLeft, int]], prices: dict[int, int]) -> int:
    return sum(quantity * prices[lot.key or 0] for lot, quantity in taken)


def less(lots: list[LotLeft], taken: list[tuple[LotLeft, int]]) -> list[LotLeft]:
    """What is left of the lots."""
    gone = {lot.key: quantity for lot, quantity in taken}
    return [LotLeft(lot.key, lot.left - gone.get(lot.key, 0), lot.received_on, lot.best_before) for lot in lots]


PRICES = {1: 91, 2: 106, 3: 115, 4: 119}


def test_the_textbook_sale_of_twenty_costs_1970():
    lots = [LotLeft(1, 10, DAY), LotLeft(2, 15, DAY + dt.timedelta(days=2))]
    assert cost(take(lots, 20), PRICES) == 1970


def test_the_textbook_sale_of_twenty_three_costs_2600_and_leaves_1420():
    lots = [LotLeft(1, 10, DAY), LotLeft(2, 15, DAY + dt.timedelta(days=2))]
    lots = less(lots, take(lots, 20))
    lots += [LotLeft(3, 20, DAY + dt.timedelta(days=16)), LotLeft(4, 10, DAY + dt.timedelta(days=27))]
    taken = take(lots, 23)
    assert [(lot.key, quantity) for lot, quantity in taken] == [(2, 5), (3, 18)]
    assert cost(taken, PRICES) == 2600
    left = less(lots, taken)
    assert sum(lot.left for lot in left) == 12
    assert sum(lot.left * PRICES[lot.key or 0] for lot in left) == 1420


@pytest.mark.parametrize(
    ("quantity", "taken"),
    [
        pytest.param(4, [(2, 4)], id="the soonest to expire, though it came last"),
        pytest.param(9, [(2, 5), (1, 4)], id="then what expires next"),
        pytest.param(20, [(2, 5), (1, 10), (3, 5)], id="what keeps comes last"),
    ],
)
def test_the_soonest_to_expire_goes_first(quantity, taken):
    lots = [
        LotLeft(1, 10, DAY, dt.date(2027, 6, 1)),
        LotLeft(2, 5, DAY + dt.timedelta(days=30), dt.date(2026, 12, 1)),
        LotLeft(3, 30, DAY - dt.timedelta(days=90)),
    ]
    assert [(lot.key, part) for lot, part in take(lots, quantity)] == taken
