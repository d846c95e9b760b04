"""What to order from whom, and what it comes to."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from stock.buying.problem import Delivery, Missing, Pack, Problem

Counts = Mapping[tuple[int, Delivery], int]
"""How many of each pack go into each delivery."""


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """So many of one pack."""

    pack: Pack
    packs: int

    @property
    def quantity(self) -> int:
        """How many that brings."""
        return self.packs * self.pack.size

    @property
    def cost_minor(self) -> int:
        """What they cost together."""
        return self.packs * self.pack.price_minor


@dataclass(frozen=True)
class PlannedOrder:
    """One order with one supplier, placed today: its lines, and the day the slowest of them arrives.

    Or what `joins` the order being planned with them: then `delivery_minor` is what delivery costs more by it, which is
    nothing, or less than nothing where the whole order comes free by it.
    """

    supplier: int
    arrives_on: date
    lines: tuple[PlannedLine, ...]
    delivery_minor: int
    joins: bool = False

    @property
    def goods_minor(self) -> int:
        """What the packs cost."""
        return sum(line.cost_minor for line in self.lines)

    @property
    def total_minor(self) -> int:
        """Packs and delivery."""
        return self.goods_minor + self.delivery_minor


@dataclass(frozen=True)
class PurchasePlan:
    """Everything to order today, the cheapest there is where `is_proven`.

    Of plans that cost the same it has the fewest packs, then the fewest left over, where `ties_are_settled`.
    `missing` cannot arrive in time, whatever is paid. `alone_minor` is what it would cost to buy each item in its own
    cheapest pack and pay the deliveries that come of it.
    """

    orders: tuple[PlannedOrder, ...]
    missing: tuple[Missing, ...]
    left_over: Mapping[int, int]
    alone_minor: int
    is_proven: bool
    ties_are_settled: bool

    @cached_property
    def cost_minor(self) -> int:
        """Packs and deliveries of all orders."""
        return sum(order.total_minor for order in self.orders)

    @cached_property
    def packs(self) -> int:
        """How many packs in all."""
        return sum(line.packs for order in self.orders for line in order.lines)

    @property
    def saves_minor(self) -> int:
        """How much less that is than each item by itself."""
        return max(self.alone_minor - self.cost_minor, 0)


def unmet(problem: Problem, counts: Counts) -> list[str]:
    """Which rules a choice of packs breaks, in words; empty where it is a plan every supplier takes."""
    came: dict[int, list[tuple[int, int]]] = defaultdict(list)
    bought: dict[int, int] = defaultdict(int)
    spent: dict[Delivery, int] = defaultdict(int)
    broken = []
    for (key, delivery), number in counts.items():
        pack = problem.packs[key]
        came[pack.item].append((delivery.days, number * pack.size))
        bought[key] += number
        spent[delivery] += number * pack.price_minor
        if delivery not in problem.deliveries[key] or number < 1:
            broken.append(f"pack {key} goes {number} times into {delivery}")
    for item, steps in problem.steps.items():
        for step in steps:
            have = sum(quantity for days, quantity in came[item] if step.waits_for(days))
            if have < step.quantity:
                broken.append(f"item {item} has {have} of {step.quantity} after {step.days} days")
    broken += [f"pack {key} is fixed at {n}" for key, n in problem.fixed.items() if bought[key] != n]
    for delivery, spend in spent.items():
        if spend < problem.least(delivery):
            broken.append(f"{delivery} comes to {spend} only")
    joining = [delivery.supplier for delivery in spent if delivery.joins]
    broken += [f"two orders join the draft of {supplier}" for supplier in set(joining) if joining.count(supplier) > 1]
    return broken


def cost_of(problem: Problem, counts: Counts) -> int:
    """Packs and deliveries, in minor units."""
    spent: dict[Delivery, int] = defaultdict(int)
    for (key, delivery), number in counts.items():
        spent[delivery] += number * problem.packs[key].price_minor
    return sum(spend + problem.charge(delivery, spend) for delivery, spend in spent.items())


def plan_of(problem: Problem, counts: Counts, *, is_proven: bool, ties_are_settled: bool) -> PurchasePlan:
    """A choice of packs as orders, one for each delivery; what may as well join a draft does."""
    counts = _joined(problem, counts)
    by_delivery: dict[Delivery, list[PlannedLine]] = defaultdict(list)
    left_over: dict[int, int] = defaultdict(int)
    for (key, delivery), number in sorted(counts.items()):
        pack = problem.packs[key]
        by_delivery[delivery].append(PlannedLine(pack, number))
        left_over[pack.item] += number * pack.size
    orders = []
    for delivery, lines in sorted(by_delivery.items()):
        days = max(line.pack.lead_days for line in lines)
        if delivery.joins:
            days = max(days, problem.drafts[delivery.supplier].days)
        charge = problem.charge(delivery, sum(line.cost_minor for line in lines))
        arrives = problem.today + timedelta(days=days)
        orders.append(PlannedOrder(delivery.supplier, arrives, tuple(lines), charge, delivery.joins))
    return PurchasePlan(
        orders=tuple(orders),
        missing=problem.missing,
        left_over={item: bought - problem.total(item) for item, bought in left_over.items()},
        alone_minor=_alone(problem),
        is_proven=is_proven,
        ties_are_settled=ties_are_settled,
    )


def _joined(problem: Problem, counts: Counts) -> Counts:
    """The same packs, with a delivery as part of the draft of its supplier wherever that is as good."""
    for supplier in problem.drafts:
        used = {delivery for _, delivery in counts if delivery.supplier == supplier}
        if any(delivery.joins for delivery in used):
            continue
        for delivery in sorted(used, reverse=True):
            joining = delivery._replace(joins=True)
            other = {(key, joining if to == delivery else to): number for (key, to), number in counts.items()}
            if not unmet(problem, other) and cost_of(problem, other) <= cost_of(problem, counts):
                counts = other
                break
    return counts


def _alone(problem: Problem) -> int:
    """Each item in the one pack that is cheapest for it, and then what each supplier asks.

    Where that comes to less than a supplier's least order, the least is paid: not more is claimed to be saved than is.
    """
    spent: dict[int, int] = defaultdict(int)
    for item, steps in problem.steps.items():
        costs = [
            (-(-steps[-1].quantity // pack.size) * pack.price_minor, pack.supplier)
            for pack in problem.packs_of[item]
            if steps[0].waits_for(pack.lead_days)
        ]
        cost, supplier = min(costs)
        spent[supplier] += cost
    total = 0
    for supplier, spend in spent.items():
        delivery = Delivery(supplier, 0, supplier in problem.drafts)
        paid = max(spend, problem.least(delivery))
        total += paid + problem.charge(delivery, paid)
    return total
