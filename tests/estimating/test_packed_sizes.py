from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.specs import INFLATED, SIZES, SpecErrors, blown, check_blown, inflated_range, size_for

INCH = Decimal("25.4")


@pytest.mark.parametrize(
    ("diameter", "size"),
    [
        pytest.param(4.75, 5, id="a small one held back"),
        pytest.param(9.0, 9, id="just its size"),
        pytest.param(9.5, 10, id="just above a size"),
        pytest.param(10.5, 11, id="the usual 11-inch"),
        pytest.param(14.0, 14, id="a 14-inch full"),
        pytest.param(34.0, 36, id="the largest"),
    ],
)
def test_a_diameter_takes_the_smallest_balloon_that_reaches_it(diameter, size):
    assert size_for(diameter) == size


def test_only_sizes_that_are_kept_are_chosen_from():
    assert size_for(9.5, sizes=(5, 11, 16)) == 11


@pytest.mark.parametrize(
    ("diameter", "sizes", "said"),
    [
        pytest.param(
            36.5, SIZES, "diameter_mm must be at most 36 in, which the largest balloon reaches", id="too wide"
        ),
        pytest.param(1.2, SIZES, "must be at least 1.5 in, or 3-inch balloons stay limp (got 1.2 in)", id="too small"),
        pytest.param(
            5.3, (5, 11), "must be at least 5.5 in, or 11-inch balloons stay limp; or at most 5 in", id="in between"
        ),
    ],
)
def test_a_diameter_that_no_balloon_suits_is_refused_with_what_would_work(diameter, sizes, said):
    with pytest.raises(SpecErrors) as refused:
        size_for(diameter, sizes)
    assert said in str(refused.value)


@given(st.floats(1.5, 36))
def test_the_size_chosen_is_neither_limp_nor_over_inflated(diameter):
    least, most = inflated_range(size_for(diameter))
    assert least <= diameter <= most


@pytest.mark.parametrize("size", SIZES)
def test_every_size_may_be_blown_to_its_usual_diameter(size):
    assert check_blown(size, Decimal(str(INFLATED[size])) * INCH) == []


@pytest.mark.parametrize(
    ("size", "diameter", "said"),
    [
        pytest.param(None, None, "size must be given, or diameter_mm", id="neither"),
        pytest.param(7, None, "size must be one of", id="no such size"),
        pytest.param(
            5, 9 * INCH, "diameter_mm must be from 2.5 in to 5 in for 5-inch balloons; 9-inch ones reach it", id="over"
        ),
        pytest.param(36, 9 * INCH, "must be from 18 in to 36 in for 36-inch balloons; 9-inch ones reach it", id="limp"),
        pytest.param(11, 99 * INCH, "must be from 5.5 in to 11 in for 11-inch balloons (got 99 in)", id="none reaches"),
        pytest.param(None, Decimal("NaN"), "diameter_mm must be a number of millimetres", id="not a number"),
        pytest.param(None, 40 * INCH, "diameter_mm must be at most 36 in", id="no size, none reaches"),
    ],
)
def test_a_size_and_a_diameter_that_disagree_are_refused_with_what_would_work(size, diameter, said):
    errors = check_blown(size, diameter)
    assert len(errors) == 1
    assert said in str(errors[0])


def test_a_size_alone_is_blown_as_the_studio_does_and_a_diameter_as_asked():
    assert blown(11, None, {11: 9.8}) == (11, 9.8)
    assert blown(11, 10 * INCH, INFLATED) == (11, 10.0)
    assert blown(None, 10 * INCH, INFLATED) == (10, 10.0)
