"""Quads of touching spheres: exact geometry, and the counts the trade publishes for packed garlands.

Geometry: centres of a quad lie d/√2 from the line; the next quad, turned 45 degrees, touches it at a pitch of
2^(-1/4) d; the outer width is (1 + √2) d. Published counts: a party trainer's per-foot chart, a 20 ft arch of
104, and about 70 balloons for 2.4 m of 6 to 7 inches (all common practice).
"""

from decimal import Decimal
from math import ceil, cos, pi, sin

import numpy as np
import pytest

from estimating.kinds import GarlandSpec, SpecErrors
from estimating.kinds.garland import lay_out
from estimating.packing import Tethered
from estimating.specs import INFLATED
from estimating.spines import straight

PITCH = 2**-0.25
WIDTH = 1 + 2**0.5


def quads(number, d):
    """That many touching quads on a line."""
    turns = [pi / 4 * (n % 2) + pi / 2 * k for n in range(number) for k in range(4)]
    return Tethered(
        spine=straight(number * PITCH * d + d),
        s=np.array([d / 2 + n * PITCH * d for n in range(number) for _ in range(4)]),
        reach=np.full(4 * number, d / 2**0.5),
        radius=np.full(4 * number, d / 2),
        across=np.array([cos(turn) for turn in turns]),
        towards=np.array([sin(turn) for turn in turns]),
    )


def test_stacked_quads_touch_and_do_not_overlap():
    """Each balloon touches two of its quad and two of each next quad: 4 + 8 contacts a quad but at the ends."""
    stack = quads(10, 9.0)
    assert len(stack.couples(-1e-6)[0]) == 0
    assert len(stack.couples(1e-6)[0]) == 4 * 10 + 8 * 9


def test_touching_quads_stay_where_they_are():
    stack = quads(10, 9.0)
    before = stack.x.copy(), stack.y.copy(), stack.z.copy()
    stack.settle(100)
    assert np.allclose(before, (stack.x, stack.y, stack.z), atol=1e-6)


@pytest.mark.parametrize(
    ("inches", "d", "published", "within"),
    [
        pytest.param(20 * 12, 11.0, 104, 0, id="20 ft of 11 in: 104"),
        pytest.param(2400 / 25.4, 6.5, 70, 7, id="2.4 m of 6 to 7 in: about 70"),
        pytest.param(25 * 12, 9.0, 160, 0, id="25 ft of 9 in: 160"),
        pytest.param(25 * 12, 10.0, 144, 0, id="25 ft of 10 in: 144"),
    ],
)
def test_touching_quads_of_the_published_count_fill_the_published_length(inches, d, published, within):
    number = ceil(inches / (PITCH * d))
    assert abs(4 * number - published) <= within
    stack = quads(number, d)
    reached = float(stack.x.max() - stack.x.min()) + PITCH * d
    assert 0 <= reached - inches < PITCH * d


@pytest.mark.parametrize(("size", "per_foot"), [(5, 12), (9, 8), (11, 6), (14, 4), (16, 4)])
def test_the_usual_inflated_diameters_give_the_charts_balloons_per_foot(size, per_foot):
    assert round(4 * 12 / (PITCH * INFLATED[size])) == per_foot


def test_a_settled_garland_of_8_a_foot_is_nearly_as_wide_as_touching_quads():
    """9 in: touching quads are 21.7 in wide at their widest, and the silhouette's mean lies just below that."""
    spec = GarlandSpec(Decimal(20) * Decimal("304.8"), Decimal("528.32"), ((9, 100),), (("a", 100),), shape="straight")
    layout = lay_out(spec, inflated={9: 9.0})
    assert len(layout.balloons) / 20 == pytest.approx(8.0, abs=0.21)
    assert layout.width == pytest.approx(20.8, rel=0.02)
    assert 0.92 < layout.width / (WIDTH * 9) < 1.0


def test_a_width_far_below_one_balloon_cannot_be_made():
    spec = GarlandSpec(Decimal(6096), Decimal("152.4"), ((9, 100),), (("a", 100),))
    with pytest.raises(SpecErrors, match="width_mm"):
        lay_out(spec, inflated={9: 9.0})
