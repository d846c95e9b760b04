"""An organic panel: mixed sizes that fill it like a garland laid flat."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, pi
from random import Random

from estimating.bags import Diameters
from estimating.colouring import coloured, faded
from estimating.filling import Filling, filled, gap_sizes
from estimating.kinds.garland import TOUCHING
from estimating.kinds.wall.fitting import check_count
from estimating.kinds.wall.spec import WallSpec, in_inches
from estimating.layout import Balloon
from estimating.outlines import Depths, rectangle
from estimating.specs import MOST_BALLOONS
from studio.money import shares

STRETCH = 1500
"""About so many balloons make the typical stretch that a very large organic panel repeats."""

SEAM_STEPS = 30
"""Steps in which the stretches of a very large panel settle against each other."""

SOLID = 0.56
"""Part of an organic panel's volume that is balloon. Spheres poured together reach 0.64; a panel only a balloon or two
deep loses some of that at its faces."""

DEEP = 1.45
"""Depth of an organic panel in mean diameters of its large balloons, where none is given."""


def strewn(spec: WallSpec, inflated: Mapping[int, float]) -> tuple[list[Balloon], tuple[str, ...]]:
    """Large ones spread over the panel at all its depths, small ones in the gaps in front; and what to say of it."""
    blown = Diameters.of(inflated)
    usual = blown.on_average(spec.colours)
    counts, depth = organic_counts(spec, inflated)
    rng, notes = Random(spec.seed), tuple[str, ...]()
    if (number := sum(counts.values())) <= MOST_BALLOONS:
        sizes, filling = _filled(spec, in_inches(spec.width_mm), counts, depth, usual, rng)
    else:
        sizes, filling, notes = _repeated(spec, number, depth, usual, rng)
    if spec.pattern == "fade":
        colours = faded(sizes, filling.y.tolist(), spec.colours, rng)
    else:
        first, second = filling.couples(TOUCHING)
        colours = coloured(sizes, spec.colours, list(zip(first.tolist(), second.tolist(), strict=True)), rng)
    across = [blown.across(size, colour) for size, colour in zip(sizes, colours, strict=True)]
    if blown.has_foil(colours):
        filling.blow(across)
    places = zip(filling.x.tolist(), filling.y.tolist(), filling.z.tolist(), strict=True)
    return [
        Balloon(x, y, z, diameter, size, colour, "panel")
        for (x, y, z), diameter, size, colour in zip(places, across, sizes, colours, strict=True)
    ], notes


def _filled(
    spec: WallSpec, width: float, counts: Mapping[int, int], depth: float, inflated: Mapping[int, float], rng: Random
) -> tuple[list[int], Filling]:
    """So many balloons settled in a panel of that width, and their nominal sizes in the same order."""
    gaps = gap_sizes(spec.mix, inflated)
    large = [size for size in counts if size not in gaps for _ in range(counts[size])]
    small = [size for size in counts if size in gaps for _ in range(counts[size])]
    depths = _depths(width, in_inches(spec.height_mm))
    return large + small, filled(depths, [inflated[n] for n in large], [inflated[n] for n in small], rng, depth)


def _repeated(
    spec: WallSpec, number: int, depth: float, inflated: Mapping[int, float], rng: Random
) -> tuple[list[int], Filling, tuple[str, ...]]:
    """A typical stretch settled by itself, repeated side by side and settled where the stretches meet."""
    times, width = ceil(number / STRETCH), in_inches(spec.width_mm)
    counts = _shared(ceil(number / times), spec)
    sizes, one = _filled(spec, width / times, counts, depth, inflated, rng)
    whole = one.repeated(times, width / times, _depths(width, in_inches(spec.height_mm)))
    whole.settle(SEAM_STEPS)
    return sizes * times, whole, (f"Laid out as a typical stretch of {width / times:.0f} in, repeated {times} times.",)


def _depths(width: float, height: float) -> Depths:
    return Depths.of(rectangle(width, height), min(1.0, min(width, height) / 48))


def organic_counts(spec: WallSpec, inflated: Mapping[int, float]) -> tuple[dict[int, int], float]:
    """How many of each size fill an organic panel, and how deep it is in inches. Raises SpecErrors for too many."""
    number, depth = _organic_count(spec, inflated)
    check_count(spec, number, lambda other: _organic_count(other, inflated)[0])
    return _shared(max(4, ceil(number)), spec), depth


def _organic_count(spec: WallSpec, inflated: Mapping[int, float]) -> tuple[float, float]:
    """How many balloons its volume asks for, not yet whole, and how deep it is in inches."""
    inflated = Diameters.of(inflated).on_average(spec.colours)
    gaps = gap_sizes(spec.mix, inflated)
    large = [(inflated[size], percent) for size, percent in spec.mix if size not in gaps]
    usual = max(max(d for d, _ in large), DEEP * sum(d * n for d, n in large) / sum(n for _, n in large))
    depth = usual if spec.depth_mm is None else in_inches(spec.depth_mm)
    mean = sum(percent * pi / 6 * inflated[size] ** 3 for size, percent in spec.mix) / 100
    number = SOLID * in_inches(spec.width_mm) * in_inches(spec.height_mm) * depth / mean
    return number, depth


def _shared(number: int, spec: WallSpec) -> dict[int, int]:
    """So many balloons by nominal size, by largest remainder."""
    shared = shares(number, [percent for _, percent in spec.mix])
    return {size: count for (size, _), count in zip(spec.mix, shared, strict=True)}
