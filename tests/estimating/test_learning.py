"""Learning: ranges from a prior, and how they narrow."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from estimating.learning import Beta, Gamma, PopsSeen, count_range, minutes_range, pops_by_size
from estimating.materials import count_with_spares
from estimating.ranges import Range
from estimating.specs import SpecErrors


def least(reached, chance, count):
    """Whether `count` is the least whose summed chance suffices, allowing a float's last figures."""
    return reached(count) >= chance - 1e-9 and (count == 0 or reached(count - 1) < chance + 1e-9)


def test_no_exposure_gives_nothing():
    assert Gamma.prior(1, 100).predicted(0) == Range(0, 0, 0)
    assert minutes_range(0, strength=720) == Range(0, 0, 0)
    assert Beta.prior(0.03, 400).predicted(0) == Range(0, 0, 0)


@settings(max_examples=60, deadline=None)
@given(balloons=st.integers(1, 3_000), strength=st.floats(1, 5_000))
def test_the_figure_reckoned_lies_in_its_range(balloons, strength):
    found = count_range(balloons, strength=strength)

    assert found.estimate == pytest.approx(balloons)
    assert found.low <= balloons + 1
    assert found.high >= balloons - 1 or strength < balloons / 5  # A prior worth little leans low.


@settings(max_examples=40, deadline=None)
@given(strength=st.floats(50, 2_000), jobs=st.integers(1, 10))
def test_jobs_that_come_out_as_reckoned_narrow_the_range(strength, jobs):
    """Both ends are whole fives, so that one of them may move a step while the range hardly narrows."""
    before = minutes_range(600, strength=strength)
    after = minutes_range(600, strength=strength, seen=[(600, 600)] * jobs)

    assert after.high - after.low <= before.high - before.low
    assert after.estimate == pytest.approx(600)


def test_jobs_that_took_longer_move_the_range_up():
    before = minutes_range(300, strength=600)
    after = minutes_range(300, strength=600, seen=[(300, 390), (420, 540)])

    assert after.estimate == pytest.approx(300 * (600 + 930) / (600 + 720))
    assert after.low > before.low and after.high > before.high


def test_minutes_are_said_to_five():
    found = minutes_range(310, strength=720)

    assert found.low % 5 == found.high % 5 == 0
    assert 240 <= found.low < 310 < found.high <= 380


def test_pops_seen_move_the_chance_of_a_pop():
    known = Beta.prior(0.03, 200).after([(300, 21), (100, 6)])

    assert known.mean == pytest.approx((6 + 27) / 600)
    assert known.predicted(300).low < 300 * known.mean < known.predicted(300).high


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        pytest.param(lambda: Gamma.prior(0, 10), "mean must be above 0 (got 0)", id="a rate of nothing"),
        pytest.param(lambda: Gamma.prior(1, -2), "strength must be above 0 (got -2)", id="a strength below nothing"),
        pytest.param(lambda: Gamma(1, float("nan")), "rate must be above 0 (got nan)", id="no number"),
        pytest.param(lambda: Gamma(1, 1).after([(-1, 2)]), "exposure must be 0 or more (got -1)", id="less than none"),
        pytest.param(lambda: Gamma(1, 1).predicted(5, 1.0), "chance must be between 0 and 1 (got 1.0)", id="certain"),
        pytest.param(lambda: Gamma(1, 1).predicted(2e6), "exposure must be at most 1000000", id="beyond all jobs"),
        pytest.param(lambda: Beta.prior(1, 10), "mean must be less than 1 (got 1)", id="every one pops"),
        pytest.param(lambda: Beta(1, 1).after([(5, 6)]), "popped must be at most the 5 inflated (got 6)", id="six"),
    ],
)
def test_figures_that_make_no_sense_are_refused(wrong, said):
    with pytest.raises(SpecErrors) as refused:
        wrong()
    assert said in str(refused.value)


def test_a_long_job_is_answered_at_once(benchmark):
    """The longest a piece may be said to take is 60,000 minutes."""
    found = benchmark(minutes_range, 60_000, strength=720)
    assert found.low < 60_000 < found.high


@settings(max_examples=60, deadline=None)
@given(
    needed=st.integers(1, 1_500),
    a=st.floats(0.2, 300),
    b=st.floats(15, 3_000),
    chance=st.sampled_from([0.5, 0.9, 0.95, 0.99]),
)
def test_how_many_to_inflate_agrees_with_scipy(needed, a, b, chance):
    """The least n of which, the chance of a pop being a Beta, at least `needed` hold with that chance."""
    spares = Beta(a, b).to_inflate(needed, chance) - needed

    def hold(spares):
        return stats.betabinom.cdf(spares, needed + spares, a, b)

    assert least(hold, chance, spares)


@pytest.mark.parametrize(("needed", "percent"), [(150, 5), (150, 3), (100, 3), (300, 5)])
def test_a_chance_that_is_known_well_takes_the_binomials_spares(needed, percent):
    known = Beta.prior(percent / 100, 10_000_000)
    assert known.to_inflate(needed, 0.95) == count_with_spares(needed, percent / 100, 0.95)


def test_a_chance_that_is_known_badly_takes_more_spares():
    few, many = (Beta.prior(0.03, strength).to_inflate(150, 0.95) for strength in (100, 1_000))
    assert few > many >= count_with_spares(150, 0.03, 0.95)


def test_nothing_needed_takes_nothing():
    assert Beta(3, 97).to_inflate(0, 0.95) == 0


SEEN = (
    PopsSeen(11, False, 300, 3),
    PopsSeen(11, False, 200, 12),
    PopsSeen(11, True, 100, 30),
    PopsSeen(5, False, 80, 0),
    PopsSeen(36, False, 0, 0),
)


def test_pops_are_learned_by_size_and_by_place():
    indoors = pops_by_size(SEEN, outdoors=False, expected=0.03, strength=400)
    outdoors = pops_by_size(SEEN, outdoors=True, expected=0.08, strength=400)

    assert indoors == {5: Beta(12, 468), 11: Beta(27, 873)}
    assert outdoors == {11: Beta(62, 438)}


def test_a_size_nobody_has_seen_is_left_to_the_studios_own_figure():
    assert pops_by_size((), outdoors=False, expected=0.03, strength=400) == {}


def test_a_studio_that_expects_no_pops_still_learns_from_some():
    known = pops_by_size([PopsSeen(11, False, 100, 5)], outdoors=False, expected=0, strength=400)[11]
    assert 0.009 < known.mean < 0.011


def test_one_that_popped_asks_for_no_absurd_number():
    """However little the own figures are said to be worth."""
    known = pops_by_size([PopsSeen(36, False, 1, 1)], outdoors=False, expected=0.5, strength=1)[36]
    assert known.to_inflate(3000, 0.999) < 20_000
