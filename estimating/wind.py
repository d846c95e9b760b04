"""Wind on balloons: how hard it pushes, what holds a standing piece down, and when not to put it up.

Winds are miles an hour, and it is the gusts that count; forces are pounds.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, pi

from estimating.layout import Layout
from estimating.site import Answer
from estimating.specs import SpecError, SpecErrors

KM_H_IN_MPH = 1.609344

WIND_LIMIT_MPH = 23.6
"""38 km/h. No limit for balloon decoration is published; this is the nearest that is."""

WIND_SOURCE = (
    "no wind limit for balloon decoration is published; the nearest is EN 14960 for inflatable play equipment, "
    "38 km/h (24 mph); acting at 60 and 80 % of a limit follows a public-park event guide"
)
PRESSURE_SOURCE = "ASCE 7 velocity pressure, q = 0.00256 V² in pounds a square foot, with the gust taken at full"
WATCH, TAKE_DOWN = 60, 80
MOST_MPH = 250.0

SPHERE, CYLINDER = 0.5, 1.2
"""Drag coefficients below the drag crisis: a sphere 0.47, about 0.5; a long cylinder, which a garland, column or arch
resembles, 1.2 (J. Fluid Mech. 1961). Beyond it they fall; that is never counted on."""

CRISIS = 3e5
AIR_VISCOSITY = 1.48e-5
"""Kinematic viscosity of air at about 16 °C, m²/s."""

MARGIN = 1.5
"""Against tipping over and sliding (common engineering practice)."""

ON_THE_FLOOR = 1.0
"""An end of a spine no further than this many inches above its lowest point stands too."""

FRICTION = 0.4
"""A weighted base on paving; wet grass or a polished floor holds less (from memory)."""


def wind_pressure(mph: float, factor: float = 1.0) -> float:
    """Pressure of a wind in pounds a square foot; `factor` is the product of the code's K. Raises SpecErrors."""
    _check_wind("wind", mph)
    if not factor >= 0:
        raise SpecErrors([SpecError("factor", "must be 0 or more", factor)])
    return 0.00256 * factor * mph**2


def reynolds(mph: float, diameter: float) -> float:
    """Reynolds number of a balloon (inches) in a wind."""
    _check_wind("wind", mph)
    return mph * 0.44704 * diameter * 0.0254 / AIR_VISCOSITY


def drag(mph: float, area: float, coefficient: float = CYLINDER) -> float:
    """The push of a wind on a silhouette of so many square feet, in pounds. Raises SpecErrors."""
    _check_at_least_zero(area=area)
    return wind_pressure(mph) * coefficient * area


@dataclass(frozen=True, slots=True)
class Ballast:
    """The pounds a base needs against tipping and against sliding, beyond what the piece weighs."""

    tipping: float
    sliding: float

    @property
    def pounds(self) -> float:
        """What it takes for both."""
        return max(self.tipping, self.sliding)


def ballast(
    push: float,
    *,
    height: float,
    base: float,
    weight: float = 0.0,
    margin: float = MARGIN,
    friction: float = FRICTION,
) -> Ballast:
    """What holds a standing piece down: `push` pounds at `height` ft, on a base `base` ft across that bears `weight`.

    It tips about the edge, half a base from the middle: margin · push · height = pounds · base / 2. It slides where
    margin · push exceeds friction · pounds. Raises SpecErrors for figures that make no sense.
    """
    _check_at_least_zero(push=push, height=height, weight=weight)
    errors = [
        SpecError(name, "must be above 0", value)
        for name, value in (("base", base), ("margin", margin), ("friction", friction))
        if not value > 0
    ]
    if errors:
        raise SpecErrors(errors)
    tipping = margin * push * height / (base / 2)
    return Ballast(max(0.0, tipping - weight), max(0.0, margin * push / friction - weight))


def bases_of(layout: Layout) -> int:
    """How many bases what stands is on: one under each end of its spine that reaches the floor, else one."""
    if not layout.spine:
        return 1
    floor_at = max(y for _, y in layout.spine)
    return max(1, len({x for x, y in (layout.spine[0], layout.spine[-1]) if abs(y - floor_at) < ON_THE_FLOOR}))


def wind_answer(mph: float, limit: float = WIND_LIMIT_MPH) -> Answer:
    """May it go up in that wind (gusts, mph)? Raises SpecErrors for a wind or a limit that cannot be."""
    _check_wind("wind", mph)
    if not 0 < limit <= MOST_MPH:
        raise SpecErrors([SpecError("wind limit", f"must be above 0 and at most {MOST_MPH:g} mph", f"{limit:g} mph")])
    said, most = wind_in_words(mph), wind_in_words(limit)
    share = floor(round(mph / limit * 100, 6))
    if share >= 100:
        return Answer("stop", f"Do not install: gusts of {said} are at or above your limit of {most}.", WIND_SOURCE)
    if share >= TAKE_DOWN:
        sentence = f"Do not start, and take down what stands: gusts of {said} are {share} % of your limit of {most}."
        return Answer("stop", sentence, WIND_SOURCE)
    if share >= WATCH:
        sentence = (
            f"Watch the wind and be ready to take it down: gusts of {said} are {share} % of your limit of {most}."
        )
        return Answer("care", sentence, WIND_SOURCE)
    return Answer("fine", f"Gusts of {said} are {share} % of your limit of {most}.", WIND_SOURCE)


def wind_in_words(mph: float) -> str:
    """“20 mph (32 km/h)”."""
    return f"{mph:.0f} mph ({mph * KM_H_IN_MPH:.0f} km/h)"


def silhouette(layout: Layout) -> float:
    """What the wind meets of a piece, in square feet: length by width along a spine, else every balloon's disc."""
    if layout.spine:
        return layout.length * layout.width / 144
    return sum(pi / 4 * balloon.diameter**2 for balloon in layout.balloons) / 144


def drag_coefficient(layout: Layout) -> float:
    """A piece along a spine is pushed as a long cylinder, single balloons as spheres."""
    return CYLINDER if layout.spine else SPHERE


def push_in_words(layout: Layout, mph: float) -> str:
    """What the push of a wind on a piece is made of."""
    said = (
        f"{silhouette(layout):.0f} ft² of it meet the wind at {wind_pressure(mph):.2f} lb a square foot, with a drag "
        f"coefficient of {drag_coefficient(layout):g}"
    )
    largest = max(balloon.diameter for balloon in layout.balloons)
    if reynolds(mph, largest) > CRISIS:
        said += "; its largest balloons may be past the drag crisis and pushed less, which is not counted on"
    return f"{said}."


def _check_wind(name: str, mph: float) -> None:
    if not 0 <= mph <= MOST_MPH:
        raise SpecErrors([SpecError(name, f"must be from 0 to {MOST_MPH:g} mph", f"{mph:g} mph")])


def _check_at_least_zero(**figures: float) -> None:
    errors = [SpecError(name, "must be 0 or more", value) for name, value in figures.items() if not value >= 0]
    if errors:
        raise SpecErrors(errors)
