"""One item bought in packs: the cheapest that hold enough, need by need, from the deliveries that are open."""

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import gcd

from stock.buying.problem import Delivery, Pack, Problem, Step

_LONGEST_TABLE = 2_000
_MOST_COST = 1 << 62

Place = tuple[int, Delivery]
"""A pack, by its key, in a delivery."""
Open = frozenset[Delivery]


def packs_for(problem: Problem, item: int, open_: Open, steps: Sequence[Step]) -> dict[Place, int] | None:
    """The packs of one item, each step met in its turn with what came before."""
    choice: Counter[Place] = Counter()
    for step in steps:
        have = sum(
            problem.packs[key].size * number
            for (key, delivery), number in choice.items()
            if step.waits_for(delivery.days)
        )
        for pack in problem.packs_of[item]:
            have += pack.size * problem.fixed.get(pack.key, 0)
        lacks = step.quantity - have
        if lacks <= 0:
            continue
        rides = list(_rides(problem, item, step, open_))
        if not rides:
            return None
        choice.update(_cheapest_mix(lacks, rides))
    return dict(choice)


def _rides(problem: Problem, item: int, step: Step, open_: Open) -> Iterator[tuple[Pack, Delivery]]:
    """Each pack with the slowest open delivery that is in time for a step."""
    for pack in problem.packs_of[item]:
        if pack.key in problem.fixed:
            continue
        fitting = [d for d in problem.deliveries[pack.key] if d in open_ and step.waits_for(d.days)]
        if fitting:
            yield pack, max(fitting, key=lambda delivery: (delivery.days, delivery.joins))


def _cheapest_mix(lacks: int, rides: Sequence[tuple[Pack, Delivery]]) -> dict[Place, int]:
    """The cheapest packs that hold `lacks` or more: exact, unless the table for it would be long."""
    worth = _not_outdone(rides)
    unit = gcd(*(pack.size for pack, _ in worth))
    rows = -(-lacks // unit)
    if rows > _LONGEST_TABLE:
        pack, delivery = min(worth, key=lambda ride: -(-lacks // ride[0].size) * ride[0].price_minor)
        return {(pack.key, delivery): -(-lacks // pack.size)}
    numbers = _numbers(rows, tuple((pack.size // unit, pack.price_minor) for pack, _ in worth))
    return {(worth[n][0].key, worth[n][1]): number for n, number in numbers}


def _not_outdone(rides: Sequence[tuple[Pack, Delivery]]) -> list[tuple[Pack, Delivery]]:
    """Those of which no other holds as many for as little."""
    worth: list[tuple[Pack, Delivery]] = []
    for ride in sorted(rides, key=lambda ride: (-ride[0].size, ride[0].price_minor)):
        if not worth or ride[0].price_minor < worth[-1][0].price_minor:
            worth.append(ride)
    return worth


@lru_cache(maxsize=20_000)
def _numbers(rows: int, packs: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
    """How many of which pack, by its place: the cheapest that hold so many units, and of those the fewest packs.

    A pack is its size in units and its price; they go from the largest and dearest to the smallest and cheapest.
    """
    # What it costs to hold so many units, in how many packs, and the last pack bought for it.
    table: list[tuple[int, int, int]] = [(0, 0, -1)]
    for units in range(1, rows + 1):
        best = (_MOST_COST, 0, -1)
        for n, (size, price) in enumerate(packs):
            cost, number, _ = table[units - size if units > size else 0]
            if (cost + price, number + 1) < best[:2]:
                best = (cost + price, number + 1, n)
        table.append(best)
    numbers: Counter[int] = Counter()
    units = rows
    while units > 0:
        n = table[units][2]
        numbers[n] += 1
        units -= packs[n][0]
    return tuple(numbers.items())
