"""Ranges of whole numbers: which counts they take in, and how nearly they hold what they say."""

from math import exp

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from estimating.learning import Beta, Gamma, minutes_range
from estimating.ranges import (
    beta_binomial_log_chance,
    beta_binomial_mode,
    beta_binomial_range,
    likeliest,
    negative_binomial_marks,
    negative_binomial_mode,
    negative_binomial_range,
)

CHANCES = st.sampled_from([0.5, 0.8, 0.9, 0.95])
TINY = 1e-9


def nearest(chances, chance):
    """How near any range of neighbours comes to `chance` that leaves out nothing likelier than what it holds."""
    order = sorted(range(len(chances)), key=lambda count: -chances[count])
    sums = np.cumsum([chances[count] for count in order])
    return min(abs(sums - chance))


def of_range(chances, low, high):
    return sum(chances[low : high + 1])


@settings(max_examples=80, deadline=None)
@given(r=st.floats(0.2, 800), p=st.floats(0.1, 0.99), chance=CHANCES)
def test_no_other_of_the_likeliest_counts_come_nearer(r, p, chance):
    low, high = negative_binomial_range(r, p, chance)
    chances = stats.nbinom.pmf(range(int(stats.nbinom.ppf(0.999_999, r, p)) + high + 2), r, p)

    assert abs(of_range(chances, low, high) - chance) <= nearest(chances, chance) + TINY


@settings(max_examples=80, deadline=None)
@given(number=st.integers(0, 900), a=st.floats(0.05, 300), b=st.floats(1, 3_000), chance=CHANCES)
def test_no_other_of_the_likeliest_numbers_of_pops_come_nearer(number, a, b, chance):
    low, high = beta_binomial_range(number, a, b, chance)
    chances = stats.betabinom.pmf(range(number + 1), number, a, b)

    assert 0 <= low <= high <= number
    assert abs(of_range(chances, low, high) - chance) <= nearest(chances, chance) + TINY


@settings(max_examples=80, deadline=None)
@given(r=st.floats(0.2, 800), p=st.floats(0.1, 0.99), chance=CHANCES)
def test_nothing_left_out_is_likelier_than_what_is_held(r, p, chance):
    low, high = negative_binomial_range(r, p, chance)
    least = min(stats.nbinom.pmf([low, high], r, p))

    assert low == 0 or stats.nbinom.pmf(low - 1, r, p) <= least * (1 + TINY)
    assert stats.nbinom.pmf(high + 1, r, p) <= least * (1 + TINY)


@settings(max_examples=60, deadline=None)
@given(number=st.integers(0, 600), a=st.floats(0.05, 300), b=st.floats(0.05, 3_000))
def test_who_asks_for_more_is_told_no_narrower_range(number, a, b):
    ranges = [beta_binomial_range(number, a, b, chance) for chance in (0.5, 0.8, 0.9, 0.99)]

    lows, highs = zip(*ranges, strict=True)
    assert list(lows) == sorted(lows, reverse=True)
    assert list(highs) == sorted(highs)


@settings(max_examples=80, deadline=None)
@given(r=st.floats(0.2, 5_000), p=st.floats(0.05, 0.99))
def test_the_likeliest_count_is_the_librarys(r, p):
    mode = negative_binomial_mode(r, p)
    beside = stats.nbinom.pmf([mode, mode + 1, max(mode - 1, 0)], r, p)
    assert beside[0] >= max(beside) * (1 - TINY)


@settings(max_examples=80, deadline=None)
@given(number=st.integers(0, 1_500), a=st.floats(0.05, 300), b=st.floats(0.05, 3_000))
def test_the_likeliest_number_of_pops_is_the_librarys(number, a, b):
    chances = stats.betabinom.pmf(range(number + 1), number, a, b)
    assert chances[beta_binomial_mode(number, a, b)] >= max(chances) * (1 - 1e-6)


@settings(max_examples=60, deadline=None)
@given(r=st.floats(2, 800), p=st.floats(0.1, 0.99))
def test_a_time_lies_between_its_marks_as_nearly_as_four_times_in_five(r, p):
    """Spread over half a five on either side of each mark, so much lies between the first and the last."""
    low, high = negative_binomial_marks(r, p, 0.8)
    chances = stats.nbinom.pmf(range(high + 2), r, p)
    steps = (chances[:-1] + chances[1:]) / 2
    steps[0] += chances[0] / 2

    held = sum(steps[low:high])
    outside = max(steps[low - 1] if low else 0, steps[high])
    assert high > low
    assert abs(held - 0.8) <= max(abs(held + outside - 0.8), TINY)
    assert held <= 0.8 or high - low == 1 or abs(held - min(steps[low], steps[high - 1]) - 0.8) >= held - 0.8 - TINY


def test_over_many_jobs_ranges_hold_what_they_say():
    """One may hold a little more, another a little less; that evens out."""
    held = []
    for number in range(150, 601):
        for part in (0.01, 0.03, 0.06, 0.1):
            known = Beta.prior(part, 400)
            found = known.predicted(number)
            counts = range(found.low, found.high + 1)
            held.append(sum(exp(beta_binomial_log_chance(one, number, known.popped, known.held)) for one in counts))

    assert np.mean(held) == pytest.approx(0.8, abs=0.003)
    assert 0.7 < min(held) <= max(held) < 0.9


@pytest.mark.parametrize(
    ("chances", "start", "chance", "held"),
    [
        pytest.param([0.1, 0.2, 0.4, 0.2, 0.1], 2, 0.8, (1, 3), id="exactly"),
        pytest.param([0.1, 0.1, 0.5, 0.2, 0.1], 2, 0.8, (2, 4), id="of two neighbours alike the one above"),
        pytest.param([0.05, 0.25, 0.4, 0.25, 0.05], 2, 0.775, (1, 3), id="of two sums as near the wider"),
        pytest.param([0.95, 0.04, 0.01], 0, 0.8, (0, 0), id="one count alone holds more"),
        pytest.param([0.7, 0.25, 0.05], 0, 0.8, (0, 0), id="a little less is nearer than a lot more"),
        pytest.param([0.7, 0.15, 0.15], 0, 0.8, (0, 1), id="a little more is nearer than a lot less"),
        pytest.param([1.0], 0, 0.8, (0, 0), id="nothing can pop"),
    ],
)
def test_the_range_that_comes_nearest_is_taken(chances, start, chance, held):
    assert likeliest(lambda count: chances[count], start, chance, len(chances) - 1) == held


def test_where_hardly_any_pop_the_range_is_none():
    found = Beta.prior(0.03, 400).predicted(5)
    assert (found.low, found.high) == (0, 0)


@settings(max_examples=40, deadline=None)
@given(minutes=st.integers(1, 3_000), strength=st.floats(60, 5_000))
def test_times_are_said_to_five_minutes_and_are_never_a_point(minutes, strength):
    found = minutes_range(minutes, strength=strength)
    assert found.low % 5 == found.high % 5 == 0
    assert 0 <= found.low < found.high


@settings(max_examples=30, deadline=None)
@given(exposure=st.floats(1, 100_000), strength=st.floats(1, 1_000_000))
def test_counts_of_any_job_are_reckoned(exposure, strength):
    assume(exposure / strength < 10_000)
    found = Gamma.prior(1, strength).predicted(exposure)
    assert 0 <= found.low <= found.high
    assert found.high >= found.estimate / 2
