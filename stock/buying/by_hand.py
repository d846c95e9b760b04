"""A good plan found without a solver: where it begins to search, and the answer on the day it has no proof in time.

Start with every delivery, then with each small set of them, and do without one or add one while that is cheaper. Then
move one item after another to other deliveries while that is cheaper, and begin again with the deliveries still used.
What an order is lifted to, its least or free delivery, is part of every price that is compared.
"""

import time
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from typing import NamedTuple

from stock.buying.one_item import Open, Place, packs_for
from stock.buying.problem import Delivery, Pack, Problem, Step
from stock.buying.result import Counts, unmet

_MOST_TRIED = 64
_ENDLESS = float("inf")


class _Part(NamedTuple):
    """What is bought for one item: how many of each pack in each delivery, and what that comes to there."""

    packs: Mapping[Place, int]
    spent: Mapping[Delivery, int]


class _Lift(NamedTuple):
    """What an order comes to, delivery included, after `packs` of the pack `key` were added to lift it."""

    cost: float
    key: int = 0
    packs: int = 0


@dataclass
class _Plan:
    """A part for every item, and what is spent in each delivery before anything is lifted."""

    parts: dict[int, _Part]
    spent: Counter[Delivery]
    price: float


_NO_ITEM = -1
"""Where the packs that are fixed stand among the parts."""


def plan_by_hand(problem: Problem, *, seconds: float) -> Counts | None:
    """Packs that every supplier takes, cheap but not proven cheapest; None where none was found.

    After so many `seconds` nothing more is tried; one way is always tried to its end.
    """
    search = _Search(problem, time.monotonic() + seconds)
    best = min(search.plans(), key=lambda plan: plan.price, default=None)
    if best is None:
        return None
    counts = search.counts(best)
    return None if unmet(problem, counts) else counts


