"""Interval partitioning: ten lectures need three rooms (algorithms textbook; the times are from memory).

A room is needed when a lecture starts and comes back when it ends, and what comes back can be used at once. The
fewest rooms is then the deepest the balance falls, starting from none. Half an hour is told as one day.
"""

import datetime as dt
from datetime import timedelta

from stock.cover import Arrival, Need, cover
from stock.kit import Period, collisions, goes_without, most_away

NINE = dt.date(2026, 1, 5)
LECTURES = [
    (9, 10.5), (9, 12.5), (9, 10.5), (11, 12.5), (11, 14),
    (13, 14.5), (13, 14.5), (14, 16.5), (15, 16.5), (15, 16.5),
]  # fmt: skip


def at(hour):
    return NINE + timedelta(days=int((hour - 9) * 2))


def test_ten_lectures_need_three_rooms():
    needs = [Need(n, at(start), n, f"lecture {n}", 1, True) for n, (start, _) in enumerate(LECTURES)]
    back = [Arrival(at(end), 1, "room free") for _, end in LECTURES]
    assert cover(0, back, needs, today=NINE, lead_days=None).short_by == 3
    assert cover(3, back, needs, today=NINE, lead_days=None).hit == ()
    assert cover(2, back, needs, today=NINE, lead_days=None).hit != ()


def as_kit():
    """A room is kit that goes out when a lecture starts and is back, with nothing to clean, when it ends."""
    return [Period(n, at(start), at(end), 1, n, f"lecture {n}") for n, (start, end) in enumerate(LECTURES)]


def test_kit_of_three_rooms_is_enough_for_ten_lectures_and_two_are_not():
    assert most_away(as_kit(), 0) == 3
    assert collisions(3, as_kit(), 0) == ()
    assert goes_without(3, as_kit(), 0) == ()
    assert collisions(2, as_kit(), 0)[0].short_by == 1
