"""The wall in a photo: measured, drawn in perspective, and refused where nothing can be measured."""

from itertools import pairwise
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.plane import (
    MOST_POINTS,
    PlaneError,
    length_along,
    plane_of_length,
    plane_of_rectangle,
)

SQUARE = [(100.0, 100.0), (460.0, 100.0), (460.0, 900.0), (100.0, 900.0)]
SLANTED = [(200.0, 300.0), (480.0, 260.0), (500.0, 1210.0), (190.0, 1100.0)]


def refused(make) -> PlaneError:
    with pytest.raises(PlaneError) as caught:
        make()
    return caught.value


def test_one_known_length_measures_every_direction():
    plane = plane_of_length((100, 50), (100, 850), 80)
    assert length_along(plane.path_of([(0, 0), (300, 400)])) == pytest.approx(50)
    assert plane.scale_at((12, 9)) == pytest.approx(10)


def test_a_rectangle_seen_squarely_is_a_plain_scale():
    plane = plane_of_rectangle(SQUARE, 36, 80)
    assert plane.plane_of([(280, 500)])[0] == pytest.approx((18, 40))
    assert plane.scale_at((18, 40)) == pytest.approx(10)


def test_the_corners_are_where_they_were_marked():
    plane = plane_of_rectangle(SLANTED, 36, 80)
    for corner, seen in zip([(0, 0), (36, 0), (36, 80), (0, 80)], SLANTED, strict=True):
        assert plane.photo_of([corner])[0] == pytest.approx(seen)


def test_what_is_further_off_is_drawn_smaller():
    plane = plane_of_rectangle(SLANTED, 36, 80)
    assert plane.scale_at((30, 40)) > plane.scale_at((-30, 40))


@given(x=st.floats(-40, 80), y=st.floats(-30, 110))
@settings(max_examples=100, deadline=None)
def test_a_small_circle_covers_the_area_its_scale_says(x, y):
    """The scale against how the plane itself moves a small square."""
    plane = plane_of_rectangle(SLANTED, 36, 80)
    step = 1e-3
    a, b, c = plane.photo_of([(x, y), (x + step, y), (x, y + step)])
    area = abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / step**2
    assert plane.scale_at((x, y)) ** 2 == pytest.approx(area, rel=1e-3)


@given(st.lists(st.tuples(st.floats(-30, 70), st.floats(-20, 100)), min_size=1, max_size=20))
@settings(max_examples=100, deadline=None)
def test_a_point_comes_back_from_the_photo(wall):
    plane = plane_of_rectangle(SLANTED, 36, 80)
    for there, back in zip(wall, plane.plane_of(plane.photo_of(wall)), strict=True):
        assert hypot(there[0] - back[0], there[1] - back[1]) < 1e-6


def test_the_length_is_the_same_forwards_and_backwards():
    plane = plane_of_rectangle(SLANTED, 36, 80)
    path = [(200.0, 200.0), (400.0, 150.0), (700.0, 500.0)]
    assert length_along(plane.path_of(path)) == pytest.approx(length_along(plane.path_of(path[::-1])))


def test_a_finger_that_rests_adds_no_points():
    plane = plane_of_length((0, 0), (0, 800), 80)
    path = plane.path_of([(0, 0), (0, 0), (400, 0), (400, 0)])
    assert len(path) == 2
    assert all(a != b for a, b in pairwise(path))


@pytest.mark.parametrize(
    ("make", "field", "said"),
    [
        pytest.param(lambda: plane_of_length((0, 0), (0, 800), 0), "length", "more than nothing", id="zero-length"),
        pytest.param(lambda: plane_of_length((5, 5), (5, 20), 80), "marks", "24 pixels", id="too-near"),
        pytest.param(lambda: plane_of_rectangle(SQUARE, 0, 80), "width", "more than nothing", id="no-width"),
        pytest.param(lambda: plane_of_rectangle(SQUARE, 36, -1), "height", "more than nothing", id="negative-height"),
        pytest.param(lambda: plane_of_rectangle(SQUARE[:3], 36, 80), "marks", "four corners", id="three-corners"),
        pytest.param(
            lambda: plane_of_rectangle([SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]], 36, 80),
            "marks",
            "without crossing",
            id="crossed",
        ),
        pytest.param(lambda: plane_of_rectangle(SQUARE[::-1], 36, 80), "marks", "clockwise", id="anticlockwise"),
        pytest.param(
            lambda: plane_of_rectangle([(100, 100), (300, 101), (500, 100), (300, 700)], 36, 80),
            "marks",
            "one line",
            id="on-a-line",
        ),
        pytest.param(
            lambda: plane_of_rectangle([(100, 100), (110, 100), (110, 900), (100, 900)], 36, 80),
            "marks",
            "24 pixels",
            id="too-small",
        ),
        pytest.param(
            lambda: plane_of_rectangle([(0, 0), (1900, 700), (1900, 730), (0, 1500)], 36, 80),
            "marks",
            "edge on",
            id="edge-on",
        ),
    ],
)
def test_marks_that_measure_nothing_are_refused(make, field, said):
    error = refused(make)
    assert error.field == field
    assert said in error.rule


def test_a_path_beyond_the_horizon_is_refused_by_its_point():
    corners = [(300.0, 300.0), (600.0, 360.0), (600.0, 840.0), (300.0, 900.0)]
    plane = plane_of_rectangle(corners, 36, 80)
    error = refused(lambda: plane.path_of([(400.0, 500.0), (5000.0, 500.0)]))
    assert error.field == "path"
    assert "horizon" in error.rule
    assert "point 2" in str(error)


@pytest.mark.parametrize(
    ("path", "said"),
    [
        pytest.param([], "2 to 200 points", id="nothing"),
        pytest.param([(5.0, 5.0)] * 9, "2 to 200 points", id="one-place"),
        pytest.param([(float(n), 0.0) for n in range(MOST_POINTS + 1)], "2 to 200 points", id="too-many"),
        pytest.param([(0.0, 0.0), (100.0, 0.0)], "1 ft to 200 ft", id="too-short"),
        pytest.param([(0.0, 0.0), (90000.0, 0.0)], "1 ft to 200 ft", id="too-long"),
    ],
)
def test_a_path_nothing_hangs_along_is_refused(path, said):
    plane = plane_of_length((0, 0), (0, 800), 80)
    error = refused(lambda: plane.path_of(path))
    assert error.field == "path"
    assert said in error.rule
