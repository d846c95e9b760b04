"""The surplus at the rim of a flat disc laid on a ball (Bertrand, Diguet and Puiseux)."""

import pytest

from estimating.lettering import rim_surplus, widest_angle


# Worked out from C = 2 pi R sin(a / R), radius and half-width in inches, percent.
@pytest.mark.parametrize(
    ("radius", "half_width", "percent"),
    [
        (5.5, 1, 0.553),
        (5.5, 2, 2.238),
        (5.5, 3, 5.136),
        (8, 2, 1.049),
        (8, 4, 4.292),
        (12, 4, 1.876),
        (12, 6, 4.292),
        (18, 3, 0.465),
        (18, 6, 1.876),
    ],
)
def test_the_rim_of_a_decal_is_too_long_by(radius, half_width, percent):
    assert 100 * rim_surplus(half_width, radius) == pytest.approx(percent, abs=0.0006)
    series = 100 * half_width**2 / (6 * radius**2)
    assert series < 100 * rim_surplus(half_width, radius) < 1.05 * series


# The same solved for a / R; lettering up to about 0.7 R high for 2 % follows from the first.
@pytest.mark.parametrize(("percent", "angle"), [(2, 0.344), (5, 0.538), (10, 0.749), (15, 0.903)])
def test_how_wide_a_decal_may_be_for_its_surplus(percent, angle):
    assert widest_angle(percent / 100) == pytest.approx(angle, abs=0.0006)
