"""Prep spread over days: what of which job is done on which day, within people's hours.

An integer program in quarters of an hour, over all jobs at once, solved three times by HiGHS, each time holding what
was reached before: as little work as possible finds no place, then as little overtime as possible, then as close to
each work's best day as possible. What comes after other work has none of it on a day on which that is not finished.
"""

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil

from studio.integer_program import IntegerProgram, least

QUARTER = 15
"""Minutes of the smallest piece of work that is put on a day."""

MOST_SECONDS = 5.0

MOST_DAYS = 3
"""On how many days more hours are one change: beyond it the work is too much altogether."""


@dataclass(frozen=True, slots=True)
class Prep:
    """Person-minutes of some of a job's prep, the first day it may be done on and the last day it must be.

    `best` is the day it is best done on, the last where None. `key` tells it from the job's other prep, and `after`
    has the keys of what of the same job must be finished before it begins, be it on the same day.
    """

    booking: int
    name: str
    minutes: int
    first: date
    last: date
    best: date | None = None
    key: str = ""
    after: tuple[str, ...] = ()

    @property
    def quarters(self) -> int:
        """The work in quarters of an hour, begun ones counted."""
        return ceil(self.minutes / QUARTER)

    @property
    def days(self) -> list[date]:
        """The days it may be done on, the first first; none where the first comes after the last."""
        return [self.first + timedelta(days=n) for n in range((self.last - self.first).days + 1)]

    def away(self, day: date) -> int:
        """How far a day is from the best one: a day too early counts twice, for balloons that are fresher last longer
        and the shelf holds them for their prep day."""
        days = (day - (self.best or self.last)).days
        return days if days >= 0 else -2 * days


@dataclass(frozen=True, slots=True)
class Day:
    """Person-minutes that a day has for prep, and how many more there may be as overtime."""

    minutes: int = 0
    overtime: int = 0


@dataclass(frozen=True, slots=True)
class Spread:
    """Minutes of each job (by its place in the list) on each day, overtime by day, and what found no place by job.

    `is_proven` is False where the time was too short to be sure that it cannot be better.
    """

    parts: dict[tuple[int, date], int]
    overtime: dict[date, int]
    left_over: dict[int, int]
    is_proven: bool

    def of(self, job: int) -> list[tuple[date, int]]:
        """The days of one job and its minutes on each, in order."""
        return sorted((day, minutes) for (n, day), minutes in self.parts.items() if n == job)

    def on(self, day: date) -> dict[int, int]:
        """The jobs of one day and their minutes."""
        return {n: minutes for (n, at), minutes in self.parts.items() if at == day}


def spread(preps: Sequence[Prep], days: Mapping[date, Day], *, seconds: float = MOST_SECONDS) -> Spread:
    """The best way to do all prep on the days there are; a day that is not among `days` has no hours.

    Raises ValueError for minutes below nothing.
    """
    for prep in preps:
        if prep.minutes < 0:
            raise ValueError(f"minutes must be 0 or more (got {prep.minutes} for {prep.name})")
    if not any(prep.quarters for prep in preps):
        return Spread({}, {}, {}, is_proven=True)
    until = time.monotonic() + seconds
    program, parts, overtime, left = _program(preps, days)
    distance = {column: away for (n, day), column in parts.items() if (away := preps[n].away(day))}
    best: list[int] | None = None
    proven = True
    for measure in (dict.fromkeys(left, 1), dict.fromkeys(overtime.values(), 1), distance):
        solution = least(program, measure, seconds=until - time.monotonic())
        proven = proven and solution.is_proven
        if solution.values is None:
            break
        best = solution.values
        program.limit(measure, sum(factor * best[column] for column, factor in measure.items()))
    if best is None:
        return Spread({}, {}, {n: prep.minutes for n, prep in enumerate(preps) if prep.minutes}, is_proven=False)
    return Spread(
        {place: best[column] * QUARTER for place, column in parts.items() if best[column]},
        {day: best[column] * QUARTER for day, column in overtime.items() if best[column]},
        {n: best[column] * QUARTER for n, column in enumerate(left) if best[column]},
        is_proven=proven,
    )


