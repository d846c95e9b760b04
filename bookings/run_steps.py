"""The steps of a job with their times, backwards from when it must be ready and on to when the van is home.

Days and times are those of the place; a while is counted in minutes that pass, so that a night in which the clocks
change is as long as it is. Loading the van takes half an hour (common practice, no source).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, tzinfo
from itertools import pairwise

from bookings.timetable import PARTS, Said, Slot, Usual, later, timetable

LOAD_MINUTES = 30


@dataclass(frozen=True, slots=True)
class Work:
    """How many minutes on the clock the parts of a job take its crew: one way of the drive, install, strike, prep."""

    travel: int = 0
    install: int = 120
    strike: int = 60
    prep: int = 0


@dataclass(frozen=True, slots=True)
class RunStep:
    """One step: what is done, on which day, from when to when in the zone of the place; without times, all day.

    `is_reckoned` says that a time follows from how long things take and was not set by anybody. `clock` is a sentence
    where the clocks changed since the step before.
    """

    what: str
    day: date
    begins: datetime | None = None
    ends: datetime | None = None
    minutes: int | None = None
    is_reckoned: bool = False
    is_strike: bool = False
    clock: str = ""

    @property
    def ends_next_day(self) -> bool:
        """Whether it ends on another day than it began on."""
        return self.begins is not None and self.ends is not None and self.ends.date() > self.begins.date()


def run_steps(said: Said, work: Work, *, zone: tzinfo) -> list[RunStep]:
    """Prep, load, drive, install, event, strike and the way home, in order, as far as they are known."""
    usual = Usual(install=work.install, strike=work.strike)
    slots = {slot.part: slot for slot in timetable(said, zone=zone, usual=usual)}
    steps: list[RunStep] = []
    for part in PARTS:
        slot = slots.get(part)
        if slot is None:
            continue
        if part == "install":
            steps += _on_the_way(slot, work)
        steps += _step(slot, work)
    steps += _way_home(slots.get("strike"), work)
    return _with_clock_changes(steps)


def minutes_between(begins: datetime, ends: datetime) -> int:
    """Minutes that pass from one moment to another; in one zone Python subtracts by the clock's face."""
    return round((ends.timestamp() - begins.timestamp()) / 60)


def _step(slot: Slot, work: Work) -> list[RunStep]:
    names = {"prep": "Inflate and assemble", "install": "Install", "event": "The event", "strike": "Strike"}
    what, is_strike = names[slot.part], slot.part == "strike"
    if slot.part == "prep":
        return [RunStep(what, slot.day, minutes=work.prep or None)]
    if slot.begins is None or slot.ends is None:
        return [RunStep(what, slot.day, is_strike=is_strike)]
    minutes = minutes_between(slot.begins, slot.ends)
    step = RunStep(what, slot.begins.date(), slot.begins, slot.ends, minutes, slot.is_usual, is_strike)
    if slot.part == "install":
        return [step, RunStep("Ready", slot.ends.date(), slot.ends)]
    return [step]


def _on_the_way(install: Slot, work: Work) -> list[RunStep]:
    if install.begins is None:
        return []
    leave = later(install.begins, -work.travel)
    load = later(leave, -LOAD_MINUTES)
    steps = [RunStep("Load the van", load.date(), load, leave, LOAD_MINUTES, True)]
    if work.travel:
        steps.append(RunStep("Drive there", leave.date(), leave, install.begins, work.travel, True))
    return steps


def _way_home(strike: Slot | None, work: Work) -> list[RunStep]:
    if strike is None:
        return []
    if strike.ends is None:
        return [RunStep("Bring it home", strike.day, is_strike=True)]
    home = later(strike.ends, work.travel)
    return [
        RunStep("Bring it home", strike.ends.date(), strike.ends, home, work.travel or None, True, is_strike=True)
    ]  # fmt: skip


def _with_clock_changes(steps: Sequence[RunStep]) -> list[RunStep]:
    """Each step with a sentence where the clock is no longer as far from UTC as at the step before, or during it."""
    found, before = [], None
    for step in steps:
        clock = ""
        if step.begins is not None:
            last = step.ends or step.begins
            offsets = [before, step.begins.utcoffset(), last.utcoffset()]
            for earlier, now in pairwise(offsets):
                if earlier is not None and now is not None and earlier != now:
                    moved = int(abs(now - earlier).total_seconds() // 60)
                    clock = (
                        f"The clocks go {'forward' if now > earlier else 'back'} by {moved} minutes before this ends."
                    )
            before = last.utcoffset()
        found.append(replace(step, clock=clock))
    return found
