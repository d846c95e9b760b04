from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.spines import SHAPES, TALLEST_DROP, along, bends, doorway, length_of, spine_of, straight, swags


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(SHAPES), st.floats(12, 2400))
def test_a_spine_is_exactly_as_long_as_asked(shape, length):
    assert length_of(spine_of(shape, length)) == pytest.approx(length, abs=1e-6)


@pytest.mark.parametrize("shape", SHAPES)
def test_a_spine_starts_at_the_origin_and_runs_to_the_right(shape):
    spine = spine_of(shape, 240)
    assert spine[0] == (0, 0)
    assert spine[-1][0] > 60


def test_an_unknown_shape_is_refused():
    with pytest.raises(KeyError):
        spine_of("spiral", 100)


def test_a_swag_hangs_below_its_level_ends():
    spine = swags(120)
    assert spine[-1][1] == pytest.approx(0, abs=1e-6)
    assert max(y for _, y in spine) == pytest.approx(0.2 * spine[-1][0], rel=1e-3)


def test_a_long_swag_is_caught_up_at_bends():
    assert bends(swags(480)) == pytest.approx([160, 320], abs=3)


def test_a_doorway_turns_one_corner_and_reaches_no_lower_than_the_floor():
    spine = doorway(360)
    assert len(bends(spine)) == 1
    assert max(y for _, y in spine) <= TALLEST_DROP + 15


def test_a_straight_line_has_no_bends():
    assert bends(straight(300)) == []


@pytest.mark.parametrize(
    ("degrees", "expected"),
    [pytest.param(34, [], id="a little less"), pytest.param(36, [pytest.approx(60, abs=1)], id="a little more")],
)
def test_a_corner_is_a_bend_from_thirty_five_degrees_on(degrees, expected):
    turned = radians(degrees)
    assert bends([(0, 0), (60, 0), (60 + 60 * cos(turned), 60 * sin(turned))]) == expected


def test_a_line_that_turns_little_by_little_has_no_bend():
    way = [(500 * sin(radians(n)), 500 * (1 - cos(radians(n)))) for n in range(91)]
    assert bends(way) == []


def test_along_gives_points_and_directions_and_runs_on_past_the_end():
    corner = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0))
    assert along(corner, [5, 15, 22]) == [((5, 0), (1, 0)), ((10, 5), (0, 1)), ((10, 12), (0, 1))]
