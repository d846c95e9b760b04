"""Who has the kit when: overlaps of periods, with cleaning after each.

                11  12  13  14  15  16
ferry office    ▐███████▌·                   out 11, back 12, a day of cleaning: ready on 13
winter gala             ▐███████▌·           out 13: touches, does not clash
spring fair         ▐███████████▌·           out 12, back 14: clashes with both
"""

import datetime as dt
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stock.kit import Level, Period, Wear, collisions, free_between, goes_without, levels, most_away, next_free

FIRST = dt.date(2026, 12, 1)


def day(n: int) -> dt.date:
    return FIRST + dt.timedelta(days=n - 1)


def period(no: int, out: int, back: int, quantity: int = 1) -> Period:
    return Period(no, day(out), day(back), quantity, 100 + no, f"job {no}")


FERRY, GALA, FAIR = period(1, 11, 12), period(2, 13, 14), period(3, 12, 14)


@pytest.mark.parametrize(
    ("cleaning", "out", "back", "ready"),
    [
        pytest.param(1, 11, 12, 13, id="a day of cleaning: ready the day after it came back"),
        pytest.param(0, 11, 12, 12, id="no cleaning: ready the day it comes back"),
        pytest.param(3, 11, 12, 15, id="three days of cleaning"),
        pytest.param(0, 11, 11, 12, id="out and back on one day keeps that day"),
    ],
)
def test_when_a_thing_can_go_out_again(cleaning, out, back, ready):
    assert period(1, out, back).ready(cleaning) == day(ready)


def test_how_many_are_away_day_by_day():
    assert levels([FERRY, GALA, FAIR], 1) == (
        Level(day(11), day(11), 1),
        Level(day(12), day(14), 2),
    )


def test_a_gap_is_a_stretch_of_none():
    assert [level.away for level in levels([period(1, 1, 2), period(2, 9, 9)], 1)] == [1, 0, 1]


def test_periods_that_touch_do_not_clash():
    assert collisions(1, [FERRY, GALA], 1) == ()
    assert most_away([FERRY, GALA], 1) == 1


def test_a_longer_cleaning_makes_them_clash():
    (found,) = collisions(1, [FERRY, GALA], 2)
    assert (found.first, found.last, found.short_by) == (day(13), day(13), 1)


def test_the_first_day_it_runs_short_and_by_how_many():
    (found,) = collisions(1, [FAIR, GALA, FERRY], 1)
    assert (found.first, found.last, found.wanted, found.short_by) == (day(12), day(14), 2, 1)
    assert found.periods == (FERRY, GALA, FAIR)


def test_a_collision_names_only_who_wants_some_on_its_days():
    alone = period(9, 20, 22)
    (found,) = collisions(1, [FERRY, FAIR, alone], 1)
    assert alone not in found.periods


def test_two_collisions_with_a_quiet_day_between_are_two():
    found = collisions(1, [period(1, 1, 1), period(2, 1, 1), period(3, 4, 4), period(4, 4, 4)], 1)
    assert [(one.first, one.last) for one in found] == [(day(1), day(1)), (day(4), day(4))]


def test_where_none_is_owned_every_promise_is_a_collision():
    assert [one.short_by for one in collisions(0, [FERRY], 1)] == [1]


def test_who_was_promised_last_goes_without():
    assert [(one.period, one.short) for one in goes_without(1, [FAIR, GALA, FERRY], 1)] == [(FAIR, 1)]


def test_who_was_promised_first_keeps_theirs_for_later_days():
    first = Period(1, FAIR.out, FAIR.back, 1, 1, "fair")
    later = [Period(2, FERRY.out, FERRY.back, 1, 2, "ferry"), Period(3, GALA.out, GALA.back, 1, 3, "gala")]
    assert [one.period.name for one in goes_without(1, [first, *later], 1)] == ["ferry", "gala"]


def test_a_part_of_what_was_promised_may_be_had():
    base = period(1, 1, 3, quantity=4)
    more = period(2, 3, 5, quantity=5)
    assert [(one.period.promise_no, one.short) for one in goes_without(6, [base, more], 1)] == [(2, 3)]


def test_what_is_free_is_free_until_it_is_clean_again():
    assert free_between(1, [GALA], 1, out=day(11), back=day(12)) == 1
    assert free_between(1, [GALA], 2, out=day(11), back=day(12)) == 0


def test_the_next_day_it_is_free():
    assert next_free(1, [FERRY, GALA], 1, on=day(11)) == day(15)
    assert next_free(2, [FERRY, GALA], 1, on=day(11)) == day(11)
    assert next_free(1, [FERRY, period(2, 15, 16)], 1, on=day(11)) == day(13)
    assert next_free(1, [FERRY, period(2, 15, 16)], 1, on=day(11), days=3) == day(17)


def test_more_than_is_owned_is_never_free():
    assert next_free(1, [], 1, on=day(1), quantity=2) is None


@pytest.mark.parametrize(("days", "quantity"), [pytest.param(0, 1, id="no days"), pytest.param(1, 0, id="none of it")])
def test_asking_for_nothing_is_refused(days, quantity):
    with pytest.raises(ValueError, match=r"must be 1 or more \(got"):
        next_free(1, [], 1, on=day(1), days=days, quantity=quantity)


