"""How long it takes: gas, decals, inflating, assembling, hanging, set-up, travel and strike, alone and with a crew."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import ceil

from estimating.layout import Layout
from estimating.lines import Task
from estimating.materials import Materials
from estimating.specs import OwnFigures, SpecError, SpecErrors
from studio.money import shares

LARGEST_CREW = 20

FOIL_SECONDS: tuple[tuple[int, int], ...] = ((18, 20), (36, 60))
"""Up to which nominal size a foil takes how many seconds: its valve closes by itself and nothing is tied, but what goes
in goes in slowly (common practice, no source). A larger one takes as long as the largest."""


@dataclass(frozen=True, slots=True)
class HourRates:
    """The studio's pace. Raises SpecErrors where a figure makes no sense.

    Twelve seconds a balloon is an experienced decorator's 300 an hour, inflated and tied (common practice,
    two sources agree); larger ones wait for the pump. Two people manage 500 an hour, and 500 / 300 = 2^0.74,
    so a crew of n is n^0.74 as fast as one. A foot of organic garland takes 3.4 to 7 minutes with its
    inflating (first-hand account); hanging 10 to 12 ft takes 30 to 60 minutes and taking a piece down 15 to
    20 (from memory). Sealing a helium balloon inside takes 10 to 15 seconds (common practice); a ribbon cut and
    tied half a minute and a letter set straight a minute (common practice, no source). Gas is collected once for a
    job with helium, and each decal is cut beforehand, both by one person (common practice, no source).
    """

    seconds_small: int = 12
    seconds_medium: int = 12
    seconds_large: int = 30
    seconds_giant: int = 120
    seconds_per_foot: int = 180
    seconds_per_attachment: int = 180
    seconds_per_ribbon: int = 30
    seconds_per_letter: int = 60
    seconds_per_sealed: int = 15
    gas_minutes: int = 45
    decal_minutes: int = 10
    setup_minutes: int = 30
    strike_minutes: int = 30
    crew_exponent: Decimal = Decimal("0.74")

    def __post_init__(self) -> None:
        errors = [
            SpecError(name, "must be 0 or more", value)
            for name in self.__dataclass_fields__
            if (value := getattr(self, name)) < 0
        ]
        if self.crew_exponent > 1:
            errors.append(SpecError("crew_exponent", "must be from 0 to 1", self.crew_exponent))
        if errors:
            raise SpecErrors(errors)

    def seconds_for(self, size: int) -> int:
        """Seconds to inflate and tie one balloon of a nominal size."""
        if size <= 6:
            return self.seconds_small
        if size <= 12:
            return self.seconds_medium
        return self.seconds_large if size <= 18 else self.seconds_giant

    def seconds_for_foil(self, size: int) -> int:
        """Seconds to fill one foil of a nominal size."""
        return next((seconds for most, seconds in FOIL_SECONDS if size <= most), FOIL_SECONDS[-1][1])

    def seconds_of(self, task: Task) -> int:
        """Seconds for all of a task."""
        pace = {
            "foot": self.seconds_per_foot,
            "ribbon": self.seconds_per_ribbon,
            "letter": self.seconds_per_letter,
            "sealed": self.seconds_per_sealed,
        }
        return task.count * pace[task.sort]


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work: `minutes` of it for one person alone, and why they are so many."""

    name: str
    minutes: int
    why: str


@dataclass(frozen=True, slots=True)
class Hours:
    """The steps of a job for a crew.

    `clock_minutes` is what a watch shows with that crew, `person_minutes` what is paid for: everybody's
    minutes, travel included. `travel_minutes` is the part of the clock spent on the way, `ready_minutes` the part in
    which one person collects gas and cuts decals.
    """

    steps: tuple[Step, ...]
    crew: int
    person_minutes: int
    clock_minutes: int
    travel_minutes: int
    ready_minutes: int = 0

    def minutes_of(self, name: str) -> int:
        """How many minutes the steps of that name take; 0 where there is none."""
        return sum(step.minutes for step in self.steps if step.name == name)