class _Search:
    """The search over one problem. Whatever was reckoned once is kept."""

    def __init__(self, problem: Problem, until: float) -> None:
        self.problem, self.until = problem, until
        found = frozenset(delivery for found in problem.deliveries.values() for delivery in found)
        # One order may join a draft: here it is the slowest, which most can wait for.
        slowest = {supplier: max((d.days for d in found if d[::2] == (supplier, True)), default=0)
                   for supplier in problem.drafts}  # fmt: skip
        self.every = frozenset(d for d in found if not d.joins or d.days == slowest[d.supplier])
        self.places = {
            item: self.every.intersection(d for pack in problem.packs_of[item] for d in problem.deliveries[pack.key])
            for item in problem.steps
        }
        self.near = cache(lambda item, open_: self.places[item] & open_)
        self.part = cache(self._part)
        self.lift = cache(self._lift)
        self.with_ = cache(self._with)
        self.fillers: dict[Delivery, list[Pack]] = {delivery: [] for delivery in self.every}
        for pack in problem.packs.values():
            if pack.price_minor and pack.key not in problem.fixed:
                for delivery in self.every.intersection(problem.deliveries[pack.key]):
                    self.fillers[delivery].append(pack)

    @property
    def is_over(self) -> bool:
        """Whether the time is up."""
        return time.monotonic() > self.until

    def plans(self) -> Iterator[_Plan]:
        """One good plan after another, from different beginnings."""
        found_one = False
        for start in _starts(self.every):
            if found_one and self.is_over:
                return
            plan = self._fewer_or_more(start)
            while plan is not None:
                found_one = True
                moved = self._gathered(self._moved_about(plan))
                yield moved
                plan = self._fewer_or_more(frozenset(d for d, spend in moved.spent.items() if spend))
                if plan is None or plan.price >= moved.price:
                    break

    def counts(self, plan: _Plan) -> dict[Place, int]:
        """The packs of a plan, each order lifted."""
        choice: Counter[Place] = Counter()
        for part in plan.parts.values():
            choice.update(part.packs)
        for delivery, spend in plan.spent.items():
            # What is free is an order all the same.
            lift = self.lift(delivery, spend, any(delivery in part.spent for part in plan.parts.values()))
            if lift.packs:
                choice[lift.key, delivery] += lift.packs
        return {place: number for place, number in choice.items() if number}

    def _fewer_or_more(self, here: Open) -> _Plan | None:
        """The plan with these deliveries, or with one fewer or more, and so on while that is cheaper."""
        found = self.with_(here)
        while not self.is_over:
            closer = [here ^ {delivery} for delivery in sorted(self.every) if here ^ {delivery}]
            tried = []
            for other in closer:
                tried.append((self.with_(other), other))
                if self.is_over:
                    break
            plan, other = min(tried, key=lambda one: _price(one[0]), default=(None, here))
            if _price(plan) >= _price(found):
                break
            found, here = plan, other
        return found

    def _moved_about(self, plan: _Plan) -> _Plan:
        """The same plan with one item after another bought elsewhere, while that is cheaper."""
        parts, spent, price = dict(plan.parts), plan.spent.copy(), plan.price
        is_better = True
        while is_better:
            is_better = False
            for item in self.problem.steps:
                if self.is_over:
                    return _Plan(parts, spent, price)
                for size in (1, 2):
                    for some in combinations(sorted(self.places[item]), size):
                        part = self.part(item, frozenset(some))
                        if part is None or part is parts[item]:
                            continue
                        change = self._change(spent, parts[item], part)
                        if change < 0:
                            spent.subtract(parts[item].spent)
                            spent.update(part.spent)
                            parts[item], price, is_better = part, price + change, True
        return _Plan(parts, spent, price)

    def _gathered(self, plan: _Plan) -> _Plan:
        """The same plan with several items moved into one delivery together, while that is cheaper.

        One item by itself may not be worth what a delivery asks for where three are.
        """
        is_better = True
        while is_better and not self.is_over:
            is_better = False
            for delivery in sorted(self.every):
                if self.is_over:
                    break
                other = self._moved_about(self._gathered_in(plan, delivery))
                if other.price < plan.price:
                    plan, is_better = other, True
        return plan

    def _gathered_in(self, plan: _Plan, delivery: Delivery) -> _Plan:
        """The cheapest found with more and more items bought in a delivery, those first that lose least by it."""
        used = [place for place, spend in plan.spent.items() if spend]
        options = []
        for item in self.problem.steps:
            if delivery not in self.places[item] or delivery in plan.parts[item].spent:
                continue
            found = [self.part(item, frozenset({delivery, other}) & self.places[item]) for other in [delivery, *used]]
            parts = [part for part in found if part is not None and delivery in part.spent]
            if parts:
                part = min(parts, key=lambda part: sum(part.spent.values()))
                options.append((sum(part.spent.values()) - sum(plan.parts[item].spent.values()), item, part))
        parts_now, spent, price = dict(plan.parts), plan.spent.copy(), plan.price
        best: _Plan | None = None
        for _, item, part in sorted(options, key=lambda option: option[:2]):
            price += self._change(spent, parts_now[item], part)
            spent.subtract(parts_now[item].spent)
            spent.update(part.spent)
            parts_now[item] = part
            if best is None or price < best.price:
                best = _Plan(dict(parts_now), spent.copy(), price)
        return best or plan

    def _change(self, spent: Counter[Delivery], old: _Part, new: _Part) -> float:
        """By how much the price changes where one part takes another's place."""
        change = 0.0
        for delivery in old.spent.keys() | new.spent.keys():
            before = spent[delivery]
            after = before - old.spent.get(delivery, 0) + new.spent.get(delivery, 0)
            if after != before:
                change += self.lift(delivery, after, after > 0).cost - self.lift(delivery, before, before > 0).cost
        return change

    def _with(self, open_: Open) -> _Plan | None:
        """The plan that buys from these deliveries alone, every item at its cheapest there."""
        fixed = self._fixed(open_)
        if fixed is None:
            return None
        parts: dict[int, _Part] = {_NO_ITEM: fixed}
        for item in self.problem.steps:
            part = self.part(item, self.near(item, open_))
            if part is None:
                return None
            parts[item] = part
        spent: Counter[Delivery] = Counter()
        for part in parts.values():
            spent.update(part.spent)
        price = sum(self.lift(delivery, spend, spend > 0).cost for delivery, spend in spent.items())
        return None if price == _ENDLESS else _Plan(parts, spent, price)

    def _fixed(self, open_: Open) -> _Part | None:
        """The packs whose number is settled, each in the quickest delivery it may go into."""
        packs: dict[Place, int] = {}
        for key, number in self.problem.fixed.items():
            rides = [delivery for delivery in self.problem.deliveries[key] if delivery in open_]
            if not rides:
                return None
            packs[key, min(rides, key=lambda delivery: (delivery.days, not delivery.joins))] = number
        return self._priced(packs)

    def _priced(self, packs: Mapping[Place, int]) -> _Part:
        spent: dict[Delivery, int] = {}
        for (key, delivery), number in packs.items():
            spent[delivery] = spent.get(delivery, 0) + number * self.problem.packs[key].price_minor
        return _Part(packs, spent)

    def _part(self, item: int, open_: Open) -> _Part | None:
        """The cheapest found for one item: its steps met one by one, or from one of them on all that is wanted."""
        steps = self.problem.steps[item]
        ways = [steps, *((*steps[:n], Step(steps[n].days, steps[-1].quantity)) for n in range(len(steps) - 1))]
        found = [packs_for(self.problem, item, open_, way) for way in ways]
        parts = [self._priced(packs) for packs in found if packs is not None]
        return min(parts, key=lambda part: sum(part.spent.values()), default=None)

    def _lift(self, delivery: Delivery, spend: int, is_order: bool) -> _Lift:
        """The cheapest way to place an order of so much: as it is, or lifted to its least or to free delivery."""
        if not is_order:
            return _Lift(0)
        least, charge = self.problem.least(delivery), self.problem.charge
        wanted = {spend, max(spend, least), max(spend, self.problem.free_from(delivery) or 0)}
        ways = []
        for amount in sorted(wanted):
            if amount == spend:
                if spend >= least:
                    ways.append(_Lift(spend + charge(delivery, spend)))
                continue
            for pack in self.fillers[delivery]:
                packs = -(-(amount - spend) // pack.price_minor)
                lifted = spend + packs * pack.price_minor
                if lifted >= least:
                    ways.append(_Lift(lifted + charge(delivery, lifted), pack.key, packs))
        return min(ways, default=_Lift(_ENDLESS))


def _price(plan: _Plan | None) -> float:
    """Its cost; endless for no plan at all."""
    return _ENDLESS if plan is None else plan.price


def _starts(every: Open) -> Iterator[Open]:
    yield every
    tried = 0
    for size in range(1, len(every)):
        for some in combinations(sorted(every), size):
            if tried == _MOST_TRIED:
                return
            tried += 1
            yield frozenset(some)
