"""How many balloons a ceiling takes."""

from decimal import Decimal
from math import pi, sqrt

import pytest

from estimating.kinds.floats import FloatsSpec, densest

FT = Decimal("304.8")


# One balloon a square foot: 400 square feet take 400; for 800, 1,000 were ordered with spares (common practice, two).
@pytest.mark.parametrize(("width", "depth", "balloons"), [(20, 20, 400), (40, 20, 800)])
def test_one_balloon_a_square_foot(width, depth, balloons):
    assert FloatsSpec(width * FT, depth * FT, (("a", 100),)).number() == balloons


# Discs side by side cover pi / sqrt(12) of a plane at most: 1.374 eleven-inch balloons a square foot.
def test_no_more_than_the_densest_packing_of_discs():
    assert densest(11) == 137
    assert densest(11) / 100 == pytest.approx(pi / sqrt(12) / (pi / 4 * (11 / 12) ** 2), abs=0.01)
