from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from estimating.outlines import Depths, Outline, rectangle, stroke_of

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
HOLE = ((3.0, 3.0), (3.0, 7.0), (7.0, 7.0), (7.0, 3.0))
FRAME = Outline((SQUARE, HOLE))


@pytest.mark.parametrize(
    ("outline", "area", "length"),
    [
        pytest.param(rectangle(4, 3), 12, 14, id="rectangle"),
        pytest.param(Outline((((0, 0), (4, 0), (0, 3)),)), 6, 12, id="triangle"),
        pytest.param(FRAME, 84, 56, id="a square hole is no part of it"),
        pytest.param(FRAME.moved(2, 5, -3), 4 * 84, 2 * 56, id="grown and shifted"),
    ],
)
def test_the_area_and_length_of_a_figure_are_its_own(outline, area, length):
    assert outline.area() == pytest.approx(area)
    assert outline.length() == pytest.approx(length)


@pytest.mark.parametrize(
    ("x", "y", "inside"),
    [
        pytest.param(1, 1, True, id="in the frame"),
        pytest.param(5, 5, False, id="in the hole"),
        pytest.param(-1, 5, False, id="left of it"),
        pytest.param(11, 5, False, id="right of it"),
        pytest.param(5, 12, False, id="below it"),
    ],
)
def test_a_point_is_inside_or_not(x, y, inside):
    assert FRAME.holds(np.array([float(x)]), np.array([float(y)])).tolist() == [inside]


@st.composite
def stars(draw):
    """A closed line round the origin that does not cross itself."""
    number = draw(st.integers(3, 14))
    reaches = draw(st.lists(st.floats(1, 10), min_size=number, max_size=number))
    return [
        (round(r * float(np.cos(2 * pi * n / number)), 6), round(r * float(np.sin(2 * pi * n / number)), 6))
        for n, r in enumerate(reaches)
    ]


@settings(max_examples=60, deadline=None)
@given(stars(), st.lists(st.tuples(st.floats(-11, 11), st.floats(-11, 11)), min_size=1, max_size=20))
def test_insides_areas_and_distances_are_those_of_an_independent_library(corners, points):
    ours, theirs = Outline((tuple(corners),)), Polygon(corners)
    assert ours.area() == pytest.approx(theirs.area, rel=1e-9)
    assert ours.length() == pytest.approx(theirs.length, rel=1e-9)
    x, y = (np.array([point[axis] for point in points]) for axis in (0, 1))
    away = [theirs.exterior.distance(Point(point)) for point in points]
    assert ours.distance(x, y) == pytest.approx(away, abs=1e-9)
    for point, found, far in zip(points, ours.holds(x, y).tolist(), away, strict=True):
        assert far < 1e-6 or found == theirs.contains(Point(point))


def test_depth_is_the_distance_to_the_edge_below_zero_outside():
    depths = Depths.of(rectangle(20, 10), 0.5)
    deep, across, down = depths.at(np.array([2.0, 10.0, -1.0, 18.5]), np.array([5.0, 1.0, 5.0, 5.0]))
    assert deep == pytest.approx([2, 1, -1, 1.5], abs=0.05)
    assert across.tolist() == pytest.approx([1, 0, 1, -1], abs=0.05)
    assert down.tolist() == pytest.approx([0, 1, 0, 0], abs=0.05)


def test_a_moved_depth_map_is_the_map_of_the_moved_outline():
    moved, again = Depths.of(FRAME, 0.25).moved(3, 7, -2), Depths.of(FRAME.moved(3, 7, -2), 0.75)
    x, y = np.array([9.0, 20.0, 30.0]), np.array([0.0, 12.0, 20.0])
    assert moved.at(x, y)[0] == pytest.approx(again.at(x, y)[0], abs=1e-6)


def test_the_stroke_of_a_long_band_is_its_width():
    assert stroke_of([rectangle(400, 8)]) == pytest.approx(8, rel=0.03)


def test_the_stroke_of_a_ring_is_its_width():
    ring = [[(r * float(np.cos(t)), r * float(np.sin(t))) for t in np.linspace(0, 2 * pi, 200)[:-1]] for r in (20, 14)]
    assert stroke_of([Outline((tuple(ring[0]), tuple(reversed(ring[1]))))]) == pytest.approx(6, rel=0.01)
