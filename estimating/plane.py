"""From a photo to the wall in it: where a point of the picture lies on the wall, in inches, and back.

Two points a known length apart give a scale, true where the wall is faced squarely. Four corners of a known
rectangle give a homography, true in any perspective. It is found by the normalised direct linear transformation
(Hartley and Zisserman, Multiple View Geometry, algorithm 4.2). A photo's x runs to the right and y downwards, in
pixels; so do the wall's, in inches.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, sqrt
from typing import Any

import numpy as np
from numpy.typing import NDArray

from studio.refusals import FieldRuleError

Point = tuple[float, float]
Matrix = NDArray[np.float64]

LEAST_PIXELS = 24.0
"""A shorter mark is refused: a finger is some two pixels out, which would be a tenth of it."""

LEAST_SINE = 0.05
"""Two sides of a marked rectangle that meet nearer than this to a straight line hold no plane."""

FURTHEST = 8.0
"""How many times as far away as the middle of the marked rectangle a wall is measured; the horizon is without end."""

MOST_POINTS = 200
SHORTEST, LONGEST = 12.0, 2400.0
"""A path is from 1 ft to 200 ft long, as a garland is."""


class PlaneError(FieldRuleError):
    """One thing marked that measures nothing."""


@dataclass(frozen=True, slots=True)
class Plane:
    """A wall in a photo. `to_wall` is the row-by-row 3 x 3 matrix from pixels to inches, `to_picture` its inverse.

    `middle` is the middle of what was marked, in pixels: what is far is far compared with it.
    """

    to_wall: tuple[float, ...]
    to_picture: tuple[float, ...]
    middle: Point

    def plane_of(self, points: Sequence[Point]) -> list[Point]:
        """Where these points of the photo lie on the wall, in inches. Raises PlaneError for what is beyond measure."""
        here = _weight(self.to_wall, self.middle)
        for number, point in enumerate(points, start=1):
            if _weight(self.to_wall, point) / here < 1 / FURTHEST:
                said = (
                    f"must stay within {FURTHEST:g} times the distance of what is marked; further off it is the horizon"
                )
                raise PlaneError("path", said, f"point {number} at {point[0]:.0f}, {point[1]:.0f}")
        return [_moved(self.to_wall, point) for point in points]

    def photo_of(self, points: Sequence[Point]) -> list[Point]:
        """Where these points of the wall, in inches, are seen in the photo, in pixels."""
        return [_moved(self.to_picture, point) for point in points]

    def scale_at(self, point: Point) -> float:
        """Pixels to the inch at a point of the wall: the root of how much an area grows there.

        For a homography H with weight w at the point the area grows by |det H| / |w|³.
        """
        determinant = abs(float(np.linalg.det(np.array(self.to_picture).reshape(3, 3))))
        return sqrt(determinant / abs(_weight(self.to_picture, point)) ** 3)

    def path_of(self, drawn: Sequence[Point]) -> list[Point]:
        """A path drawn on the photo, as it runs along the wall. Raises PlaneError where it is no path to hang along."""
        path = without_repeats(drawn)
        if not 2 <= len(path) <= MOST_POINTS:
            raise PlaneError("path", f"must have from 2 to {MOST_POINTS} points that differ", len(path))
        path = self.plane_of(path)
        length = length_along(path)
        if not SHORTEST <= length <= LONGEST:
            raise PlaneError(
                "path", f"must be from {SHORTEST / 12:g} ft to {LONGEST / 12:g} ft long", f"{length:.4g} in"
            )
        return path


def plane_of_length(start: Point, end: Point, inches: float) -> Plane:
    """The wall of a photo taken squarely, from two points a known length apart. The photo's upright is the wall's."""
    if not inches > 0:
        raise PlaneError("length", "must be more than nothing", f"{inches:g} in")
    pixels = hypot(end[0] - start[0], end[1] - start[1])
    if pixels < LEAST_PIXELS:
        raise PlaneError("marks", f"must be at least {LEAST_PIXELS:g} pixels apart in the photo", f"{pixels:.0f}")
    by = inches / pixels
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    return Plane((by, 0, 0, 0, by, 0, 0, 0, 1), (1 / by, 0, 0, 0, 1 / by, 0, 0, 0, 1), middle)


def plane_of_rectangle(corners: Sequence[Point], width: float, height: float) -> Plane:
    """The wall with a rectangle of known inches in it, its corners seen clockwise from the upper left.

    Raises PlaneError where the corners cross, lie on a line, go round the other way, or are too near each other.
    """
    for field, inches in (("width", width), ("height", height)):
        if not inches > 0:
            raise PlaneError(field, "must be more than nothing", f"{inches:g} in")
    _check_corners(corners)
    wall = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    to_wall = homography(corners, wall)
    middle = _crossing(corners)
    weights = [abs(_weight(_flat(to_wall), corner)) for corner in corners]
    if min(weights) * FURTHEST < max(weights):
        times = max(weights) / min(weights)
        said = "must not be seen almost edge on: stand more in front of it"
        raise PlaneError("marks", said, f"one side {times:.0f} times as far away as the other")
    return Plane(_flat(to_wall), _flat(np.linalg.inv(to_wall)), middle)


def plane_of_marks(marks: Sequence[Point], inches: Mapping[str, float]) -> Plane:
    """The wall from what was marked and known of it: its `length`, or its `width` and `height`. Raises PlaneError."""
    if "length" not in inches:
        return plane_of_rectangle(marks, inches["width"], inches["height"])
    if len(marks) != 2:
        raise PlaneError("marks", "must be the two ends of what you know the length of", f"{len(marks)} points")
    return plane_of_length(marks[0], marks[1], inches["length"])


def homography(seen: Sequence[Point], known: Sequence[Point]) -> Matrix:
    """The 3 x 3 matrix that takes each point seen to the one known, from four pairs or more (least squares).

    Both sets are first moved to the origin and scaled to a mean distance of the root of 2 from it.
    """
    a, here = _normalised(seen)
    b, there = _normalised(known)
    rows = []
    for (x, y), (u, v) in zip(a, b, strict=True):
        rows.append([-x, -y, -1, 0, 0, 0, u * x, u * y, u])
        rows.append([0, 0, 0, -x, -y, -1, v * x, v * y, v])
    found = np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3)
    matrix: Matrix = np.linalg.inv(there) @ found @ here
    return matrix / matrix[2, 2]


def length_along(path: Sequence[Point]) -> float:
    """How long a path is, from point to point."""
    return sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(path))


def without_repeats(path: Sequence[Point]) -> list[Point]:
    """The path without points that only say again where the last one was."""
    kept: list[Point] = []
    for point in path:
        if not kept or hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > 1e-6:
            kept.append(point)
    return kept


def _check_corners(corners: Sequence[Point]) -> None:
    """Four corners apart from each other that go round clockwise, as seen, without crossing."""
    if len(corners) != 4:
        raise PlaneError("marks", "must be the four corners of a rectangle", f"{len(corners)} points")
    sides = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
    shortest = min(hypot(x, y) for x, y in sides)
    if shortest < LEAST_PIXELS:
        said = f"must be at least {LEAST_PIXELS:g} pixels apart in the photo: mark something larger"
        raise PlaneError("marks", said, f"{shortest:.0f}")
    turns = [
        (ax * by - ay * bx) / (hypot(ax, ay) * hypot(bx, by))
        for (ax, ay), (bx, by) in zip(sides, [*sides[1:], sides[0]], strict=True)
    ]
    if all(turn >= LEAST_SINE for turn in turns):
        return
    if all(turn <= -LEAST_SINE for turn in turns):
        raise PlaneError("marks", "must go round clockwise from the upper left corner", "them the other way round")
    if min(turns) <= -LEAST_SINE:
        raise PlaneError("marks", "must go round clockwise without crossing or a dent", "corners that do not")
    raise PlaneError("marks", "must have a corner at each of the four, not lie on one line", "almost a line")


def _crossing(corners: Sequence[Point]) -> Point:
    """Where the diagonals cross: the middle of the rectangle as it is seen."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = corners
    px, py, qx, qy = cx - ax, cy - ay, dx - bx, dy - by
    part = ((bx - ax) * qy - (by - ay) * qx) / (px * qy - py * qx)
    return ax + part * px, ay + part * py


def _normalised(points: Sequence[Point]) -> tuple[list[Point], Matrix]:
    """The points about the origin, and the matrix that brings them there."""
    n = len(points)
    x, y = sum(p[0] for p in points) / n, sum(p[1] for p in points) / n
    by = sqrt(2) * n / sum(hypot(p[0] - x, p[1] - y) for p in points)
    return [((p[0] - x) * by, (p[1] - y) * by) for p in points], np.array(
        [[by, 0, -by * x], [0, by, -by * y], [0, 0, 1]]
    )


def _flat(matrix: NDArray[np.floating[Any]]) -> tuple[float, ...]:
    return tuple(float(value) for value in matrix.ravel())


def _weight(matrix: Sequence[float], point: Point) -> float:
    return matrix[6] * point[0] + matrix[7] * point[1] + matrix[8]


def _moved(matrix: Sequence[float], point: Point) -> Point:
    a, b, c, d, e, f, *_ = matrix
    x, y = point
    weight = _weight(matrix, point)
    return (a * x + b * y + c) / weight, (d * x + e * y + f) / weight
