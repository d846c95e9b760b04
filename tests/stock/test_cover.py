"""The weekly check for one item."""

import datetime as dt
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stock.cover import Arrival, Hit, Need, Step, allocate, cover, sentence

# A Tuesday. Days are told as so many after it.
TODAY = dt.date(2026, 12, 1)


def day(after):
    return TODAY + timedelta(days=after)


def arrival(after, quantity, label="Harbour Supply"):
    return Arrival(day(after), quantity, label)


def need(promise_no, after, quantity, *, booking=None, firm=True):
    booking = promise_no if booking is None else booking
    return Need(promise_no, day(after), booking, f"Booking {booking}", quantity, firm)


def check(on_hand, arrivals=(), needs=(), **kwargs):
    return cover(on_hand, arrivals, needs, today=TODAY, **{"lead_days": None, **kwargs})


# Balances


def test_each_change_is_a_step_with_the_balance_after_it():
    # day      0    3     5    5     9
    #        100  -60   +20  -50   -10
    found = check(100, [arrival(5, 20)], [need(2, 9, 10), need(1, 3, 60), need(3, 5, 50)])
    assert found.steps == (
        Step(day(3), -60, 40, "Booking 1"),
        Step(day(5), 20, 60, "Harbour Supply"),
        Step(day(5), -50, 10, "Booking 3"),
        Step(day(9), -10, 0, "Booking 2"),
    )


def test_the_balance_between_changes_is_the_last_one():
    # day  0 ... 2 | 3 ... 4 | 5 ...
    #        100   |   40    | 60
    found = check(100, [arrival(5, 20)], [need(1, 3, 60)])
    assert [found.balance_on(day(n)) for n in (-1, 0, 2, 3, 4, 5, 400)] == [100, 100, 100, 40, 40, 60, 60]


def test_an_item_nobody_needs_is_covered():
    found = check(0)
    assert (found.first_short, found.short_by, found.hit, found.order_by) == (None, 0, (), None)


def test_exactly_enough_is_enough():
    assert check(60, needs=[need(1, 3, 60)]).first_short is None


def test_the_first_and_the_worst_day_are_told_apart():
    # day    3    6    9    12
    #      -110  -20  +40  -30       on hand 100
    #       -10  -30  +10  -20
    found = check(100, [arrival(9, 40)], [need(1, 3, 110), need(2, 6, 20), need(3, 12, 30)])
    assert (found.first_short, found.short_on_first) == (day(3), 10)
    assert (found.worst_day, found.short_by) == (day(6), 30)


def test_a_delivery_on_the_day_is_in_time_and_one_the_day_after_is_not():
    assert check(0, [arrival(5, 10)], [need(1, 5, 10)]).first_short is None
    assert check(0, [arrival(6, 10)], [need(1, 5, 10)]).first_short == day(5)


def test_a_delivery_that_should_have_come_already_counts_for_nothing_and_is_told():
    overdue = arrival(-1, 50)
    found = check(0, [overdue], [need(1, 5, 10)])
    assert (found.first_short, found.short_by, found.late) == (day(5), 10, (overdue,))


def test_a_delivery_due_today_is_not_late():
    assert check(0, [arrival(0, 50)], [need(1, 0, 50)]).late == ()


def test_a_need_still_held_from_before_today_counts_from_today():
    found = check(5, needs=[need(1, -3, 8)])
    assert (found.first_short, found.short_by) == (TODAY, 3)
    assert found.hit == (Hit(1, "Booking 1", TODAY, 3),)


def test_what_is_short_after_the_horizon_is_not_reported():
    needs = [need(1, 3, 10), need(2, 30, 100)]
    assert check(20, needs=needs, until=day(14)).first_short is None
    assert check(20, needs=needs, until=day(14)).hit == ()
    assert check(20, needs=needs).first_short == day(30)


def test_open_quotes_can_be_left_out():
    needs = [need(1, 3, 10), need(2, 4, 100, firm=False)]
    assert check(20, needs=needs, firm_only=True).first_short is None
    assert check(20, needs=needs).short_by == 90


