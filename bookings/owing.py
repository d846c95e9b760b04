"""What is owed, since when, and what is kept of it when a job is called off. Amounts are whole minor units."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

AGES = ("not due yet", "up to 30 days late", "31 to 60 days late", "more than 60 days late")
"""How long money has been owed, in plain words, the least first."""

MOST_STEPS = 4
"""Steps a ladder of notice may have."""


@dataclass(frozen=True, slots=True)
class Due:
    """An amount owed by a day."""

    what: str
    amount: int
    on: date


@dataclass(frozen=True, slots=True)
class Open:
    """A due, and how much of it is still to be paid."""

    due: Due
    left: int


@dataclass(frozen=True, slots=True)
class Kept:
    """What the studio keeps of a job that is called off, and the sentence that says why."""

    amount: int
    reason: str


def schedule(*, deposit: int, total: int, today: date, event: date | None, prep: date, balance_days: int) -> list[Due]:
    """The deposit today, the rest `balance_days` before the event (the prep day where no event is known), or today.

    A deposit of nothing is kept as a due of nothing; a balance of nothing is left out.
    """
    dues = [Due("deposit", deposit, today)]
    if total > deposit:
        by = (event or prep) - timedelta(days=balance_days)
        dues.append(Due("balance", total - deposit, max(by, today)))
    return dues


def moved_with_its_day(due: date, *, before: date, after: date, today: date, agreed: date, balance_days: int) -> date:
    """When a balance is due once its job is moved from one day to another: as many days ahead of it as it was.

    Where it was due on the day it was `agreed` because the job was too near, it is `balance_days` ahead instead. A day
    that has gone by is today; but to move a job nearer makes nothing due later than it was.
    """
    ahead = timedelta(days=balance_days) if due == agreed else before - due
    moved = max(after - ahead, today)
    return moved if after > before else min(moved, due)


def still_open(dues: Iterable[Due], settled: int) -> list[Open]:
    """What is left of each due once `settled` has paid the earliest first; paid ones are left out."""
    left = []
    for due in sorted(dues, key=lambda due: due.on):
        paid = min(due.amount, settled)
        settled -= paid
        if due.amount > paid:
            left.append(Open(due, due.amount - paid))
    return left


def owed_since(open_dues: Sequence[Open], *, today: date) -> date | None:
    """The day of the first due that has gone by unpaid; None where nothing is late."""
    late = [one.due.on for one in open_dues if one.due.on < today]
    return min(late) if late else None


def by_age(open_dues: Iterable[Open], *, today: date) -> tuple[int, int, int, int]:
    """How much is owed at each of `AGES`. What is due today is not late yet."""
    amounts = [0, 0, 0, 0]
    for one in open_dues:
        days = (today - one.due.on).days
        amounts[0 if days <= 0 else 1 if days <= 30 else 2 if days <= 60 else 3] += one.left
    return amounts[0], amounts[1], amounts[2], amounts[3]


def kept_on_cancelling(*, total: int, steps: Sequence[tuple[int, int]], event: date | None, today: date) -> Kept:
    """What is kept of `total`, by the ladder of (days of notice, per cent kept) that the client agreed to.

    The step with the most days that the notice reaches counts; notice shorter than every step keeps what the shortest
    one keeps. A part of a coin is rounded half up.
    """
    if not steps:
        return Kept(0, "The accepted quote says nothing about cancelling, so nothing is kept.")
    if event is None:
        return Kept(0, "The job has no event day, so no notice can be counted and nothing is kept.")
    notice = max((event - today).days, 0)
    reached = [step for step in steps if step[0] <= notice]
    days, percent = max(reached) if reached else min(steps)
    amount = int((Decimal(total) * percent / 100).quantize(Decimal(1), ROUND_HALF_UP))
    said = "1 day’s notice" if notice == 1 else f"{notice} days’ notice"
    why = _when((days, percent), steps)
    return Kept(amount, f"{said}. The terms: {why} we keep {percent} % of the total.")


def ladder_words(steps: Sequence[tuple[int, int]]) -> str:
    """The ladder as terms a client reads; empty where there is none."""
    if not steps:
        return ""
    parts = [f"{_when(step, steps)} we keep {step[1]} % of the total" for step in sorted(steps, reverse=True)]
    return f"If you cancel: {'; '.join(parts)}."


def _when(step: tuple[int, int], steps: Sequence[tuple[int, int]]) -> str:
    """The notice a step is for. The one with the fewest days is for every shorter notice as well."""
    longer = [days for days, _ in steps if days > step[0]]
    if step[0] == min(days for days, _ in steps):
        return f"less than {min(longer)} days before the event" if longer else "at any time"
    if longer:
        return f"{step[0]} to {min(longer) - 1} days before the event"
    return f"{step[0]} days or more before the event"
