"""The line a piece follows, as points in inches: x to the right, y downwards, from the left end.

A swag hangs in a catenary. With u the half-span over the catenary's parameter a, sag / span = (cosh u - 1) /
2u and length / span = sinh u / u. Everything that needs trigonometry is worked out here, once, with Python's
own maths and rounded, so that a layout is the same on every machine. An arch is half an ellipse, whose length is
its true arc, not a rule of thumb. Any two of span, rise (or sag) and length give the third.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from itertools import pairwise
from math import acos, asinh, atanh, ceil, cos, cosh, degrees, hypot, pi, sin, sinh, sqrt
from typing import NamedTuple

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

AGREED = 0.01
"""Span, rise and length given all three may differ by this part from what two of them make of the third."""


class Arc(NamedTuple):
    """A curve between two level ends: how far apart they are, how far it rises or sags, and how long it is."""

    span: float
    rise: float
    length: float


class ArcError(ValueError):
    """A span, rise and length that no curve has: `field` is span, rise or length, `rule` what it must be."""

    def __init__(self, field: str, rule: str) -> None:
        super().__init__(f"{field} {rule}")
        self.field = field
        self.rule = rule


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
    starts, tangents = _legs(spine)
    found = []
    for distance in distances:
        n = _leg_at(starts, distance)
        (x, y), tangent, past = spine[n], tangents[n], distance - starts[n]
        found.append(((round(x + tangent[0] * past, 9), round(y + tangent[1] * past, 9)), tangent))
    return found


def _legs(spine: Sequence[Point]) -> tuple[list[float], list[Point]]:
    """How far along each point of a spine lies, and the unit tangent of the leg that begins there."""
    starts, tangents = [0.0], []
    for (x1, y1), (x2, y2) in pairwise(spine):
        starts.append(starts[-1] + hypot(x2 - x1, y2 - y1))
        step = starts[-1] - starts[-2]
        tangents.append((round((x2 - x1) / step, 9), round((y2 - y1) / step, 9)) if step else (0.0, 0.0))
    return starts, tangents


def _leg_at(starts: Sequence[float], distance: float) -> int:
    return min(max(bisect_right(starts, distance) - 1, 0), len(starts) - 2)


def bends(spine: Sequence[Point], least_degrees: float = 35.0) -> list[float]:
    """Distances along a spine at which it turns sharply, judged over a foot or so on either side."""
    starts, tangents = _legs(spine)
    # What turns less than that from end to end turns sharply nowhere; a degree is more than roundings add up to.
    if sum(_turn(one, other) for one, other in pairwise(tangents) if one != other) < least_degrees - 1:
        return []
    length = length_of(spine)
    reach = min(12.0, length / 12)
    stations = [length * n / 200 for n in range(201) if reach <= length * n / 200 <= length - reach]
    runs: list[list[tuple[float, float]]] = [[]]
    for s in stations:
        turn = _turn(tangents[_leg_at(starts, s - reach)], tangents[_leg_at(starts, s + reach)])
        if turn >= least_degrees:
            runs[-1].append((s, turn))
        elif runs[-1]:
            runs.append([])
    # A bend is felt over a stretch; it lies at the stretch's middle.
    return [sum(s * turn for s, turn in run) / sum(turn for _, turn in run) for run in runs if run]


def _turn(one: Point, other: Point) -> float:
    """The degrees from one direction to another."""
    return degrees(acos(max(-1.0, min(1.0, one[0] * other[0] + one[1] * other[1]))))


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


def arch(arc: Arc, points: int = 129) -> Spine:
    """Half an ellipse from its left foot over the crown to its right foot; both feet are at height 0."""
    turns = [pi * n / (points - 1) for n in range(points)]
    spots = [(arc.span / 2 * (1 - cos(turn)), -arc.rise * sin(turn)) for turn in turns]
    return _made_exact(spots, arc.length)


def lifted(arc: Arc, points: int = 65) -> Spine:
    """A catenary upside down, as a line is that is lifted evenly along its length: both ends are at height 0."""
    return tuple((x, -y) for x, y in swag(arc.length, arc.rise / arc.span, points))


def half_ellipse(span: float, rise: float) -> float:
    """Length of half an ellipse, by Gauss's arithmetic-geometric mean; exact but for the last digits.

    With a and b the half axes and c² = a² - b², a quarter of the ellipse is pi / (2 M(a, b)) times a² less the sum
    over n of 2^(n - 1) c_n².
    """
    a, b = max(span / 2, rise), min(span / 2, rise)
    if b <= 0:
        raise ValueError(f"an arch has a span and a rise above 0 (got {span}, {rise})")
    scale, a, b = a, 1.0, b / a
    less, weight = (1 - b * b) / 2, 1.0
    for _ in range(40):
        if a - b <= 1e-15:
            break
        a, b, c = (a + b) / 2, sqrt(a * b), (a - b) / 2
        less += weight * c * c
        weight *= 2
    return scale * pi / a * (1 - less)


def ellipse_arc(*, span: float | None = None, rise: float | None = None, length: float | None = None) -> Arc:
    """The half ellipse of any two of span, rise and length; the third to a millionth of the length.

    Length grows with span and with rise, so the third is found by halving. Raises ArcError where there is none.
    """
    _check_arc(span, rise, length)
    if length is None and span is not None and rise is not None:
        return Arc(span, rise, half_ellipse(span, rise))
    if rise is None and span is not None and length is not None:
        return Arc(span, _halved(lambda it: half_ellipse(span, it) < length, length / 2), length)
    if span is None and rise is not None and length is not None:
        return Arc(_halved(lambda it: half_ellipse(it, rise) < length, length), rise, length)
    return _agreed(ellipse_arc(span=span, rise=rise), length)


def catenary_arc(*, span: float | None = None, rise: float | None = None, length: float | None = None) -> Arc:
    """The catenary of any two of span, rise (its sag) and length; the third to a millionth of the length.

    With u as in `swag`: length / span = sinh u / u and rise / length = tanh(u / 2) / 2. Raises ArcError.
    """
    _check_arc(span, rise, length)
    if length is None and span is not None and rise is not None:
        u = _steepness(rise / span)
        return Arc(span, rise, span * sinh(u) / u)
    if rise is None and span is not None and length is not None:
        u = _halved(lambda it: sinh(it) * span < length * it, 60.0)
        return Arc(span, length * (sinh(u / 2) / cosh(u / 2)) / 2, length)
    if span is None and rise is not None and length is not None:
        u = 2 * atanh(2 * rise / length)
        return Arc(length * u / sinh(u), rise, length)
    return _agreed(catenary_arc(span=span, rise=rise), length)


def _check_arc(span: float | None, rise: float | None, length: float | None) -> None:
    """Two of them at least, and a length that reaches across and up."""
    given = {"span": span, "rise": rise, "length": length}
    if sum(value is not None for value in given.values()) < 2:
        missing = next(field for field, value in given.items() if value is None)
        raise ArcError(missing, "must be given: two of span, rise and length make the third")
    for field, value in given.items():
        if value is not None and value <= 0:
            raise ArcError(field, "must be more than 0")
    if length is not None and span is not None and length <= span * (1 + 1e-6):
        raise ArcError("length", f"must be more than the span of {span:.4g} in")
    if length is not None and rise is not None and length <= 2 * rise * (1 + 1e-6):
        raise ArcError("length", f"must be more than {2 * rise:.4g} in to go up {rise:.4g} in and down again")


def _agreed(arc: Arc, length: float | None) -> Arc:
    """The arc of a span and a rise, if the length that was given as well is its own."""
    if length is not None and abs(length - arc.length) > AGREED * arc.length:
        rule = f"must be {arc.length:.4g} in for a span of {arc.span:.4g} in and a rise or sag of {arc.rise:.4g} in"
        raise ArcError("length", rule)
    return arc


def _halved(too_small: Callable[[float], bool], high: float) -> float:
    """The value above 0 at which `too_small` stops being true, by a hundred halvings."""
    low = 0.0
    for _ in range(100):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if too_small(middle) else (low, middle)
    return (low + high) / 2
