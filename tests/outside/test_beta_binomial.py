"""Beta–binomial figures as textbooks publish them, and a statistics library's distributions beside ours."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from scipy import stats

from estimating.learning import Beta, Gamma
from estimating.quantiles import beta_chance, beta_quantile, gamma_chance, gamma_quantile
from estimating.ranges import beta_binomial_log_chance, negative_binomial_log_chance


def test_births_with_placenta_previa():
    """A Bayesian textbook (section 2.4, from memory): 437 girls of 980 after a flat prior: 0.446, 0.415 to 0.477."""
    known = Beta(1, 1).after([(980, 437)])
    assert (known.popped, known.held) == (438, 544)
    assert known.mean == pytest.approx(0.446, abs=5e-4)
    assert known.likely(0.95) == pytest.approx((0.415, 0.477), abs=5e-4)


@pytest.mark.parametrize(
    ("prior", "of", "seen", "posterior", "mean"),
    [
        pytest.param((45, 55), 50, 30, (75, 75), 0.5, id="a poll of 50 voters"),
        pytest.param((1, 10), 40, 26, (27, 24), 0.5294, id="an experiment with 40 people"),
    ],
)
def test_a_prior_and_a_poll(prior, of, seen, posterior, mean):
    """A published course on Bayesian modelling, chapters 3 (from memory, recomputed)."""
    known = Beta(*prior).after([(of, seen)])
    assert (known.popped, known.held) == posterior
    assert known.mean == pytest.approx(mean, abs=5e-5)


@pytest.mark.parametrize("number", [1, 2, 10, 100])
def test_after_a_flat_prior_every_count_is_as_likely(number):
    """The rule of succession (Laplace, common knowledge): each of 0 to n has the chance 1 / (n + 1)."""
    for count in range(number + 1):
        assert stats.betabinom.pmf(count, number, 1, 1) == pytest.approx(1 / (number + 1))
        assert 2.718281828459045 ** beta_binomial_log_chance(count, number, 1, 1) == pytest.approx(1 / (number + 1))
    assert Beta(1, 1).after([(number, number)]).mean == pytest.approx((number + 1) / (number + 2))


@pytest.mark.parametrize(
    ("shape", "rate", "above_one"),
    [pytest.param(6, 7, 0.30, id="one year"), pytest.param(33, 25, 0.93, id="ten years")],
)
def test_how_likely_a_rate_is_above_one(shape, rate, above_one):
    """The textbook's asthma example (section 2.6, from memory): P(rate > 1) is 0.30 after a year, 0.93 after ten."""
    assert 1 - gamma_chance(rate, shape) == pytest.approx(above_one, abs=5e-3)


FIGURE = some.floats(0.05, 3_000, allow_nan=False)
CHANCE = some.floats(0.001, 0.999)


@given(shape=FIGURE, rate=FIGURE, chance=CHANCE)
@settings(max_examples=150, deadline=None)
def test_the_ends_of_a_gamma_are_the_librarys(shape, rate, chance):
    assert gamma_quantile(chance, shape, rate) == pytest.approx(
        stats.gamma.ppf(chance, shape, scale=1 / rate), rel=1e-7
    )


@given(a=FIGURE, b=FIGURE, chance=CHANCE)
@settings(max_examples=150, deadline=None)
def test_the_ends_of_a_beta_are_the_librarys(a, b, chance):
    found = beta_quantile(chance, a, b)
    # Where a Beta hugs 1 or 0, figures of that size cannot be told apart any more: its own chance is what must agree.
    assert found == pytest.approx(stats.beta.ppf(chance, a, b), rel=1e-6, abs=1e-12)
    assert beta_chance(found, a, b) == pytest.approx(stats.beta.cdf(found, a, b), abs=1e-7)


@given(a=some.floats(0.05, 500), b=some.floats(0.05, 5_000), number=some.integers(0, 1_500), of=some.floats(0, 1))
@settings(max_examples=150, deadline=None)
def test_chances_of_pops_are_the_librarys(a, b, number, of):
    count = round(number * of)
    # The library takes a difference of large logarithms too: what neither can tell from nothing is not compared.
    assert beta_binomial_log_chance(count, number, a, b) == pytest.approx(
        stats.betabinom.logpmf(count, number, a, b), rel=1e-7, abs=1e-7
    )


@given(shape=some.floats(0.2, 5_000), p=some.floats(0.05, 0.99), count=some.integers(0, 3_000))
@settings(max_examples=150, deadline=None)
def test_chances_of_counts_to_come_are_the_librarys(shape, p, count):
    assert negative_binomial_log_chance(count, shape, p) == pytest.approx(
        stats.nbinom.logpmf(count, shape, p), rel=1e-7, abs=1e-7
    )


def test_the_ends_of_a_rate_enclose_it():
    low, high = Gamma.prior(1, 400).likely()
    assert low < 1 < high
    assert stats.gamma.cdf(high, 400, scale=1 / 400) - stats.gamma.cdf(low, 400, scale=1 / 400) == pytest.approx(0.8)
