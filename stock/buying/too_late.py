"""What an item could be had for, were there more time: the price of the day it is wanted on."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from stock.buying.problem import Pack, Problem
from stock.buying.result import PurchasePlan


@dataclass(frozen=True, slots=True)
class CheaperLater:
    """A pack an item would cost so much less in, in minor units and without delivery, were it wanted later."""

    pack: Pack
    less_minor: int
    comes_on: date


def cheaper_later(problem: Problem, plan: PurchasePlan, packs: Iterable[Pack]) -> dict[int, CheaperLater]:
    """By item that is bought: the pack all that is wanted of it would cost least in, of those that come too late.

    `packs` are all that may be bought, the late ones too. Of packs that cost the same it is the soonest. An item that
    costs least as it is planned is left out, and one of which somebody has said how many packs they want.
    """
    cost: dict[int, int] = defaultdict(int)
    for order in plan.orders:
        for line in order.lines:
            cost[line.pack.item] += line.cost_minor
    for key in problem.fixed:
        cost.pop(problem.packs[key].item, None)
    found: dict[int, CheaperLater] = {}
    for pack in sorted(packs, key=lambda pack: (pack.lead_days, pack.key)):
        if pack.key in problem.packs or pack.item not in cost:
            continue
        less = cost[pack.item] - -(-problem.total(pack.item) // pack.size) * pack.price_minor
        if less > 0 and (pack.item not in found or less > found[pack.item].less_minor):
            found[pack.item] = CheaperLater(pack, less, problem.today + timedelta(days=pack.lead_days))
    return found
