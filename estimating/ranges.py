"""From where to where a count or a time most likely comes out, and how likely each whole number is.

Counts are whole, so hardly any range of them holds four in five exactly. One that holds at least as much holds too
much nearly every time: where few balloons pop, 85 or 90 % of all jobs, wider than it need be, and whoever looks back
at how good the estimates were would take luck for skill. Ours is the one that comes nearest, now a little above, now a
little below, so that over many jobs it is four in five. That what is guaranteed at every single one is needlessly wide,
and that the mean is what an interval should be judged by, is argued by Brown, Cai and DasGupta, “Interval Estimation
for a Binomial Proportion”, Statistical Science 16 (2001), 101–133, of intervals for a chance; here it is applied to
what comes out next.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, lgamma, log, log1p

CHANCE = 0.80
"""How often what comes out lies within the range that is said."""


@dataclass(frozen=True, slots=True)
class Range:
    """What is expected, and from where to where it most likely comes out."""

    estimate: float
    low: int
    high: int


def likeliest(chance_of: Callable[[int], float], start: int, chance: float, most: int | None = None) -> tuple[int, int]:
    """The first and the last of the likeliest whole numbers that hold together as nearly as can be that chance.

    `chance_of` says how likely one of them is, from 0 to `most`, and `start` is the likeliest. To it is added always
    the likelier of its two neighbours (of two alike, the one above), as long as that brings the sum nearer to `chance`
    or leaves it as near. Where chances only fall on either side of `start`, nothing left out is likelier than anything
    within, so no range that holds as much is shorter.
    """
    low = high = start
    held = chance_of(start)
    below, above = _beside(chance_of, low - 1, most), _beside(chance_of, high + 1, most)
    while more := max(below, above):
        if held + more - chance > chance - held:
            break
        held += more
        if above >= below:
            high += 1
            above = _beside(chance_of, high + 1, most)
        else:
            low -= 1
            below = _beside(chance_of, low - 1, most)
    return low, high


def negative_binomial_range(r: float, p: float, chance: float) -> tuple[int, int]:
    """The likeliest counts of a negative binomial."""
    return likeliest(lambda k: exp(negative_binomial_log_chance(k, r, p)), negative_binomial_mode(r, p), chance)


def negative_binomial_marks(r: float, p: float, chance: float) -> tuple[int, int]:
    """From which count to which, where what is counted is measured: a time, counted in fives of minutes.

    A time that was said to be so many fives lies anywhere from half a five below to half a five above. Between one
    mark and the next lies therefore half of what each of the two marks has, and the steps from mark to mark are what
    is added up.
    """
    if p == 1:
        return 0, 0

    def at(mark: int) -> float:
        # Nothing takes less than no time.
        return exp(negative_binomial_log_chance(mark, r, p)) * (1.0 if mark else 2.0)

    def step(mark: int) -> float:
        return (at(mark) + at(mark + 1)) / 2

    peak = negative_binomial_mode(r, p)
    first, last = likeliest(step, max(range(max(peak - 1, 0), peak + 1), key=step), chance)
    return first, last + 1


def beta_binomial_range(number: int, a: float, b: float, chance: float) -> tuple[int, int]:
    """The likeliest counts of a beta binomial."""
    start = beta_binomial_mode(number, a, b)
    return likeliest(lambda k: exp(beta_binomial_log_chance(k, number, a, b)), start, chance, number)


def negative_binomial_log_chance(count: int, r: float, p: float) -> float:
    """The logarithm of the chance of exactly `count`: Γ(r + k) / (k! Γ(r)) · p^r · (1 − p)^k. `r` need not be whole."""
    if p == 1:
        return 0.0 if count == 0 else float("-inf")
    return lgamma(r + count) - lgamma(count + 1) - lgamma(r) + r * log(p) + count * log1p(-p)


def negative_binomial_mode(r: float, p: float) -> int:
    """The likeliest count: the last that is likelier than the one before, k · p < (r − 1)(1 − p)."""
    return max(int((r - 1) * (1 - p) / p), 0)


def beta_binomial_log_chance(count: int, number: int, a: float, b: float) -> float:
    """The logarithm of the chance of exactly `count` of `number`: C(n, k) · B(k + a, n − k + b) / B(a, b)."""
    return (
        lgamma(number + 1)
        - lgamma(count + 1)
        - lgamma(number - count + 1)
        + log_beta(count + a, number - count + b)
        - log_beta(a, b)
    )


def beta_binomial_mode(number: int, a: float, b: float) -> int:
    """The likeliest count, k < (n + 1)(a − 1) / (a + b − 2); the likelier end where the middle is the least likely."""
    if a <= 1 or b <= 1:
        return 0 if a <= b else number
    return min(int((number + 1) * (a - 1) / (a + b - 2)), number)


def log_beta(a: float, b: float) -> float:
    """The logarithm of the beta function."""
    return lgamma(a) + lgamma(b) - lgamma(a + b)


def _beside(chance_of: Callable[[int], float], count: int, most: int | None) -> float:
    return chance_of(count) if count >= 0 and (most is None or count <= most) else 0.0
