"""Bars: as long as their figures, from zero, one below the other."""

import pytest
from hypothesis import given
from hypothesis import strategies as some

from studio.bars import bar_chart


def test_a_bar_is_as_long_as_its_figure():
    long, short = bar_chart([("Garlands", 40.0, "$40"), ("Columns", 10.0, "$10")]).bars
    assert long.width == pytest.approx(4 * short.width)
    assert (long.x, long.name, long.words, long.is_below) == (short.x, "Garlands", "$40", False)


def test_what_is_below_zero_goes_to_the_left_of_it():
    shape = bar_chart([("June", -20.0, "−$20"), ("July", 20.0, "$20")])
    june, july = shape.bars
    assert june.is_below and not july.is_below
    assert june.x + june.width == pytest.approx(july.x) == pytest.approx(shape.zero_x)


def test_where_every_figure_is_nothing_no_bar_has_a_length():
    assert [bar.width for bar in bar_chart([("June", 0.0, "$0"), ("July", 0.0, "$0")]).bars] == [0, 0]


def test_a_chart_of_nothing_is_refused():
    with pytest.raises(ValueError, match=r"at least one bar \(got none\)"):
        bar_chart([])


@given(figures=some.lists(some.floats(-1e6, 1e6), min_size=1, max_size=12), width=some.integers(120, 1000))
def test_every_bar_and_its_words_stay_inside(figures, width):
    shape = bar_chart([("Name", figure, "words") for figure in figures], width=width)
    tops = [bar.words_y for bar in shape.bars]
    assert tops == sorted(tops)
    for bar in shape.bars:
        assert bar.x >= 0 and bar.x + bar.width <= shape.width + 0.1
        assert bar.words_y < bar.y and bar.y + bar.height <= shape.height
