"""Soft spheres in front of an outline: how the balloons of a panel, a numeral or a letter settle.

The large ones are spread over the outline on a loose lattice, grow to their size and push each other apart, held
in by its edge; the small ones then go one by one wherever most shows between them, and all settle together. As in
`packing`, the same input settles the same way on every machine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import pi
from random import Random

import numpy as np
from numpy.typing import NDArray

from estimating.outlines import Depths
from estimating.packing import FRESH_EVERY, PUSH, SKIN, couples_along

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PLANE_FILLED = 0.82
"""Part of a plane that discs thrown together cover (random close packing in two dimensions); 0.907 is the most."""

OVER = 0.12
"""Part of its radius by which a balloon may stand out over the edge."""

GROWN_FROM = 0.55
"""Balloons begin at this part of their size, so that they find their places before they push."""

FIRST_STEPS, LAST_STEPS = 100, 40

SINK = 0.05
"""How much of the way back to its own depth a balloon sinks in one step."""

HOLD = 0.6
"""How much of the way in the edge pushes a balloon in one step."""

JITTER = 0.22
"""How far from the lattice balloons begin, in its pitches."""

REACH = 12.0
"""How far from its skin, in inches, a balloon counts when gaps are looked for."""

APART = 0.5
"""What an inch from the next small balloon counts against an inch of gap, when the place of one is chosen."""

STANDS_OUT = 1.2
"""Balloons this many times as large as the middling one stand out of a panel instead of lying deep in it."""

STRIDE = 0.6180339887498949
"""Steps of the golden section spread the balloons evenly over a panel's depth however many there are."""

HALVINGS = 24

CANDIDATES = 12
"""Places tried for each balloon of a larger size: the one furthest from others of such sizes is taken."""


GAP_SIZE = 0.6
"""Balloons at most this part of the commonest's diameter only fill gaps between others."""


def gap_sizes(mix: Sequence[tuple[int, int]], inflated: Mapping[int, float]) -> set[int]:
    """The sizes of a mix (nominal size and percent) that only fill gaps: much smaller than the commonest."""
    commonest = max(mix, key=lambda share: (share[1], inflated[share[0]]))[0]
    return {size for size, _ in mix if inflated[size] <= GAP_SIZE * inflated[commonest]}


def discs_for(area: float, sizes: Sequence[tuple[float, float]]) -> float:
    """How many balloons cover an area: PLANE_FILLED of it over a mean disc.

    `sizes` are an inflated diameter and the part of the balloons by count that has it, 0 in the diameter for those
    that only fill gaps.
    """
    mean = sum(share * pi / 4 * d**2 for d, share in sizes) / sum(share for _, share in sizes)
    return PLANE_FILLED * area / mean


