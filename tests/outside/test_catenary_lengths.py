"""Length of a hanging swag from its span and sag, in feet: the catenary, derived; the parabola is said to differ."""

import pytest

from estimating.spines import swag


@pytest.mark.parametrize(
    ("span", "sag", "length"),
    [
        pytest.param(10, 2, 10.997, id="10 ft sagging 2"),
        pytest.param(10, 1, 10.262, id="10 ft sagging 1"),
        pytest.param(12, 3, 13.810, id="12 ft sagging 3"),
        pytest.param(20, 4, 21.994, id="20 ft sagging 4"),
    ],
)
def test_a_swag_of_the_published_length_has_the_published_span_and_sag(span, sag, length):
    spine = swag(length, sag / span)
    assert spine[-1][0] - spine[0][0] == pytest.approx(span, abs=0.002)
    assert max(y for _, y in spine) == pytest.approx(sag, abs=0.002)
