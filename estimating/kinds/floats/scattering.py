"""Where balloons float under a ceiling, side by side and not in lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import sqrt
from random import Random
from typing import NamedTuple

import numpy as np

from estimating.bags import Diameters
from estimating.colouring import coloured
from estimating.gas import floating_diameter
from estimating.kinds.floats.spec import FloatsSpec
from estimating.packing import Floats, couples_along
from estimating.setting import Point
from estimating.specs import SpecError, SpecErrors
from studio.money import shares

ROW = sqrt(3) / 2
"""Rows of a triangular lattice are this many spacings apart."""

FINER = 0.99

SHOVES, FRESH_EVERY, PUSH = 600, 20, 0.4
"""Steps in which balloons of several sizes may shove one another aside, after how many of them neighbours are looked
up again, and how much of an overlap each gives way in one."""

CLOSE, TOO_CLOSE = 0.02, 0.1
"""Balloons are settled when none overlaps another by more than this part of their distance, and do not fit when they
still do by more than that: skins give, but not for long."""

FEWER = 0.95
GOLDEN = 0.6180339887498949


def densest(diameter: float) -> int:
    """The most balloons of a diameter in inches that float side by side under a hundred square feet."""
    return int(100 * 144 / (ROW * diameter * diameter))


class Scattered(NamedTuple):
    """Balloons under a ceiling: nominal size, diameter, colour and place (across, deep) of each."""

    sizes: list[int]
    diameters: list[float]
    colours: list[str]
    spots: list[Point]


def scattered(spec: FloatsSpec, blown: Diameters, rng: Random) -> Scattered:
    """Every balloon of a ceiling at its place, as wide as its size and colour is when it floats.

    Places are those of rows as far apart as still hold enough, each strayed as far as leaves it free. Where there is
    room each row begins elsewhere, so that no lines show; where there is none rows are nested. Balloons of several
    diameters then shove one another aside. Raises SpecErrors where they do not fit, and says how many would.
    """
    try:
        return _scattered(spec, blown, rng)
    except _NoRoomError as refusal:
        most = refusal.fewer
    while most > 1:
        try:
            _scattered(replace(spec, per_hundred_ft2=most), blown, Random(spec.seed))
            break
        except _NoRoomError as refusal:
            most = refusal.fewer
    named = ", ".join(f"{size}-inch" for size, _ in spec.mix)
    rule = f"must be at most {most} for balloons in mix of {named} to float side by side"
    raise SpecErrors([SpecError("per_hundred_ft2", rule, spec.per_hundred_ft2)])


class _NoRoomError(Exception):
    """They do not fit; `fewer` under a hundred square feet may."""

    def __init__(self, spec: FloatsSpec, fewer: float) -> None:
        super().__init__()
        self.fewer = max(1, min(int(fewer), spec.per_hundred_ft2 - 1))


def _scattered(spec: FloatsSpec, blown: Diameters, rng: Random) -> Scattered:
    """As `scattered`, raising _NoRoomError where they do not fit."""
    floating = {size: floating_diameter(size, blown) for size, _ in spec.mix}
    usual, has_foil = blown.on_average(spec.colours, floating), blown.has_foil(colour for colour, _ in spec.colours)
    counted = shares(spec.number(), [percent for _, percent in spec.mix])
    sizes = [size for (size, _), count in zip(spec.mix, counted, strict=True) for _ in range(count)]
    sizes = [size for _, size in sorted((rng.random(), size) for size in sizes)]
    diameters = [usual[size] for size in sizes]
    spots, rows, spacing = _strewn(spec, sqrt(sum(d * d for d in diameters) / len(sizes)), rng)
    near = 1.4 * max(spacing, *diameters)
    colours: list[str] = []
    if has_foil:
        # Which of them are foil decides how they shove one another, so it is settled first.
        colours = coloured(sizes, spec.colours, _couples(spots, near), rng)
        diameters = [blown.across(n, colour, floating[n]) for n, colour in zip(sizes, colours, strict=True)]
    if len(set(diameters)) == 1:
        couples = _side_by_side(spots, rows, near)
    else:
        spots, pressed = _settled(spots, diameters, *spec.sides())
        if pressed > TOO_CLOSE:
            raise _NoRoomError(spec, spec.per_hundred_ft2 * FEWER)
        couples = _couples(spots, near)
    return Scattered(sizes, diameters, colours or coloured(sizes, spec.colours, couples, rng), spots)


def _strewn(spec: FloatsSpec, diameter: float, rng: Random) -> tuple[list[Point], list[list[int]], float]:
    """A place for every balloon on rows, which of them are on each row, and how far apart places on a row are.

    `diameter` is the balloons' root mean square.
    """
    (width, depth), number = spec.sides(), spec.number()
    spacing = max(diameter, sqrt(width * depth / number / ROW) * 1.2)
    while len(lattice := _lattice(width, depth, spacing, diameter)) < number:
        if spacing == diameter:
            raise _NoRoomError(spec, len(lattice) / spec.square_feet() * 100)
        spacing = max(diameter, spacing * FINER)
    left_out = {n for _, n in sorted((rng.random(), n) for n in range(len(lattice)))[number:]}
    apart = spacing * ROW if spacing * ROW >= diameter else spacing
    stray = max(0.0, (apart - diameter) / 2) * 0.7
    spots: list[Point] = []
    rows: dict[int, list[int]] = {}
    for n, (x, deep, row) in enumerate(lattice):
        if n in left_out:
            continue
        rows.setdefault(row, []).append(len(spots))
        x, deep = x + stray * (2 * rng.random() - 1), deep + stray * (2 * rng.random() - 1)
        spots.append((_within(x, width, diameter), _within(deep, depth, diameter)))
    return spots, [rows.get(row, []) for row in range(max(rows) + 1)], spacing


def _settled(spots: Sequence[Point], sizes: Sequence[float], width: float, depth: float) -> tuple[list[Point], float]:
    """Where balloons come to rest that shove one another aside, and the most two of them still overlap.

    The overlap is a part of the distance at which the two would just touch.
    """
    across, number, worst = np.array(sizes), len(spots), 0.0
    x = _all_within(np.array([x for x, _ in spots]), width, across)
    z = _all_within(np.array([z for _, z in spots]), depth, across)
    flat = np.zeros(number)
    for step in range(SHOVES + 1):
        if step % FRESH_EVERY == 0:
            key = x if width >= depth else z
            a, b = couples_along(key, float(across.max()) + 2, (x, z, flat), across / 2, 2.0)
            touching = (across[a] + across[b]) / 2
        dx, dz = x[a] - x[b], z[a] - z[b]
        gap = np.sqrt(dx * dx + dz * dz) + 1e-9
        over = np.maximum(touching - gap, 0.0)
        worst = float((over / touching).max()) if len(a) else 0.0
        if step % FRESH_EVERY == 0 and worst <= CLOSE:
            break
        push = PUSH * over / gap
        x = _all_within(x + np.bincount(a, dx * push, number) - np.bincount(b, dx * push, number), width, across)
        z = _all_within(z + np.bincount(a, dz * push, number) - np.bincount(b, dz * push, number), depth, across)
    return list(zip(x.tolist(), z.tolist(), strict=True)), worst


def _within(place: float, side: float, diameter: float) -> float:
    """The nearest place at which a balloon does not reach over the edge, the middle where it is the larger."""
    inset = min(diameter, side) / 2
    return min(max(place, inset), side - inset)


def _all_within(places: Floats, side: float, across: Floats) -> Floats:
    """The same for many at once."""
    inset = np.minimum(across, side) / 2
    return np.minimum(np.maximum(places, inset), side - inset)


def _couples(spots: Sequence[Point], near: float) -> list[tuple[int, int]]:
    """The pairs of places that are no further apart than `near`."""
    x, z, flat = np.array([x for x, _ in spots]), np.array([z for _, z in spots]), np.zeros(len(spots))
    a, b = couples_along(x, near, (x, z, flat), flat, near)
    return sorted(zip(a.tolist(), b.tolist(), strict=True))


def _lattice(width: float, depth: float, spacing: float, diameter: float) -> list[tuple[float, float, int]]:
    """Places across and deep, and their row: rows nested, or each begun elsewhere where they are clear."""
    clear, narrow = spacing * ROW >= diameter, width - diameter < spacing / 2
    pitch = spacing if narrow and not clear else spacing * ROW
    rows = 1 + int(max(0.0, depth - diameter) / pitch + 1e-9)
    spots = []
    for row in range(rows):
        shifted = spacing * ((row * GOLDEN) % 1.0 if clear else row % 2 / 2)
        if shifted > width - diameter:
            shifted = 0.0
        columns = 1 + int(max(0.0, width - diameter - shifted) / spacing + 1e-9)
        deep = diameter / 2 + (max(0.0, depth - diameter) - (rows - 1) * pitch) / 2 + row * pitch
        spots += [(diameter / 2 + shifted + n * spacing, deep, row) for n in range(columns)]
    return spots


def _side_by_side(spots: Sequence[Point], rows: list[list[int]], near: float) -> list[tuple[int, int]]:
    """The pairs of places that are no further apart than `near`, looked for in each row and the next."""
    pairs = []
    for row, after in zip(rows, [*rows[1:], []], strict=True):
        pairs += [(a, b) for a, b in pairwise(row) if spots[b][0] - spots[a][0] < near]
        begin = 0
        for a in row:
            while begin < len(after) and spots[after[begin]][0] < spots[a][0] - near:
                begin += 1
            for b in after[begin:]:
                if spots[b][0] > spots[a][0] + near:
                    break
                pairs.append((a, b))
    return pairs
