"""How long laying out takes, against as many plain steps of the same arithmetic. Run by name; not part of the tests.

python -m pytest tests/bench/bench_layout_speed.py
"""

from decimal import Decimal
from statistics import median
from time import process_time

import numpy as np
import pytest

from estimating.kinds import GarlandSpec
from estimating.kinds.garland import FIRST_STEPS, MORE_STEPS, ROUNDS, lay_out

ROUNDS_TIMED = 7


def a_spec(feet):
    return GarlandSpec(
        Decimal(feet) * Decimal("304.8"),
        Decimal("558.8"),
        ((5, 30), (11, 62), (16, 8)),
        (("a", 40), ("b", 30), ("c", 20), ("d", 10)),
    )


def plain_loop(number, steps):
    """The least any such settling does: six neighbours a balloon, a gap, a push and their sum, every step."""
    places = np.linspace(0.0, 400.0, number)
    x, y, z = places.copy(), np.sin(places), np.cos(places)
    a = np.repeat(np.arange(number), 6)
    b = (a + np.tile(np.arange(1, 7), number)) % number
    for _ in range(steps):
        ex, ey, ez = x[a] - x[b], y[a] - y[b], z[a] - z[b]
        gap = np.sqrt(ex * ex + ey * ey + ez * ez) + 1e-9
        push = 0.01 * np.maximum(4.0 - gap, 0.0) / gap
        x = x + np.bincount(a, ex * push, number)
        y = y + np.bincount(a, ey * push, number)
        z = z + np.bincount(a, ez * push, number)
    return x


def interleaved(one, other):
    """Median seconds of the processor for each, taken turn by turn so that a busy machine slows both."""
    one(), other()
    timed: tuple[list[float], list[float]] = ([], [])
    for _ in range(ROUNDS_TIMED):
        for work, kept in zip((one, other), timed, strict=True):
            begun = process_time()
            work()
            kept.append(process_time() - begun)
    return median(timed[0]), median(timed[1])


@pytest.mark.parametrize(
    ("feet", "back_stop"),
    [pytest.param(33, 0.150, id="300 balloons"), pytest.param(200, 1.5, id="1800 balloons")],
)
def test_laying_out_costs_little_more_than_its_steps(feet, back_stop):
    spec = a_spec(feet)
    number = len(lay_out(spec).balloons)
    steps = FIRST_STEPS + ROUNDS * MORE_STEPS
    ours, plain = min(interleaved(lambda: lay_out(spec), lambda: plain_loop(number, steps)) for _ in range(3))
    print(f"\n{number} balloons: {ours * 1000:.0f} ms, {ours / plain:.2f} times {steps} plain steps")
    # What comes on top: looking up neighbours, necks, measuring, tying on and spreading the colours.
    assert ours < 5 * plain
    assert ours < back_stop


def test_time_grows_hardly_faster_than_the_garland():
    short, long = a_spec(20), a_spec(160)
    quick, slow = interleaved(lambda: lay_out(short), lambda: lay_out(long))
    assert slow / quick < 8**1.15
