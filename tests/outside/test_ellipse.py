"""Half an ellipse's length against SciPy's complete elliptic integral of the second kind."""

import pytest
from scipy.special import ellipe

from estimating.spines import ellipse_arc, half_ellipse


@pytest.mark.parametrize("span", [1.0, 24.0, 96.0, 120.0, 480.0])
@pytest.mark.parametrize("rise", [0.01, 1.0, 48.0, 60.0, 96.0, 900.0])
def test_half_an_ellipse_is_as_long_as_the_elliptic_integral_says(span, rise):
    a, b = max(span / 2, rise), min(span / 2, rise)
    assert half_ellipse(span, rise) == pytest.approx(2 * a * ellipe(1 - (b / a) ** 2), rel=1e-12)


def test_a_half_circle_is_pi_times_its_radius():
    assert ellipse_arc(span=2, rise=1).length == pytest.approx(3.141592653589793, rel=1e-15)
