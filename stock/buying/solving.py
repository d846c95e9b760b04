"""The purchase as an integer program, solved by HiGHS.

For every pack p and delivery d: b packs that cover what is needed (no more than cover it alone) and e extra ones, which
only lift an order to a least order or to free delivery. For every delivery with terms: `used`, and `paid` where free
delivery is not earned. With amounts in minor units:

    least    Σ price·(b + e) + Σ delivery·paid
    so that  Σ size·b ≥ quantity                  for every item and day, over the deliveries in time for it
             b ≤ enough·used,  e ≤ most·used      for every pack and delivery with terms
             Σ price·(b + e) ≥ free·(used − paid) for every delivery: used and not paid means it was earned
             Σ price·(b + e) ≥ minimum·used

What joins a draft has what is on it taken off `free` and `minimum`; its delivery is paid, so that free delivery earned
is a charge less. Of a supplier's deliveries one may join.

Then again with that cost as a limit, for the fewest packs and of those for the fewest left over.
The solver's answer is only believed after it was added up again in whole numbers.
"""

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import gcd

from stock.buying.by_hand import plan_by_hand
from stock.buying.problem import Delivery, NoPlan, Pack, Problem
from stock.buying.result import Counts, PurchasePlan, cost_of, plan_of, unmet
from studio.integer_program import IntegerProgram, least

MOST_SECONDS = 5.0
_BY_HAND_SECONDS = 0.5
_BY_HAND_SECONDS_A_PACK = 0.0001
_FOR_TIES = 0.9
"""The part of the time after which ties are left as they are: the solver looks at the clock only now and then."""
_EXACT = 10_000_000
"""What whole figures may come to and still be told apart by the solver, whose tolerance is a millionth."""


@dataclass
class _Model(IntegerProgram):
    """The program with what its columns stand for. Amounts are in units of `scale` minor units."""

    cost: dict[int, int] = field(default_factory=dict)
    packs: dict[int, tuple[Pack, Delivery]] = field(default_factory=dict)
    used: dict[Delivery, int] = field(default_factory=dict)
    scale: int = 1

    def column(self, most: int, cost: int = 0) -> int:
        """A new integer from 0 to `most`, and what one of it costs."""
        column = super().column(most)
        if cost:
            self.cost[column] = cost
        return column

    def counts(self, values: Sequence[int]) -> dict[tuple[int, Delivery], int]:
        """The packs of a solution."""
        found: dict[tuple[int, Delivery], int] = {}
        for column, (pack, delivery) in self.packs.items():
            if values[column]:
                place = (pack.key, delivery)
                found[place] = found.get(place, 0) + values[column]
        return found


