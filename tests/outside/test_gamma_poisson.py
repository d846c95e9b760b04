"""Gamma–Poisson figures as courses publish them."""

from itertools import accumulate
from math import exp

import pytest

from estimating.learning import Gamma
from estimating.ranges import negative_binomial_log_chance


def reached(r: float, p: float) -> list[float]:
    """How likely at most 0, at most 1, at most 2 … come next."""
    return list(accumulate(exp(negative_binomial_log_chance(count, r, p)) for count in range(60)))


def not_exceeded(chance: float, r: float, p: float) -> int:
    """The least count that is not exceeded with that chance."""
    return next(count for count, so_far in enumerate(reached(r, p)) if so_far >= chance)


def test_four_counts_after_a_prior_worth_two():
    """A published course: prior Gamma(10, rate 2), counts 6, 2, 2, 1 give Gamma(21, 6) with mean 3.5."""
    known = Gamma(10, 2).after([(1, 6), (1, 2), (1, 2), (1, 1)])
    assert (known.shape, known.rate, known.mean) == (21, 6, 3.5)


def test_what_comes_next_is_negative_binomial():
    """The same course: predictive mean 3.5, and P(0 to 4)."""
    published = [0.03928, 0.11783, 0.18515, 0.20279, 0.17382]
    chances = [exp(negative_binomial_log_chance(k, 21, 6 / 7)) for k in range(60)]

    assert chances[:5] == pytest.approx(published, abs=5e-6)
    assert sum(chances) == pytest.approx(1)
    mean = sum(k * chance for k, chance in enumerate(chances))
    assert mean == pytest.approx(3.5)
    assert sum((k - mean) ** 2 * chance for k, chance in enumerate(chances)) == pytest.approx(4.0833, abs=5e-5)
    assert not_exceeded(0.95, 21, 6 / 7) == 7


@pytest.mark.parametrize(
    ("seen", "shape", "rate", "mean"),
    [
        pytest.param([20], 20, 1, 20, id="one count"),
        pytest.param([20, 24], 44, 2, 22, id="two"),
        pytest.param([20, 24, 23], 67, 3, 67 / 3, id="three"),
    ],
)
def test_counts_after_a_prior_that_says_nothing(seen, shape, rate, mean):
    """Course notes with the improper prior 1/θ, which a Gamma of next to nothing stands for here."""
    known = Gamma(1e-9, 1e-9).after([(1, count) for count in seen])
    assert (known.shape, known.rate, known.mean) == pytest.approx((shape, rate, mean))


def test_what_comes_after_three_counts():
    """The same notes: 5, 50 and 95 % of what comes next are 14, 22 and 32."""
    assert [not_exceeded(chance, 67, 3 / 4) for chance in (0.05, 0.5, 0.95)] == [14, 22, 32]


def test_the_range_after_three_counts():
    """14 to 32 holds 91.9 % by the same notes' distribution; ours, asked for 90 %, comes nearer with one count less."""
    found, so_far = Gamma(67, 3).predicted(1, chance=0.90), reached(67, 3 / 4)
    assert (found.low, found.high) == (14, 31)
    assert so_far[32] - so_far[13] == pytest.approx(0.919, abs=5e-4)
    assert so_far[31] - so_far[13] == pytest.approx(0.900, abs=5e-3)


@pytest.mark.parametrize(
    ("exposure", "deaths", "shape", "rate", "mean"),
    [
        pytest.param(2.0, 3, 6, 7, 0.857, id="one year of a small city"),
        pytest.param(20.0, 30, 33, 25, 1.32, id="ten years"),
    ],
)
def test_a_rate_with_an_exposure(exposure, deaths, shape, rate, mean):
    """A Bayesian textbook's asthma example (section 2.6, from memory, recomputed): prior Gamma(3, 5)."""
    known = Gamma(3, 5).after([(exposure, deaths)])
    assert (known.shape, known.rate) == (shape, rate)
    assert known.mean == pytest.approx(mean, abs=5e-4)
