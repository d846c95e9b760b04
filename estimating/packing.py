"""Soft spheres tied to a line: how the balloons of a garland settle.

Each balloon is a soft sphere held by its neck to a point on the spine and pushed aside where it overlaps
another. A few hundred steps settle them. The same input settles the same way on every machine: the arithmetic
is element by element, with no matrix products, no trigonometry and sums in a fixed order, and a layout rounds
the result.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import pi

import numpy as np
from numpy.typing import NDArray

from estimating.spines import Spine, along, length_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

FILLED = 0.75
"""Part of the silhouette's cylinder that is balloon: 8 balloons of 9 inches a foot settle 20.8 inches wide."""

FRESH_EVERY = 20
"""Steps after which neighbours are looked up again."""

SKIN = 1.0
"""Couples this many inches short of touching are watched as neighbours too."""

PULL = 0.1
"""How much of the way back to its place the neck pulls a balloon in one step."""

PUSH = 0.24
"""How much of an overlap each of the two gives way in one step."""

TIED = ("s", "reach", "radius", "across", "towards")
PLACED = ("x", "y", "z")
"""What is given of tied balloons, and what settling changes."""

ROOT_TWO = 1.4142135623730951

AT_ONCE = 200_000
"""Pairs of balloons that are compared at once."""

SLACK = 1e-9
"""Part of a reach that rounding may take off it."""


@dataclass(slots=True)
class Tethered:
    """Balloons tied to a spine, one array entry each, in inches.

    `s` is the distance along the spine at which the neck is tied, `reach` how far from there the centre rests
    when nothing pushes it, `radius` the inflated radius and (`across`, `towards`) the first direction from
    the spine, a unit vector: across the picture and towards the viewer.
    """

    spine: Spine
    s: Floats
    reach: Floats
    radius: Floats
    across: Floats
    towards: Floats
    x: Floats = field(init=False)
    y: Floats = field(init=False)
    z: Floats = field(init=False)
    _tied_x: Floats = field(init=False)
    _tied_y: Floats = field(init=False)
    _stops: tuple[Floats, Floats, Floats, Floats, Floats] | None = field(init=False, default=None)

    def __post_init__(self) -> None:
        places = along(self.spine, self.s.tolist())
        self._tied_x = np.array([point[0] for point, _ in places])
        self._tied_y = np.array([point[1] for point, _ in places])
        aside = self.reach * self.across
        self.x = self._tied_x - aside * np.array([tangent[1] for _, tangent in places])
        self.y = self._tied_y + aside * np.array([tangent[0] for _, tangent in places])
        self.z = self.reach * self.towards

    def settle(self, steps: int) -> None:
        """Let necks pull and skins push for so many steps."""
        n = len(self.s)
        # One array of three rows: most of the time goes into asking for an operation, not into doing it.
        at, tied = np.array([self.x, self.y, self.z]), np.array([self._tied_x, self._tied_y, np.zeros(n)])
        for step in range(steps):
            if step % FRESH_EVERY == 0:
                self.x, self.y, self.z = at
                a, b = self.couples(SKIN)
                touching = self.radius[a] + self.radius[b]
            out = at - tied
            far = _lengths(out) + 1e-9
            out *= PULL * (self.reach - far) / far
            apart = at.take(a, axis=1)
            apart -= at.take(b, axis=1)
            gap = _lengths(apart) + 1e-9
            apart *= PUSH * np.maximum(touching - gap, 0.0) / gap
            at += out
            for axis, pushed in zip(at, apart, strict=True):
                axis += np.bincount(a, pushed, n)
                axis -= np.bincount(b, pushed, n)
        self.x, self.y, self.z = at

    def joined(self, other: Tethered) -> Tethered:
        """These balloons and then others of the same spine, all where they are."""
        both = Tethered(
            spine=self.spine,
            **{name: np.concatenate([getattr(self, name), getattr(other, name)]) for name in TIED},
        )
        for name in PLACED:
            setattr(both, name, np.concatenate([getattr(self, name), getattr(other, name)]))
        return both

    def first(self, number: int) -> Tethered:
        """The first so many balloons, where they are."""
        some = Tethered(spine=self.spine, **{name: getattr(self, name)[:number] for name in TIED})
        for name in PLACED:
            setattr(some, name, getattr(self, name)[:number])
        return some

    def repeated(self, times: int, spine: Spine) -> Tethered:
        """This level stretch so many times, end to end along another spine, each balloon as far from it as here."""
        step, length = length_of(self.spine), length_of(spine)
        starts = np.repeat(np.arange(times) * step, len(self.s))
        ends = min(float(self.radius.max()), length / 4)
        inset = (length - 2 * ends) / length
        many = Tethered(
            spine=spine,
            s=ends + inset * (np.tile(self.s, times) + starts),
            **{name: np.tile(getattr(self, name), times) for name in TIED if name != "s"},
        )
        places = along(spine, (ends + inset * (np.tile(self.x, times) + starts)).tolist())
        aside = np.tile(self.y, times)
        many.x = np.array([point[0] for point, _ in places]) - aside * np.array([turn[1] for _, turn in places])
        many.y = np.array([point[1] for point, _ in places]) + aside * np.array([turn[0] for _, turn in places])
        many.z = np.tile(self.z, times)
        return many

    def couples(self, within: float) -> tuple[Ints, Ints]:
        """Every two balloons whose skins overlap or are less than `within` inches apart.

        They are sorted along the diagonal of the picture, which every spine follows without turning back, and
        each is compared with those after it until none can be near.
        """
        furthest = ROOT_TWO * (2 * float(self.radius.max()) + within)
        return couples_along(self.x + self.y, furthest, (self.x, self.y, self.z), self.radius, within)

    def silhouette(self) -> float:
        """Mean width of what is seen, square to the spine, in inches, leaving off the rounded ends."""
        if self._stops is None:
            self._stops = self._measured_at()
        stops, point_x, point_y, along_x, along_y = self._stops
        # Only what is tied near a place can be seen there; another stretch of the line may pass behind it.
        window = 2 * float(self.radius.max()) + float(self.reach.max())
        dx, dy = self.x - point_x, self.y - point_y
        ahead, aside = dx * along_x + dy * along_y, dy * along_x - dx * along_y
        half = self.radius * self.radius - ahead * ahead
        hit = (half > 0.0) & (np.abs(self.s - stops) < window)
        half = np.sqrt(np.where(hit, half, 0.0))
        top = np.where(hit, aside + half, -np.inf).max(axis=1)
        bottom = np.where(hit, aside - half, np.inf).min(axis=1)
        return sum(np.where(hit.any(axis=1), top - bottom, 0.0).tolist()) / len(stops)

    def _measured_at(self) -> tuple[Floats, Floats, Floats, Floats, Floats]:
        """Where along the spine the silhouette is measured, the points there and which way it runs; one row each."""
        first, last = float(self.s.min()), float(self.s.max())
        number = max(12, min(240, int(length_of(self.spine) / 3)))
        stops = [first + (last - first) * (n + 0.5) / number for n in range(number)]
        figures = np.array(
            [(stop, *point, *tangent) for stop, (point, tangent) in zip(stops, along(self.spine, stops), strict=True)]
        )
        stop, x, y, along_x, along_y = (figures[:, [n]] for n in range(5))
        return stop, x, y, along_x, along_y


