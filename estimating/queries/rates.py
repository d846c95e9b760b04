"""The studio's rates as the arithmetic takes them: plain figures in its own units."""

import hashlib
from dataclasses import fields
from decimal import Decimal

from estimating.hours import NOT_OF_THE_HANDS, HourRates
from estimating.materials import MaterialRules
from estimating.models import Rates
from estimating.pricing import PriceRates
from studio.money import from_minor


def material_rules(rates: Rates) -> MaterialRules:
    """The studio's own figures for waste."""
    return MaterialRules(
        pop_indoors_percent=Decimal(rates.pop_indoors_percent),
        pop_outdoors_percent=Decimal(rates.pop_outdoors_percent),
        confidence_percent=Decimal(rates.confidence_percent),
    )


def hour_rates(rates: Rates) -> HourRates:
    """The studio's own pace."""
    paces = {pace.name: getattr(rates, pace.name) for pace in fields(HourRates)}
    return HourRates(**paces | {"crew_exponent": Decimal(rates.crew_exponent)})


def pace_stamp(rates: Rates) -> str:
    """Short text that changes with the pace. Hours reckoned by another pace say nothing of how far this one is off."""
    pace = hour_rates(rates)
    names = [one.name for one in fields(HourRates) if one.name not in NOT_OF_THE_HANDS]
    figures = [(name, f"{getattr(pace, name):.3f}") for name in names]
    return hashlib.sha256(repr(figures).encode()).hexdigest()[:16]


def price_rates(rates: Rates, currency: str) -> PriceRates:
    """The studio's own prices, in the currency's main unit."""
    return PriceRates(
        hourly=from_minor(rates.hourly_minor, currency),
        per_distance=from_minor(rates.per_distance_minor, currency),
        overhead_percent=without_zeros(rates.overhead_percent),
        margin_percent=without_zeros(rates.margin_percent),
        minimum=from_minor(rates.minimum_minor, currency),
        step=from_minor(rates.rounding_minor, currency),
        tax_percent=without_zeros(rates.tax_percent),
        deposit_percent=without_zeros(rates.deposit_percent),
        tax_on_each_piece=rates.tax_each == Rates.TaxEach.LINE,
    )


def without_zeros(percent: Decimal | str) -> Decimal:
    """The same figure as it is written: 8.25 for 8.250, 30 for 30.000."""
    return Decimal(f"{Decimal(percent).normalize():f}")
