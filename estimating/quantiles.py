"""Below which figure a Gamma or a Beta lies with a given chance: the ends of what is said of a setting.

The distribution functions are summed by the usual series and continued fractions (mathematical handbooks, from
memory) and searched by halving; a part in a million is finer than anything that is shown.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import exp, lgamma, log, log1p

_MOST_STEPS = 20_000
_NEAR = 1e-10
"""Halving stops when what is left is this part of the figure."""
_NOTHING_LEFT = 1e-13
_TINY = 1e-300


# The same few settings are asked for by every estimate of a page, and a plan makes one of every job.
@lru_cache(maxsize=4096)
def gamma_quantile(chance: float, shape: float, rate: float) -> float:
    """The value that a Gamma of that shape and rate does not exceed with that chance, from 0 up to 1."""
    high = shape + 1
    while gamma_chance(high, shape) < chance:
        high *= 2
    return _where(chance, lambda x: gamma_chance(x, shape), high) / rate


def beta_quantile(chance: float, a: float, b: float) -> float:
    """The value between 0 and 1 that a Beta does not exceed with that chance."""
    return _where(chance, lambda x: beta_chance(x, a, b), 1.0)


def gamma_chance(x: float, shape: float) -> float:
    """The chance that a Gamma of that shape, with rate 1, is at most `x`."""
    if x <= 0:
        return 0.0
    first = exp(shape * log(x) - x - lgamma(shape))
    if x < shape + 1:
        term = total = 1 / shape
        for n in range(1, _MOST_STEPS):
            term *= x / (shape + n)
            total += term
            if term < total * _NOTHING_LEFT:
                break
        return min(first * total, 1.0)
    return max(1 - first * _fraction(x + 1 - shape, lambda n: (-n * (n - shape), x + 1 - shape + 2 * n)), 0.0)


def beta_chance(x: float, a: float, b: float) -> float:
    """The chance that a Beta of those two figures is at most `x`."""
    if x <= 0 or x >= 1:
        return float(x >= 1)
    # The fraction runs quickly on one side of the mean only; the other side is its mirror image.
    if x > (a + 1) / (a + b + 2):
        return 1 - beta_chance(1 - x, b, a)
    first = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x)) / a

    def part(n: int) -> tuple[float, float]:
        k = n // 2
        if n % 2:
            return -(a + k) * (a + b + k) * x / ((a + 2 * k) * (a + 2 * k + 1)), 1.0
        return k * (b - k) * x / ((a + 2 * k - 1) * (a + 2 * k)), 1.0

    return min(first * _fraction(1.0, part), 1.0)


def _fraction(start: float, part: Callable[[int], tuple[float, float]]) -> float:
    """1 / (start + p1 / (q1 + p2 / (q2 + …))), evaluated from the front (modified Lentz)."""
    c, d = 1 / _TINY, 1 / (start or _TINY)
    total = d
    for n in range(1, _MOST_STEPS):
        above, below = part(n)
        d = 1 / (below + above * d or _TINY)
        c = below + above / c or _TINY
        change = c * d
        total *= change
        if abs(change - 1) < _NOTHING_LEFT:
            break
    return total


def _where(chance: float, reached: Callable[[float], float], high: float) -> float:
    """Where a chance that grows from 0 to `high` is reached."""
    low = 0.0
    for _ in range(100):
        if high - low <= _NEAR * high:
            break
        middle = (low + high) / 2
        if reached(middle) < chance:
            low = middle
        else:
            high = middle
    return (low + high) / 2
