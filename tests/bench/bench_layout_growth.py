"""How laying out grows with the number of balloons: the exponent of time over 300, 750, 1,500 and 3,000.

Run by name; not part of the tests: python -m pytest tests/bench/bench_layout_growth.py
"""

from decimal import Decimal
from math import log
from statistics import median
from time import process_time

import pytest

from estimating.kinds import GarlandSpec, GlyphsSpec, WallSpec, glyphs, wall
from estimating.kinds import garland as garlands

FOOT, INCH = Decimal("304.8"), Decimal("25.4")
COLOURS = (("a", 40), ("b", 30), ("c", 20), ("d", 10))
MIX = ((5, 30), (11, 62), (16, 8))
TIMES = 7

GARLANDS = [GarlandSpec(feet * FOOT, inches * INCH, MIX, COLOURS) for feet, inches in ((33, 22), (82, 22), (125, 25))]
GARLANDS.append(GarlandSpec(180 * FOOT, Decimal("28.5") * INCH, MIX, COLOURS))
WALLS = [WallSpec(feet * FOOT, 10 * FOOT, MIX, COLOURS) for feet in (10, 26, 52)]
TEXTS = [GlyphsSpec("8" * n, 96 * INCH, ((5, 100),), COLOURS) for n in (1, 2, 4, 8)]


def seconds(lay_outs):
    """Median seconds of the processor for each, taken turn by turn so that a busy machine slows all alike."""
    timed: list[list[float]] = [[] for _ in lay_outs]
    for lay_out in lay_outs:
        lay_out()
    for _ in range(TIMES):
        for lay_out, kept in zip(lay_outs, timed, strict=True):
            begun = process_time()
            lay_out()
            kept.append(process_time() - begun)
    return [median(kept) for kept in timed]


def exponent(numbers, times):
    """The slope of log time over log number, by least squares."""
    xs, ys = [log(n) for n in numbers], [log(t) for t in times]
    x, y = sum(xs) / len(xs), sum(ys) / len(ys)
    return sum((a - x) * (b - y) for a, b in zip(xs, ys, strict=True)) / sum((a - x) ** 2 for a in xs)


@pytest.mark.parametrize(
    ("kind", "specs"),
    [
        pytest.param(garlands, GARLANDS, id="garland"),
        pytest.param(wall, WALLS, id="organic panel"),
        pytest.param(glyphs, TEXTS, id="numerals"),
    ],
)
def test_time_grows_hardly_faster_than_the_balloons(kind, specs):
    numbers = [len(kind.lay_out(spec).balloons) for spec in specs]
    times, found = [], []
    for _ in range(3):
        times = seconds([lambda spec=spec: kind.lay_out(spec) for spec in specs])
        found.append(exponent(numbers, times))
    print(f"\n{numbers} balloons in {[f'{t * 1000:.0f} ms' for t in times]}: exponents {[f'{e:.2f}' for e in found]}")
    assert min(found) <= 1.2


@pytest.mark.parametrize(
    ("spec", "back_stop"),
    [
        pytest.param(GARLANDS[0], 0.1, id="300 in 100 ms"),
        pytest.param(GARLANDS[2], 0.7, id="1,500 in 700 ms"),
        pytest.param(GarlandSpec(200 * FOOT, 96 * INCH, ((5, 50), (24, 50)), COLOURS), 2.0, id="200 ft by 8 ft in 2 s"),
        pytest.param(GarlandSpec(200 * FOOT, 23 * INCH, ((5, 100),), COLOURS), 2.0, id="13,000 in 2 s"),
    ],
)
def test_a_garland_is_laid_out_in_time(spec, back_stop):
    (taken,) = min(seconds([lambda: garlands.lay_out(spec)]) for _ in range(3))
    print(f"\n{len(garlands.lay_out(spec).balloons)} balloons: {taken * 1000:.0f} ms")
    assert taken < back_stop
