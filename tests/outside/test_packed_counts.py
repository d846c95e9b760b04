"""How many balloons a packed piece takes, against exact geometry and what the trade publishes.

Geometry (derived): ring radius, pitch and outer width of layers of two to six touching spheres, and what they come to a
foot. Published, common practice: a 20 ft arch of 104; a party trainer's chart of balloons a foot; about 70 for 2.4 m of
6 to 7 inches. Two home-decorating texts count four for every balloon's width of length; nested layers lie closer, and
take a sixth more.
"""

from decimal import Decimal

import pytest

from estimating.kinds.packed import PackedSpec, lay_out
from estimating.specs import INFLATED
from estimating.stacking import layers_along, outer_width, pitch, ring_radius

INCH = Decimal("25.4")
FOOT = 12 * INCH
ONE = (("navy", 100),)


@pytest.mark.parametrize(
    ("per_layer", "radius", "apart", "width"),
    [
        pytest.param(2, 0.5000, 0.7071, 2.000, id="pairs"),
        pytest.param(3, 0.5774, 0.8165, 2.155, id="threes"),
        pytest.param(4, 0.7071, 0.8409, 2.414, id="quads"),
        pytest.param(5, 0.8507, 0.8507, 2.701, id="fives"),
        pytest.param(6, 1.0000, 0.8556, 3.000, id="sixes"),
    ],
)
def test_layers_have_the_derived_radius_pitch_and_width(per_layer, radius, apart, width):
    assert ring_radius(per_layer, 1.0) == pytest.approx(radius, abs=6e-5)
    assert pitch(per_layer, 1.0) == pytest.approx(apart, abs=6e-5)
    assert outer_width(per_layer, 1.0) == pytest.approx(width, abs=6e-4)


def test_the_pitch_of_quads_is_two_to_the_minus_a_quarter():
    assert pitch(4, 1.0) == pytest.approx(2**-0.25, rel=1e-12)


@pytest.mark.parametrize(
    ("per_layer", "per_foot"),
    [
        pytest.param(2, (6.79, 4.24, 3.77, 3.39, 3.09), id="pairs"),
        pytest.param(3, (8.82, 5.51, 4.90, 4.41, 4.01), id="threes"),
        pytest.param(4, (11.42, 7.14, 6.34, 5.71, 5.19), id="quads"),
        pytest.param(5, (14.11, 8.82, 7.84, 7.05, 6.41), id="fives"),
        pytest.param(6, (16.83, 10.52, 9.35, 8.42, 7.65), id="sixes"),
    ],
)
def test_a_foot_takes_the_derived_number(per_layer, per_foot):
    """Balloons of 5, 8, 9, 10 and 11 inches."""
    made = [per_layer * 12 / pitch(per_layer, d) for d in (5, 8, 9, 10, 11)]
    assert made == pytest.approx(per_foot, abs=0.008)


def test_20_ft_of_11_inch_takes_the_published_104():
    spec = PackedSpec("garland", ONE, size=11, diameter_mm=11 * INCH, length_mm=20 * FOOT, shape="straight")
    assert len(lay_out(spec).balloons) == 104


def test_a_straight_base_of_2_4_m_takes_about_the_published_70():
    spec = PackedSpec(
        "garland", ONE, size=11, diameter_mm=Decimal("6.5") * INCH, length_mm=Decimal(2400), shape="straight"
    )
    assert abs(len(lay_out(spec).balloons) - 70) <= 7


@pytest.mark.parametrize(("size", "per_foot"), [(5, 12), (9, 8), (11, 6), (14, 4), (16, 4)])
def test_100_ft_at_the_usual_inflation_takes_the_charts_balloons_per_foot(size, per_foot):
    spec = PackedSpec("garland", ONE, size=size, length_mm=100 * FOOT, shape="straight")
    assert round(len(lay_out(spec).balloons) / 100) == per_foot


def test_10_inch_balloons_take_about_the_published_6_a_foot():
    spec = PackedSpec("garland", ONE, size=10, diameter_mm=10 * INCH, length_mm=100 * FOOT, shape="straight")
    assert len(lay_out(spec).balloons) / 100 == pytest.approx(6, abs=0.3)


@pytest.mark.parametrize(
    ("diameter", "quads"),
    [
        pytest.param("8", 45, id="8 in: 180 balloons"),
        pytest.param("9", 40, id="9 in: 160"),
        pytest.param("9.5", 38, id="9.5 in: 152"),
        pytest.param("10", 36, id="10 in: 144"),
        pytest.param("11", 33, id="11 in: 132"),
    ],
)
def test_a_25_ft_arch_takes_the_derived_quads(diameter, quads):
    spec = PackedSpec(
        "arch", ONE, size=None, diameter_mm=Decimal(diameter) * INCH, span_mm=10 * FOOT, length_mm=25 * FOOT
    )
    assert len(lay_out(spec).balloons) == 4 * quads


@pytest.mark.parametrize(
    ("feet", "unnested"),
    [pytest.param(22, 132, id="8 by 6 ft arch"), pytest.param(32, 192, id="12 by 8 ft arch")],
)
def test_counting_a_layer_for_each_balloons_width_falls_a_sixth_short(feet, unnested):
    assert 4 * feet * 12 / 8 == unnested
    nested = 4 * layers_along(feet * 12, pitch(4, 8.0))
    assert unnested / nested == pytest.approx(0.84, abs=0.02)  # One whole layer more or less.


def test_the_usual_inflation_of_the_chart_is_the_one_the_studio_starts_with():
    """12, 8 and 6 a foot imply 4.76, 7.14 and 9.5 in."""
    assert [INFLATED[size] for size in (5, 9, 11)] == pytest.approx([4.76, 7.14, 9.5], abs=0.02)