def _lengths(vectors: Floats) -> Floats:
    """How long each column of three is."""
    squared = vectors * vectors
    total: Floats = np.sqrt(squared[0] + squared[1] + squared[2])
    return total


def couples_along(
    key: Floats, furthest: float, places: tuple[Floats, Floats, Floats], radius: Floats, within: float
) -> tuple[Ints, Ints]:
    """Every two balloons less than `within` inches apart; two whose `key` is further apart than that cannot be.

    They come by how many lie between the two along the key, and then along it: sums over them are then always in the
    same order.
    """
    order = np.argsort(key, kind="stable")
    key, x, y, z, radius = (values[order] for values in (key, *places, radius))
    number = len(order)
    reaching = np.searchsorted(key, key + furthest * (1 + SLACK), side="right") - np.arange(number) - 1
    before = np.concatenate([np.zeros(1, dtype=np.int64), np.cumsum(reaching)])
    firsts, apart = [order[:0]], [order[:0]]
    start = 0
    while start < number:
        # So many balloons at a time as make a handful of pairs for the memory.
        stop = max(start + 1, int(np.searchsorted(before, before[start] + AT_ONCE, side="right")) - 1)
        a = np.repeat(np.arange(start, stop), reaching[start:stop])
        k = np.arange(before[start], before[stop]) - before[a] + 1
        b = a + k
        ex, ey, ez = x[b] - x[a], y[b] - y[a], z[b] - z[a]
        near = radius[b] + radius[a] + within
        close = np.flatnonzero(ex * ex + ey * ey + ez * ez < near * near)
        firsts.append(a[close])
        apart.append(k[close])
        start = stop
    first, step = np.concatenate(firsts), np.concatenate(apart)
    in_order = np.argsort(step, kind="stable")
    first, step = first[in_order], step[in_order]
    return order[first], order[first + step]


def balloons_for(length: float, width: float, sizes: Sequence[tuple[float, float, float]]) -> float:
    """How many balloons fill a garland: its silhouette's cylinder times FILLED, over what a balloon takes up of it.

    `sizes` are an inflated diameter, the part of the balloons by count that has it, and the part of such a
    balloon's volume that lies within the cylinder.
    """
    taken = sum(share * within * pi / 6 * d**3 for d, share, within in sizes) / sum(share for _, share, _ in sizes)
    return FILLED * pi / 4 * width**2 * length / taken