@pytest.mark.parametrize(
    ("out", "back", "quantity", "words"),
    [
        pytest.param(12, 11, 1, "Back must be on or after", id="back before out"),
        pytest.param(11, 12, 0, "Quantity must be 1 or more", id="none of it"),
    ],
)
def test_a_period_that_makes_no_sense_is_refused(out, back, quantity, words):
    with pytest.raises(ValueError, match=words):
        period(1, out, back, quantity)


def test_wear_is_of_every_one_used():
    assert Wear("Base plate", 4, 150).minor == 600


# --- against brute force -------------------------------------------------------------------------------------------

PERIODS = st.lists(st.tuples(st.integers(1, 9), st.integers(0, 4), st.integers(1, 3)), min_size=0, max_size=6).map(
    lambda made: [period(n, out, out + long, q) for n, (out, long, q) in enumerate(made)]
)
CLEANING = st.integers(0, 3)
CALENDAR = [day(n) for n in range(-2, 25)]


def away_on(periods: list[Period], cleaning: int, when: dt.date) -> int:
    """Counted one by one, straight from the rule: away from going out until clean, and all of the day it went out."""
    clean = dt.timedelta(days=cleaning)
    return sum(p.quantity for p in periods if p.out <= when and (when < p.back + clean or when == p.out))


@given(PERIODS, CLEANING)
@settings(max_examples=150, deadline=None)
def test_the_levels_are_what_counting_day_by_day_gives(periods, cleaning):
    said = dict.fromkeys(CALENDAR, 0)
    for level in levels(periods, cleaning):
        for n in range((level.last - level.first).days + 1):
            said[level.first + dt.timedelta(days=n)] = level.away
    assert said == {when: away_on(periods, cleaning, when) for when in CALENDAR}


@given(PERIODS, CLEANING, st.integers(0, 6))
@settings(max_examples=150, deadline=None)
def test_collisions_are_the_days_on_which_too_many_are_away(periods, cleaning, owned):
    found = collisions(owned, periods, cleaning)
    days = {one.first + dt.timedelta(days=n) for one in found for n in range((one.last - one.first).days + 1)}
    assert days == {when for when in CALENDAR if away_on(periods, cleaning, when) > owned}
    for one in found:
        on_days = [away_on(periods, cleaning, when) for when in CALENDAR if one.first <= when <= one.last]
        assert one.wanted == max(on_days)
        assert one.short_by == max(on_days) - owned > 0
        met = {p.promise_no for p in periods for when in CALENDAR
               if one.first <= when <= one.last and away_on([p], cleaning, when)}  # fmt: skip
        assert {p.promise_no for p in one.periods} == met


@given(
    st.lists(st.tuples(st.integers(1, 6), st.integers(0, 3)), min_size=1, max_size=5),
    CLEANING,
)
@settings(max_examples=60, deadline=None)
def test_as_many_as_are_away_at_once_are_enough_and_fewer_are_not(made, cleaning):
    """Every way of handing single things to the periods is tried, as a partition of them into things."""
    periods = [period(n, out, out + long) for n, (out, long) in enumerate(made)]

    def works(owned: int) -> bool:
        def clash(one: Period, other: Period) -> bool:
            return any(away_on([one], cleaning, d) and away_on([other], cleaning, d) for d in CALENDAR)

        return any(
            not any(
                things[a] == things[b] and clash(periods[a], periods[b]) for a in range(len(periods)) for b in range(a)
            )
            for things in product(range(owned), repeat=len(periods))
        )

    most = most_away(periods, cleaning)
    assert works(most)
    assert not works(most - 1)


@given(PERIODS, CLEANING, st.integers(0, 6))
@settings(max_examples=150, deadline=None)
def test_nobody_goes_without_exactly_where_nothing_collides(periods, cleaning, owned):
    assert bool(goes_without(owned, periods, cleaning)) == bool(collisions(owned, periods, cleaning))


@given(PERIODS, CLEANING, st.integers(0, 6))
@settings(max_examples=150, deadline=None)
def test_what_is_given_fits_and_one_more_for_anybody_would_not(periods, cleaning, owned):
    short = {one.period.promise_no: one.short for one in goes_without(owned, periods, cleaning)}
    given_out = {p.promise_no: p.quantity - short.get(p.promise_no, 0) for p in periods}

    def used(when: dt.date, up_to: int) -> int:
        return sum(given_out[p.promise_no] for p in periods if p.promise_no <= up_to and away_on([p], cleaning, when))

    for p in periods:
        own_days = [when for when in CALENDAR if away_on([p], cleaning, when)]
        worst = max(used(when, p.promise_no) for when in own_days)
        assert worst <= owned
        # Each gets as much as those promised before it leave: first promised, first served.
        assert given_out[p.promise_no] == p.quantity or worst == owned


@given(PERIODS, CLEANING, st.integers(1, 6), st.integers(1, 4), st.integers(1, 3), st.integers(1, 12))
@settings(max_examples=150, deadline=None)
def test_the_next_free_day_is_the_first_that_fits(periods, cleaning, owned, days, quantity, on):
    found = next_free(owned, periods, cleaning, on=day(on), days=days, quantity=quantity)

    def fits(start: dt.date) -> bool:
        mine = Period(99, start, start + dt.timedelta(days=days - 1), quantity, 9, "mine")
        both = [*periods, mine]
        return all(
            away_on(both, cleaning, when) <= owned
            for when in (start + dt.timedelta(days=n) for n in range(40))
            if away_on([mine], cleaning, when)
        )

    tried = [day(n) for n in range(on, on + 60)]
    assert found == (next(start for start in tried if fits(start)) if quantity <= owned else None)
