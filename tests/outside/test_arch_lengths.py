"""Arch and swag lengths, in feet.

Half-ellipse lengths of three arches, derived, against the trade's rule of thumb (common practice): width plus height
for an arch wider than tall, twice the height plus the width for a taller one, and height plus 1.5 widths for an equal
one. The rule is off by up to a fifth, which is why it is not used. Swags: the catenary, derived.
"""

import pytest

from estimating.spines import catenary_arc, ellipse_arc


@pytest.mark.parametrize(
    ("width", "height", "length", "rule_of_thumb", "off"),
    [
        pytest.param(8, 8, 19.38, 8 + 1.5 * 8, 0.03, id="8 by 8"),
        pytest.param(10, 8, 20.69, 10 + 8, -0.13, id="10 wide, 8 high"),
        pytest.param(6, 8, 18.18, 2 * 8 + 6, 0.21, id="6 wide, 8 high"),
    ],
)
def test_an_arch_is_as_long_as_its_ellipse_and_the_rule_of_thumb_is_off(width, height, length, rule_of_thumb, off):
    arc = ellipse_arc(span=width, rise=height)
    assert arc.length == pytest.approx(length, abs=0.006)
    assert rule_of_thumb / arc.length - 1 == pytest.approx(off, abs=0.005)


@pytest.mark.parametrize(
    ("span", "sag", "length", "parabola"),
    [
        pytest.param(10, 2, 10.997, 11.067, id="10 ft sagging 2"),
        pytest.param(10, 1, 10.262, 10.267, id="10 ft sagging 1"),
        pytest.param(12, 3, 13.810, 14.000, id="12 ft sagging 3"),
        pytest.param(20, 4, 21.994, 22.133, id="20 ft sagging 4"),
    ],
)
def test_a_swag_is_as_long_as_its_catenary_and_shorter_than_the_parabola_says(span, sag, length, parabola):
    arc = catenary_arc(span=span, rise=sag)
    assert arc.length == pytest.approx(length, abs=0.0006)
    assert span * (1 + 8 * sag**2 / (3 * span**2)) == pytest.approx(parabola, abs=0.0006)
    assert arc.length < parabola
    assert catenary_arc(span=span, length=length).rise == pytest.approx(sag, abs=0.001)
    assert catenary_arc(rise=sag, length=length).span == pytest.approx(span, abs=0.001)
