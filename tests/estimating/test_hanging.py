"""The points a piece hangs from, numbered on its picture."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.hanging import points_on, with_points
from estimating.layout import Balloon, Layout

CORNER = Layout((Balloon(0, 0, 0, 10, 11, "ink", "base"),), ((0, 0), (30, 0), (30, 40)), 70, 20)
DRAWN = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-10 -20 120.5 80"><circle cx="0" cy="0" r="5"/></svg>'


@pytest.mark.parametrize(
    ("place", "point"),
    [
        pytest.param(0, (0, 0), id="the start"),
        pytest.param(15, (15, 0), id="along the top"),
        pytest.param(30, (30, 0), id="the corner"),
        pytest.param(50, (30, 20), id="down the side"),
        pytest.param(70, (30, 40), id="the end"),
        pytest.param(70.4, (30, 40), id="past the end"),
        pytest.param(-1, (0, 0), id="before the start"),
    ],
)
def test_a_place_along_the_spine_is_a_point_of_the_picture(place, point):
    assert points_on(CORNER, [place]) == [pytest.approx(point)]


def test_every_point_is_numbered_in_its_order():
    drawn = with_points(DRAWN, [(0, 0), (30, 0), (60, 0)])
    assert re.findall(r'data-point="(\d+)"', drawn) == ["1", "2", "3"]
    assert re.findall(r">(\d+)</text>", drawn) == ["1", "2", "3"]
    assert drawn.endswith("</g></svg>")


def test_nothing_but_the_balloons_is_round():
    assert with_points(DRAWN, [(0, 0), (30, 0)]).count("<circle") == DRAWN.count("<circle")


def test_a_picture_without_a_view_is_refused():
    with pytest.raises(ValueError, match="viewBox"):
        with_points("<svg></svg>", [(0, 0)])


@given(st.lists(st.tuples(st.floats(-50, 200), st.floats(-50, 200)), min_size=1, max_size=30))
def test_no_pin_leaves_the_picture(points):
    for x, y, side in re.findall(
        r'<rect data-point="\d+" x="([-\d.]+)" y="([-\d.]+)" width="([\d.]+)"', with_points(DRAWN, points)
    ):
        assert float(x) >= -10.01 and float(x) + float(side) <= 110.52
        assert float(y) >= -20.01 and float(y) + float(side) <= 60.02
