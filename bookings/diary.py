"""Whether the days can take the jobs: how many the studio takes a day, its people, their hours and its vans.

A job is booked, or its date is held for a client until a day, or it is out on an open quote. What is booked or held
counts; what is only offered makes a clash that might come.
"""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import Literal

Standing = Literal["booked", "held", "offered", "asked"]
Lack = Literal["jobs", "people", "hours", "vans"]

COUNTING: tuple[Standing, ...] = ("booked", "held")


@dataclass(frozen=True, slots=True)
class Limits:
    """What the studio can do in a day. `hours` is how long each of its `people` works."""

    jobs: int = 2
    people: int = 3
    hours: int = 10
    vans: int = 1


@dataclass(frozen=True, slots=True)
class Work:
    """What a job takes of one day: person-minutes, and people and vans out between two moments.

    Without moments whoever is out is out all day. `is_the_job` marks the day the studio says it has the job on.
    """

    day: date
    minutes: int = 0
    people: int = 0
    vans: int = 0
    begins: datetime | None = None
    ends: datetime | None = None
    is_the_job: bool = False

    @property
    def over_midnight(self) -> list[date]:
        """The days beside its own that it reaches into."""
        if self.begins is None or self.ends is None:
            return []
        reached = {self.begins.date(), max(self.begins, self.ends - timedelta(microseconds=1)).date()}
        return sorted(reached - {self.day})


@dataclass(frozen=True, slots=True)
class DiaryJob:
    """A job with what it takes of each day; `until` is the last day its date is held."""

    booking: int
    name: str
    standing: Standing
    works: tuple[Work, ...]
    until: date | None = None

    @property
    def days(self) -> set[date]:
        """The days it takes something of."""
        return {day for work in self.works for day in (work.day, *work.over_midnight)}

    @property
    def words(self) -> str:
        """“Winter gala (held until Fri 27 Nov)”; the name alone of what is not kept yet."""
        if not self.booking:
            return self.name
        if self.standing == "held" and self.until is not None:
            return f"{self.name} (held until {short_day(self.until)})"
        return f"{self.name} ({_STANDING_WORDS[self.standing]})"


_STANDING_WORDS = {"booked": "booked", "held": "held", "offered": "quoted", "asked": "asked for"}


@dataclass(frozen=True, slots=True)
class Clash:
    """A day that cannot take its jobs: what is lacking, whose jobs they are, and both in a sentence.

    `might` says that it comes only if what is offered is accepted, `untimed` that times may yet show that one job can
    follow the other.
    """

    day: date
    lack: Lack
    bookings: tuple[int, ...]
    sentence: str
    might: bool = False
    untimed: bool = False

    @property
    def is_sure(self) -> bool:
        """Whether nothing but moving a job would help."""
        return not (self.might or self.untimed)

    @property
    def stamp(self) -> str:
        """What it is known by: the day, what is lacking, and whose jobs. With another job it is another clash."""
        known = (self.day.isoformat(), self.lack, sorted(self.bookings))
        return hashlib.sha256(repr(known).encode()).hexdigest()[:16]


def short_day(day: date) -> str:
    """“Fri 27 Nov”."""
    return f"{day:%a} {day.day} {day:%b}"


def long_day(day: date) -> str:
    """“Saturday 12 December”."""
    return f"{day:%A} {day.day} {day:%B}"


def clashes(jobs: Iterable[DiaryJob], limits: Limits) -> list[Clash]:
    """Every day that what is booked and held cannot both have, the first day first."""
    return _found([job for job in jobs if job.standing in COUNTING], limits)


def clashes_with(job: DiaryJob, others: Iterable[DiaryJob], limits: Limits) -> list[Clash]:
    """The clashes this job has a part in, whatever its own standing.

    First those with what is booked and held, then those that open quotes would add.
    """
    rest = [other for other in others if other.booking != job.booking and other.days & job.days]
    sure = _found([job, *(other for other in rest if other.standing in COUNTING)], limits)
    sure = [clash for clash in sure if job.booking in clash.bookings]
    known = {(clash.day, clash.lack) for clash in sure}
    offers = [other for other in rest if other.standing in (*COUNTING, "offered")]
    might = [
        replace(clash, sentence=f"If every open quote is accepted: {clash.sentence}", might=True)
        for clash in _found([job, *offers], limits)
        if job.booking in clash.bookings and (clash.day, clash.lack) not in known
    ]
    return sure + might


