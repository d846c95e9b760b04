"""Where balloons float under a ceiling, side by side and not in lines."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import sqrt
from random import Random

from estimating.kinds.floats.spec import FloatsSpec
from estimating.setting import Point
from estimating.specs import SpecError, SpecErrors

ROW = sqrt(3) / 2
"""Rows of a triangular lattice are this many spacings apart."""

FINER, SHOVES = 0.99, 24
GOLDEN = 0.6180339887498949


def densest(diameter: float) -> int:
    """The most balloons of a diameter in inches that float side by side under a hundred square feet."""
    return int(100 * 144 / (ROW * diameter * diameter))


def scattered(
    sizes: Sequence[float], width: float, depth: float, spec: FloatsSpec, rng: Random
) -> tuple[list[Point], list[tuple[int, int]]]:
    """A place under the ceiling (across, deep) for each diameter, and which of them lie side by side.

    Places are those of rows as far apart as still hold enough, each strayed as far as leaves it free. Where there is
    room each row begins elsewhere, so that no lines show; where there is none rows are nested. Balloons of several
    sizes then shove one another aside.
    """
    number = len(sizes)
    diameter = sqrt(sum(size * size for size in sizes) / number)
    spacing = max(diameter, sqrt(width * depth / number / ROW) * 1.2)
    while len(lattice := _lattice(width, depth, spacing, diameter)) < number:
        if spacing == diameter:
            most = max(1, int(len(lattice) / spec.square_feet() * 100))
            named = ", ".join(f"{size}-inch" for size, _ in spec.mix)
            rule = f"must be at most {most} for balloons in mix of {named} to float side by side"
            raise SpecErrors([SpecError("per_hundred_ft2", rule, spec.per_hundred_ft2)])
        spacing = max(diameter, spacing * FINER)
    left_out = {n for _, n in sorted((rng.random(), n) for n in range(len(lattice)))[number:]}
    apart = spacing * ROW if spacing * ROW >= diameter else spacing
    stray = max(0.0, (apart - diameter) / 2) * 0.7
    spots: list[list[float]] = []
    rows: dict[int, list[int]] = {}
    for n, (x, deep, row) in enumerate(lattice):
        if n in left_out:
            continue
        rows.setdefault(row, []).append(len(spots))
        spots.append([x + stray * (2 * rng.random() - 1), deep + stray * (2 * rng.random() - 1)])
    couples = _side_by_side(spots, [rows.get(row, []) for row in range(max(rows) + 1)], 1.4 * max(spacing, *sizes))
    pushing = couples if len(spec.mix) > 1 else []
    for _ in range(SHOVES):
        moved = [_shove(spots[a], spots[b], (sizes[a] + sizes[b]) / 2) for a, b in pushing]
        for spot, size in zip(spots, sizes, strict=True):
            spot[:] = [_within(spot[0], width, size), _within(spot[1], depth, size)]
        if not any(moved):
            break
    return [(x, deep) for x, deep in spots], couples


def _shove(one: list[float], other: list[float], near: float) -> bool:
    """Move two places nearer than that apart, in place. Were they?"""
    dx, dy = one[0] - other[0], one[1] - other[1]
    square = dx * dx + dy * dy
    if square >= near * near:
        return False
    gap = sqrt(square) or 1.0
    push = 0.3 * (near - gap) / gap
    one[0] += dx * push
    one[1] += dy * push
    other[0] -= dx * push
    other[1] -= dy * push
    return True


def _within(place: float, side: float, diameter: float) -> float:
    """The nearest place at which a balloon does not reach over the edge, the middle where it is the larger."""
    return min(max(place, min(diameter, side) / 2), side - min(diameter, side) / 2)


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


def _side_by_side(spots: list[list[float]], rows: list[list[int]], near: float) -> list[tuple[int, int]]:
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
