"""The attachment plan: the points a piece hangs from, numbered on its picture."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from math import dist

from estimating.layout import Layout, Point

PIN_PART = 20
"""How many of its pins go into the width of a picture."""

_VIEW = re.compile(r'viewBox="([-0-9.]+) ([-0-9.]+) ([-0-9.]+) ([-0-9.]+)"')


def points_on(layout: Layout, places: Sequence[float]) -> list[Point]:
    """Where places along a spine (inches from its start) lie in the picture; one past an end lies at that end."""
    return [_along(layout.spine, place) for place in places]


def with_points(drawn: str, points: Sequence[Point]) -> str:
    """A picture with its points numbered from 1 in square pins: nothing but balloons is round. Marked data-point.

    Pins are as large as their picture lets them be read at, and smaller where points are close. Raises ValueError
    for a picture without a view.
    """
    found = _VIEW.search(drawn)
    if found is None:
        raise ValueError("a picture has a viewBox")
    left, top, width, height = (float(value) for value in found.groups())
    close = min((dist(a, b) for a, b in pairwise(points)), default=width)
    side = min(max(width, height) / PIN_PART, max(close * 0.9, width / 60))
    pins = [_pin(n, point, side, (left, top, left + width, top + height)) for n, point in enumerate(points, 1)]
    head, tail = drawn.rsplit("</svg>", 1)
    return f'{head}<g font-family="Atkinson Hyperlegible Next, sans-serif" font-weight="700" text-anchor="middle">' + (
        f"{''.join(pins)}</g></svg>{tail}"
    )


def _pin(number: int, point: Point, side: float, view: tuple[float, float, float, float]) -> str:
    left, top, right, bottom = view
    x = min(max(point[0], left + side / 2), right - side / 2)
    y = min(max(point[1], top + side / 2), bottom - side / 2)
    letters = side * (0.7 if number < 10 else 0.55 if number < 100 else 0.42)
    return (
        f'<rect data-point="{number}" x="{x - side / 2:.2f}" y="{y - side / 2:.2f}" width="{side:.2f}"'
        f' height="{side:.2f}" rx="{side * 0.15:.2f}" fill="#fffdf9" stroke="#211c2b"'
        f' stroke-width="{side * 0.08:.2f}"/>'
        f'<text x="{x:.2f}" y="{y + letters * 0.36:.2f}" font-size="{letters:.2f}" fill="#211c2b">{number}</text>'
    )


def _along(spine: Sequence[Point], place: float) -> Point:
    left = max(place, 0.0)
    for start, end in pairwise(spine):
        length = dist(start, end)
        if left <= length and length:
            part = left / length
            return start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part
        left -= length
    return spine[-1]
