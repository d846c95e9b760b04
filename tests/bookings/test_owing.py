"""What is owed and since when; what is kept of a job that is called off."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings.owing import (
    Due,
    by_age,
    kept_on_cancelling,
    ladder_words,
    moved_with_its_day,
    owed_since,
    schedule,
    still_open,
)

TODAY = dt.date(2026, 6, 1)
LADDER = [(30, 25), (14, 50), (0, 100)]


def on(days: int) -> dt.date:
    return TODAY + dt.timedelta(days=days)


@pytest.mark.parametrize(
    ("deposit", "total", "event", "dues"),
    [
        pytest.param(620, 1342, on(40), [("deposit", 620, on(0)), ("balance", 722, on(33))], id="a month ahead"),
        pytest.param(620, 1342, on(3), [("deposit", 620, on(0)), ("balance", 722, on(0))], id="this week: all today"),
        pytest.param(620, 1342, None, [("deposit", 620, on(0)), ("balance", 722, on(13))], id="by the prep day"),
        pytest.param(1342, 1342, on(40), [("deposit", 1342, on(0))], id="nothing left"),
        pytest.param(0, 1342, on(40), [("deposit", 0, on(0)), ("balance", 1342, on(33))], id="no deposit"),
    ],
)
def test_a_yes_makes_deposit_and_balance_due(deposit, total, event, dues):
    made = schedule(deposit=deposit, total=total, today=TODAY, event=event, prep=on(20), balance_days=7)
    assert [(due.what, due.amount, due.on) for due in made] == dues


@pytest.mark.parametrize(
    ("due", "before", "after", "moved"),
    [
        pytest.param(33, 40, 47, 40, id="a week later"),
        pytest.param(33, 40, 33, 26, id="a week nearer"),
        pytest.param(26, 40, 60, 46, id="as agreed, whatever the terms are now"),
        pytest.param(33, 40, 3, 0, id="so near that it is due today"),
        pytest.param(-20, 3, 60, 53, id="agreed too late for the terms, and moved away"),
        pytest.param(-3, 4, 2, -3, id="late already: nearer makes it no later"),
        pytest.param(-3, 4, 5, 0, id="late already, and not far enough away"),
    ],
)
def test_a_balance_moves_with_its_job(due, before, after, moved):
    day = moved_with_its_day(on(due), before=on(before), after=on(after), today=TODAY, agreed=on(-20), balance_days=7)
    assert day == on(moved)


def test_money_pays_the_earliest_due_first():
    dues = [Due("balance", 700, on(30)), Due("deposit", 600, on(0))]
    assert [(one.due.what, one.left) for one in still_open(dues, 650)] == [("balance", 650)]


@given(amounts=st.lists(st.integers(0, 900), max_size=5), settled=st.integers(0, 3000))
def test_what_is_left_and_what_was_paid_are_all_of_it(amounts, settled):
    dues = [Due("due", amount, on(n)) for n, amount in enumerate(amounts)]
    assert sum(one.left for one in still_open(dues, settled)) == max(sum(amounts) - settled, 0)


@pytest.mark.parametrize(
    ("days_ago", "age"),
    [(-5, 0), (0, 0), (1, 1), (30, 1), (31, 2), (60, 2), (61, 3), (900, 3)],
)
def test_what_is_due_today_is_not_late_and_a_month_is_thirty_days(days_ago, age):
    ages = by_age(still_open([Due("deposit", 5, on(-days_ago))], 0), today=TODAY)
    assert ages == tuple(5 if n == age else 0 for n in range(4))


def test_owed_since_is_the_first_day_that_went_by_unpaid():
    dues = [Due("deposit", 600, on(-40)), Due("balance", 700, on(-5))]
    assert owed_since(still_open(dues, 0), today=TODAY) == on(-40)
    assert owed_since(still_open(dues, 600), today=TODAY) == on(-5)
    assert owed_since(still_open(dues, 1300), today=TODAY) is None


@pytest.mark.parametrize(
    ("notice", "kept", "said"),
    [
        pytest.param(
            45,
            3356,
            "45 days’ notice. The terms: 30 days or more before the event we keep 25 % of the total.",
            id="long before",
        ),
        pytest.param(
            30,
            3356,
            "30 days’ notice. The terms: 30 days or more before the event we keep 25 % of the total.",
            id="on the edge",
        ),
        pytest.param(
            29,
            6712,
            "29 days’ notice. The terms: 14 to 29 days before the event we keep 50 % of the total.",
            id="a day less",
        ),
        pytest.param(
            1,
            13423,
            "1 day’s notice. The terms: less than 14 days before the event we keep 100 % of the total.",
            id="tomorrow",
        ),
        pytest.param(
            -3,
            13423,
            "0 days’ notice. The terms: less than 14 days before the event we keep 100 % of the total.",
            id="after it",
        ),
    ],
)
def test_what_is_kept_follows_from_the_notice_and_says_why(notice, kept, said):
    found = kept_on_cancelling(total=13423, steps=LADDER, event=on(notice), today=TODAY)
    assert (found.amount, found.reason) == (kept, said)


def test_notice_shorter_than_every_step_keeps_what_the_shortest_keeps():
    assert kept_on_cancelling(total=1000, steps=[(30, 25), (14, 50)], event=on(2), today=TODAY).amount == 500


@pytest.mark.parametrize(
    ("steps", "event", "said"),
    [
        pytest.param([], on(5), "says nothing about cancelling", id="no ladder"),
        pytest.param(LADDER, None, "has no event day", id="no day"),
    ],
)
def test_without_terms_or_a_day_nothing_is_kept(steps, event, said):
    found = kept_on_cancelling(total=1000, steps=steps, event=event, today=TODAY)
    assert found.amount == 0 and said in found.reason


@given(
    total=st.integers(0, 10**9),
    notice=st.integers(0, 400),
    steps=st.lists(
        st.tuples(st.integers(0, 365), st.integers(0, 100)), min_size=1, max_size=4, unique_by=lambda s: s[0]
    ),
)
def test_never_more_than_all_of_it_is_kept(total, notice, steps):
    assert 0 <= kept_on_cancelling(total=total, steps=steps, event=on(notice), today=TODAY).amount <= total


def test_the_ladder_reads_as_terms():
    assert ladder_words(LADDER) == (
        "If you cancel: 30 days or more before the event we keep 25 % of the total; 14 to 29 days before the event we "
        "keep 50 % of the total; less than 14 days before the event we keep 100 % of the total."
    )
    assert ladder_words([(7, 40)]) == "If you cancel: at any time we keep 40 % of the total."
    assert ladder_words([]) == ""
