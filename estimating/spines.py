"""The line a garland follows, as points in inches: x to the right, y downwards, from the left end.

A swag hangs in a catenary. With u the half-span over the catenary's parameter a, sag / span = (cosh u - 1) /
2u and length / span = sinh u / u. Everything that needs trigonometry is worked out here, once, with Python's
own maths and rounded, so that a layout is the same on every machine.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from math import acos, asinh, ceil, cos, cosh, degrees, hypot, pi, sin, sinh

Point = tuple[float, float]
Spine = tuple[Point, ...]

SHAPES = ("straight", "swag", "doorway")

SAG = 0.2
"""How deep a swag hangs, as a part of its span."""

LONGEST_SWAG = 168.0
"""A longer garland is caught up into several swags, each no longer than this."""

DOORWAY_SAG = 0.15
TALLEST_DROP = 102.0
"""The leg beside a door ends at the floor, however long the garland."""


def straight(length: float) -> Spine:
    """A level line."""
    return ((0.0, 0.0), (length, 0.0))


def swag(length: float, sag: float = SAG, points: int = 65) -> Spine:
    """A catenary of that arc length whose ends are level and whose sag is that part of its span."""
    u = _steepness(sag)
    a = length / (2 * sinh(u))
    span = 2 * u * a
    spots = []
    for n in range(points):
        # Equal steps along the curve: the arc from the lowest point to x is a·sinh(x/a).
        arc = length * (n / (points - 1) - 0.5)
        x = a * asinh(arc / a)
        spots.append((x + span / 2, a * (cosh(u) - cosh(x / a))))
    return _made_exact(spots, length)


def swags(length: float, sag: float = SAG, longest: float = LONGEST_SWAG) -> Spine:
    """As few equal swags side by side as keep each within the longest."""
    number = max(1, ceil(length / longest))
    one = swag(length / number, sag)
    span = one[-1][0]
    spots = list(one)
    for n in range(1, number):
        spots += [(x + n * span, y) for x, y in one[1:]]
    return _made_exact(spots, length)


def doorway(length: float) -> Spine:
    """Across in shallow swags, round a corner and down: half of it down at most, and no lower than the floor."""
    radius = min(14.0, length * 0.06)
    corner = radius * pi / 2
    drop = min(length * 0.46, TALLEST_DROP)
    across = swags(length - drop - corner, DOORWAY_SAG, 1.6 * LONGEST_SWAG)
    reach = across[-1][0]
    spots = list(across)
    for n in range(1, 10):
        turn = n / 9 * pi / 2
        spots.append((reach + radius * sin(turn), radius * (1 - cos(turn))))
    foot = spots[-1]
    for n in range(1, 17):
        # The leg wanders a little, as a line does that is tied at a few points.
        down = drop * n / 16
        spots.append((foot[0] + 0.015 * drop * sin(2 * pi * n / 16), foot[1] + down))
    return _made_exact(spots, length)


def spine_of(shape: str, length: float) -> Spine:
    """The spine of a shape named in SHAPES; raises KeyError for any other."""
    return {"straight": straight, "swag": swags, "doorway": doorway}[shape](length)


def length_of(spine: Sequence[Point]) -> float:
    """Length along a spine."""
    return sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(spine))


def along(spine: Sequence[Point], distances: Sequence[float]) -> list[tuple[Point, Point]]:
    """For each distance from the start, the point there and the unit tangent; past an end the line runs on."""
    starts = [0.0]
    for (x1, y1), (x2, y2) in pairwise(spine):
        starts.append(starts[-1] + hypot(x2 - x1, y2 - y1))
    found = []
    for distance in distances:
        n = min(max(bisect_right(starts, distance) - 1, 0), len(spine) - 2)
        (x1, y1), (x2, y2) = spine[n], spine[n + 1]
        step = starts[n + 1] - starts[n]
        tangent = (round((x2 - x1) / step, 9), round((y2 - y1) / step, 9))
        past = distance - starts[n]
        found.append(((round(x1 + tangent[0] * past, 9), round(y1 + tangent[1] * past, 9)), tangent))
    return found


def bends(spine: Sequence[Point], least_degrees: float = 35.0) -> list[float]:
    """Distances along a spine at which it turns sharply, judged over a foot or so on either side."""
    length = length_of(spine)
    reach = min(12.0, length / 12)
    stations = [length * n / 200 for n in range(201) if reach <= length * n / 200 <= length - reach]
    before = along(spine, [s - reach for s in stations])
    after = along(spine, [s + reach for s in stations])
    runs: list[list[tuple[float, float]]] = [[]]
    for s, (_, (x1, y1)), (_, (x2, y2)) in zip(stations, before, after, strict=True):
        turn = degrees(acos(max(-1.0, min(1.0, x1 * x2 + y1 * y2))))
        if turn >= least_degrees:
            runs[-1].append((s, turn))
        elif runs[-1]:
            runs.append([])
    # A bend is felt over a stretch; it lies at the stretch's middle.
    return [sum(s * turn for s, turn in run) / sum(turn for _, turn in run) for run in runs if run]


def _steepness(sag: float) -> float:
    """The u at which a catenary's sag is that part of its span, by halving."""
    low, high = 1e-6, 20.0
    for _ in range(100):
        middle = (low + high) / 2
        if (cosh(middle) - 1) / (2 * middle) < sag:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _made_exact(spots: Sequence[Point], length: float) -> Spine:
    """Chords are a hair shorter than their curve: grown until the line is exactly as long as asked, then rounded."""
    by = length / length_of(spots)
    return tuple((round(x * by, 9), round(y * by, 9)) for x, y in spots)
