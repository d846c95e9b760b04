"""What a job takes and costs, asked of the rates in force and of what packs cost. Nothing here changes anything."""

from estimating.queries.colours import palette
from estimating.queries.costs import (
    CostedLine,
    Key,
    Shelf,
    cost_lines,
    items_by_key,
    key_of,
    usual_unit_minor,
    whole_shelf,
)
from estimating.queries.estimate import JobEstimate, PieceEstimate, PieceToMake
from estimating.queries.inflated import inflated_in_force, laid_out
from estimating.queries.jobs import advice_on, estimate_job, materials_of
from estimating.queries.rates import hour_rates, material_rules, pace_stamp, price_rates, without_zeros

__all__ = [
    "CostedLine",
    "JobEstimate",
    "Key",
    "PieceEstimate",
    "PieceToMake",
    "Shelf",
    "advice_on",
    "cost_lines",
    "estimate_job",
    "hour_rates",
    "inflated_in_force",
    "items_by_key",
    "key_of",
    "laid_out",
    "material_rules",
    "materials_of",
    "pace_stamp",
    "palette",
    "price_rates",
    "usual_unit_minor",
    "whole_shelf",
    "without_zeros",
]