@dataclass(frozen=True, slots=True)
class Pace:
    """How many times as long as the rates say a part of the work takes, and where that is known from, in words."""

    factor: float
    why: str


COLLECT_GAS, CUT_DECALS = "Collect gas", "Cut decals"

PART_NAMES = {
    "ready": "Collect gas and cut decals",
    "make": "Inflate and assemble",
    "travel": "On the way",
    "hang": "Set up and hang",
    "own": "Make and hang, as you reckoned yourself",
    "strike": "Strike",
}
"""The parts of a job that people remember the hours of, in their order."""

OWN_STEP = "Make and hang"
_PART_OF = {
    COLLECT_GAS: "ready",
    CUT_DECALS: "ready",
    "Travel": "travel",
    "Hang": "hang",
    "Set up": "hang",
    "Strike": "strike",
    OWN_STEP: "own",
}

TASK_STEPS = {
    "foot": ("Assemble", "ft", "ft"),
    "ribbon": ("Tie ribbons", "ribbon", "ribbons"),
    "letter": ("Letter", "letter", "letters"),
    "sealed": ("Seal", "balloon", "balloons"),
}
"""What each sort of task is called as a step, and what one and several of it are."""

NOT_OF_THE_HANDS = ("gas_minutes", "decal_minutes")
"""The rates that are no pace of anybody's hands: as long as an errand takes, nothing is learned of it."""


def work(
    materials: Materials,
    layout: Layout,
    *,
    rates: HourRates,
    own: OwnFigures | None = None,
    tasks: Sequence[Task] = (),
) -> tuple[Step, ...]:
    """The steps of making and hanging one piece; an estimate of the decorator's own in `own` stands for all of
    them. `tasks` are what its kind adds.
    """
    if own is not None and own.minutes is not None:
        return (Step(OWN_STEP, own.minutes, "the decorator's own estimate"),)
    foils = layout.foils()
    seconds = sum(
        rates.seconds_for(size) * (count - foils[colour, size]) + rates.seconds_for_foil(size) * foils[colour, size]
        for (colour, size), count in layout.counts().items()
    )
    steps = [Step("Inflate", _minutes(seconds), f"{layout.counts().total()} balloons, {seconds} seconds in all")]
    if layout.spine:
        feet = layout.length / 12
        steps.append(
            Step(
                "Assemble",
                _minutes(feet * rates.seconds_per_foot),
                f"{feet:.3g} ft at {rates.seconds_per_foot} seconds a foot",
            )
        )
    for task in tasks:
        name, one, many = TASK_STEPS[task.sort]
        if seconds := rates.seconds_of(task):
            why = f"{task.count} {one if task.count == 1 else many} at {seconds // task.count} seconds each"
            steps.append(Step(name, _minutes(seconds), why))
    if materials.attachments:
        hang = _minutes(materials.attachments * rates.seconds_per_attachment)
        why = f"{materials.attachments} points at {rates.seconds_per_attachment} seconds each"
        steps.append(Step("Hang", hang, why))
    return tuple(steps)


def hours(
    materials: Materials,
    layout: Layout,
    *,
    rates: HourRates,
    travel_minutes: int = 0,
    crew: int = 1,
    own: OwnFigures | None = None,
) -> Hours:
    """The hours of a job that is this one piece; `travel_minutes` is there and back."""
    return job_hours(
        [work(materials, layout, rates=rates, own=own)], rates=rates, travel_minutes=travel_minutes, crew=crew
    )


def part_of(step: Step) -> str:
    """The part of a job a step belongs to: one of PART_NAMES."""
    return _PART_OF.get(step.name, "make")


def at_pace(step: Step, paces: Mapping[str, Pace]) -> Step:
    """The step at the pace its part is known to go at, in whole minutes; as it is where nothing is known of it."""
    pace = paces.get(part_of(step))
    if pace is None or not step.minutes:
        return step
    return replace(step, minutes=max(round(step.minutes * pace.factor), 1), why=f"{step.why}; {pace.why}")


