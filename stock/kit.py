"""Who has the kit when: reusable things go out, come back and are cleaned, and are never used up.

A thing is away from the day it goes out until it is ready again: `cleaning_days` after the day it came back, and
never before the day after it went out. Back on Sunday with one day of cleaning, it can go out on Monday; with none,
on Sunday. Periods that only touch do not clash.

Things of one kit are alike, so as many are enough as are away at once on the busiest day (interval partitioning: the
greedy choice never needs more than the depth of the periods; algorithms textbooks, from memory).
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import NamedTuple

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Period:
    """So many of one kit away for one booking: out on a day, back on a day.

    A lower `promise_no` was promised earlier. Raises ValueError for back before out, and for none of it.
    """

    promise_no: int
    out: date
    back: date
    quantity: int
    booking: int
    name: str

    def __post_init__(self) -> None:
        if self.back < self.out:
            raise ValueError(f"Back must be on or after the day it goes out, {self.out} (got {self.back}).")
        if self.quantity < 1:
            raise ValueError(f"Quantity must be 1 or more (got {self.quantity}).")

    def ready(self, cleaning_days: int) -> date:
        """The first day the same things can go out again."""
        return max(self.back + timedelta(days=cleaning_days), self.out + _DAY)


class Level(NamedTuple):
    """From `first` to `last`, both included, `away` are out or being cleaned."""

    first: date
    last: date
    away: int


class Collision(NamedTuple):
    """Days in a row on which more are promised than there are.

    `wanted` is the most wanted on one of them, `short_by` how many that is too many, and `periods` are those that
    want some on any of these days, the first promised first.
    """

    first: date
    last: date
    wanted: int
    short_by: int
    periods: tuple[Period, ...]


class Without(NamedTuple):
    """A booking that goes without `short` of what it was promised."""

    period: Period
    short: int


@dataclass(frozen=True, slots=True)
class Wear:
    """What one kit loses by being used for one job: so many of it, each by so many minor units."""

    name: str
    quantity: int
    each_minor: int

    @property
    def minor(self) -> int:
        """What all of it loses."""
        return self.quantity * self.each_minor


def levels(periods: Iterable[Period], cleaning_days: int) -> tuple[Level, ...]:
    """How many are away, from the first day any is to the last: stretches of days, each unlike the one before it."""
    changes: Counter[date] = Counter()
    for period in periods:
        changes[period.out] += period.quantity
        changes[period.ready(cleaning_days)] -= period.quantity
    days = sorted(day for day, change in changes.items() if change)
    found, away = [], 0
    for day, following in pairwise(days):
        away += changes[day]
        found.append(Level(day, following - _DAY, away))
    return tuple(found)


def most_away(periods: Iterable[Period], cleaning_days: int) -> int:
    """How many of them must be owned so that everybody has theirs."""
    return max((level.away for level in levels(periods, cleaning_days)), default=0)


def collisions(owned: int, periods: Sequence[Period], cleaning_days: int) -> tuple[Collision, ...]:
    """Every run of days on which more than `owned` are wanted, in order. The first is the first day it runs short."""
    runs: list[list[Level]] = []
    for level in levels(periods, cleaning_days):
        if level.away <= owned:
            continue
        if runs and runs[-1][-1].last + _DAY == level.first:
            runs[-1].append(level)
        else:
            runs.append([level])
    found = []
    for run in runs:
        first, last, wanted = run[0].first, run[-1].last, max(level.away for level in run)
        involved = sorted(within(periods, first, last, cleaning_days), key=lambda period: period.promise_no)
        found.append(Collision(first, last, wanted, wanted - owned, tuple(involved)))
    return tuple(found)


def within(periods: Iterable[Period], first: date, last: date, cleaning_days: int) -> list[Period]:
    """Those that are away on any day from `first` to `last`, both included."""
    return [period for period in periods if period.out <= last and period.ready(cleaning_days) > first]


def goes_without(owned: int, periods: Iterable[Period], cleaning_days: int) -> tuple[Without, ...]:
    """Who goes without, and how many of it: whoever was promised first keeps theirs, even for later days.

    In the order they were promised. A period gets what the earlier promised leave on the worst of its days.
    """
    kept: list[Period] = []
    found = []
    for period in sorted(periods, key=lambda one: one.promise_no):
        left = free_between(owned, kept, cleaning_days, out=period.out, back=period.back)
        given = min(period.quantity, max(left, 0))
        if given:
            kept.append(
                Period(period.promise_no, period.out, period.back, given, period.booking, period.name),
            )
        if given < period.quantity:
            found.append(Without(period, period.quantity - given))
    return tuple(found)


def free_between(owned: int, periods: Iterable[Period], cleaning_days: int, *, out: date, back: date) -> int:
    """How many are free all the time from `out` until they are clean again after `back`; below 0 where none are."""
    wanted = Period(0, out, back, 1, 0, "")
    last = wanted.ready(cleaning_days) - _DAY
    met = within(periods, out, last, cleaning_days)
    busy = (level for level in levels(met, cleaning_days) if level.first <= last and level.last >= out)
    return owned - max((level.away for level in busy), default=0)


def next_free(
    owned: int, periods: Sequence[Period], cleaning_days: int, *, on: date, days: int = 1, quantity: int = 1
) -> date | None:
    """The first day from `on` that `quantity` can go out for `days` days, back on the last of them.

    None where too few are owned. They must be clean again before anybody else's turn. Raises ValueError for no days
    or no quantity.
    """
    if days < 1 or quantity < 1:
        raise ValueError(f"Days and quantity must be 1 or more (got {days} and {quantity}).")
    if quantity > owned:
        return None
    # Nothing becomes free between two days on which something is ready again.
    ready = {period.ready(cleaning_days) for period in periods}
    for day in sorted({on} | {day for day in ready if day > on}):
        back = day + (days - 1) * _DAY
        if free_between(owned, periods, cleaning_days, out=day, back=back) >= quantity:
            return day
    raise AssertionError("a kit is free when everything is back")
