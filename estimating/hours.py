"""How long it takes: inflating, assembling, hanging, set-up, travel and strike, alone and with a crew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from estimating.layout import Layout
from estimating.lines import Task
from estimating.materials import Materials
from estimating.specs import OwnFigures, SpecError, SpecErrors

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
    tied half a minute and a letter set straight a minute (common practice, no source).
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
    minutes, travel included. `travel_minutes` is the part of the clock spent on the way.
    """

    steps: tuple[Step, ...]
    crew: int
    person_minutes: int
    clock_minutes: int
    travel_minutes: int


TASK_STEPS = {
    "foot": ("Assemble", "ft", "ft"),
    "ribbon": ("Tie ribbons", "ribbon", "ribbons"),
    "letter": ("Letter", "letter", "letters"),
    "sealed": ("Seal", "balloon", "balloons"),
}
"""What each sort of task is called as a step, and what one and several of it are."""


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
        return (Step("Make and hang", own.minutes, "the decorator's own estimate"),)
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


def job_hours(pieces: Sequence[tuple[Step, ...]], *, rates: HourRates, travel_minutes: int = 0, crew: int = 1) -> Hours:
    """The hours of a job of several pieces, with set-up, travel and strike once. Raises SpecErrors.

    The work is shared by a crew that is crew^crew_exponent as fast as one; all of them travel.
    """
    errors = []
    if not 1 <= crew <= LARGEST_CREW:
        errors.append(SpecError("crew", f"must be from 1 to {LARGEST_CREW}", crew))
    if travel_minutes < 0:
        errors.append(SpecError("travel_minutes", "must be 0 or more", travel_minutes))
    if errors:
        raise SpecErrors(errors)
    steps = [step for piece in pieces for step in piece]
    steps.append(Step("Set up", rates.setup_minutes, "each job"))
    steps.append(Step("Strike", rates.strike_minutes, "each job"))
    alone = sum(step.minutes for step in steps)
    on_the_clock = ceil(round(alone / crew ** float(rates.crew_exponent), 6)) + travel_minutes
    if travel_minutes:
        steps.insert(-2, Step("Travel", travel_minutes, "there and back"))
    return Hours(tuple(steps), crew, crew * on_the_clock, on_the_clock, travel_minutes)


def _minutes(seconds: float) -> int:
    """Whole minutes, rounded up."""
    return ceil(round(seconds / 60, 6))
