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
        for step in range(steps):
            if step % FRESH_EVERY == 0:
                a, b = self.couples(SKIN)
                touching = self.radius[a] + self.radius[b]
            dx, dy, dz = self.x - self._tied_x, self.y - self._tied_y, self.z
            far = np.sqrt(dx * dx + dy * dy + dz * dz) + 1e-9
            pull = PULL * (self.reach - far) / far
            ex, ey, ez = self.x[a] - self.x[b], self.y[a] - self.y[b], self.z[a] - self.z[b]
            gap = np.sqrt(ex * ex + ey * ey + ez * ez) + 1e-9
            push = PUSH * np.maximum(touching - gap, 0.0) / gap
            ex, ey, ez = ex * push, ey * push, ez * push
            self.x = self.x + dx * pull + np.bincount(a, ex, n) - np.bincount(b, ex, n)
            self.y = self.y + dy * pull + np.bincount(a, ey, n) - np.bincount(b, ey, n)
            self.z = self.z + dz * pull + np.bincount(a, ez, n) - np.bincount(b, ez, n)

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
        length = length_of(self.spine)
        first, last = float(self.s.min()), float(self.s.max())
        number = max(12, min(240, int(length / 3)))
        stops = [first + (last - first) * (n + 0.5) / number for n in range(number)]
        places = along(self.spine, stops)
        point_x, point_y = (np.array([[point[axis]] for point, _ in places]) for axis in (0, 1))
        along_x, along_y = (np.array([[tangent[axis]] for _, tangent in places]) for axis in (0, 1))
        # Only what is tied near a place can be seen there; another stretch of the line may pass behind it.
        window = 2 * float(self.radius.max()) + float(self.reach.max())
        dx, dy = self.x - point_x, self.y - point_y
        ahead, aside = dx * along_x + dy * along_y, dy * along_x - dx * along_y
        half = self.radius * self.radius - ahead * ahead
        hit = (half > 0.0) & (np.abs(self.s - np.array(stops)[:, None]) < window)
        half = np.sqrt(np.where(hit, half, 0.0))
        top = np.where(hit, aside + half, -np.inf).max(axis=1)
        bottom = np.where(hit, aside - half, np.inf).min(axis=1)
        return sum(np.where(hit.any(axis=1), top - bottom, 0.0).tolist()) / number


def couples_along(
    key: Floats, furthest: float, places: tuple[Floats, Floats, Floats], radius: Floats, within: float
) -> tuple[Ints, Ints]:
    """Every two balloons less than `within` inches apart; two whose `key` is further apart than that cannot be."""
    order = np.argsort(key, kind="stable")
    key, x, y, z, radius = (values[order] for values in (key, *places, radius))
    firsts, seconds = [order[:0]], [order[:0]]
    for k in range(1, len(order)):
        if (key[k:] - key[:-k]).min() > furthest:
            break
        ex, ey, ez = x[k:] - x[:-k], y[k:] - y[:-k], z[k:] - z[:-k]
        near = radius[k:] + radius[:-k] + within
        close = np.flatnonzero(ex * ex + ey * ey + ez * ez < near * near)
        firsts.append(order[close])
        seconds.append(order[close + k])
    return np.concatenate(firsts), np.concatenate(seconds)


def balloons_for(length: float, width: float, sizes: Sequence[tuple[float, float, float]]) -> float:
    """How many balloons fill a garland: its silhouette's cylinder times FILLED, over what a balloon takes up of it.

    `sizes` are an inflated diameter, the part of the balloons by count that has it, and the part of such a
    balloon's volume that lies within the cylinder.
    """
    taken = sum(share * within * pi / 6 * d**3 for d, share, within in sizes) / sum(share for _, share, _ in sizes)
    return FILLED * pi / 4 * width**2 * length / taken