def test_arrivals_and_needs_may_come_from_a_generator():
    found = check(0, (arrival(n, 10) for n in (-1, 2)), (need(n, 5, 10) for n in (1, 2)))
    assert (found.short_by, len(found.late)) == (10, 1)


# What is kept back


def test_below_what_is_kept_back_is_short_before_anyone_goes_without():
    # day    3     8
    #      -85   -30        on hand 100, 20 kept back
    #       15   -15
    found = check(100, needs=[need(1, 3, 85), need(2, 8, 30)], keep_back=20)
    assert (found.first_short, found.short_on_first) == (day(3), 5)
    assert (found.first_empty, found.short_by) == (day(8), 35)
    assert found.hit == (Hit(2, "Booking 2", day(8), 15),)


def test_a_shelf_already_below_what_is_kept_back_is_short_today():
    assert check(10, keep_back=20).first_short == TODAY


def test_reaching_what_is_kept_back_exactly_is_not_short():
    assert check(100, needs=[need(1, 3, 80)], keep_back=20).first_short is None


# When to order


@pytest.mark.parametrize(
    ("lead_days", "order_by", "too_late"),
    [
        pytest.param(8, day(3), False, id="days to spare"),
        pytest.param(11, TODAY, False, id="today is the last day"),
        pytest.param(12, day(-1), True, id="a day late"),
        pytest.param(0, day(11), False, id="fetched the same day"),
        pytest.param(None, None, False, id="nobody sells it"),
    ],
)
def test_the_last_day_to_order_is_the_lead_days_before_it_runs_short(lead_days, order_by, too_late):
    # today ├── order by ──┤······ lead days ······┤ day 11: short
    found = check(0, needs=[need(1, 11, 56)], lead_days=lead_days)
    assert (found.order_by, found.too_late) == (order_by, too_late)


def test_an_order_made_on_the_last_day_does_arrive_in_time():
    found = check(0, needs=[need(1, 11, 56)], lead_days=8)
    arrives = found.order_by + timedelta(days=8)
    assert check(0, [Arrival(arrives, 56, "New order")], [need(1, 11, 56)]).first_short is None


def test_the_last_day_to_order_is_for_the_bookings_not_for_what_is_kept_back():
    # day    1     9
    #      -85   -30        on hand 100, 20 kept back, five days to come: order by day 4, not four days ago
    found = check(100, needs=[need(1, 1, 85), need(2, 9, 30)], keep_back=20, lead_days=5)
    assert (found.order_by, found.too_late) == (day(4), False)


def test_what_is_kept_back_sets_the_last_day_when_no_booking_goes_without():
    found = check(100, needs=[need(1, 9, 85)], keep_back=20, lead_days=5)
    assert found.order_by == day(4)


# Weeks


def test_a_week_shows_its_lowest_day_even_when_a_later_one_mends_it():
    # Mon 30 Nov          Mon 7 Dec                 Mon 14 Dec
    # today is Tuesday    Wed 9: -120, Fri 11: +50
    # 100                 -20 ... 30                 30
    found = check(100, [arrival(10, 50)], [need(1, 8, 120)])
    assert found.weekly(dt.date(2026, 11, 30), 3) == (100, -20, 30)


def test_a_week_ends_on_its_sunday():
    found = check(10, needs=[need(1, 5, 3), need(2, 6, 4)])
    assert day(5).weekday() == 6
    assert found.weekly(dt.date(2026, 11, 30), 2) == (7, 3)


def test_a_week_already_past_shows_today():
    assert check(10, needs=[need(1, 0, 4)]).weekly(dt.date(2026, 11, 16), 2) == (6, 6)


def test_weeks_start_on_mondays():
    with pytest.raises(ValueError, match=r"must be a Monday \(got Tue 1 Dec\)"):
        check(10).weekly(TODAY, 1)


# Whose they are


def test_whoever_was_promised_first_keeps_theirs_even_for_a_later_date():
    # promise 1 ────────────────▶ day 9: 100
    # promise 2 ──────▶ day 4: 30               on hand 100
    # The balance is first short on day 9, yet it is booking 2 that goes without.
    found = check(100, needs=[need(1, 9, 100), need(2, 4, 30)])
    assert found.first_short == day(9)
    assert found.hit == (Hit(2, "Booking 2", day(4), 30),)


