"""From which day to which the pieces of a job may be inflated, backwards from when the van is loaded.

Air-filled pieces for indoors keep for three days (common practice, no source beyond decorators' own advice). Outdoors
is done on the day, where it stands (common practice: decorators' published policies). Latex on helium is filled no
earlier than it floats until the event is over, by the least of the published hours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo

from bookings.diary import short_day
from bookings.run_steps import Work, run_steps
from bookings.timetable import Said, later, moment, timetable

AHEAD_DAYS = 3
"""How many days before the van is loaded a piece that is filled with air may be made."""

LATEST_START = time(16)
"""Later on a day nobody begins to inflate (common practice, no source): the next day is the first then."""

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Batch:
    """A piece as it is planned: person-minutes to make it, and what bounds them.

    `floats` is the fewest hours its helium latex floats, None where it has none; `sealed` as many were it sealed
    inside, None where it is already or would gain nothing.
    """

    name: str
    minutes: int
    outdoors: bool = False
    floats: int | None = None
    sealed: int | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """The first and the last day a batch may be made on, why, and the first day were its latex sealed inside.

    `not_before` is the moment before which it would come down too early; `too_late` says so in a sentence where that
    is after the van is loaded.
    """

    first: date
    last: date
    earliest: date
    why: str
    not_before: datetime | None = None
    too_late: str = ""

    @property
    def words(self) -> str:
        """“Wed 2 Dec to Fri 4 Dec”, or the one day."""
        return short_day(self.last) if self.first == self.last else f"{short_day(self.first)} to {short_day(self.last)}"


def loaded_on(said: Said, work: Work, *, zone: tzinfo) -> tuple[date, datetime | None]:
    """The day the van is loaded, and from when, where that is known. Raises ValueError for a job without a day."""
    if said.event_on is None:
        raise ValueError("event_on must be set for a job to be planned (got None)")
    steps = {step.what: step for step in run_steps(said, work, zone=zone)}
    load = steps.get("Load the van") or steps.get("Install")
    return (said.event_on, None) if load is None else (load.day, load.begins)


def window_of(batch: Batch, said: Said, work: Work, *, zone: tzinfo) -> Window:
    """When a batch of a job may be made. Raises ValueError for a job without a day."""
    loaded, begins = loaded_on(said, work, zone=zone)
    first = loaded - AHEAD_DAYS * _DAY
    # A prep day that was set to the day of loading leaves that day too; the usual one is the day before.
    last = min(said.prep_on or loaded - _DAY, loaded)
    if batch.outdoors:
        return Window(loaded, loaded, loaded, "Outdoors: inflated where it stands, on the day.")
    if batch.floats is None:
        return Window(min(first, last), last, min(first, last), "Filled with air: up to three days ahead.")
    until = _over(said, zone)
    not_before = later(until, -60 * batch.floats)
    floats_from = min(max(_first_day(not_before), min(first, last)), loaded)
    sealed_from = floats_from
    if batch.sealed is not None:
        sealed_from = min(max(_first_day(later(until, -60 * batch.sealed)), min(first, last)), floats_from)
    why = (
        f"Helium: it floats {batch.floats} hours at least and must until {_at(until)}, so not before {_at(not_before)}."
    )
    too_late = ""
    if begins is not None and not_before.timestamp() > begins.timestamp():
        too_late = f"The van is loaded at {_at(begins)}, before that: {_instead(batch)}."
    return Window(floats_from, max(last, floats_from), sealed_from, why, not_before, too_late)


def _first_day(not_before: datetime) -> date:
    return not_before.date() if not_before.time() <= LATEST_START else not_before.date() + _DAY


def _over(said: Said, zone: tzinfo) -> datetime:
    """When the event is over; without a time, at the end of its day."""
    event = next(slot for slot in timetable(said, zone=zone) if slot.part == "event")
    return event.ends if event.ends is not None else moment(event.day + _DAY, time(0), zone)


def _at(at: datetime) -> str:
    return f"{at:%H:%M} on {short_day(at.date())}"


def _instead(batch: Batch) -> str:
    more = f"seal it inside, for {batch.sealed} hours at least, " if batch.sealed is not None else ""
    return f"{more}{'or ' if more else ''}fill it there, or take foil or air"


def together(batches: Sequence[tuple[Batch, Window]]) -> list[tuple[Window, int, tuple[str, ...]]]:
    """The batches of one job put together that may be made on the same days: their window, minutes and names."""
    found: dict[tuple[date, date], list[tuple[Batch, Window]]] = {}
    for batch, window in batches:
        found.setdefault((window.first, window.last), []).append((batch, window))
    return [
        (
            max((window for _, window in same), key=lambda window: window.earliest),
            sum(batch.minutes for batch, _ in same),
            tuple(batch.name for batch, _ in same),
        )
        for same in found.values()
    ]
