"""From which day to which a job is prepared, backwards from when the van is loaded: gas, decals, balloons.

Air-filled pieces for indoors keep for three days (common practice, no source beyond decorators' own advice). Outdoors
is done on the day, where it stands, and not left overnight (common practice: decorators' published policies). Latex on
helium is filled no earlier than it floats until the event is over, by the least of the published hours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo
from math import ceil

from bookings.access import ANY_TIME, Access
from bookings.diary import short_day
from bookings.run_steps import PREP, Work, placed_slots, run_steps
from bookings.timetable import Said, later, minutes_between, moment, timetable

AHEAD_DAYS = 3
"""How many days before the van is loaded a piece that is filled with air may be made."""

LATEST_START = time(16)
"""Later on a day nobody begins to inflate (common practice, no source): the next day is the first then."""

BEFORE_DAYS = 2
"""How many days before the first balloon gas may be collected and decals may be cut."""

SUN_CELSIUS, SUN_MINUTES = (80 - 32) / 1.8, 30
"""Above how many degrees (80 °F) latex is in the sun no longer than how many minutes: one decorator's published policy.
It may burst within an hour on a hot day (common practice)."""

ORDER, GAS, DECALS, INFLATE = PREP

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Batch:
    """A piece as it is planned: person-minutes to make it, and what bounds them.

    `floats` is the fewest hours its helium latex floats, None where it has none; `sealed` as many were it sealed
    inside, None where it is already or would gain nothing. It takes `litres` of helium, and has `decals` to cut. Some
    of it is of `latex`, where it is not all foil.
    """

    name: str
    minutes: int
    outdoors: bool = False
    floats: int | None = None
    sealed: int | None = None
    litres: int = 0
    decals: int = 0
    latex: bool = True


@dataclass(frozen=True, slots=True)
class Window:
    """The first, the best and the last day a batch may be made on, why, and the first were its latex sealed inside.

    `not_before` is the moment before which it would come down too early; `too_late` says so in a sentence where that
    is after the van is loaded.
    """

    first: date
    last: date
    best: date
    earliest: date
    why: str
    not_before: datetime | None = None
    too_late: str = ""

    @property
    def words(self) -> str:
        """“Wed 2 Dec to Fri 4 Dec”, or the one day."""
        return short_day(self.last) if self.first == self.last else f"{short_day(self.first)} to {short_day(self.last)}"


def loaded_on(said: Said, work: Work, *, zone: tzinfo, access: Access = ANY_TIME) -> tuple[date, datetime | None]:
    """The day the van is loaded, and from when, where that is known. Raises ValueError for a job without a day."""
    if said.event_on is None:
        raise ValueError("event_on must be set for a job to be planned (got None)")
    steps = {step.what: step for step in run_steps(said, work, zone=zone, access=access)}
    load = steps.get("Load the van") or steps.get("Install")
    return (said.event_on, None) if load is None else (load.day, load.begins)


def window_of(batch: Batch, said: Said, work: Work, *, zone: tzinfo, access: Access = ANY_TIME) -> Window:
    """When a batch of a job may be made. Raises ValueError for a job without a day.

    The best day is the prep day, for which the shelf holds its balloons. One that was set earlier than three days
    ahead is when it may be begun, and one that was set to the day of loading leaves that day too.
    """
    loaded, begins = loaded_on(said, work, zone=zone, access=access)
    prep = min(said.prep_on or loaded - _DAY, loaded)
    first, last = min(loaded - AHEAD_DAYS * _DAY, prep), max(prep, loaded - _DAY)
    if batch.outdoors:
        return Window(loaded, loaded, loaded, loaded, "Outdoors: inflated where it stands, on the day.")
    if batch.floats is None:
        return Window(first, last, prep, first, "Filled with air: up to three days ahead.")
    until = _over(said, zone)
    not_before = later(until, -60 * batch.floats)
    floats_from = min(max(_first_day(not_before), first), loaded)
    sealed_from = floats_from
    if batch.sealed is not None:
        sealed_from = min(max(_first_day(later(until, -60 * batch.sealed)), first), floats_from)
    why = (
        f"Helium: it floats {batch.floats} hours at least and must until {_at(until)}, so not before {_at(not_before)}."
    )
    too_late = ""
    if begins is not None and not_before.timestamp() > begins.timestamp():
        too_late = f"The van is loaded at {_at(begins)}, before that: {_instead(batch)}."
    return Window(floats_from, max(last, floats_from), max(prep, floats_from), sealed_from, why, not_before, too_late)


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


@dataclass(frozen=True, slots=True)
class Standing:
    """How long what goes outdoors stands before it must be `ready`: from when it is up, at the earliest.

    The install that it is put up in `begins` some time before that.
    """

    begins: datetime
    up: datetime
    ready: datetime

    @property
    def minutes(self) -> int:
        """How many minutes it stands."""
        return minutes_between(self.up, self.ready)

    @property
    def is_overnight(self) -> bool:
        """Whether it is put up the day before."""
        return self.up.date() < self.ready.date()

    @property
    def best_begin(self) -> datetime:
        """The first moment the install could begin for it to stand in the sun no longer than it may."""
        return later(self.begins, self.minutes - SUN_MINUTES)


def standing_outdoors(
    batches: Sequence[Batch], said: Said, work: Work, *, crew: int, zone: tzinfo, access: Access = ANY_TIME
) -> Standing | None:
    """How long the latex that goes outdoors stands before the job is ready; None where none does or no time is known.

    It is inflated where it stands, by everybody, and then put up with the rest. Where nobody said when the install
    begins, it ends when the place shuts or the job must be ready.
    """
    making = [batch.minutes for batch in batches if batch.outdoors and batch.latex]
    done = said.ready_by or said.starts_at
    install = next(
        (slot for slot in placed_slots(said, work, zone=zone, access=access) if slot.part == "install"), None
    )
    if not making or done is None or said.event_on is None or install is None:
        return None
    if install.begins is None or install.ends is None:
        return None
    ready, up = moment(said.event_on, done, zone), install.ends
    if not install.is_usual:
        up = min(later(install.begins, ceil(sum(making) / crew) + work.install), ready, key=datetime.timestamp)
    return Standing(install.begins, up, ready)


@dataclass(frozen=True, slots=True)
class Making:
    """Batches of one job that are made on the same days, and need gas or decals alike. `minutes` are of all of them."""

    window: Window
    minutes: int
    names: tuple[str, ...]
    litres: int = 0
    decals: int = 0


def together(batches: Sequence[tuple[Batch, Window]]) -> list[Making]:
    """The batches of one job put together that may be made on the same days."""
    found: dict[tuple[date, date, bool, bool], list[tuple[Batch, Window]]] = {}
    for batch, window in batches:
        alike = (window.first, window.last, batch.litres > 0, batch.decals > 0)
        found.setdefault(alike, []).append((batch, window))
    return [
        Making(
            max((window for _, window in same), key=lambda window: window.earliest),
            sum(batch.minutes for batch, _ in same),
            tuple(batch.name for batch, _ in same),
            sum(batch.litres for batch, _ in same),
            sum(batch.decals for batch, _ in same),
        )
        for same in found.values()
    ]


@dataclass(frozen=True, slots=True)
class PrepWork:
    """Some work to put on days: what is done, its person-minutes, from when to when it may be, and when best.

    `note` says of what. `key` and `after` are as the spread takes them, and `making` is what is made, if anything is.
    """

    what: str
    note: str
    minutes: int
    first: date
    last: date
    best: date
    key: str = ""
    after: tuple[str, ...] = ()
    making: Making | None = None


def prep_works(makings: Sequence[Making], *, prep_on: date, gas_minutes: int, decal_minutes: int) -> list[PrepWork]:
    """Everything of one job that is put on days: gas collected, decals cut, balloons inflated.

    Gas and decals may be there up to two days before the first day they can be needed, and are best the day before
    it, though not before the prep day: nothing of the job is held for an earlier one (common practice, no source).
    `gas_minutes` is for all of a job's gas, `decal_minutes` for all of its decals. What takes no time is left out.
    """
    gas, lettered = [m for m in makings if m.litres], [m for m in makings if m.decals]
    litres, decals = sum(m.litres for m in gas), sum(m.decals for m in lettered)
    found = []
    if gas:
        found.append(_before(gas, GAS, f"{litres:,} litres of helium", gas_minutes, prep_on))
    if lettered:
        many = f"{decals} decal{'' if decals == 1 else 's'}"
        found.append(_before(lettered, DECALS, many, decal_minutes, prep_on))
    for place, making in enumerate(makings):
        window, needs = making.window, (GAS if making.litres else "", DECALS if making.decals else "")
        found.append(
            PrepWork(
                INFLATE,
                ", ".join(making.names),
                making.minutes,
                window.first,
                window.last,
                window.best,
                f"making {place}",
                tuple(filter(None, needs)),
                making,
            )
        )
    return [work for work in found if work.minutes]


def _before(makings: Sequence[Making], what: str, note: str, minutes: int, prep_on: date) -> PrepWork:
    """What must be there before some makings begin; its key is what it is."""
    first = min(making.window.first for making in makings)
    last = min(making.window.last for making in makings)
    best = min(max(first - _DAY, prep_on), last)
    return PrepWork(what, note, minutes, min(first - BEFORE_DAYS * _DAY, best), last, best, key=what)
