"""Air and helium: what they weigh, what a balloon lifts and weighs, and what holds it down.

Densities are real-gas: Z of helium is a fit in pressure and temperature, within 0.0001 of the reference equation of
state from -15 to 55 degrees Celsius up to 220 bar; Z of air near one atmosphere, within 0.00001. Pressure by altitude
is the US Standard Atmosphere 1976, for a room at its own temperature. The few millibar by which rubber squeezes what is
inside are left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from math import ceil, pi

from estimating.bags import HELIUM_INFLATED, Diameters, inflated_range
from estimating.layout import Balloon, Form
from estimating.lines import Line, Site
from estimating.specs import INFLATED, SpecError, SpecErrors

GAS_CONSTANT = 8.314462618
HELIUM_KG_PER_MOL, AIR_KG_PER_MOL = 0.004002602, 0.02896546
ATMOSPHERE_PA, ICE_POINT_K = 101_325.0, 273.15
ROOM_CELSIUS = 21.11
"""70 degrees Fahrenheit, where contents of cylinders are stated."""

LITRES_PER_FT3, LITRES_PER_IN3, GRAMS_PER_LB = 28.316847, 0.016387064, 453.59237

COLDEST, HOTTEST, HIGHEST_PA = -15.0, 55.0, 22e6
LOWEST_M, HIGHEST_M = -500, 6000

LATEX_GRAMS: dict[int, float] = {
    3: 0.5,  # From memory.
    5: 0.9,  # From memory.
    6: 1.2,  # From memory.
    9: 1.4,  # What a trade chart's net lift implies, as for 16, 30 and 36.
    10: 1.8,  # Light 10-inch class, common practice.
    11: 3.0,  # A kitchen scale's reading.
    12: 3.0,
    14: 6.0,  # Between its neighbours, as for 17, 18 and 24.
    16: 10.0,
    17: 11.0,
    18: 12.0,
    24: 30.0,
    30: 51.0,
    36: 102.0,
}
"""What an empty balloon of each nominal size weighs."""

FOILS: dict[tuple[Form, int], tuple[float, float]] = {
    ("round", 18): (0.5, 10.5),
    ("heart", 18): (0.4, 8.1),
    ("star", 18): (0.4, 8.4),
    ("round", 36): (2.7, 27.8),
    ("heart", 36): (2.3, 21.7),
    ("star", 36): (2.5, 31.5),
}
"""Cubic feet a foil balloon holds and the grams its foil weighs: a trade chart, the foil from gross less net lift."""

FOIL_CHARTED = 18
"""Foils of sizes the chart leaves out are reckoned from this one: what they hold goes with the cube of the size, their
foil with its square (geometry, no source)."""

WEIGHT_GRAMS = 170
"""A bouquet weight of 6 ounces (common practice, no source)."""

HOLD_DOWN = 1.5
"""A weight is this many times as heavy as what pulls at it: two published charts of lift differ by a quarter, and
people tug (common practice, no source)."""

HELIUM_LOST_PERCENT = 12.5
"""Purged, leaked, or left in the cylinder when it no longer flows: 10 to 15 % (common practice)."""


def helium_z(pascal: float, celsius: float) -> float:
    """The compressibility of helium. Raises SpecErrors outside of what was fitted."""
    _check_range("celsius", celsius, COLDEST, HOTTEST)
    _check_range("pascal", pascal, 0.0, HIGHEST_PA)
    p, t = pascal / 1e7, (celsius - 20.0) / 100
    return 1 + p * (0.04864 + t * (-0.01843 + 0.0061 * t)) + p * p * (-0.00053 + 0.00025 * t)


def air_z(pascal: float, celsius: float) -> float:
    """The compressibility of dry air near one atmosphere. Raises SpecErrors outside of what was fitted."""
    _check_range("celsius", celsius, COLDEST, HOTTEST)
    t = (celsius - 20.0) / 100
    return 1 + pascal / 1e5 * (-0.000364 + t * (0.00099 - 0.000713 * t))


def helium_density(pascal: float, celsius: float) -> float:
    """Grams a litre, which are kilograms a cubic metre."""
    return pascal * HELIUM_KG_PER_MOL / (helium_z(pascal, celsius) * GAS_CONSTANT * (celsius + ICE_POINT_K))


def air_density(pascal: float, celsius: float) -> float:
    """Grams a litre of dry air."""
    return pascal * AIR_KG_PER_MOL / (air_z(pascal, celsius) * GAS_CONSTANT * (celsius + ICE_POINT_K))


def pressure_at(altitude_m: float) -> float:
    """Pascal at metres above the sea: US Standard Atmosphere 1976 with geopotential height, below 11 km."""
    _check_range("altitude_m", altitude_m, LOWEST_M, HIGHEST_M)
    height = 6_356_766.0 * altitude_m / (6_356_766.0 + altitude_m)
    return float(ATMOSPHERE_PA * (1 - 0.0065 * height / 288.15) ** 5.255876)


def lift_per_litre(site: Site) -> float:
    """Grams a litre of helium lifts at a site: the air it takes the place of, less its own weight."""
    pascal = pressure_at(site.altitude_m)
    return air_density(pascal, site.celsius) - helium_density(pascal, site.celsius)


def sphere_litres(diameter: float) -> float:
    """What a ball of that many inches across holds."""
    return pi / 6 * diameter**3 * LITRES_PER_IN3


def litres_of(balloon: Balloon) -> float:
    """What a balloon holds; a foil by the chart, or by the nearest of its form where the chart leaves it out."""
    return _foil(balloon)[0] * LITRES_PER_FT3 if balloon.is_foil else sphere_litres(balloon.diameter)


def grams_of(balloon: Balloon) -> float:
    """What a balloon weighs empty, its inner one included."""
    if balloon.is_foil:
        return _foil(balloon)[1]
    return LATEX_GRAMS[balloon.size] * (1 if balloon.inner is None else 2)


def net_lift(balloon: Balloon, site: Site) -> float:
    """Grams a balloon filled with helium can carry, below zero where it cannot carry itself."""
    return litres_of(balloon) * lift_per_litre(site) - grams_of(balloon)


def lift_of(balloons: Iterable[Balloon], site: Site) -> float:
    """Grams that all the balloons filled with helium pull upwards together."""
    return sum(net_lift(b, site) for b in balloons if b.gas == "helium")


def too_heavy_to_float(balloons: Iterable[Balloon], site: Site) -> list[Balloon]:
    """The balloons filled with helium that sink all the same."""
    return [b for b in balloons if b.gas == "helium" and net_lift(b, site) <= 0]


def check_afloat(balloons: Iterable[Balloon], field: str) -> None:
    """Raises SpecErrors, in that field, where latex filled with helium does not float by the sea on a mild day.

    Foil cannot be blown further to mend that: what it carries is left to the advice.
    """
    balloons = [b for b in balloons if b.gas == "helium" and not b.is_foil]
    smallest = min(HELIUM_INFLATED)
    if small := [b.size for b in balloons if b.size < smallest]:
        rule = f"must take {smallest}-inch balloons or larger to float"
        raise SpecErrors([SpecError(field, rule, f"{small[0]}-inch")])
    if sunk := too_heavy_to_float(balloons, Site()):
        heaviest = max(sunk, key=grams_of)
        grams = grams_of(heaviest)
        least = ceil(10 * least_afloat(grams)) / 10
        which = f"{heaviest.size}-inch balloons of {grams:g} g"
        rule = f"must be more than {least:g} in across for {which} to float on helium"
        raise SpecErrors([SpecError(field, rule, f"{heaviest.diameter:g} in")])


def free_litres(litres: float, site: Site) -> float:
    """That much helium at a site as it would fill balloons by the sea at 70 degrees Fahrenheit."""
    there = helium_density(pressure_at(site.altitude_m), site.celsius)
    return litres * there / helium_density(ATMOSPHERE_PA, ROOM_CELSIUS)


def helium_lines(balloons: Iterable[Balloon], site: Site) -> tuple[Line, ...]:
    """The helium in all balloons that have it, in whole litres, and as spares what is lost in filling."""
    litres = sum(litres_of(b) for b in balloons if b.gas == "helium")
    if not litres:
        return ()
    needed = ceil(round(free_litres(litres, site), 6))
    return (Line("gas", None, None, needed, ceil(round(needed * HELIUM_LOST_PERCENT / 100, 6))),)


def weights_for(lift_grams: float) -> int:
    """How many weights hold that many grams of lift, at least one where there is any."""
    return max(0, ceil(round(lift_grams * HOLD_DOWN / WEIGHT_GRAMS, 6)))


def weight_lines(number: int) -> tuple[Line, ...]:
    """So many weights; none for none."""
    return (Line("weight", None, None, number, 0),) if number else ()


def ribbon_lines(feet: float, pieces: int) -> tuple[Line, ...]:
    """Ribbon in whole feet, and a twentieth more for knots and cuts that go wrong (common practice, no source)."""
    if not pieces:
        return ()
    needed = ceil(round(feet, 6))
    return (Line("ribbon", None, None, needed, ceil(needed / 20)),)


def floating_diameter(size: int, inflated: Mapping[int, float] = INFLATED) -> float:
    """Inches across of latex filled with helium, or of air where it is too small for helium."""
    table = Diameters.of(inflated)
    return table.helium[size] if size in table.helium else table[size]


def least_afloat(grams: float) -> float:
    """Inches across from which a ball of helium carries that many grams by the sea on a mild day."""
    return float((grams / lift_per_litre(Site()) / sphere_litres(1.0)) ** (1 / 3))


def floating_range(size: int) -> tuple[float, float]:
    """The least and the greatest diameter in inches a nominal size is filled to with helium.

    The least is what floats, rounded up to a quarter of an inch, and never limp.
    """
    least, most = inflated_range(size)
    return max(least, ceil(4 * least_afloat(LATEX_GRAMS[size])) / 4), most


def check_filled(size: int, diameter_mm: Decimal, gas: str) -> list[SpecError]:
    """May a nominal size be filled so far with that gas, "air" or "helium"? The field of an error is the gas."""
    if size not in (HELIUM_INFLATED if gas == "helium" else INFLATED):
        return [SpecError(gas, "must be for a size there is, with helium one that floats", f"{size}-inch")]
    least, most = floating_range(size) if gas == "helium" else inflated_range(size)
    diameter = diameter_mm / Decimal("25.4")
    if Decimal(least) <= diameter <= Decimal(most):
        return []
    return [SpecError(gas, f"must be from {least:g} in to {most:g} in for {size}-inch balloons", f"{diameter:.4g} in")]


def diameter_after(diameter: float, from_celsius: float, to_celsius: float) -> float:
    """A balloon's diameter when it has taken on another temperature, its pressure hardly changing: V goes with T."""
    return float(diameter * ((to_celsius + ICE_POINT_K) / (from_celsius + ICE_POINT_K)) ** (1 / 3))


def fullest_before(diameter: float, from_celsius: float, to_celsius: float) -> float:
    """How far to inflate a balloon at one temperature so that at the other it is no larger than `diameter`."""
    return min(diameter, diameter_after(diameter, to_celsius, from_celsius))


def _foil(balloon: Balloon) -> tuple[float, float]:
    """The cubic feet a foil holds and its grams."""
    if (charted := FOILS.get((balloon.form, balloon.size))) is not None:
        return charted
    holds, weighs = FOILS[balloon.form, FOIL_CHARTED]
    times = balloon.size / FOIL_CHARTED
    return holds * times**3, weighs * times**2


def _check_range(field: str, value: float, low: float, high: float) -> None:
    if not low <= value <= high:
        raise SpecErrors([SpecError(field, f"must be from {low:g} to {high:g}", f"{value:g}")])
