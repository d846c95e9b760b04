"""Whether a flat decal lies on a round balloon without puckering, and what to do where it does not.

A flat disc of radius a laid on a ball of radius R keeps its length along the surface, so its rim, 2 pi a long, lies on
a circle only 2 pi R sin(a / R) round: it has (a / R) / sin(a / R) - 1 too much, which must stretch away or pucker.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from math import hypot, pi, sin

from estimating.specs import INFLATED, SpecError, SpecErrors

LEAST_SURPLUS, MOST_SURPLUS = Decimal("0.1"), Decimal(5)
USUAL_SURPLUS = Decimal(2)
"""Percent of rim surplus a studio allows: at 2 lettering is 0.7 R high; past 5 any film pleats."""

MOST_PIECES = 12

FINE_HEIGHT_IN = 1.0
"""The thin strokes of lower letters tear when they are set (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Fit:
    """How a decal goes on a balloon.

    `surplus_percent` is that of a piece as it goes on; `pieces` is how many it is cut into, side by side, 1 for whole;
    `balloons` is how many balloons it is spread over.
    """

    surplus_percent: float
    pieces: int
    balloons: int

    @property
    def whole(self) -> bool:
        """Does it go on as it is?"""
        return self.pieces == 1 and self.balloons == 1


def rim_surplus(half_width: float, radius: float) -> float:
    """How much too long the rim of a flat disc is on a ball, as a part of it; both in the same unit."""
    angle = half_width / radius
    if not 0 <= angle < pi:
        raise SpecErrors([SpecError("half_width", f"must be less than half round a ball of {radius:g}", half_width)])
    return angle / sin(angle) - 1 if angle else 0.0


def widest_angle(surplus: float) -> float:
    """The half-width over the radius at which the rim has just that surplus, found by halving."""
    low, high = 0.0, pi - 1e-9
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if rim_surplus(middle, 1.0) < surplus else (low, middle)
    return (low + high) / 2


def reach_of(width: float, height: float) -> float:
    """The half-width of a decal that counts: from its middle to its corners, in inches."""
    return hypot(width, height) / 2


def fits(width: float, height: float, diameter: float, *, surplus_percent: Decimal = USUAL_SURPLUS) -> bool:
    """Does a decal lie on a balloon inflated to that diameter as it is?"""
    _check_allowed(surplus_percent)
    return reach_of(width, height) <= widest_angle(float(surplus_percent) / 100) * diameter / 2


def smallest_balloon(
    width: float,
    height: float,
    *,
    inflated: Mapping[int, float] = INFLATED,
    surplus_percent: Decimal = USUAL_SURPLUS,
) -> int | None:
    """The least nominal size that carries a decal as it is, None where none does."""
    sizes = [size for size in sorted(inflated) if fits(width, height, inflated[size], surplus_percent=surplus_percent)]
    return sizes[0] if sizes else None


def pieces_to_cut(
    width: float, height: float, diameter: float, *, surplus_percent: Decimal = USUAL_SURPLUS
) -> int | None:
    """Into how many equal pieces side by side a decal is cut so that each lies flat, None where no cut helps.

    Letters set one by one are each on their own bit of the ball, so the width of a piece is what counts.
    """
    if width > diameter * pi / 2:  # Further round than is seen from in front.
        return None
    lies = (n for n in range(1, MOST_PIECES + 1) if fits(width / n, height, diameter, surplus_percent=surplus_percent))
    return next(lies, None)


def fit_of(width: float, height: float, diameter: float, *, surplus_percent: Decimal = USUAL_SURPLUS) -> Fit:
    """How a decal goes on balloons of a diameter: whole, cut, or halved over two balloons.

    Raises SpecErrors where even half of it cannot be cut to lie.
    """
    for balloons in (1, 2):
        part = width / balloons
        if pieces := pieces_to_cut(part, height, diameter, surplus_percent=surplus_percent):
            return Fit(100 * rim_surplus(reach_of(part / pieces, height), diameter / 2), pieces, balloons)
    angle = widest_angle(float(surplus_percent) / 100)
    if height >= angle * diameter:
        rule = f"must be under {angle * diameter:.1f} in on a balloon {diameter:g} in across"
        raise SpecErrors([SpecError("decal_height_mm", rule, f"{height:g} in")])
    rule = f"must be at most {pi * diameter:.0f} in over two balloons {diameter:g} in across"
    raise SpecErrors([SpecError("decal_width_mm", rule, f"{width:g} in")])


def spare_decals(letters: int, height: float, *, fine: bool) -> int:
    """One more decal where its detail is fine: a script, or letters less than an inch high; none for no letters."""
    return 1 if letters and (fine or height < FINE_HEIGHT_IN) else 0


def _check_allowed(surplus_percent: Decimal) -> None:
    if not LEAST_SURPLUS <= surplus_percent <= MOST_SURPLUS:
        rule = f"must be from {LEAST_SURPLUS} to {MOST_SURPLUS}"
        raise SpecErrors([SpecError("surplus_percent", rule, surplus_percent)])
