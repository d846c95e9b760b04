import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating import packing
from estimating.packing import Tethered, balloons_for
from estimating.spines import doorway, straight


def tied(spine, s, radius=4.5, reach=None, across=None):
    n = len(s)
    turned = np.array(across if across is not None else [1.0, -1.0] * n)[:n]
    return Tethered(
        spine=spine,
        s=np.array(s, dtype=float),
        reach=np.full(n, reach if reach is not None else radius),
        radius=np.full(n, radius),
        across=turned,
        towards=np.sqrt(1 - turned * turned),
    )


def test_a_lone_balloon_rests_at_the_end_of_its_neck():
    one = tied(straight(100), [50], reach=6.0)
    one.settle(200)
    assert (one.x[0], one.y[0], one.z[0]) == pytest.approx((50, 6, 0), abs=1e-6)


def test_two_that_overlap_push_each_other_apart():
    two = tied(straight(100), [50, 52], across=[1.0, 1.0])
    two.settle(200)
    assert np.hypot(two.x[0] - two.x[1], two.y[0] - two.y[1]) > 8.0


def test_balloons_hardly_overlap_once_settled():
    many = tied(straight(240), np.linspace(5, 235, 120), across=np.cos(np.arange(120) * 2.4))
    many.settle(200)
    first, second = many.couples(0.0)
    gaps = np.sqrt(
        (many.x[first] - many.x[second]) ** 2
        + (many.y[first] - many.y[second]) ** 2
        + (many.z[first] - many.z[second]) ** 2
    )
    assert len(first) > 100
    assert np.percentile(gaps, 5) > 0.8 * 9


def test_more_balloons_make_a_wider_silhouette():
    widths = []
    for number in (60, 120, 240):
        many = tied(straight(240), np.linspace(5, 235, number), across=np.cos(np.arange(number) * 2.4))
        many.settle(150)
        widths.append(many.silhouette())
    assert widths == sorted(widths)


def test_the_silhouette_of_a_row_of_touching_balloons_is_their_mean_height():
    row = tied(straight(900), np.arange(4.5, 900, 9), reach=0.0)
    # A circle of diameter 9 is 9·π/4 high on average.
    assert row.silhouette() == pytest.approx(9 * 3.14159 / 4, rel=0.02)


@settings(max_examples=25, deadline=None)
@given(st.integers(2, 60), st.integers(0, 10_000), st.floats(0, 2))
def test_couples_are_exactly_those_that_comparing_all_of_them_finds(number, seed, within):
    random = np.random.Generator(np.random.PCG64(seed))
    some = tied(doorway(120), np.sort(random.random(number) * 120), across=random.random(number) * 2 - 1)
    some.radius = 1 + 6 * random.random(number)
    found = {frozenset(pair) for pair in zip(*(side.tolist() for side in some.couples(within)), strict=True)}
    expected = set()
    for a in range(number):
        for b in range(a):
            gap = (some.x[a] - some.x[b]) ** 2 + (some.y[a] - some.y[b]) ** 2 + (some.z[a] - some.z[b]) ** 2
            if gap < (some.radius[a] + some.radius[b] + within) ** 2:
                expected.add(frozenset((a, b)))
    assert found == expected


@pytest.mark.parametrize("at_once", [1, 7, 40])
def test_couples_come_in_the_same_order_however_many_are_compared_at_once(monkeypatch, at_once):
    some = tied(doorway(300), [3.0 * n for n in range(90)], radius=4.0)
    some.settle(30)
    whole = some.couples(1.0)
    monkeypatch.setattr(packing, "AT_ONCE", at_once)
    assert [side.tolist() for side in some.couples(1.0)] == [side.tolist() for side in whole]
    key = some.x + some.y
    place = {n: rank for rank, n in enumerate(np.argsort(key, kind="stable").tolist())}
    between = [(place[b] - place[a], place[a]) for a, b in zip(*(side.tolist() for side in whole), strict=True)]
    assert between == sorted(between)
    assert len(between) > 90


def test_a_silhouette_is_measured_anew_when_balloons_have_moved():
    some = tied(straight(200), [4.0 * n + 10 for n in range(46)], reach=6.0)
    before = some.silhouette()
    some.reach = some.reach + 4
    some.settle(60)
    assert some.silhouette() > before + 4


def test_twice_the_length_takes_twice_the_balloons_and_twice_the_width_four_times():
    one = balloons_for(120, 20, [(9.5, 100, 1.0)])
    assert balloons_for(240, 20, [(9.5, 100, 1.0)]) == pytest.approx(2 * one)
    assert balloons_for(120, 40, [(9.5, 100, 1.0)]) == pytest.approx(4 * one)