def _found(jobs: Sequence[DiaryJob], limits: Limits) -> list[Clash]:
    by_day: dict[date, list[tuple[DiaryJob, Work]]] = defaultdict(list)
    for job in jobs:
        for work in job.works:
            by_day[work.day].append((job, work))
            for day in work.over_midnight:
                by_day[day].append((job, replace(work, day=day, minutes=0, is_the_job=False)))
    found = [clash for day, there in sorted(by_day.items()) for clash in _of_day(day, there, limits)]
    return [clash for clash in found if clash is not None]


def _of_day(day: date, there: list[tuple[DiaryJob, Work]], limits: Limits) -> list[Clash | None]:
    """What is lacking on one day."""
    on = [(job, work) for job, work in there if work.is_the_job]
    many = len({job.booking for job, _ in on})
    out = [(job, work) for job, work in there if work.people or work.vans]
    minutes = sum(work.minutes for _, work in there)
    capacity = limits.people * limits.hours
    clash: list[Clash | None] = []
    if many > limits.jobs:
        clash.append(_clash(day, "jobs", on, f"{_many(many, 'job')}, and you take {limits.jobs} a day"))
    clash.append(_at_once(day, "people", out, limits.people))
    if minutes > capacity * 60:
        said = f"about {-(-minutes // 60)} hours of work, and there are {capacity} in a day of {limits.people} people"
        said = said if limits.people != 1 else said.replace("1 people", "1 person")
        clash.append(_clash(day, "hours", [(job, work) for job, work in there if work.minutes], said))
    clash.append(_at_once(day, "vans", out, limits.vans))
    return clash


def _at_once(day: date, lack: Literal["people", "vans"], out: list[tuple[DiaryJob, Work]], most: int) -> Clash | None:
    """More out at one moment than there are, or None."""
    peak, when, those = most_at_once(out, lack)
    if peak <= most:
        return None
    at = f" at {when:%H:%M}" if when is not None else ""
    noun = {"people": "person", "vans": "van"}[lack]
    said = f"{_many(peak, noun)} needed at once{at}, and there {_is_are(most)} {most}"
    alone = max(sum(getattr(work, lack) for job, work in those if job.booking == one.booking) for one, _ in those)
    timeless = alone <= most and any(work.begins is None for _, work in those)
    return _clash(day, lack, those, said, untimed=timeless)


def most_at_once(
    out: Sequence[tuple[DiaryJob, Work]], lack: Literal["people", "vans"]
) -> tuple[int, datetime | None, list[tuple[DiaryJob, Work]]]:
    """The most people or vans out at one moment: how many, from when on, and for which works.

    It is reached at the beginning of some work, so those are the moments looked at; None stands for no moment but
    those that have no time. A work ends just before the moment it ends at.
    """
    moments = sorted({work.begins.astimezone(UTC) for _, work in out if work.begins is not None})
    best: tuple[int, datetime | None, list[tuple[DiaryJob, Work]]] = (0, None, [])
    for at in [None, *moments]:
        those = [(job, work) for job, work in out if getattr(work, lack) and _is_out(work, at)]
        many = sum(getattr(work, lack) for _, work in those)
        if many > best[0]:
            shown = next((work.begins for _, work in out if work.begins and work.begins.astimezone(UTC) == at), None)
            best = (many, shown, those)
    return best


def _is_out(work: Work, at: datetime | None) -> bool:
    if work.begins is None or work.ends is None:
        return True
    return at is not None and work.begins.astimezone(UTC) <= at < work.ends.astimezone(UTC)


def _clash(day: date, lack: Lack, those: Iterable[tuple[DiaryJob, Work]], said: str, *, untimed: bool = False) -> Clash:
    jobs = {job.booking: job for job, _ in those}
    names = ", ".join(job.words for job in jobs.values())
    hint = " Times would tell whether one can follow the other." if untimed else ""
    return Clash(day, lack, tuple(jobs), f"{long_day(day)}: {said}. {names}.{hint}", untimed=untimed)


def _many(count: int, noun: str) -> str:
    plural = {"person": "people"}.get(noun, f"{noun}s")
    return f"{count} {noun if count == 1 else plural}"


def _is_are(count: int) -> str:
    return "is" if count == 1 else "are"
