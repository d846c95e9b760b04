"""Swatches and the ink that can be read on them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stock.colour import (
    DARK_INK,
    LIGHT_INK,
    ColourError,
    contrast_ratio,
    ink_on,
    parse_swatch,
    relative_luminance,
)

SWATCHES = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


@pytest.mark.parametrize(
    ("typed", "swatch"),
    [
        pytest.param("#1b1b1f", "#1b1b1f", id="as it is kept"),
        pytest.param("#1B1B1F", "#1b1b1f", id="capitals"),
        pytest.param("1b1b1f", "#1b1b1f", id="without the hash"),
        pytest.param(" #1b1b1f\n", "#1b1b1f", id="spaces round it"),
        pytest.param("#aBc", "#aabbcc", id="three digits"),
    ],
)
def test_a_swatch_is_kept_in_one_form(typed, swatch):
    assert parse_swatch(typed) == swatch


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param("", id="empty"),
        pytest.param("#", id="only a hash"),
        pytest.param("navy", id="a name"),
        pytest.param("#12345", id="five digits"),
        pytest.param("#1234567", id="seven digits"),
        pytest.param("##1b1b1f", id="two hashes"),
        pytest.param("#1b1b1g", id="not hexadecimal"),
        pytest.param("#١٢٣٤٥٦", id="other digits"),
        pytest.param('#1b1b1f" onload="x', id="an attribute smuggled in"),
        pytest.param("#" + "f" * 5000, id="very long"),
    ],
)
def test_anything_else_is_refused_with_the_rule_and_the_value(typed):
    with pytest.raises(ColourError) as refused:
        parse_swatch(typed)
    assert refused.value.value == typed
    assert "such as #1b1b1f" in str(refused.value)
    assert len(str(refused.value)) < 120


@given(SWATCHES, SWATCHES)
def test_contrast_is_the_same_both_ways_and_between_1_and_21(one, other):
    assert contrast_ratio(one, other) == contrast_ratio(other, one)
    assert 1 <= contrast_ratio(one, other) <= 21.000001


@pytest.mark.parametrize(
    ("swatch", "ink"),
    [
        pytest.param("#ffffff", DARK_INK, id="white"),
        pytest.param("#000000", LIGHT_INK, id="black"),
        pytest.param("#1f2a44", LIGHT_INK, id="navy"),
        pytest.param("#d8c3a5", DARK_INK, id="sand"),
    ],
)
def test_ink_stands_out_on_its_swatch(swatch, ink):
    assert ink_on(swatch) == ink


@given(SWATCHES)
def test_ink_on_any_swatch_can_be_read_as_large_text(swatch):
    """One of the two inks always reaches 3:1, since together they span more than 9:1."""
    assert contrast_ratio(ink_on(swatch), swatch) >= 3


@given(SWATCHES, SWATCHES)
def test_a_swatch_lighter_in_every_channel_is_never_darker(one, other):
    lighter = "#" + "".join(max(one[i : i + 2], other[i : i + 2]) for i in (1, 3, 5))
    assert relative_luminance(lighter) >= relative_luminance(one)