def _program(
    preps: Sequence[Prep], days: Mapping[date, Day]
) -> tuple[IntegerProgram, dict[tuple[int, date], int], dict[date, int], list[int]]:
    """Every job's work is on its days or left over; no day takes more than its hours and its overtime, and nothing is
    done before what it comes after."""
    program = IntegerProgram()
    parts: dict[tuple[int, date], int] = {}
    on: dict[date, list[tuple[int, float]]] = {}
    left = []
    for n, prep in enumerate(preps):
        row: list[tuple[int, float]] = []
        for day in prep.days:
            hours = days.get(day, Day())
            most = min(prep.quarters, (hours.minutes + hours.overtime) // QUARTER)
            if most > 0:
                column = parts[n, day] = program.column(most)
                row.append((column, 1))
                on.setdefault(day, []).append((column, 1))
        left.append(program.column(prep.quarters))
        program.rows.append(([*row, (left[-1], 1)], prep.quarters, prep.quarters))
    overtime = {}
    for day, work in on.items():
        overtime[day] = program.column(days[day].overtime // QUARTER)
        program.rows.append(([*work, (overtime[day], -1)], float("-inf"), days[day].minutes // QUARTER))
    _add_order(program, preps, parts)
    return program, parts, overtime, left


def _add_order(program: IntegerProgram, preps: Sequence[Prep], parts: Mapping[tuple[int, date], int]) -> None:
    """A column a day and earlier work says whether that is finished by then: only then may later work be done."""
    finished: dict[tuple[int, date], int] = {}
    for n, day in list(parts):
        for earlier in _before(preps, n):
            if (earlier, day) not in finished:
                column = finished[earlier, day] = program.column(1)
                done = [(parts[m, at], 1.0) for m, at in parts if m == earlier and at <= day]
                program.rows.append(([*done, (column, -preps[earlier].quarters)], 0, float("inf")))
            program.rows.append(([(parts[n, day], 1), (finished[earlier, day], -preps[n].quarters)], float("-inf"), 0))


def _before(preps: Sequence[Prep], n: int) -> list[int]:
    """The places of what one prep comes after."""
    later = preps[n]
    return [
        place
        for place, prep in enumerate(preps)
        if prep.booking == later.booking and prep.key in later.after and prep.quarters
    ]


@dataclass(frozen=True, slots=True)
class Cure:
    """One thing that would make all prep fit.

    With `day` it is so many more person-`minutes` on it, and as many as `also` says on other days; with `job` and
    `begin` that job begun on that day; with `job` alone that job given up.
    """

    day: date | None = None
    minutes: int = 0
    job: int | None = None
    begin: date | None = None
    also: tuple[tuple[date, int], ...] = ()


def cures(
    preps: Sequence[Prep],
    days: Mapping[date, Day],
    found: Spread,
    *,
    earliest: Mapping[int, date],
    seconds: float = MOST_SECONDS,
) -> list[Cure]:
    """What would each alone leave nothing over, found by solving again; the least change of each sort.

    More minutes on one day (the day that needs fewest, the latest of those), or on two or three where no one is enough;
    a job begun earlier than planned but not before its place in `earliest` allows; and the smallest job given up, with
    what is only done for it. What is not found within `seconds` is left out.
    """
    if not found.left_over:
        return []
    until = time.monotonic() + seconds
    return [
        *_more_hours(preps, days, until),
        *_begun_earlier(preps, days, earliest, until),
        *_given_up(preps, days, until),
    ]


def fits(preps: Sequence[Prep], days: Mapping[date, Day], *, seconds: float = MOST_SECONDS) -> bool:
    """Whether all prep finds a place; not where that was not found within `seconds`."""
    program, _, _, left = _program(preps, days)
    solution = least(program, dict.fromkeys(left, 1), seconds=seconds)
    return solution.values is not None and not any(solution.values[column] for column in left)


def _more_hours(preps: Sequence[Prep], days: Mapping[date, Day], until: float) -> list[Cure]:
    """All days are given more at will, of which as few as can be are used: so one solution is for all of them."""
    every = {day: days.get(day, Day()) for day in sorted({day for prep in preps for day in prep.days})}
    most = sum(prep.quarters for prep in preps)
    wide = {day: replace(there, minutes=there.minutes + most * QUARTER) for day, there in every.items()}
    program, parts, _, left = _program(preps, wide)
    program.limit(dict.fromkeys(left, 1), 0)
    more, used = {}, {}
    # Hours are counted in whole quarters, so a day whose own are not has to be rounded up first.
    spare = {day: -there.minutes % QUARTER for day, there in every.items()}
    for day, there in every.items():
        more[day], used[day] = program.column(most), program.column(1)
        program.rows.append(([(more[day], 1), (used[day], -most)], float("-inf"), 0))
        # What is done on the day is within its own hours, its overtime and what it is given.
        row: list[tuple[int, float]] = [(column, 1) for (_, at), column in parts.items() if at == day]
        row += [(more[day], -1), (used[day], -1 if spare[day] else 0)]
        program.rows.append((row, float("-inf"), there.minutes // QUARTER + there.overtime // QUARTER))
    many = dict.fromkeys(used.values(), 1)
    program.limit(many, MOST_DAYS)
    minutes = {more[day]: QUARTER for day in every} | {used[day]: spare[day] for day in every if spare[day]}
    earlier = {used[day]: (max(every) - day).days for day in every if day != max(every)}
    values = _least_of(program, (many, minutes, earlier), until)
    if values is None:
        return []
    first, *also = [(day, values[more[day]] * QUARTER + spare[day]) for day in every if values[used[day]]]
    return [Cure(day=first[0], minutes=first[1], also=tuple(also))]


def _given_up(preps: Sequence[Prep], days: Mapping[date, Day], until: float) -> list[Cure]:
    """Every job may be given up, but only one of them: so one solution is for all of them."""
    program, _, _, left = _program(preps, days)
    waited_for = {place for n in range(len(preps)) for place in _before(preps, n)}
    gone = {n: program.column(1) for n in range(len(preps)) if n not in waited_for}
    only_for = {place: n for n in gone for place in _only_for(preps, n)}
    for n, column in enumerate(left):
        of = [n] if n in gone else [only_for[n]] if n in only_for else []
        # All of it is left over where it is given up, and nothing elsewhere.
        program.rows.append(([(column, 1), *((gone[other], -preps[n].quarters) for other in of)], 0, 0))
    program.limit(dict.fromkeys(gone.values(), 1), 1)
    smallest = {column: preps[n].minutes for n, column in gone.items()}
    first = {column: n for n, column in gone.items() if n}
    values = _least_of(program, (smallest, first), until)
    return [Cure(job=n) for n, column in gone.items() if values and values[column]]


def _begun_earlier(
    preps: Sequence[Prep], days: Mapping[date, Day], earliest: Mapping[int, date], until: float
) -> list[Cure]:
    furthest = max(((prep.first - earliest.get(n, prep.first)).days for n, prep in enumerate(preps)), default=0)
    for back in range(1, furthest + 1):
        for n, prep in enumerate(preps):
            begin = prep.first - timedelta(days=back)
            if begin < earliest.get(n, prep.first):
                continue
            changed = [*preps[:n], replace(prep, first=begin), *preps[n + 1 :]]
            if fits(changed, days, seconds=until - time.monotonic()):
                return [Cure(job=n, begin=begin)]
    return []


def _least_of(program: IntegerProgram, measures: Sequence[Mapping[int, int]], until: float) -> list[int] | None:
    """The values that make the first measure least, then the second, each holding what was reached before; None where
    there are none, or none were found in time."""
    best = None
    for measure in measures:
        solution = least(program, measure, seconds=until - time.monotonic())
        if solution.values is None or not solution.is_proven:
            return best
        best = solution.values
        program.limit(measure, sum(factor * best[column] for column, factor in measure.items()))
    return best


def _only_for(preps: Sequence[Prep], n: int) -> set[int]:
    """The places of what is done for one prep alone."""
    same = [place for place, prep in enumerate(preps) if prep.booking == preps[n].booking and place != n]
    return set(_before(preps, n)) - {place for other in same for place in _before(preps, other)}


def without(preps: Sequence[Prep], n: int) -> list[Prep]:
    """The preps but for one, and but for what is done for that one alone."""
    gone = {n} | _only_for(preps, n)
    return [prep for place, prep in enumerate(preps) if place not in gone]
