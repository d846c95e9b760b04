"""The steps of a job with their times, backwards from when it must be ready and on to when the van is home.

Days and times are those of the place; a while is counted in minutes that pass, so that a night in which the clocks
change is as long as it is. Loading the van takes half an hour (common practice, no source).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, tzinfo
from itertools import pairwise

from bookings.access import ANY_TIME, Access, Room, install_room, strike_room
from bookings.diary import short_day
from bookings.timetable import PARTS, Part, Said, Slot, Usual, later, minutes_between, timetable
from estimating.hours import COLLECT_GAS, CUT_DECALS

LOAD_MINUTES = 30

PREP = ("Order by", COLLECT_GAS, CUT_DECALS, "Inflate and assemble")
"""What is done before the van is loaded, on a day and at no time of it."""

MOMENTS = ("Ready", "The event")
"""Steps that are nobody's work."""


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
    where the clocks changed since the step before. `note` says of what it is, `who` does it in words, and `people` has
    their keys, as far as they are known.
    """

    what: str
    day: date
    begins: datetime | None = None
    ends: datetime | None = None
    minutes: int | None = None
    is_reckoned: bool = False
    is_strike: bool = False
    clock: str = ""
    note: str = ""
    who: str = ""
    people: tuple[int, ...] = ()

    @property
    def is_prep(self) -> bool:
        """Whether it is a day's work before the van is loaded."""
        return self.what in PREP

    @property
    def time_words(self) -> str:
        """“14:00 to 18:00”, with “about” before a time that nobody has said; nothing for a whole day."""
        if self.begins is None:
            return ""
        about = "about " if self.is_reckoned else ""
        if self.ends is None:
            return f"{about}{self.begins:%H:%M}"
        after = f" on {short_day(self.ends.date())}" if self.ends_next_day else ""
        return f"{about}{self.begins:%H:%M} to {self.ends:%H:%M}{after}"

    @property
    def ends_next_day(self) -> bool:
        """Whether it ends on another day than it began on."""
        return self.begins is not None and self.ends is not None and self.ends.date() > self.begins.date()


def run_steps(
    said: Said, work: Work, *, zone: tzinfo, access: Access = ANY_TIME, prep: Sequence[RunStep] | None = None
) -> list[RunStep]:
    """Prep, load, drive, install, event, strike and the way home, in order, as far as they are known.

    `prep` is how the plan has put it on days, where it has. What nobody set a time for keeps to the hours of the place.
    """
    slots = {slot.part: slot for slot in placed_slots(said, work, zone=zone, access=access)}
    steps: list[RunStep] = []
    for part in PARTS:
        slot = slots.get(part)
        if part == "prep" and prep is not None:
            steps += sorted(prep, key=lambda step: step.day)
            continue
        if slot is None:
            continue
        if part == "install":
            steps += _on_the_way(slot, work)
        steps += _step(slot, work)
    steps += _way_home(slots.get("strike"), work)
    return _with_clock_changes(steps)


def rooms(said: Said, work: Work, *, zone: tzinfo, access: Access) -> list[Room]:
    """The time the place leaves for the install and for the strike, where anything limits it."""
    slots = timetable(said, zone=zone, usual=Usual(install=work.install, strike=work.strike))
    found = [
        install_room(said, slots, access, needed=work.install, zone=zone),
        strike_room(said, slots, access, needed=work.strike, zone=zone),
    ]
    return [room for room in found if room is not None]


def placed_slots(said: Said, work: Work, *, zone: tzinfo, access: Access) -> list[Slot]:
    """The parts of a job with the durations of its estimate, within the hours of its place."""
    slots = timetable(said, zone=zone, usual=Usual(install=work.install, strike=work.strike))
    within: dict[Part, Room] = {room.part: room for room in rooms(said, work, zone=zone, access=access)}
    return [room.placed(slot) if (room := within.get(slot.part)) else slot for slot in slots]


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
