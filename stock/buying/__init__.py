"""The cheapest set of packs, over all suppliers, that arrives in time.

Not a rule of thumb but an integer program, solved to proven optimality: what one supplier's delivery costs
depends on everything that is bought there, so no item can be settled by itself.
"""

from stock.buying.problem import (
    BuyingError,
    Draft,
    Missing,
    NoPlan,
    Pack,
    Problem,
    Terms,
    Want,
    problem_of,
)
from stock.buying.result import PlannedLine, PlannedOrder, PurchasePlan
from stock.buying.solving import MOST_SECONDS, cheapest_plan
from stock.buying.too_late import CheaperLater, cheaper_later

__all__ = [
    "MOST_SECONDS",
    "BuyingError",
    "CheaperLater",
    "Draft",
    "Missing",
    "NoPlan",
    "Pack",
    "PlannedLine",
    "PlannedOrder",
    "Problem",
    "PurchasePlan",
    "Terms",
    "Want",
    "cheaper_later",
    "cheapest_plan",
    "problem_of",
]