def test_a_later_delivery_feeds_the_earlier_promise_so_that_both_are_served():
    # shelf 50 ·······▶ promise 2, day 3
    # delivery day 6: 50 ·······▶ promise 1, day 8
    found = check(50, [arrival(6, 50)], [need(1, 8, 50), need(2, 3, 50)])
    assert found.hit == ()


def test_a_booking_served_in_part_goes_without_the_rest():
    assert check(70, needs=[need(1, 3, 40), need(2, 3, 50)]).hit == (Hit(2, "Booking 2", day(3), 20),)


def test_two_needs_of_one_booking_on_one_day_are_told_together():
    needs = [need(1, 3, 40, booking=7), need(2, 3, 50, booking=7)]
    assert check(10, needs=needs).hit == (Hit(7, "Booking 7", day(3), 80),)


def test_what_is_kept_back_is_given_up_before_a_booking_goes_without():
    assert check(30, needs=[need(1, 3, 30)], keep_back=20).hit == ()


def test_a_ledger_below_zero_gives_nothing_and_owes_nothing():
    found = check(-5, [arrival(2, 10)], [need(1, 3, 12)])
    assert found.balance_on(TODAY) == -5
    assert found.hit == (Hit(1, "Booking 1", day(3), 2),)


# In words


@pytest.mark.parametrize(
    ("found", "words"),
    [
        pytest.param(check(60, needs=[need(1, 11, 60)], lead_days=8), "is covered.", id="covered"),
        pytest.param(
            check(44, needs=[need(1, 11, 100)], lead_days=8),
            "runs short by 56 on Sat 12 Dec; order by Fri 4 Dec.",
            id="short, with time to order",
        ),
        pytest.param(
            check(44, needs=[need(1, 11, 100)], lead_days=11),
            "runs short by 56 on Sat 12 Dec; order today.",
            id="the last day to order",
        ),
        pytest.param(
            check(44, needs=[need(1, 11, 100)], lead_days=14),
            "runs short by 56 on Sat 12 Dec; too late to order, what is ordered today arrives on Tue 15 Dec.",
            id="too late",
        ),
        pytest.param(
            check(44, needs=[need(1, 11, 100)]),
            "runs short by 56 on Sat 12 Dec; no supplier offers it.",
            id="no supplier",
        ),
        pytest.param(
            check(44, needs=[need(1, 0, 100)], lead_days=0),
            "runs short by 56 today; order today.",
            id="short today",
        ),
        pytest.param(
            check(44, needs=[need(1, 11, 50), need(2, 18, 50)], lead_days=8),
            "runs short by 6 on Sat 12 Dec, and by 56 on Sat 19 Dec; order by Fri 4 Dec.",
            id="worse later",
        ),
        pytest.param(
            check(44, needs=[need(1, 11, 36)], lead_days=8, keep_back=20),
            "falls to 8 on Sat 12 Dec, below the 20 kept back; order by Fri 4 Dec.",
            id="only below what is kept back",
        ),
        pytest.param(
            check(44, needs=[need(1, 2, 36), need(2, 11, 10)], lead_days=8, keep_back=20),
            "runs short by 2 on Sat 12 Dec; order by Fri 4 Dec.",
            id="below what is kept back, then short",
        ),
        pytest.param(
            check(0, needs=[need(1, 400, 5)], lead_days=8),
            "runs short by 5 on Wed 5 Jan 2028; order by Tue 28 Dec 2027.",
            id="more than a year ahead",
        ),
        pytest.param(
            check(44, [arrival(-2, 80), arrival(-1, 1, "Quay Street")], [need(1, 11, 44)], lead_days=8),
            "is covered. 80 due on Sun 29 Nov have not arrived (Harbour Supply). "
            "1 due on Mon 30 Nov has not arrived (Quay Street).",
            id="overdue deliveries",
        ),
    ],
)
def test_the_check_is_told_in_words(found, words):
    assert sentence("Black 11-inch", found, TODAY) == f"Black 11-inch {words}"


# Refusals


