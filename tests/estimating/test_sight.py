"""What is seen of discs that lie over one another."""

import pytest

from estimating.discs import Disc
from estimating.sight import SEEN_THROUGH, Sight


def disc(x, r, depth=0.0):
    return Disc(x, 0.0, r, "a", 11, depth)


def test_a_disc_behind_a_larger_one_is_not_seen_and_still_comes_first():
    sight = Sight([disc(0, 2), disc(1, 5)], [False, False])
    assert not sight.shows(0)
    assert sight.shows(1)
    assert sight.over(0) == [1]
    assert sight.over(1) == []


def test_a_disc_that_looks_out_at_one_side_is_seen_there_alone():
    sight = Sight([disc(0, 4), disc(4, 4)], [False, False])
    assert sight.shows(0)
    assert sight.shows(0, dx=-0.5, scale=0.3)
    assert not sight.shows(0, dx=0.6, scale=0.2)


def test_discs_apart_wait_for_none():
    sight = Sight([disc(0, 4), disc(20, 4)], [False, False])
    assert sight.over(0) == sight.over(1) == []


def test_discs_that_overlap_only_behind_a_third_wait_for_it_alone():
    sight = Sight([disc(-2, 3), disc(2, 3), disc(0, 6)], [False] * 3)
    assert sight.over(0) == sight.over(1) == [2]


@pytest.mark.parametrize(
    ("before", "seen"), [pytest.param(n, n < SEEN_THROUGH, id=f"{n} before it") for n in range(1, SEEN_THROUGH + 2)]
)
def test_a_disc_is_seen_through_clear_ones_until_they_are_many(before, seen):
    sight = Sight([disc(0, 2), *(disc(0, 5) for _ in range(before))], [False, *[True] * before])
    assert sight.shows(0) is seen


def test_a_clear_disc_is_not_seen_through_a_solid_one():
    sight = Sight([disc(0, 2), disc(0, 5), disc(0, 6)], [True, False, True])
    assert [sight.shows(n) for n in range(3)] == [False, True, True]
