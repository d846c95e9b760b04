"""Columns, against a maker's recipe and what is usual in the trade (common practice).

A 6.5 ft column of 11-inch balloons at 10 inches is given as 8 quads, 32 balloons, within a fifth: nested, 8 quads are
68.9 in, and filling 78 in takes 9 or 10. Fives are usual for columns of air, quads for long garlands.
"""

from decimal import Decimal

import pytest

from estimating.kinds.packed import PackedSpec, lay_out
from estimating.stacking import outer_width, pitch, stack_length

INCH = Decimal("25.4")
RECIPE = PackedSpec("column", (("navy", 50), ("white", 50)), size=11, diameter_mm=10 * INCH, height_mm=78 * INCH)


def test_8_nested_quads_of_10_inches_are_68_9_in():
    assert stack_length(8, 10.0, pitch(4, 10.0)) == pytest.approx(68.9, abs=0.05)


def test_a_6_and_a_half_ft_column_takes_9_or_10_quads_within_a_fifth_of_the_recipe():
    number = len(lay_out(RECIPE).balloons)
    assert number in (36, 40)
    assert number == pytest.approx(32, rel=0.2)


def test_a_column_asked_to_be_as_high_as_8_nested_quads_takes_the_recipes_32():
    spec = PackedSpec("column", RECIPE.colours, size=11, diameter_mm=10 * INCH, height_mm=Decimal("68.9") * INCH)
    assert len(lay_out(spec).balloons) == 32


def test_fives_make_a_stouter_column_of_the_same_height():
    """2.701 against 2.414 diameters wide, in as many layers."""
    fives = PackedSpec(
        "column", (("navy", 60), ("white", 40)), size=11, diameter_mm=10 * INCH, height_mm=78 * INCH, per_layer=5
    )
    quads, five = lay_out(RECIPE), lay_out(fives)
    assert len(five.balloons) / 5 == len(quads.balloons) / 4
    assert five.width / quads.width == pytest.approx(2.701 / 2.414, abs=0.001)
    assert outer_width(5, 10.0) == pytest.approx(27.01, abs=0.01)
