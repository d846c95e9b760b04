"""Closed outlines in a plane: their area and length, what lies inside, and how deep inside.

Lengths are inches, x to the right and y downwards. An outline is one or more closed lines; a hole is a line that
runs the other way round. Everything is element by element, so that it comes out the same on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot

import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
Contour = tuple[Point, ...]
Floats = NDArray[np.float64]

MARGIN = 4
"""Stations of a depth map beyond the outline on every side."""


@dataclass(frozen=True, slots=True)
class Outline:
    """Closed lines, each given by its corners in order without the first one again."""

    contours: tuple[Contour, ...]

    def sides(self) -> list[tuple[Point, Point]]:
        """Every side, from corner to corner."""
        return [side for line in self.contours for side in pairwise((*line, line[0]))]

    def area(self) -> float:
        """The area inside by Green's theorem: half the sum of x·dy - y·dx along the sides; holes run backwards."""
        return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in self.sides())) / 2

    def length(self) -> float:
        """The length of all its lines together: what a frame of it is bent from."""
        return sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in self.sides())

    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom."""
        xs = [x for line in self.contours for x, _ in line]
        ys = [y for line in self.contours for _, y in line]
        return min(xs), min(ys), max(xs), max(ys)

    def moved(self, by: float, across: float, down: float) -> Outline:
        """Grown `by` that factor about the origin, then shifted."""
        return Outline(tuple(tuple((x * by + across, y * by + down) for x, y in line) for line in self.contours))

    def holds(self, x: Floats, y: Floats) -> NDArray[np.bool_]:
        """Which points lie inside: a ray to the right crosses sides going up and down unequally often."""
        turns = np.zeros(len(x), dtype=np.int64)
        for (x1, y1), (x2, y2) in self.sides():
            if y1 == y2:
                continue
            crosses = (y >= min(y1, y2)) & (y < max(y1, y2))
            beyond = x1 + (y - y1) * ((x2 - x1) / (y2 - y1)) > x
            turns += np.where(crosses & beyond, 1 if y2 > y1 else -1, 0)
        found: NDArray[np.bool_] = turns != 0
        return found

    def distance(self, x: Floats, y: Floats) -> Floats:
        """How far each point is from the nearest side."""
        nearest = np.full(len(x), np.inf)
        for (x1, y1), (x2, y2) in self.sides():
            dx, dy = x2 - x1, y2 - y1
            ax, ay = x - x1, y - y1
            part = np.clip((ax * dx + ay * dy) / (dx * dx + dy * dy), 0.0, 1.0)
            ax, ay = ax - part * dx, ay - part * dy
            nearest = np.minimum(nearest, ax * ax + ay * ay)
        return np.sqrt(nearest)


def rectangle(width: float, height: float) -> Outline:
    """A rectangle from the origin to the right and down."""
    return Outline((((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)),))


@dataclass(frozen=True, slots=True)
class Depths:
    """How deep inside an outline each point lies, below zero outside, read off a grid of stations `step` apart."""

    left: float
    top: float
    step: float
    deep: Floats

    @classmethod
    def of(cls, outline: Outline, step: float) -> Depths:
        """The depth map of an outline."""
        left, top, right, bottom = outline.box()
        left, top = left - MARGIN * step, top - MARGIN * step
        columns, rows = (ceil(reach / step) + MARGIN + 1 for reach in (right - left, bottom - top))
        x, y = np.meshgrid(left + step * np.arange(columns), top + step * np.arange(rows))
        away = outline.distance(x.ravel(), y.ravel())
        inside = outline.holds(x.ravel(), y.ravel())
        return cls(left, top, step, np.where(inside, away, -away).reshape(rows, columns))

    def moved(self, by: float, across: float, down: float) -> Depths:
        """The map of the outline grown `by` that factor about the origin, then shifted."""
        return Depths(self.left * by + across, self.top * by + down, self.step * by, self.deep * by)

    def at(self, x: Floats, y: Floats) -> tuple[Floats, Floats, Floats]:
        """Depth at each point, and the way inwards there as (across, down); beyond the map its edge counts."""
        rows, columns = self.deep.shape
        across = np.clip((x - self.left) / self.step, 0.0, columns - 1.001)
        down = np.clip((y - self.top) / self.step, 0.0, rows - 1.001)
        column, row = across.astype(np.int64), down.astype(np.int64)
        u, v = across - column, down - row
        a, b = self.deep[row, column], self.deep[row, column + 1]
        c, d = self.deep[row + 1, column], self.deep[row + 1, column + 1]
        deep = (a * (1 - u) + b * u) * (1 - v) + (c * (1 - u) + d * u) * v
        inwards_x, inwards_y = (b - a) * (1 - v) + (d - c) * v, (c - a) * (1 - u) + (d - b) * u
        far = np.sqrt(inwards_x * inwards_x + inwards_y * inwards_y) + 1e-9
        return deep, inwards_x / far, inwards_y / far


def stroke_of(outlines: Sequence[Outline]) -> float:
    """The usual width of the strokes: a long band's area over half the length of its edges."""
    return 2 * sum(outline.area() for outline in outlines) / sum(outline.length() for outline in outlines)
