"""Which sizes a wall panel can hold, and how many balloons are too many to draw."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from math import ceil

from estimating.bags import Diameters
from estimating.kinds.garland import MOST_DRAWN
from estimating.kinds.wall.spec import INCH, WallSpec, in_inches
from estimating.lattices import ACROSS
from estimating.specs import SIZES, SpecError, SpecErrors


def check_fit(spec: WallSpec, inflated: Mapping[int, float]) -> None:
    """Every balloon must fit within the panel."""
    blown = Diameters.of(inflated)
    largest = max((blown.across(size, colour), size) for size, _ in spec.mix for colour, _ in spec.colours)
    least = largest[0] * (ACROSS if spec.style == "grid" and not spec.alternate else 1.0)
    errors = []
    for name, asked, needed in (
        ("width_mm", spec.width_mm, 2 * largest[0] if spec.alternate else least),
        ("height_mm", spec.height_mm, largest[0]),
        *((("depth_mm", spec.depth_mm, largest[0]),) if spec.depth_mm is not None else ()),
    ):
        if in_inches(asked) < needed:
            said = f"must be at least {ceil(needed)} in to hold {largest[1]}-inch balloons"
            errors.append(SpecError(name, said, f"{in_inches(asked):g} in"))
            errors.append(
                SpecError("mix", f"must be smaller for a {name[:-3]} of {in_inches(asked):g} in", f"{largest[1]}-inch")
            )
    if errors:
        raise SpecErrors(errors)


def check_count(spec: WallSpec, number: float, count: Callable[[WallSpec], float]) -> None:
    """Raises SpecErrors, in both fields, where there are more than any page draws; `count` tries what would work."""
    if number <= MOST_DRAWN:
        return
    width, height, most = in_inches(spec.width_mm), in_inches(spec.height_mm), 0
    # More and less wide by halves: the count never falls as the panel grows wider.
    low, high = 0, int(width)
    while low < high:
        most = (low + high + 1) // 2
        low, high = (most, high) if count(replace(spec, width_mm=most * INCH)) <= MOST_DRAWN else (low, most - 1)
    asked = f"{width:.4g} in by {height:.4g} in takes {number:.0f}"
    rule = f"must be at most {low} in to take no more than {MOST_DRAWN} balloons"
    errors = [SpecError("width_mm", rule, asked)]
    smallest = min(size for size, _ in spec.mix)
    larger = (size for size in SIZES if size > smallest and _takes_few(replace(spec, mix=((size, 100),)), count))
    if (size := next(larger, None)) is not None:
        rule = f"must have balloons of {size}-inch or larger for a panel so large"
        errors.append(SpecError("mix", rule, f"{smallest}-inch"))
    raise SpecErrors(errors)


def _takes_few(spec: WallSpec, count: Callable[[WallSpec], float]) -> bool:
    """Is it a panel that can be drawn?"""
    try:
        return count(spec) <= MOST_DRAWN
    except SpecErrors:
        return False