def getting_ready(*, litres: int, decals: int, rates: HourRates) -> tuple[Step, ...]:
    """What one person does before anything is inflated: gas collected once for all `litres` of a job, decals cut."""
    steps = []
    if litres and rates.gas_minutes:
        steps.append(Step(COLLECT_GAS, rates.gas_minutes, f"{litres:,} litres of helium, one person, each job"))
    if decals and rates.decal_minutes:
        many = f"{decals} decal{'' if decals == 1 else 's'}"
        why = f"{many} at {rates.decal_minutes} minutes each, one person"
        steps.append(Step(CUT_DECALS, decals * rates.decal_minutes, why))
    return tuple(steps)


def job_hours(
    pieces: Sequence[tuple[Step, ...]],
    *,
    rates: HourRates,
    travel_minutes: int = 0,
    crew: int = 1,
    ready: Sequence[Step] = (),
    paces: Mapping[str, Pace] | None = None,
) -> Hours:
    """The hours of a job of several pieces, with set-up, travel and strike once. Raises SpecErrors.

    The work is shared by a crew that is crew^crew_exponent as fast as one; all of them travel. `ready` are the steps
    of one person alone before it, as `getting_ready` has them. `paces` are the parts known to go faster or slower than
    the rates say.
    """
    errors = []
    if not 1 <= crew <= LARGEST_CREW:
        errors.append(SpecError("crew", f"must be from 1 to {LARGEST_CREW}", crew))
    if travel_minutes < 0:
        errors.append(SpecError("travel_minutes", "must be 0 or more", travel_minutes))
    if errors:
        raise SpecErrors(errors)
    known = paces or {}
    steps = [at_pace(step, known) for piece in pieces for step in piece]
    steps.append(at_pace(Step("Set up", rates.setup_minutes, "each job"), known))
    steps.append(at_pace(Step("Strike", rates.strike_minutes, "each job"), known))
    alone = sum(step.minutes for step in steps)
    travel = at_pace(Step("Travel", travel_minutes, "there and back"), known)
    together = _shared_by(alone, crew, rates.crew_exponent) + travel.minutes
    before = sum(step.minutes for step in ready)
    if travel.minutes:
        steps.insert(-2, travel)
    return Hours((*ready, *steps), crew, crew * together + before, together + before, travel.minutes, before)


def with_crew(hours: Hours, crew: int, *, crew_exponent: Decimal) -> Hours:
    """The same steps with so many people, who share the work as `job_hours` says. Raises SpecErrors."""
    if not 1 <= crew <= LARGEST_CREW:
        raise SpecErrors([SpecError("crew", f"must be from 1 to {LARGEST_CREW}", crew)])
    before = hours.ready_minutes
    alone = sum(step.minutes for step in hours.steps) - hours.travel_minutes - before
    together = _shared_by(alone, crew, crew_exponent) + hours.travel_minutes
    return replace(hours, crew=crew, person_minutes=crew * together + before, clock_minutes=together + before)


def _shared_by(alone: int, crew: int, crew_exponent: Decimal) -> int:
    return ceil(round(alone / crew ** float(crew_exponent), 6))


def minutes_by_part(hours: Hours) -> dict[str, int]:
    """Everybody's minutes in each part of the job, in its order; they add up to `person_minutes`.

    What the crew shares is split as the steps of one person alone are.
    """
    alone = dict.fromkeys(PART_NAMES, 0)
    for step in hours.steps:
        alone[part_of(step)] += step.minutes
    apart = {"travel": hours.crew * hours.travel_minutes, "ready": hours.ready_minutes}
    for part in apart:
        alone.pop(part)
    shared = hours.person_minutes - sum(apart.values())
    split = shares(shared, list(alone.values())) if any(alone.values()) else [0] * len(alone)
    found = dict(zip(alone, split, strict=True)) | apart
    return {part: found[part] for part in PART_NAMES if found[part]}


def _minutes(seconds: float) -> int:
    """Whole minutes, rounded up."""
    return ceil(round(seconds / 60, 6))
