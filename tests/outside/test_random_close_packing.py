"""Random close packing as a bound: no settled piece can be more solid than spheres, or discs, thrown together.

Published: equal spheres 0.6366 ± 0.0008 (Scott and Kilgour, J. Phys. D 2, 863, 1969; from memory), 0.64 ± 0.02 and
equal discs 0.82 ± 0.02 (Phys. Rev. A 27, 1053, 1983); two sizes as different as can be at most 1 - (1 - 0.64)² =
0.870. Hexagonal packing of a plane is π / √12 = 0.9069 (geometry).
"""

from decimal import Decimal
from math import pi

import pytest

from estimating.filling import discs_for
from estimating.kinds import GarlandSpec, WallSpec
from estimating.kinds import garland as garlands
from estimating.kinds import wall as walls
from estimating.kinds.wall import organic_counts
from estimating.specs import INFLATED

SPHERES, TWO_SIZES, DISCS, HEXAGONAL = 0.6366, 0.870, 0.82, pi / 12**0.5
FOOT, INCH = Decimal("304.8"), Decimal("25.4")
MIX = ((5, 30), (11, 62), (16, 8))
ONE = (("a", 100),)


def solid_fraction(layout):
    """Balloon volume of a straight garland's middle over that of the cylinder that encloses 95 % of its balloons."""
    middle = [b for b in layout.balloons if 24 < b.x < layout.length - 24]
    reach = sorted((b.y**2 + b.z**2) ** 0.5 + b.diameter / 2 for b in middle)[int(0.95 * len(middle))]
    return sum(pi / 6 * b.diameter**3 for b in middle) / (pi * reach**2 * (layout.length - 48))


@pytest.mark.parametrize("size", [9, 11])
@pytest.mark.parametrize("inches", [20, 28, 34])
def test_a_garland_of_one_size_is_no_more_solid_than_spheres_thrown_together(inches, size):
    """And no looser than touching quads leave it, 0.544, less a tenth for its rough skin."""
    spec = GarlandSpec(30 * FOOT, inches * INCH, ((size, 100),), ONE, shape="straight")
    assert 0.9 * 0.544 < solid_fraction(garlands.lay_out(spec)) < SPHERES


@pytest.mark.parametrize("inches", [20, 28, 34])
def test_a_garland_of_mixed_sizes_is_less_solid_than_the_limit_of_two_sizes(inches):
    spec = GarlandSpec(30 * FOOT, inches * INCH, MIX, ONE, shape="straight")
    assert 0.25 < solid_fraction(garlands.lay_out(spec)) < TWO_SIZES


@pytest.mark.parametrize("mix", [MIX, ((11, 100),), ((5, 60), (9, 40))])
def test_an_organic_panel_is_no_more_solid_than_spheres_thrown_together(mix):
    spec = WallSpec(12 * FOOT, 8 * FOOT, mix, ONE, pattern="plain")
    counts, depth = organic_counts(spec, INFLATED)
    balloons = sum(number * pi / 6 * INFLATED[size] ** 3 for size, number in counts.items())
    assert 0.5 < balloons / (144 * 96 * depth) < SPHERES
    assert sum(counts.values()) == len(walls.lay_out(spec).balloons)


def test_the_count_of_a_glyph_starts_from_discs_thrown_together():
    assert discs_for(1000.0, [(4.0, 100.0)]) * pi / 4 * 16 / 1000 == pytest.approx(DISCS)
    assert DISCS < HEXAGONAL
