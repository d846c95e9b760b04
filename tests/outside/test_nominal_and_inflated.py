"""What decorators blow a nominal size to. All of it is common practice, with no source that could be cited:

the meaning of a nominal size from two makers' notes on sizes; air columns at 9 in, helium at 10.5 to 11 in and 5-inch
balloons at 4 in from a trade FAQ; 10 in from a column recipe; 6 to 7 in for an organic base from a decorator's guide;
16-inch held back to 14 in for durability from a room-fill account; 12, 8 and 6 balloons a foot from a trade chart.
"""

import pytest

from estimating.bags import Diameters, bags_for, inflated_range, size_for
from estimating.gas import floating_range
from estimating.specs import INFLATED, SIZES


@pytest.mark.parametrize(
    ("size", "diameter"),
    [
        pytest.param(11, 9.0, id="air columns"),
        pytest.param(11, 9.5, id="six a foot"),
        pytest.param(11, 10.0, id="a column recipe"),
        pytest.param(11, 6.0, id="an organic base from an 11-inch"),
        pytest.param(12, 7.0, id="an organic base from a 12-inch"),
        pytest.param(5, 4.0, id="a practice garland"),
        pytest.param(5, 4.75, id="twelve a foot"),
        pytest.param(16, 14.0, id="held back so that it lasts"),
    ],
)
def test_what_decorators_blow_a_size_to_is_allowed_and_found(size, diameter):
    least, most = inflated_range(size)
    assert least <= diameter <= most
    assert size in [bag.size for bag in bags_for(diameter)]


@pytest.mark.parametrize("diameter", [10.5, 11.0])
def test_an_11_inch_may_be_filled_with_helium_as_decorators_do(diameter):
    least, most = floating_range(11)
    assert least <= diameter <= most


@pytest.mark.parametrize("size", SIZES)
def test_no_size_is_blown_beyond_what_its_bag_says(size):
    assert inflated_range(size)[1] == size >= INFLATED[size]


@pytest.mark.parametrize(
    ("per_foot", "size"),
    [pytest.param(12, 5, id="12 a foot"), pytest.param(8, 9, id="8 a foot"), pytest.param(6, 11, id="6 a foot")],
)
def test_the_diameter_a_chart_implies_comes_from_the_bag_the_chart_names(per_foot, size):
    """Quads of diameter d are 0.8409 d apart, four balloons each."""
    assert size_for(4 * 12 / (0.8409 * per_foot)) == size


def test_a_studio_that_blows_its_11_inch_for_columns_takes_9_inches_from_it():
    assert size_for(9.0, Diameters({11: 9.0})) == 11
