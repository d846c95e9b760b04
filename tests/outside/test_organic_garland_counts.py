"""Balloons per foot of mixed-size garlands, by style.

Common practice, and the sources disagree by a factor of two: slim 4 to 7, light 4.6 to 6.1, medium 10 to 12,
full 10 to 15, very full 20 to 25 (the last from memory). A home-made garland of one size measured 8.6. They
give no widths, so each is laid out here at the width its style is made in (no source).
"""

from decimal import Decimal

import pytest

from estimating.kinds import GarlandSpec
from estimating.kinds.garland import lay_out


def per_foot(inches, mix):
    length = Decimal(12) * Decimal("304.8")
    spec = GarlandSpec(length, Decimal(inches) * Decimal("25.4"), mix, (("a", 100),), shape="straight")
    return len(lay_out(spec).balloons) / 12


@pytest.mark.parametrize(
    ("inches", "mix", "low", "high"),
    [
        pytest.param(17, ((11, 100),), 4, 7, id="slim, one size"),
        pytest.param(17, ((5, 30), (12, 70)), 4.6, 6.1, id="light, 5 and 12 in"),
        pytest.param(20, ((5, 24), (9, 24), (11, 52)), 9, 12, id="medium, itemised as 25 + 25 + 55"),
        pytest.param(24, ((5, 30), (11, 62), (16, 8)), 10, 12, id="medium, three sizes"),
        pytest.param(33, ((5, 17), (11, 58), (17, 25)), 10, 15, id="full, 20 + 70 + 30 for 10 ft"),
        pytest.param(37, ((5, 30), (11, 60), (17, 10)), 20, 25, id="very full"),
    ],
)
def test_a_style_takes_as_many_a_foot_as_the_trade_says(inches, mix, low, high):
    assert low <= per_foot(inches, mix) <= high
