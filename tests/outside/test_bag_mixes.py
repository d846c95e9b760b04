"""Small purchases whose answers are known.

Sources: the bag mixes were derived by a dynamic program and by enumeration, which agree; common practice sets the
sizes of the packs. The all-units price breaks are a published lot-size example, of which the price of one purchase is
used.
"""

import datetime as dt

import pytest

from stock.buying import Pack, Want, cheapest_plan, problem_of

TODAY = dt.date(2026, 6, 1)
BY_HUNDREDS = [(100, 1800), (50, 1000), (25, 650)]
BY_TENS = [(50, 3000), (10, 800)]


@pytest.mark.parametrize(
    ("packs", "need", "cost_minor", "sizes"),
    [
        pytest.param(BY_HUNDREDS, 60, 1650, [25, 50], id="60 as 50 and 25"),
        pytest.param(BY_HUNDREDS, 76, 1800, [100], id="76 as 100"),
        pytest.param(BY_HUNDREDS, 130, 2800, [50, 100], id="130 as 100 and 50"),
        pytest.param(BY_HUNDREDS, 149, 2800, [50, 100], id="149 as 100 and 50"),
        pytest.param(BY_TENS, 24, 2400, [10, 10, 10], id="24 as three tens"),
        pytest.param(BY_TENS, 40, 3000, [50], id="40 as 50"),
    ],
)
def test_the_cheapest_mix_of_bags(packs, need, cost_minor, sizes):
    offered = [Pack(n, 1, 1, size, price, 0) for n, (size, price) in enumerate(packs)]
    found = cheapest_plan(problem_of([Want(1, need, None)], offered, {}, today=TODAY))
    bought = sorted(line.pack.size for order in found.orders for line in order.lines for _ in range(line.packs))
    assert (found.cost_minor, bought) == (cost_minor, sizes)
    assert found.is_proven


@pytest.mark.parametrize(
    ("need", "unit_minor"), [(79, 5150), (100, 4950), (200, 4800), (500, 4700)], ids=lambda value: str(value)
)
def test_price_breaks_offered_as_packs_are_taken_whole(need, unit_minor):
    """Breaks at 50, 100, 200 and 500, each quantity bought at the price of its break: 51.50, 49.50, 48.00, 47.00."""
    offered = [Pack(1, 1, 1, need, need * unit_minor, 0), Pack(2, 1, 1, 1, 5300, 0)]
    found = cheapest_plan(problem_of([Want(1, need, None)], offered, {}, today=TODAY))
    assert found.cost_minor == need * unit_minor
