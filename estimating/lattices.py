"""Quads standing in rows and columns: where every balloon of a grid panel is.

Lengths are inches, x to the right and y downwards from the panel's top left corner, z towards the viewer from the
columns' middle. Spacings are stretched or squeezed a little so that the last balloon ends where the panel does.
"""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

PITCH = 2**-0.25
"""Touching quads turned by 45 degrees follow each other at this many diameters."""

ACROSS = 1 + 2**0.5
"""A quad is this many diameters wide at its widest."""

HALF_DIAGONAL = 2**-0.5

NESTED = (HALF_DIAGONAL + 1 / 2 + 3**0.5 / 2) / ACROSS
"""0.859: how near columns can stand. A wide quad's outermost balloon, 0.707 d from the middle, lies between the two of
the narrow quad beside it, 0.5 d from theirs and as far to front and back, and touches both."""

LOOSE = 0.3
"""Columns spread a little to fill the width, but a gap of more than this part of one takes another column."""


class Place(NamedTuple):
    """One balloon of a grid: its quad's column and row, its centre, whether it is one of the small ones, and where its
    quad's middle is."""

    column: int
    row: int
    x: float
    y: float
    z: float
    is_small: bool
    middle: float


class Grid(NamedTuple):
    """A panel's quads: how many columns and rows, and every balloon, four to a quad."""

    columns: int
    rows: int
    places: list[Place]


def turned_quads(width: float, height: float, diameter: float, spacing: float = 1.0) -> Grid:
    """Columns of touching quads, each quad turned by 45 degrees against the next and against its neighbour column's.

    Columns stand about `spacing` times a quad's width apart: 1 is side by side, NESTED is where the widest balloon of
    a wide quad touches those of the narrow one beside it. With p = 0.8409 d and w = 2.414 d that is
    4 / (p·w·spacing) balloons for an area.
    """
    across = ACROSS * diameter
    columns, rows = turned_numbers(width, height, diameter, spacing)
    places = []
    for column in range(columns):
        x = _spread(width, across, column, columns)
        for row in range(rows):
            y = _spread(height, diameter, row, rows)
            if (column + row) % 2:
                offsets = [(a * diameter / 2, b * diameter / 2) for a in (-1, 1) for b in (-1, 1)]
            else:
                reach = HALF_DIAGONAL * diameter
                offsets = [(-reach, 0.0), (reach, 0.0), (0.0, -reach), (0.0, reach)]
            places += [Place(column, row, x + dx, y, dz, False, x) for dx, dz in offsets]
    return Grid(columns, rows, places)


def turned_numbers(width: float, height: float, diameter: float, spacing: float = 1.0) -> tuple[int, int]:
    """How many columns and rows of turned quads there are."""
    across, pitch = ACROSS * diameter, PITCH * diameter
    columns = 1 + max(0, ceil((width - across) / (across * spacing) - LOOSE))
    return columns, 1 + max(0, round((height - diameter) / pitch))


def alternate_sizes(width: float, height: float, large: float, small: float) -> Grid:
    """Large and small ones in turn, in all three directions, so that every touch is square: a cube of salt.

    Neighbours are (large + small) / 2 apart; a quad is two across and two deep, the quad below it begins with the
    other size.
    """
    apart = (large + small) / 2
    columns, rows = alternate_numbers(width, height, large, small)
    places = []
    for column in range(columns):
        for row in range(rows):
            y = _spread(height, large, row, rows)
            sides = [_spread(width, large, 2 * column + side, 2 * columns) for side in (0, 1)]
            for side, x in enumerate(sides):
                for deep in (0, 1):
                    is_small = bool((side + row + deep) % 2)
                    places.append(Place(column, row, x, y, (deep - 0.5) * apart, is_small, sum(sides) / 2))
    return Grid(columns, rows, places)


def alternate_numbers(width: float, height: float, large: float, small: float) -> tuple[int, int]:
    """How many columns and rows of quads of alternate sizes there are."""
    apart = (large + small) / 2
    columns = 1 + max(0, round((width - large - apart) / (2 * apart)))
    return columns, 1 + max(0, round((height - large) / apart))


def _spread(length: float, size: float, n: int, number: int) -> float:
    """The middle of the n-th of so many things of that size that reach from one end of a length to the other."""
    if number == 1:
        return length / 2
    return size / 2 + (length - size) * n / (number - 1)