def cheapest_plan(problem: Problem, *, seconds: float = MOST_SECONDS, settle_ties: bool = True) -> PurchasePlan:
    """The cheapest plan; `is_proven` False where `seconds` were too few to be sure, and the best one found is given.

    Raises NoPlan where no choice of packs keeps to what was fixed and to what suppliers take at the least.
    """
    begun = time.monotonic()
    until = begun + seconds
    if not problem.steps and not problem.fixed:
        return plan_of(problem, {}, is_proven=True, ties_are_settled=True)
    model = _model(problem)
    # What a good plan costs is a limit that saves the solver most of its search.
    counts = plan_by_hand(problem, seconds=min(seconds / 4, len(problem.packs) * _BY_HAND_SECONDS_A_PACK))
    if counts is not None:
        model.limit(model.cost, cost_of(problem, counts) // model.scale)
    found, proven, impossible = _solved(problem, model, model.cost, until)
    if counts is None and impossible:
        raise NoPlan(
            "No order can be made that keeps to what you fixed and left out and reaches what each supplier takes at "
            "the least. Free one of them and solve again."
        )
    if found is None:
        counts = counts and (plan_by_hand(problem, seconds=_BY_HAND_SECONDS) or counts)
        if counts is None:
            raise NoPlan("No plan was found in the time there is. Leave something out and solve again.")
        return plan_of(problem, counts, is_proven=False, ties_are_settled=False)
    if not proven or not settle_ties:
        return plan_of(problem, found, is_proven=proven, ties_are_settled=False)
    counts, settled = _ties_settled(problem, model, found, begun + seconds * _FOR_TIES)
    return plan_of(problem, counts, is_proven=True, ties_are_settled=settled)


def _ties_settled(problem: Problem, model: _Model, counts: Counts, until: float) -> tuple[Counts, bool]:
    """Of the plans of this cost the one of fewest packs, then of fewest left over; and whether that is sure."""
    best = counts
    model.limit(model.cost, cost_of(problem, best) // model.scale)
    for measure in _tie_measures(model, sum(counts.values())):
        found, proven, _ = _solved(problem, model, measure, until)
        if found is None or not proven:
            return best, False
        best = found
        column_of = {(pack.key, delivery): column for column, (pack, delivery) in model.packs.items()}
        model.limit(measure, sum(measure[column_of[place]] * number for place, number in best.items()))
    return best, True


def _tie_measures(model: _Model, packs: int) -> list[dict[int, int]]:
    """What is to be least, one after the other, of plans that take at most so many `packs`.

    Both at once takes half as long as one after the other: a pack weighs more than all that could be left over. Only
    where that makes figures too great for the solver to be exact is it done in two goes.
    """
    unit = gcd(*(pack.size for pack, _ in model.packs.values()))
    sizes = {column: pack.size // unit for column, (pack, _) in model.packs.items()}
    weight = 1 + packs * max(sizes.values())
    if weight * packs <= _EXACT:
        return [{column: weight + size for column, size in sizes.items()}]
    return [dict.fromkeys(sizes, 1), sizes]


def _model(problem: Problem) -> _Model:
    model = _Model()
    amounts = [pack.price_minor for pack in problem.packs.values()]
    amounts += [terms.delivery_minor for terms in problem.terms.values()]
    # Smaller figures are kinder to the solver. What is spent is a multiple of it, so limits may be rounded up.
    scale = model.scale = gcd(*amounts) or 1
    deliveries = sorted({delivery for found in problem.deliveries.values() for delivery in found})
    spent: dict[Delivery, list[tuple[int, float]]] = {delivery: [] for delivery in deliveries}
    for delivery in deliveries:
        terms = problem.terms[delivery.supplier]
        if terms.delivery_minor or terms.minimum_minor or delivery.joins:
            model.used[delivery] = model.column(1)
    for supplier in problem.drafts:
        joining = [(column, 1.0) for delivery, column in model.used.items() if delivery[::2] == (supplier, True)]
        if len(joining) > 1:
            model.rows.append((joining, 0, 1))
    covering: dict[int, list[tuple[int, int, int]]] = {}
    for key, pack in sorted(problem.packs.items()):
        columns = []
        for delivery in problem.deliveries[key]:
            for column, is_extra in _pack_columns(model, problem, pack, delivery, scale):
                model.packs[column] = (pack, delivery)
                spent[delivery].append((column, pack.price_minor // scale))
                columns.append(column)
                if not is_extra:
                    covering.setdefault(pack.item, []).append((column, pack.size, delivery.days))
        if key in problem.fixed:
            number = problem.fixed[key]
            model.rows.append(([(column, 1) for column in columns], number, number))
    for item, steps in problem.steps.items():
        for step in steps:
            row = [(column, float(size)) for column, size, days in covering.get(item, []) if step.waits_for(days)]
            model.rows.append((row, step.quantity, float("inf")))
    for delivery in deliveries:
        _terms(model, problem, delivery, spent[delivery], scale)
    return model


def _pack_columns(
    model: _Model, problem: Problem, pack: Pack, delivery: Delivery, scale: int
) -> list[tuple[int, bool]]:
    """The columns of one pack in one delivery, each with whether it is the extra one."""
    terms = problem.terms[delivery.supplier]
    price = pack.price_minor // scale
    enough = problem.fixed.get(pack.key) or -(-problem.total(pack.item) // pack.size)
    numbers = [(enough, False)]
    if pack.key not in problem.fixed and price:
        # Up to the least order; and beyond it, less than the delivery it saves.
        extra = -(-problem.least(delivery) // pack.price_minor)
        if problem.free_from(delivery) is not None and terms.delivery_minor:
            extra += (terms.delivery_minor - 1) // pack.price_minor
        if extra:
            numbers.append((extra, True))
    columns = []
    for most, is_extra in numbers:
        column = model.column(most, price)
        if delivery in model.used:
            model.rows.append(([(column, 1), (model.used[delivery], -most)], float("-inf"), 0))
        columns.append((column, is_extra))
    return columns


def _terms(model: _Model, problem: Problem, delivery: Delivery, spent: list[tuple[int, float]], scale: int) -> None:
    """The rows of what a supplier asks for an order."""
    if delivery not in model.used:
        return
    used = model.used[delivery]
    least, free = problem.least(delivery), problem.free_from(delivery)
    if least:
        least = -(-least // scale)
        model.rows.append(([*spent, (used, -least)], 0, float("inf")))
    fee = problem.terms[delivery.supplier].delivery_minor // scale
    if not fee or free == 0:
        return
    if free is None:
        # A draft pays for its own delivery, whether it is joined or not.
        if not delivery.joins:
            model.cost[used] = fee
        return
    paid = model.column(1, fee)
    if delivery.joins:
        model.cost[used] = -fee
    free = -(-free // scale)
    model.rows.append(([(paid, 1), (used, -1)], float("-inf"), 0))
    model.rows.append(([*spent, (used, -free), (paid, free)], 0, float("inf")))


def _solved(
    problem: Problem, model: _Model, measure: Mapping[int, int], until: float
) -> tuple[Counts | None, bool, bool]:
    """The packs that make `measure` least, whether that is proven, and whether there can be none at all."""
    solution = least(model, measure, seconds=until - time.monotonic())
    if solution.values is None:
        return None, False, solution.is_impossible
    counts = model.counts(solution.values)
    is_sound = not unmet(problem, counts)
    if is_sound and measure is model.cost:
        claimed = sum(factor * solution.values[column] for column, factor in measure.items())
        is_sound = cost_of(problem, counts) == claimed * model.scale
    return (counts, solution.is_proven, False) if is_sound else (None, False, False)