@dataclass(slots=True)
class Filling:
    """Balloons in front of an outline, one array entry each, in inches; `home` is the depth each sinks back to."""

    depths: Depths
    x: Floats
    y: Floats
    radius: Floats
    home: Floats
    z: Floats = field(init=False)

    def __post_init__(self) -> None:
        self.z = self.home.copy()

    def settle(self, steps: int, grown_from: float = 1.0) -> None:
        """Let skins push and the edge hold for so many steps, growing to full size over the first half."""
        n = len(self.x)
        for step in range(steps):
            part = min(1.0, grown_from + (1.0 - grown_from) * 2 * step / steps)
            if step % FRESH_EVERY == 0:
                a, b = self.couples(SKIN)
                touching = self.radius[a] + self.radius[b]
            ex, ey, ez = self.x[a] - self.x[b], self.y[a] - self.y[b], self.z[a] - self.z[b]
            gap = np.sqrt(ex * ex + ey * ey + ez * ez) + 1e-9
            push = PUSH * np.maximum(touching * part - gap, 0.0) / gap
            ex, ey, ez = ex * push, ey * push, ez * push
            self.x = self.x + np.bincount(a, ex, n) - np.bincount(b, ex, n)
            self.y = self.y + np.bincount(a, ey, n) - np.bincount(b, ey, n)
            self.z = self.z + np.bincount(a, ez, n) - np.bincount(b, ez, n) + SINK * (self.home - self.z)
            self.z = np.maximum(self.z, 0.0)
            self._hold_in()

    def blow(self, diameters: Sequence[float]) -> None:
        """Give every balloon the diameter it has in its colour, in inches, and let all settle once more."""
        self.radius = np.array(diameters) / 2
        self.settle(LAST_STEPS)

    def repeated(self, times: int, step: float, depths: Depths) -> Filling:
        """These balloons so many times side by side, `step` inches apart, in front of the outline of `depths`."""
        shift = np.repeat(np.arange(times) * step, len(self.x))
        many = Filling(
            depths,
            np.tile(self.x, times) + shift,
            *(np.tile(values, times) for values in (self.y, self.radius, self.home)),
        )
        many.z = np.tile(self.z, times)
        return many

    def _hold_in(self) -> None:
        deep, inwards_x, inwards_y = self.depths.at(self.x, self.y)
        short = HOLD * np.maximum((1.0 - OVER) * self.radius - deep, 0.0)
        self.x, self.y = self.x + short * inwards_x, self.y + short * inwards_y

    def couples(self, within: float) -> tuple[Ints, Ints]:
        """Every two balloons whose skins overlap or are less than `within` inches apart."""
        wide, tall = float(self.x.max() - self.x.min()), float(self.y.max() - self.y.min())
        furthest = 2 * float(self.radius.max()) + within
        key = self.x if wide > tall else self.y
        return couples_along(key, furthest, (self.x, self.y, self.z), self.radius, within)


def filled(depths: Depths, large: Sequence[float], small: Sequence[float], rng: Random, thick: float = 0.0) -> Filling:
    """Balloons of those diameters settled inside an outline: first the large ones, then the small in their gaps.

    `thick` is how deep they fill it, in inches: the large ones rest at all depths of it, the largest stand out of it
    and the small ones lie in front; at 0 all lie against one plane. They come back in the order given, the large
    before the small.
    """
    radius = np.array(large) / 2
    x, y = _spread(depths, radius, rng)
    rest = (np.arange(len(radius)) * STRIDE + 0.5) % 1.0
    stands_out = radius > STANDS_OUT * float(np.median(radius))
    home = np.where(stands_out, 0.5 * thick, np.maximum(thick - 2 * radius, 0.0) * rest)
    filling = Filling(depths, x, y, radius, home)
    filling.settle(FIRST_STEPS, GROWN_FROM)
    if not small:
        return filling
    added = np.array(small) / 2
    more_x, more_y = _gaps(filling, added)
    front = np.maximum(thick - 2 * added, 0.5 * float(radius.mean()))
    both = Filling(
        depths,
        np.concatenate([filling.x, more_x]),
        np.concatenate([filling.y, more_y]),
        np.concatenate([radius, added]),
        np.concatenate([filling.home, front]),
    )
    both.z[: len(radius)] = filling.z
    both.settle(LAST_STEPS)
    return both


def covered(depths: Depths, x: Floats, y: Floats, radius: Floats) -> float:
    """The part of an outline's area behind which no balloon is missing."""
    shown = _rooms(depths, x, y, radius)[depths.deep > 0.0] > 0.0
    return 1.0 - float(shown.sum()) / len(shown)