@pytest.mark.parametrize("quantity", [0, -1])
def test_nothing_is_neither_needed_nor_delivered(quantity):
    with pytest.raises(ValueError, match=rf"A need \(Booking 1\) must be of one or more \(got {quantity}\)"):
        check(10, needs=[need(1, 3, quantity)])
    with pytest.raises(ValueError, match=rf"An arrival \(Harbour Supply\) .* \(got {quantity}\)"):
        arrival(3, quantity)


def test_a_delivery_takes_no_negative_days():
    with pytest.raises(ValueError, match=r"Lead days must be zero or more \(got -1\)"):
        check(10, lead_days=-1)


# Properties, on timelines of a few days so that days coincide

SHELVES = st.integers(0, 6)
ARRIVALS = st.lists(st.builds(arrival, st.integers(-1, 6), st.integers(1, 4)), max_size=3)
NEEDS = st.lists(st.builds(need, st.integers(1, 5), st.integers(-1, 6), st.integers(1, 4)), max_size=5)
SMALL_NEEDS = st.lists(st.tuples(st.integers(0, 4), st.integers(1, 3)), max_size=4).map(
    lambda pairs: [need(n, after, quantity) for n, (after, quantity) in enumerate(pairs, 1)]
)
SMALL_ARRIVALS = st.lists(st.builds(arrival, st.integers(0, 4), st.integers(1, 3)), max_size=2).map(
    lambda arrivals: sorted(arrivals, key=lambda a: a.day)
)


def balance_by_counting(on_hand, arrivals, needs, last):
    """The balance at the end of `last`, one day at a time."""
    balance = on_hand
    for after in range(last + 1):
        balance += sum(a.quantity for a in arrivals if a.day == day(after))
        balance -= sum(n.quantity for n in needs if max(n.day, TODAY) == day(after))
    return balance


@given(SHELVES, ARRIVALS, NEEDS)
def test_the_balance_is_the_same_counted_day_by_day(on_hand, arrivals, needs):
    found = check(on_hand, arrivals, needs)
    for after in range(8):
        assert found.balance_on(day(after)) == balance_by_counting(on_hand, arrivals, needs, after)


@given(SHELVES, ARRIVALS, NEEDS, st.integers(0, 3))
def test_the_first_and_worst_short_days_are_the_same_counted_day_by_day(on_hand, arrivals, needs, keep_back):
    found = check(on_hand, arrivals, needs, keep_back=keep_back)
    balances = {day(n): balance_by_counting(on_hand, arrivals, needs, n) for n in range(8)}
    short = [on for on, balance in balances.items() if balance < keep_back]
    assert found.first_short == (short[0] if short else None)
    assert found.short_by == max(0, keep_back - min(balances.values()))
    assert found.first_empty == next((on for on, balance in balances.items() if balance < 0), None)


@given(SHELVES, ARRIVALS, NEEDS, st.integers(0, 7))
def test_what_is_available_can_be_promised_and_one_more_cannot(on_hand, arrivals, needs, after):
    found = check(on_hand, arrivals, needs)
    spare = found.available(day(after))

    # Only the days from `after` on are changed by a new promise for it.
    def lowest_with(quantity):
        more = [*needs, need(9, after, quantity)]
        return min(balance_by_counting(on_hand, arrivals, more, n) for n in range(after, 9))

    if spare > 0:
        assert lowest_with(spare) == 0
    assert lowest_with(max(spare, 0) + 1) < 0


@given(SHELVES, SMALL_ARRIVALS, SMALL_NEEDS)
def test_the_first_promises_together_lack_the_largest_excess_of_need_over_supply(on_hand, arrivals, needs):
    for first in range(len(needs) + 1):
        excess = max(
            sum(n.quantity for n in needs[:first] if n.day <= day(after))
            - sum(a.quantity for a in arrivals if a.day <= day(after))
            - on_hand
            for after in range(5)
        )
        lacking = sum(hit.short for hit in allocate(on_hand, arrivals, needs[:first], TODAY))
        assert lacking == max(0, excess)


@given(SHELVES, ARRIVALS, NEEDS)
def test_somebody_goes_without_exactly_when_the_balance_falls_below_nothing(on_hand, arrivals, needs):
    found = check(on_hand, arrivals, needs)
    assert bool(found.hit) == (found.first_empty is not None)
