from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from estimating.lettering import (
    fit_of,
    fits,
    pieces_to_cut,
    reach_of,
    rim_surplus,
    smallest_balloon,
    spare_decals,
)
from estimating.specs import INFLATED, SpecErrors


def test_a_small_decal_lies_on_a_large_balloon_as_it_is():
    assert fits(7, 4, 34)
    assert not fits(20, 4, 34)


def test_a_studio_that_allows_more_surplus_takes_larger_decals():
    assert not fits(14, 4, 34)
    assert fits(14, 4, 34, surplus_percent=Decimal(5))


@given(st.floats(0.5, 20), st.floats(0.5, 20))
def test_the_smallest_balloon_carries_it_and_the_next_smaller_does_not(width, height):
    size = smallest_balloon(width, height)
    assume(size is not None)
    assert size is not None
    smaller = [other for other in INFLATED if other < size]
    assert fits(width, height, INFLATED[size])
    assert not smaller or not fits(width, height, INFLATED[max(smaller)])


def test_what_no_balloon_carries_has_no_smallest():
    assert smallest_balloon(30, 20) is None


@given(st.floats(1, 45), st.floats(0.5, 8), st.sampled_from([22.0, 28.0, 34.0]))
def test_each_piece_lies_and_one_piece_fewer_would_not(width, height, diameter):
    pieces = pieces_to_cut(width, height, diameter)
    assume(pieces is not None)
    assert pieces is not None
    assert rim_surplus(reach_of(width / pieces, height), diameter / 2) <= 0.02 + 1e-9
    assert pieces == 1 or not fits(width / (pieces - 1), height, diameter)


@pytest.mark.parametrize(
    ("width", "height", "diameter", "pieces", "balloons"),
    [
        pytest.param(7, 4, 34, 1, 1, id="whole"),
        pytest.param(24, 5, 34, 3, 1, id="cut into three"),
        pytest.param(60, 5, 34, 3, 2, id="over two balloons"),
    ],
)
def test_how_a_decal_goes_on(width, height, diameter, pieces, balloons):
    fit = fit_of(width, height, diameter)
    assert (fit.pieces, fit.balloons, fit.whole) == (pieces, balloons, pieces == balloons == 1)
    assert 0 < fit.surplus_percent <= 2


@pytest.mark.parametrize(
    ("width", "height", "said"),
    [
        pytest.param(10, 15, "decal_height_mm must be under 11.7 in on a balloon 34 in across", id="too high"),
        pytest.param(200, 4, "decal_width_mm must be at most 107 in over two balloons", id="too wide"),
    ],
)
def test_what_cannot_go_on_even_two_balloons_is_refused(width, height, said):
    with pytest.raises(SpecErrors) as refused:
        fit_of(width, height, 34)
    assert said in str(refused.value)


def test_a_surplus_beyond_five_percent_is_refused():
    with pytest.raises(SpecErrors, match=r"surplus_percent must be from 0\.1 to 5"):
        fits(5, 5, 34, surplus_percent=Decimal(9))


@pytest.mark.parametrize(
    ("letters", "height", "fine", "spare"),
    [
        pytest.param(5, 4, False, 0, id="bold"),
        pytest.param(5, 4, True, 1, id="a script"),
        pytest.param(5, 0.8, False, 1, id="low letters"),
        pytest.param(0, 0.8, True, 0, id="no letters"),
    ],
)
def test_fine_detail_takes_a_decal_to_spare(letters, height, fine, spare):
    assert spare_decals(letters, height, fine=fine) == spare
