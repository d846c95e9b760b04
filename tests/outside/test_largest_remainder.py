"""Apportionment by largest remainder (Hamilton's method).

The first vector is the election usually printed to explain the method (figures from memory, recomputed); the second
is arithmetic; the Alabama paradox is the method's known flaw, with the smallest usual figures.
"""

import pytest

from studio.money import shares


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        pytest.param(10, [47000, 16000, 15800, 12000, 6100, 3100], [5, 2, 1, 1, 1, 0], id="ten seats, six parties"),
        pytest.param(143, [40, 30, 20, 10], [57, 43, 29, 14], id="143 balloons in four colours"),
        pytest.param(10, [6, 6, 2], [4, 4, 2], id="before the paradox"),
        pytest.param(11, [6, 6, 2], [5, 5, 1], id="one more takes one away"),
    ],
)
def test_largest_remainder(total, weights, parts):
    assert shares(total, weights) == parts
