"""Who can work when: hours by weekday, days off, and nobody on two sites at once.

A person goes to the install and the strike of each job they are on, from leaving the studio to being back.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date
from itertools import combinations

from bookings.diary import Work, long_day

WEEK = 7
MOST_MINUTES = 24 * 60

_NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who works here: minutes of each day of their week from Monday on, and their days off, both ends counted.

    Raises ValueError for a week that has not seven days or a day longer than a day.
    """

    key: int
    name: str
    week: tuple[int, ...] = (0,) * WEEK
    off: tuple[tuple[date, date], ...] = ()

    def __post_init__(self) -> None:
        if len(self.week) != WEEK:
            raise ValueError(f"week must have {WEEK} days (got {len(self.week)})")
        for minutes in self.week:
            if not 0 <= minutes <= MOST_MINUTES:
                raise ValueError(f"minutes must be from 0 to {MOST_MINUTES} (got {minutes})")

    @property
    def week_words(self) -> str:
        """“Mon 8, Tue 8, Fri 4½ hours”."""
        if not any(self.week):
            return "No hours are written down."
        days = [f"{_NAMES[n]} {_hours(minutes)}" for n, minutes in enumerate(self.week) if minutes]
        return f"{', '.join(days)} hours."

    def is_off(self, day: date) -> bool:
        """Whether they are off on a day they would otherwise work."""
        return any(first <= day <= last for first, last in self.off)

    def minutes_on(self, day: date) -> int:
        """How long they work on a day."""
        return 0 if self.is_off(day) else self.week[day.weekday()]


@dataclass(frozen=True, slots=True)
class Turn:
    """A person out for a job, with its name and when they are out."""

    person: Person
    booking: int
    job: str
    work: Work


@dataclass(frozen=True, slots=True)
class CannotGo:
    """A person who cannot be where they should: whose jobs it is about, on which day, and why in a sentence.

    `untimed` says that a time would yet tell whether they can go from one to the other.
    """

    person: int
    bookings: tuple[int, ...]
    day: date
    sentence: str
    untimed: bool = False


def who_prepares(day: date, on_job: Sequence[Person], everybody: Sequence[Person]) -> list[Person]:
    """Who does the prep of a job on a day: of those on it whoever works then, else whoever works then.

    Where nobody's hours are written down, those on it who are not off.
    """
    works = [person for person in on_job if person.minutes_on(day)]
    works = works or [person for person in everybody if person.minutes_on(day)]
    if works or any(any(person.week) for person in everybody):
        return works
    return [person for person in on_job if not person.is_off(day)]


def names_of(people: Sequence[Person], joined: str) -> str:
    """“Mo, Jan and Pia”, or with “or”; nothing for nobody."""
    names = [person.name for person in people]
    return f"{', '.join(names[:-1])} {joined} {names[-1]}" if len(names) > 1 else "".join(names)


def who_goes(on_job: Sequence[Person], wanted: int) -> str:
    """Who is on site: “Mo and Jan”, “Mo and 1 more”, “2 people, nobody is named yet”."""
    more = wanted - len(on_job)
    if not on_job:
        return f"{wanted} {'person' if wanted == 1 else 'people'}, nobody is named yet"
    if more <= 0:
        return names_of(on_job, "and")
    return f"{', '.join(person.name for person in on_job)} and {more} more"


def _hours(minutes: int) -> str:
    """“8”, “4½”, “7.75”."""
    whole, rest = divmod(minutes, 60)
    return f"{whole or ''}½" if rest == 30 else f"{minutes / 60:.4g}"


def cannot_go(turns: Sequence[Turn]) -> list[CannotGo]:
    """Everybody who is on two sites at once, or on one on a day they do not work, the first day first."""
    by_person: dict[int, list[Turn]] = defaultdict(list)
    for turn in turns:
        by_person[turn.person.key].append(turn)
    found: dict[tuple[int, tuple[int, ...], date], CannotGo] = {}
    for of_one in by_person.values():
        for one in [*_at_once(of_one), *_not_there(of_one)]:
            found.setdefault((one.person, one.bookings, one.day), one)
    return sorted(found.values(), key=lambda one: (one.day, one.person, one.bookings))


def _days(work: Work) -> list[date]:
    return sorted({work.day, *work.over_midnight})


def _at_once(turns: Sequence[Turn]) -> Iterable[CannotGo]:
    for one, other in combinations(sorted(turns, key=lambda turn: turn.booking), 2):
        if one.booking == other.booking:
            continue
        shared = sorted(set(_days(one.work)) & set(_days(other.work)))
        if not shared:
            continue
        untimed = one.work.begins is None or other.work.begins is None
        if not untimed and not _overlap(one.work, other.work):
            continue
        how = "on one day" if untimed else "at once"
        said = f"{one.person.name} is on two jobs {how}: {_when(one)} and {_when(other)}."
        hint = " Times would tell whether one can follow the other." if untimed else ""
        yield CannotGo(
            one.person.key, (one.booking, other.booking), shared[0], f"{long_day(shared[0])}: {said}{hint}", untimed
        )


def _overlap(one: Work, other: Work) -> bool:
    # In one zone Python compares the clocks' faces; across a clock change only moments tell.
    assert one.begins and one.ends and other.begins and other.ends
    begins, ends = one.begins.astimezone(UTC), one.ends.astimezone(UTC)
    return begins < other.ends.astimezone(UTC) and other.begins.astimezone(UTC) < ends


def _when(turn: Turn) -> str:
    """“Winter gala (out 09:25 to 14:35)”."""
    begins, ends = turn.work.begins, turn.work.ends
    return turn.job if begins is None or ends is None else f"{turn.job} (out {begins:%H:%M} to {ends:%H:%M})"


def _not_there(turns: Sequence[Turn]) -> Iterable[CannotGo]:
    for turn in turns:
        # Past midnight it is still the working day before.
        day = turn.work.begins.date() if turn.work.begins is not None else turn.work.day
        if turn.person.is_off(day):
            why = "is off"
        elif any(turn.person.week) and not turn.person.minutes_on(day):
            why = f"does not work on {day:%A}s"
        else:
            continue
        sentence = f"{long_day(day)}: {turn.person.name} {why}, and is on {turn.job}."
        yield CannotGo(turn.person.key, (turn.booking,), day, sentence)
