"""Balloons a square foot of wall: quad garlands side by side, and square packing of alternate sizes.

Geometry: quads of diameter d follow each other at p = 2^(-1/4) d and are w = (1 + √2) d wide, so 4 / (p·w) for an
area: 3.5 a square foot at 9 in and 2.3 at 11 in. Common practice: a flag wall of 9 garlands of 33 quads takes 1,188
balloons; alternate sizes differ by 0.5 in from 2 to 4.5 in, 1 in from 4.5 to 7.5 in and 2 in from 7.5 to 11 in.
"""

from decimal import Decimal

import pytest

from estimating.kinds import WallSpec
from estimating.kinds.wall import lay_out
from estimating.lattices import ACROSS, NESTED, PITCH, alternate_sizes, turned_quads


@pytest.mark.parametrize(("d", "published"), [(9.0, 3.5), (11.0, 2.3)])
def test_garlands_side_by_side_take_the_balloons_a_square_foot_of_the_geometry(d, published):
    assert 4 * 144 / (PITCH * ACROSS * d * d) == pytest.approx(published, abs=0.06)
    wide, high = 40 * ACROSS * d, 60 * PITCH * d + d
    grid = turned_quads(wide, high, d)
    assert len(grid.places) * 144 / (wide * high) == pytest.approx(published, rel=0.03)


def test_a_flag_wall_of_nine_garlands_of_33_quads_takes_1188():
    d = 9.0
    grid = turned_quads(9 * ACROSS * d, 32 * PITCH * d + d, d)
    assert (grid.columns, grid.rows, len(grid.places)) == (9, 33, 1188)


def test_quads_of_a_grid_touch_and_do_not_overlap():
    d = 9.0
    grid = turned_quads(ACROSS * d * (1 + 3 * NESTED), 6 * PITCH * d + d, d, NESTED)
    assert (grid.columns, grid.rows) == (4, 7)
    gaps = sorted(
        ((a.x - b.x) ** 2 + (a.y - b.y) ** 2 + (a.z - b.z) ** 2) ** 0.5
        for n, a in enumerate(grid.places)
        for b in grid.places[:n]
    )
    assert gaps[0] == pytest.approx(d, rel=1e-6)
    within = sum(4 for _ in range(4 * 7))
    between_rows = 4 * 6 * 8
    assert sum(gap < d * 1.000001 for gap in gaps) > within + between_rows


@pytest.mark.parametrize(
    ("size", "inflated", "gap"), [(5, 4.0, 0.5), (6, 5.5, 1.0), (9, 7.5, 1.0), (11, 9.0, 2.0), (12, 11.0, 2.0)]
)
def test_alternate_sizes_differ_as_the_trade_has_them(size, inflated, gap):
    feet = Decimal("304.8")
    spec = WallSpec(8 * feet, 8 * feet, ((size, 100),), (("a", 100),), style="grid", pattern="plain", alternate=True)
    layout = lay_out(spec, inflated={size: inflated})
    assert {b.diameter for b in layout.balloons} == {inflated, inflated - gap}


def test_alternate_sizes_touch_squarely_and_do_not_overlap():
    grid = alternate_sizes(8 * 2 * 8.0 + 0.5 * 2, 10 * 8.0 + 9.0 - 8.0, 9.0, 7.0)
    radius = {True: 3.5, False: 4.5}
    least = min(
        ((a.x - b.x) ** 2 + (a.y - b.y) ** 2 + (a.z - b.z) ** 2) ** 0.5 / (radius[a.is_small] + radius[b.is_small])
        for n, a in enumerate(grid.places)
        for b in grid.places[:n]
    )
    assert (grid.columns, grid.rows) == (8, 10)
    assert least == pytest.approx(1, abs=0.02)
