"""The purchase as an integer program, solved by HiGHS.

For every pack p and delivery d: b packs that cover what is needed (no more than cover it alone) and e extra ones, which
only lift an order to a least order or to free delivery. For every delivery with terms: `used`, and `paid` where free
delivery is not earned. With amounts in minor units:

    least    Σ price·(b + e) + Σ delivery·paid
    so that  Σ size·b ≥ quantity                  for every item and day, over the deliveries in time for it
             b ≤ enough·used,  e ≤ most·used      for every pack and delivery with terms
             Σ price·(b + e) ≥ free·(used − paid) for every delivery: used and not paid means it was earned
             Σ price·(b + e) ≥ minimum·used

Then again with that cost as a limit, for the fewest packs and of those for the fewest left over.
The solver's answer is only believed after it was added up again in whole numbers.
"""

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import gcd
from typing import Any

from stock.buying.by_hand import plan_by_hand
from stock.buying.problem import Delivery, NoPlan, Pack, Problem
from stock.buying.result import Counts, PurchasePlan, cost_of, plan_of, unmet

MOST_SECONDS = 5.0
_BY_HAND_SECONDS = 0.5
_BY_HAND_SECONDS_A_PACK = 0.0001
_FOR_TIES = 0.9
"""The part of the time after which ties are left as they are: the solver looks at the clock only now and then."""
_EXACT = 10_000_000
"""What whole figures may come to and still be told apart by the solver, whose tolerance is a millionth."""
_FEASIBLE = 2

_Row = tuple[list[tuple[int, float]], float, float]


@dataclass
class _Model:
    """Integer columns with their greatest value, and rows of (column, factor) between two limits.

    Amounts are in units of `scale` minor units.
    """

    most: list[int] = field(default_factory=list)
    rows: list[_Row] = field(default_factory=list)
    cost: dict[int, int] = field(default_factory=dict)
    packs: dict[int, tuple[Pack, Delivery]] = field(default_factory=dict)
    used: dict[Delivery, int] = field(default_factory=dict)
    scale: int = 1

    def column(self, most: int, cost: int = 0) -> int:
        """A new integer from 0 to `most`."""
        self.most.append(most)
        if cost:
            self.cost[len(self.most) - 1] = cost
        return len(self.most) - 1

    def limit(self, measure: Mapping[int, int], most: int) -> None:
        """From now on `measure` may come to `most` at the most."""
        self.rows.append(([*measure.items()], float("-inf"), most))

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
        if terms.delivery_minor or terms.minimum_minor:
            model.used[delivery] = model.column(1)
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
        extra = -(-terms.minimum_minor // pack.price_minor)
        if terms.free_from_minor is not None and terms.delivery_minor:
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
    terms = problem.terms[delivery.supplier]
    if terms.minimum_minor:
        least = -(-terms.minimum_minor // scale)
        model.rows.append(([*spent, (used, -least)], 0, float("inf")))
    if not terms.delivery_minor or terms.free_from_minor == 0:
        return
    fee = terms.delivery_minor // scale
    if terms.free_from_minor is None:
        model.cost[used] = fee
        return
    paid = model.column(1, fee)
    free = -(-terms.free_from_minor // scale)
    model.rows.append(([(paid, 1), (used, -1)], float("-inf"), 0))
    model.rows.append(([*spent, (used, -free), (paid, free)], 0, float("inf")))


def _solved(
    problem: Problem, model: _Model, measure: Mapping[int, int], until: float
) -> tuple[Counts | None, bool, bool]:
    """The packs that make `measure` least, whether that is proven, and whether there can be none at all.

    No start is handed over: the solver may give it back as its answer where it solves everything before its search.
    """
    seconds = until - time.monotonic()
    if seconds <= 0:
        return None, False, False
    # The class beneath `Highs`: the one above it prints a banner, and this must not write to anybody's output.
    from highspy import HighsModelStatus
    from highspy._core import _Highs

    solver = _Highs()
    # Every measure is a whole number, so whoever is within less than one of the best is the best.
    options = {"output_flag": False, "time_limit": seconds, "mip_rel_gap": 0.0, "mip_abs_gap": 0.99}
    for name, value in options.items():
        solver.setOptionValue(name, value)
    solver.passModel(_program(model, measure))
    solver.run()
    status, info = solver.getModelStatus(), solver.getInfo()
    if status in (HighsModelStatus.kInfeasible, HighsModelStatus.kUnboundedOrInfeasible):
        return None, False, True
    if info.primal_solution_status != _FEASIBLE:
        return None, False, False
    values = [round(value) for value in solver.getSolution().col_value]
    counts = model.counts(values)
    claimed = round(info.objective_function_value)
    is_sound = not unmet(problem, counts) and sum(factor * values[n] for n, factor in measure.items()) == claimed
    if measure is model.cost:
        is_sound = is_sound and cost_of(problem, counts) == claimed * model.scale
    if not is_sound:
        return None, False, False
    return counts, status == HighsModelStatus.kOptimal, False


def _program(model: _Model, measure: Mapping[int, int]) -> Any:
    """The model as the solver takes it."""
    from highspy import HighsLp, HighsVarType, MatrixFormat

    program = HighsLp()
    program.num_col_, program.num_row_ = len(model.most), len(model.rows)
    program.col_cost_ = [float(measure.get(column, 0)) for column in range(len(model.most))]
    program.col_lower_ = [0.0] * len(model.most)
    program.col_upper_ = [float(most) for most in model.most]
    program.row_lower_ = [float(low) for _, low, _ in model.rows]
    program.row_upper_ = [float(high) for _, _, high in model.rows]
    matrix = program.a_matrix_
    matrix.format_ = MatrixFormat.kRowwise
    matrix.num_col_, matrix.num_row_ = len(model.most), len(model.rows)
    starts, columns, factors = [0], [], []
    for row, _, _ in model.rows:
        columns += [column for column, _ in row]
        factors += [float(factor) for _, factor in row]
        starts.append(len(columns))
    matrix.start_, matrix.index_, matrix.value_ = starts, columns, factors
    program.integrality_ = [HighsVarType.kInteger] * len(model.most)
    return program
