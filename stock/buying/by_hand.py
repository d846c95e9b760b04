"""A good plan found without a solver: where it begins to search, and the answer on the day it has no proof in time.

Start with every delivery and do without one after another while that is cheaper; the same from each small set of them.
Then move one item after another to other deliveries while that is cheaper.
"""

import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from itertools import combinations
from math import gcd

from stock.buying.problem import Delivery, Pack, Problem, Step
from stock.buying.result import Counts, cost_of, unmet

_MOST_TRIED = 64
_LONGEST_TABLE = 2_000

Choice = dict[tuple[int, Delivery], int]
Cover = Callable[[int, frozenset[Delivery]], Choice | None]


def plan_by_hand(problem: Problem, *, seconds: float) -> Counts | None:
    """Packs that every supplier takes, cheap but not proven cheapest; None where none was found.

    After so many `seconds` nothing more is tried; one way is always tried to its end.
    """
    until = time.monotonic() + seconds
    every = frozenset(delivery for found in problem.deliveries.values() for delivery in found)
    of_item: Cover = cache(lambda item, open_: _cover(problem, item, open_))
    known: dict[frozenset[Delivery], tuple[int, Choice] | None] = {}

    def tried(open_: frozenset[Delivery]) -> tuple[int, Choice] | None:
        if open_ not in known:
            known[open_] = _with(problem, open_, of_item)
        return known[open_]

    best: tuple[int, Choice] | None = None
    for start in _starts(every):
        if best is not None and time.monotonic() > until:
            break
        here, found = start, tried(start)
        while found is None or time.monotonic() <= until:
            closer = [fewer for gone in here if (fewer := here - {gone}) and tried(fewer) is not None]
            step = min(closer, key=lambda fewer: _price(tried(fewer)), default=None)
            if step is None or _price(tried(step)) >= _price(found):
                break
            here, found = step, tried(step)
        found = _moved_about(problem, found, of_item, until)
        if _price(found) < _price(best):
            best = found
    return None if best is None else best[1]


def _moved_about(
    problem: Problem, found: tuple[int, Choice] | None, of_item: Cover, until: float
) -> tuple[int, Choice] | None:
    """The same plan with one item after another bought elsewhere, while that is cheaper."""
    if found is None:
        return None
    best: tuple[int, Choice] = found
    is_better = True
    while is_better:
        is_better = False
        for item in problem.steps:
            places = {d for pack in problem.packs_of[item] for d in problem.deliveries[pack.key]}
            sets = [frozenset(some) for size in (1, 2) for some in combinations(sorted(places), size)]
            for open_ in sets:
                if time.monotonic() > until:
                    return best
                packs = of_item(item, open_)
                if packs is None:
                    continue
                rest = {
                    place: number
                    for place, number in best[1].items()
                    if problem.packs[place[0]].item != item or place[0] in problem.fixed
                }
                other = _finished(problem, {**rest, **packs})
                if other is not None and other[0] < best[0]:
                    best, is_better = other, True
    return best


def _price(found: tuple[int, Choice] | None) -> float:
    """Its cost; endless for no plan at all."""
    return float("inf") if found is None else found[0]


def _starts(every: frozenset[Delivery]) -> Iterator[frozenset[Delivery]]:
    yield every
    tried = 0
    for size in range(1, len(every)):
        for some in combinations(sorted(every), size):
            if tried == _MOST_TRIED:
                return
            tried += 1
            yield frozenset(some)


def _with(problem: Problem, open_: frozenset[Delivery], of_item: Cover) -> tuple[int, Choice] | None:
    """What it costs to buy from these deliveries alone, and how."""
    choice: Choice = defaultdict(int)
    for key, number in problem.fixed.items():
        rides = [delivery for delivery in problem.deliveries[key] if delivery in open_]
        if not rides:
            return None
        choice[key, min(rides, key=lambda delivery: delivery.days)] += number
    for item in problem.steps:
        near = frozenset(d for pack in problem.packs_of[item] for d in problem.deliveries[pack.key] if d in open_)
        found = of_item(item, near)
        if found is None:
            return None
        for place, number in found.items():
            choice[place] += number
    return _finished(problem, choice)


def _finished(problem: Problem, choice: Choice) -> tuple[int, Choice] | None:
    """The choice with every order lifted to its least, and what it costs; None where some rule is still broken."""
    choice = defaultdict(int, choice)
    _top_up(problem, choice)
    counts = {place: number for place, number in choice.items() if number}
    return None if unmet(problem, counts) else (cost_of(problem, counts), counts)


def _top_up(problem: Problem, choice: Choice) -> None:
    """Add the packs that lift each order to the least its supplier takes."""
    spent: dict[Delivery, int] = defaultdict(int)
    for (key, delivery), number in choice.items():
        spent[delivery] += number * problem.packs[key].price_minor
    for delivery, spend in spent.items():
        lacks = problem.terms[delivery.supplier].minimum_minor - spend
        priced = [
            pack
            for pack in problem.packs.values()
            if pack.price_minor and pack.key not in problem.fixed and delivery in problem.deliveries[pack.key]
        ]
        if lacks > 0 and priced:
            pack = min(priced, key=lambda pack: (-(-lacks // pack.price_minor) * pack.price_minor, pack.key))
            choice[pack.key, delivery] += -(-lacks // pack.price_minor)


def _cover(problem: Problem, item: int, open_: frozenset[Delivery]) -> Choice | None:
    """The packs of one item, each step met in its turn with what came before."""
    choice: Choice = defaultdict(int)
    for step in problem.steps[item]:
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
        for place, number in _cheapest_mix(lacks, rides).items():
            choice[place] += number
    return dict(choice)


def _rides(problem: Problem, item: int, step: Step, open_: frozenset[Delivery]) -> Iterator[tuple[Pack, Delivery]]:
    """Each pack with the slowest open delivery that is in time for a step."""
    for pack in problem.packs_of[item]:
        if pack.key in problem.fixed:
            continue
        fitting = [d for d in problem.deliveries[pack.key] if d in open_ and step.waits_for(d.days)]
        if fitting:
            yield pack, max(fitting, key=lambda delivery: delivery.days)


def _cheapest_mix(lacks: int, rides: Iterable[tuple[Pack, Delivery]]) -> Choice:
    """The cheapest packs that hold `lacks` or more: exact, unless the table for it would be long."""
    rides = list(rides)
    unit = gcd(*(pack.size for pack, _ in rides))
    rows = -(-lacks // unit)
    if rows > _LONGEST_TABLE:
        pack, delivery = min(rides, key=lambda ride: -(-lacks // ride[0].size) * ride[0].price_minor)
        return {(pack.key, delivery): -(-lacks // pack.size)}
    # What it costs to hold so many units, and the last pack bought for it.
    table: list[tuple[int, int, int]] = [(0, 0, -1)]
    for units in range(1, rows + 1):
        table.append(
            min(
                (table[max(units - pack.size // unit, 0)][0] + pack.price_minor,
                 table[max(units - pack.size // unit, 0)][1] + 1, n)
                for n, (pack, _) in enumerate(rides)
            )
        )  # fmt: skip
    choice: Choice = defaultdict(int)
    units = rows
    while units > 0:
        pack, delivery = rides[table[units][2]]
        choice[pack.key, delivery] += 1
        units -= pack.size // unit
    return dict(choice)
