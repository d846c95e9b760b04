"""Spares against a reference implementation of the binomial distribution and four worked figures.

Reference: scipy.stats.binom. Worked figures: balloons to have n good with a chance of 95 % at a reject rate (derived).
"""

import pytest
from scipy.stats import binom

from estimating.materials import count_with_spares


@pytest.mark.parametrize(
    ("needed", "pop_rate", "total"), [(150, 0.05, 163), (150, 0.03, 158), (100, 0.03, 106), (300, 0.05, 323)]
)
def test_the_worked_figures(needed, pop_rate, total):
    assert count_with_spares(needed, pop_rate, 0.95) == total


@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.9, 0.95, 0.99, 0.999])
@pytest.mark.parametrize("pop_rate", [0.001, 0.01, 0.02, 0.03, 0.05, 0.08, 0.1, 0.2, 0.5])
def test_it_is_the_smallest_count_that_suffices(pop_rate, confidence):
    for needed in [*range(1, 40), 57, 100, 150, 300, 999, 3000]:
        total = count_with_spares(needed, pop_rate, confidence)
        assert binom.sf(needed - 1, total, 1 - pop_rate) >= confidence - 1e-9
        if total > needed:
            assert binom.sf(needed - 1, total - 1, 1 - pop_rate) < confidence + 1e-9