def _spread(depths: Depths, radius: Floats, rng: Random) -> tuple[Floats, Floats]:
    """Where each balloon begins: on a hexagonal lattice, shaken, the larger ones apart where there is room."""
    x, y = _lattice(depths, len(radius), 0.5 * float(radius.min()))
    kept = [n for _, n in sorted((rng.random(), n) for n in range(len(x)))][: len(radius)]
    pitch = float(np.sqrt(2 / 3**0.5 * depths.step**2 * float((depths.deep > 0.0).sum()) / len(x)))
    shaken = np.array([JITTER * pitch * (2 * rng.random() - 1) for _ in range(2 * len(kept))])
    x, y = x[kept] + shaken[::2], y[kept] + shaken[1::2]
    deep = depths.at(x, y)[0]
    free, place = list(range(len(x))), np.zeros(len(radius), dtype=np.int64)
    smallest, taken_x, taken_y, taken_r = float(radius.min()), x[:0], y[:0], radius[:0]
    for n in sorted(range(len(radius)), key=lambda n: (-radius[n], n)):
        at = 0
        if radius[n] > smallest:
            tried = [int(rng.random() * len(free)) for _ in range(CANDIDATES)]
            fit = [k for k in tried if deep[free[k]] > 0.8 * radius[n]]
            fit = fit or [max(range(len(free)), key=lambda k: deep[free[k]])]
            at = fit[0]
            if len(taken_x):
                ex, ey = (
                    values[[free[k] for k in fit]][:, None] - taken for values, taken in ((x, taken_x), (y, taken_y))
                )
                at = fit[int(np.argmax((np.sqrt(ex * ex + ey * ey) - taken_r).min(axis=1)))]
        place[n] = chosen = free.pop(at)
        if radius[n] > smallest:
            taken_x, taken_y = np.append(taken_x, x[chosen]), np.append(taken_y, y[chosen])
            taken_r = np.append(taken_r, radius[n])
    return x[place], y[place]


def _lattice(depths: Depths, number: int, inset: float) -> tuple[Floats, Floats]:
    """The widest hexagonal lattice with at least so many points that deep inside, by halving."""
    rows, columns = depths.deep.shape
    wide, tall = columns * depths.step, rows * depths.step
    low, high = 0.0, wide + tall
    best: tuple[Floats, Floats] | None = None
    for _ in range(HALVINGS):
        pitch = (low + high) / 2
        down = np.arange(0.0, tall, pitch * 3**0.5 / 2)
        across = np.arange(-pitch, wide, pitch)
        x = (depths.left + across[None, :] + np.where(np.arange(len(down)) % 2, pitch / 2, 0.0)[:, None]).ravel()
        y = np.repeat(depths.top + down, len(across))
        inside = depths.at(x, y)[0] > inset
        if int(inside.sum()) >= number:
            low, best = pitch, (x[inside], y[inside])
        else:
            high = pitch
    if best is None:
        raise ValueError(f"no lattice of {number} points fits so deep inside")
    return best


def _gaps(filling: Filling, radius: Floats) -> tuple[Floats, Floats]:
    """Where each small balloon goes: in turn where most shows, and away from other small ones."""
    depths = filling.depths
    room = np.minimum(_rooms(depths, filling.x, filling.y, filling.radius), depths.deep + OVER * float(radius.min()))
    room = np.where(depths.deep > 0.0, room, -2 * REACH)
    apart = np.full(room.shape, REACH)
    places = []
    for r in radius.tolist():
        row, column = divmod(int(np.argmax(room + APART * apart)), room.shape[1])
        x, y = depths.left + column * depths.step, depths.top + row * depths.step
        places.append((x, y))
        _closed_by(room, depths, x, y, r)
        _closed_by(apart, depths, x, y, r)
    return np.array([x for x, _ in places]), np.array([y for _, y in places])


def _rooms(depths: Depths, x: Floats, y: Floats, radius: Floats) -> Floats:
    """For each station how far it is from the nearest skin, below zero behind a balloon."""
    room = np.full(depths.deep.shape, 2 * REACH)
    for balloon in zip(x.tolist(), y.tolist(), radius.tolist(), strict=True):
        _closed_by(room, depths, *balloon)
    return room


def _closed_by(room: Floats, depths: Depths, x: float, y: float, r: float) -> None:
    """Take a balloon into account at the stations round it, in `room`."""
    window = (r + REACH) / depths.step
    column, row = (x - depths.left) / depths.step, (y - depths.top) / depths.step
    rows, columns = room.shape
    top, bottom = max(0, int(row - window)), min(rows, int(row + window) + 2)
    left, right = max(0, int(column - window)), min(columns, int(column + window) + 2)
    across = (np.arange(left, right) - column) * depths.step
    down = (np.arange(top, bottom) - row) * depths.step
    away = np.sqrt(across[None, :] ** 2 + down[:, None] ** 2) - r
    room[top:bottom, left:right] = np.minimum(room[top:bottom, left:right], away)
