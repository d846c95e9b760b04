"""How far each size is blown, how far it may be, and which bag a wanted diameter comes from."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.bags import (
    HELIUM_INFLATED,
    Diameters,
    bags_for,
    blown,
    check_blown,
    inflated_range,
    size_for,
)
from estimating.gas import floating_diameter, floating_range, net_lift
from estimating.layout import Balloon
from estimating.lines import Site
from estimating.specs import INFLATED, SIZES, SpecErrors

INCH = Decimal("25.4")


@pytest.mark.parametrize(
    ("diameter", "size"),
    [
        pytest.param(4.75, 5, id="a small one held back"),
        pytest.param(7.25, 9, id="nearest to a 9-inch"),
        pytest.param(9.5, 11, id="the usual 11-inch"),
        pytest.param(9.0, 10, id="of two as near the smaller"),
        pytest.param(14.0, 16, id="a 16-inch held back, not a 14-inch full"),
        pytest.param(34.0, 36, id="the largest"),
        pytest.param(2.0, 3, id="the smallest, at its least"),
    ],
)
def test_a_diameter_comes_from_the_bag_that_is_blown_nearest_to_it(diameter, size):
    assert size_for(diameter) == size


def test_only_sizes_that_are_kept_are_chosen_from():
    assert size_for(9.5, sizes=(5, 12, 16)) == 12


def test_another_table_takes_another_bag():
    assert size_for(9.0, Diameters({11: 9.0})) == 11
    assert size_for(9.5, Diameters({11: 7.0, 10: 7.0})) == 12


def test_the_bags_that_reach_a_diameter_come_best_first_with_their_limits():
    bags = bags_for(9.5)
    assert [bag.size for bag in bags] == [11, 10, 12, 14, 16, 17, 18]
    assert (bags[0].usually, bags[0].least, bags[0].most) == (9.5, 6.0, 11.0)


@pytest.mark.parametrize("diameter", [1.9, 36.01])
def test_no_bag_is_offered_for_what_none_can_be_blown_to(diameter):
    assert bags_for(diameter) == ()


@given(
    diameter=st.floats(2, 36),
    own=st.dictionaries(st.sampled_from(SIZES), st.floats(0.55, 1.0)),
)
def test_every_bag_offered_reaches_the_diameter_and_every_other_does_not(diameter, own):
    table = Diameters({size: max(part * size, inflated_range(size)[0]) for size, part in own.items()})
    bags = bags_for(diameter, table)
    assert {bag.size for bag in bags} == {n for n in SIZES if inflated_range(n)[0] <= diameter <= inflated_range(n)[1]}
    away = [abs(table[bag.size] - diameter) for bag in bags]
    assert away == pytest.approx(sorted(away), abs=1e-6)
    assert size_for(diameter, table) == bags[0].size


@pytest.mark.parametrize(
    ("size", "least", "most"),
    [
        pytest.param(11, 6, 11, id="an 11-inch at 6 to 11"),
        pytest.param(12, 6, 12, id="a 12-inch from 6"),
        pytest.param(5, 3, 5, id="a 5-inch"),
        pytest.param(36, 18, 36, id="the largest"),
    ],
)
def test_a_size_is_blown_from_half_of_it_to_what_its_bag_says(size, least, most):
    assert inflated_range(size) == (least, most)


@pytest.mark.parametrize("size", HELIUM_INFLATED)
def test_what_is_filled_with_helium_to_its_least_floats_and_the_usual_is_in_range(size):
    least, most = floating_range(size)
    assert net_lift(Balloon(0, 0, 0, least, size, "a", "float", gas="helium"), Site()) > 0
    assert inflated_range(size)[0] <= least <= HELIUM_INFLATED[size] <= most == size


def test_a_table_fills_what_it_lacks_with_the_usual_figures():
    table = Diameters({11: 10.0}, {11: 10.5})
    assert (table[11], table[5], len(table)) == (10.0, INFLATED[5], len(SIZES))
    assert (table.helium[11], table.helium[36]) == (10.5, HELIUM_INFLATED[36])


def test_a_table_keeps_its_helium_where_a_kind_asks_for_the_whole_of_it():
    table = Diameters({11: 10.0}, {11: 10.5})
    assert Diameters.of(table) is table
    assert Diameters.of({11: 10.0}) == Diameters({11: 10.0}) != table
    assert (floating_diameter(11, table), floating_diameter(11), floating_diameter(5, {5: 4.0})) == (10.5, 10.75, 4.0)


def test_equal_tables_are_one_key():
    assert len({Diameters({11: 10.0}), Diameters({11: 10.0}), Diameters(), Diameters(None, {11: 10.0})}) == 3


@pytest.mark.parametrize(
    ("diameter", "sizes", "said"),
    [
        pytest.param(
            36.5, SIZES, "diameter_mm must be at most 36 in, which the largest balloon reaches", id="too wide"
        ),
        pytest.param(1.2, SIZES, "must be at least 2 in, or 3-inch balloons stay limp (got 1.2 in)", id="too small"),
        pytest.param(
            5.3, (5, 11), "must be at least 6 in, or 11-inch balloons stay limp; or at most 5 in", id="in between"
        ),
    ],
)
def test_a_diameter_that_no_balloon_suits_is_refused_with_what_would_work(diameter, sizes, said):
    with pytest.raises(SpecErrors) as refused:
        size_for(diameter, sizes=sizes)
    assert said in str(refused.value)


@given(st.floats(2, 36))
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
            5, 9 * INCH, "diameter_mm must be from 3 in to 5 in for 5-inch balloons; 10-inch ones reach it", id="over"
        ),
        pytest.param(
            36, 9 * INCH, "must be from 18 in to 36 in for 36-inch balloons; 10-inch ones reach it", id="limp"
        ),
        pytest.param(11, 99 * INCH, "must be from 6 in to 11 in for 11-inch balloons (got 99 in)", id="none reaches"),
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
    assert blown(None, 10 * INCH, INFLATED) == (11, 10.0)
    assert blown(None, 10 * INCH, Diameters({12: 10.0})) == (12, 10.0)
