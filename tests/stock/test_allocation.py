"""Who goes without, reckoned in three ways that share nothing: ours, what is left free by day, and every possible way.

Ours takes from the latest delivery in time. The second keeps, for each day, how much could still be handed out by then
and never looks at a delivery: a promise gets the least of that from its day on. The third tries everything.
"""

import datetime as dt
import os
from collections import Counter
from collections.abc import Sequence
from functools import cache
from random import Random

import numpy as np
import pytest

from stock.cover import Arrival, Need, allocate
from tests.factories import TODAY

CASES = 10_000
DAYS = 540
A_LARGE_SHELF = (300, 200)
"""Items, and promises of each."""


def day(after: int) -> dt.date:
    return TODAY + dt.timedelta(days=after)


def by_allocating(on_hand: int, arrivals: Sequence[Arrival], needs: Sequence[Need]) -> Counter[int]:
    """How many each booking goes without, by the code under test."""
    short: Counter[int] = Counter()
    for hit in allocate(on_hand, arrivals, needs, TODAY):
        short[hit.booking] += hit.short
    return short


def by_what_is_left_free(on_hand: int, arrivals: Sequence[Arrival], needs: Sequence[Need], days: int) -> Counter[int]:
    """The same, from how many could be handed out by each day: a promise takes from its own day and every later one."""
    free = np.full(days, max(on_hand, 0), dtype=np.int64)
    for arrival in arrivals:
        free[(arrival.day - TODAY).days :] += arrival.quantity
    short: Counter[int] = Counter()
    for need in needs:
        since = (need.day - TODAY).days
        given = min(need.quantity, int(free[since:].min()))
        free[since:] -= given
        if given < need.quantity:
            short[need.booking] += need.quantity - given
    return short


def by_every_possible_way(on_hand: int, arrivals: Sequence[Arrival], needs: Sequence[Need]) -> Counter[int]:
    """The same: what each promise adds to the most that any way of serving it and all earlier ones hands out."""
    days = (TODAY, *(arrival.day for arrival in arrivals))
    left = (max(on_hand, 0), *(arrival.quantity for arrival in arrivals))
    short: Counter[int] = Counter()
    before = 0
    for number, need in enumerate(needs, 1):
        served = most_served(days, left, needs[:number])
        if served - before < need.quantity:
            short[need.booking] += need.quantity - (served - before)
        before = served
    return short


def most_served(days: tuple[dt.date, ...], lots: tuple[int, ...], needs: Sequence[Need]) -> int:
    """The most balloons that any way of serving `needs` out of lots that come on `days` hands out."""
    in_time = [sum(lot_day <= need.day for lot_day in days) for need in needs]

    @cache
    def best(index: int, left: tuple[int, ...]) -> int:
        if index == len(needs):
            return 0
        return max(given + best(index + 1, rest) for given, rest in ways(needs[index].quantity, left, in_time[index]))

    @cache
    def ways(wanted: int, left: tuple[int, ...], lots: int) -> list[tuple[int, tuple[int, ...]]]:
        """Each way of taking up to `wanted` from the first `lots`: how many, and what is left."""
        if lots == 0:
            return [(0, left)]
        found = []
        for taken in range(min(wanted, left[lots - 1]) + 1):
            rest = (*left[: lots - 1], left[lots - 1] - taken, *left[lots:])
            found += [(taken + more, after) for more, after in ways(wanted - taken, rest, lots - 1)]
        return found

    return best(0, lots)


def a_small_case(seed: int) -> tuple[int, list[Arrival], list[Need]]:
    """A shelf, at most two deliveries and at most four promises over five days, so that days coincide."""
    chance = Random(seed)
    arrivals = [Arrival(day(chance.randrange(5)), chance.randint(1, 3), "order") for _ in range(chance.randrange(3))]
    needs = [
        Need(number, day(chance.randrange(5)), chance.randint(1, 3), "Job", chance.randint(1, 3), True)
        for number in range(1, chance.randint(1, 4) + 1)
    ]
    return chance.randint(-1, 5), sorted(arrivals, key=lambda arrival: arrival.day), needs


def test_three_ways_agree_on_every_small_case():
    """Those of `GARLANDRY_SEED` alone, where it is given: a case that came out otherwise names its own."""
    asked = os.environ.get("GARLANDRY_SEED")
    someone_short = 0
    for seed in [int(asked)] if asked else range(CASES):
        on_hand, arrivals, needs = a_small_case(seed)
        ours = by_allocating(on_hand, arrivals, needs)
        assert ours == by_what_is_left_free(on_hand, arrivals, needs, 5), f"GARLANDRY_SEED={seed}"
        assert ours == by_every_possible_way(on_hand, arrivals, needs), f"GARLANDRY_SEED={seed}"
        someone_short += bool(ours)
    assert asked or CASES / 4 < someone_short < 3 * CASES / 4, "the cases no longer tell ways apart"


@pytest.mark.parametrize("supply", [0.4, 0.8, 1.0, 1.3])
def test_two_ways_agree_on_a_large_shelf(supply):
    """Every booking of a shelf with three hundred items lacks the same in both, whether little is there or plenty."""
    chance = Random(7)
    items, promises = A_LARGE_SHELF
    ours: Counter[int] = Counter()
    theirs: Counter[int] = Counter()
    for _ in range(items):
        needs = [
            Need(n, day(chance.randrange(DAYS)), chance.randrange(3_000), "Job", chance.randint(1, 60), True)
            for n in range(promises)
        ]
        wanted = int(supply * sum(need.quantity for need in needs))
        arrivals = sorted(
            (Arrival(day(chance.randrange(DAYS)), max(wanted // 9, 1), "order") for _ in range(7)),
            key=lambda arrival: arrival.day,
        )
        ours += by_allocating(wanted // 9, arrivals, needs)
        theirs += by_what_is_left_free(wanted // 9, arrivals, needs, DAYS)
    assert ours == theirs
    assert ours.total() > 0
