"""What of the plan does not fit, in sentences, and what would each alone make it fit: found by solving again."""

import time
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from datetime import time as clock_time
from decimal import Decimal
from typing import NamedTuple

from bookings.access import Room
from bookings.diary import long_day, short_day
from bookings.models import Booking
from bookings.planning import SUN_CELSIUS, SUN_MINUTES, standing_outdoors
from bookings.queries.pictured import isolated
from bookings.queries.planned import JobToPlan, PlannedPrep, later_times, on_site, preps_of, work_in
from bookings.run_steps import Work, rooms
from bookings.spreading import MOST_SECONDS, Cure, Day, Prep, Spread, cures, fits
from bookings.timetable import later
from estimating.hours import with_crew
from studio.templatetags.look import clock

MOST_CREW = 12

RoomWith = Callable[[JobToPlan], Mapping[date, Day]]
"""The hours that days have for a group's prep, were a job of it as given."""


class Trouble(NamedTuple):
    """What does not fit, in a sentence, and what would each alone make it fit; `otherwise` where nothing alone does."""

    sentence: str
    bookings: tuple[Booking, ...]
    cures: tuple[str, ...]
    otherwise: str = ""


def hours_trouble(
    group: Sequence[PlannedPrep],
    room: Mapping[date, Day],
    found: Spread,
    *,
    today: date,
    room_with: RoomWith,
    seconds: float = MOST_SECONDS,
) -> Trouble:
    """Prep that finds no place within people's hours. What would make it fit is looked for no longer than `seconds`."""
    until = time.monotonic() + seconds
    preps = [one.prep for one in group]
    lacking: dict[str, int] = defaultdict(int)
    for n, minutes in found.left_over.items():
        lacking[preps[n].name] += minutes
    first = min(preps[n].first for n in found.left_over)
    last = max(preps[n].last for n in found.left_over)
    when = long_day(last) if first == last else f"{long_day(first)} to {long_day(last)}"
    over = ", ".join(f"{clock(minutes)} of {isolated(name)}" for name, minutes in lacking.items())
    sentence = f"{when} is {clock(sum(lacking.values()))} over: {over} finds no place, even with all overtime."
    earliest = {n: max(one.earliest, min(room)) for n, one in enumerate(group)}
    would = [_cure_words(cure, group) for cure in cures(preps, room, found, earliest=earliest, seconds=seconds)]
    jobs = {group[n].booking.pk: group[n].job for n in found.left_over}
    would += filter(None, (_later_and_it_fits(job, group, today, room_with, until) for job in jobs.values()))
    otherwise = "No single change makes it fit: it takes hours on many days, or fewer jobs."
    if time.monotonic() >= until:
        otherwise = "No single change was found in the time there was to look. More hours or fewer jobs help."
    return Trouble(sentence, tuple(job.booking for job in jobs.values()), tuple(would), otherwise)


def _cure_words(cure: Cure, group: Sequence[PlannedPrep]) -> str:
    if cure.day is not None:
        given = [f"{clock(minutes)} more on {long_day(day)}" for day, minutes in ((cure.day, cure.minutes), *cure.also)]
        what = f"{', '.join(given[:-1])} and {given[-1]}" if cure.also else given[0]
        return f"It fits with {what}: somebody else, or {'longer days' if cure.also else 'a longer day'}."
    assert cure.job is not None
    one = group[cure.job]
    name = isolated(one.prep.name)
    if cure.begin is not None:
        return f"It fits if the latex of {name} is sealed inside and begun on {long_day(cure.begin)}."
    return f"It fits without {one.work.note} of {name}."


def _later_and_it_fits(
    job: JobToPlan, group: Sequence[PlannedPrep], today: date, room_with: RoomWith, until: float
) -> str:
    """The first later time to be ready by with which all of the group fits; empty where there is none.

    What a later hour changes is looked at: the days of the prep, and on which days how long somebody is on site. The
    others stay as they are.
    """
    others = [one.prep for one in group if one.booking.pk != job.booking.pk]
    tried = [_changes(job, today)]
    for at in later_times(job.booking):
        if time.monotonic() >= until:
            break
        moved = job.ready_by(at)
        changes = _changes(moved, today)
        if changes in tried:
            continue
        tried.append(changes)
        if any(window.too_late for _, window in moved.pairs) or _is_short(moved, "install"):
            continue
        if fits([*others, *changes[0]], room_with(moved), seconds=until - time.monotonic()):
            return _ready_words(job.booking, at)
    return ""


def _changes(job: JobToPlan, today: date) -> tuple[list[Prep], list[tuple[date, int]]]:
    """What the plan takes of a job's times."""
    preps = [one.prep for one in preps_of(job, today=today)]
    return preps, on_site(job.booking, job, limits=job.limits, zone=job.zone)


def _ready_words(booking: Booking, at: clock_time) -> str:
    assert booking.ready_by is not None
    return f"It fits if {isolated(booking.shown_title)} is ready by {at:%H:%M} instead of {booking.ready_by:%H:%M}."


def helium_troubles(job: JobToPlan) -> Iterator[Trouble]:
    """Latex on helium that would come down before the event is over, filled before the van is loaded."""
    title = isolated(job.booking.shown_title)
    for place, (batch, window) in enumerate(job.pairs):
        if window.too_late:
            at = next((at for at in later_times(job.booking) if _floats_long_enough(job.ready_by(at), place)), None)
            would = () if at is None else (_ready_words(job.booking, at),)
            yield Trouble(f"{title}, {isolated(batch.name)}: {window.why} {window.too_late}", (job.booking,), would)


def _floats_long_enough(moved: JobToPlan, place: int) -> bool:
    return not moved.pairs[place][1].too_late and not _is_short(moved, "install")


def sun_troubles(job: JobToPlan) -> Iterator[Trouble]:
    """Latex outdoors that is up long before it must be ready: overnight, or too long in the sun of a hot day."""
    booking, batches = job.booking, [batch for batch, _ in job.pairs]
    crew, zone = job.made.estimate.hours.crew, job.zone
    stands = standing_outdoors(batches, booking.said, job.work, crew=crew, zone=zone, access=job.access)
    if stands is None:
        return
    names = ", ".join(isolated(batch.name) for batch in batches if batch.outdoors and batch.latex)
    what = f"{isolated(booking.shown_title)}, {names}"
    if stands.is_overnight:
        when = f"{stands.up:%H:%M} on {short_day(stands.up.date())}"
        said = f"{what}: up from {when}, it stands outdoors overnight. Outdoors is inflated and put up on the day."
        yield Trouble(said, (booking,), ("It fits if the install begins on the day.",))
    elif booking.celsius is not None and booking.celsius > SUN_CELSIUS and stands.minutes > SUN_MINUTES:
        degrees = float(booking.celsius)
        said = (
            f"{what}: up from {stands.up:%H:%M}, it stands outdoors for {clock(stands.minutes)} at {degrees:g} °C "
            f"({degrees * 1.8 + 32:.0f} °F) before it must be ready at {stands.ready:%H:%M}. Above 80 °F decorators "
            f"leave latex in the sun for {SUN_MINUTES} minutes at the most."
        )
        later_begin = f"It fits if the install begins at {stands.best_begin:%H:%M}."
        cures = () if booking.install_at is None else (later_begin,)
        yield Trouble(said, (booking,), (*cures, "It fits where there is shade until then."))


def access_troubles(job: JobToPlan, *, crew_exponent: Decimal) -> Iterator[Trouble]:
    """An install or a strike that takes longer than the place leaves time for, or was set for too early."""
    title = isolated(job.booking.shown_title)
    for room in _rooms(job, job.work):
        if room.too_early:
            assert room.opens is not None
            yield Trouble(f"{title}: {room.too_early}", (job.booking,), (f"It fits from {room.opens.at:%H:%M} on.",))
        if room.is_short:
            assert room.opens is not None
            assert room.shuts is not None
            there = f"there are {clock(room.minutes)}" if room.minutes else "there is no time"
            limits = f"{room.opens.why}, and {room.shuts.why}"
            sentence = f"{title}: the {room.part} takes {clock(room.needed)}, and {there}: {limits}."
            would = tuple(_access_cures(job, room, crew_exponent))
            yield Trouble(sentence, (job.booking,), would, "No single change makes it fit: ask the place.")


def _access_cures(job: JobToPlan, room: Room, crew_exponent: Decimal) -> Iterator[str]:
    assert room.opens is not None
    assert room.shuts is not None
    booking = job.booking
    if room.part == "install":
        at = next((at for at in later_times(booking) if not _is_short(job.ready_by(at), room.part)), None)
        if at is not None:
            yield _ready_words(booking, at)
    for crew in range(booking.crew + 1, MOST_CREW + 1):
        hours = with_crew(job.made.estimate.hours, crew, crew_exponent=crew_exponent)
        if not _is_short(job, room.part, work_in(hours, booking.travel_minutes)):
            yield f"It fits with {crew} people on the job instead of {booking.crew}."
            break
    begin = later(room.shuts.at, -room.needed)
    if room.part == "strike":
        yield f"It fits if everything may be out by {later(room.opens.at, room.needed):%H:%M}."
    elif booking.install_at is None:
        yield f"It fits if one may get in from {begin:%H:%M}."
    else:
        yield f"It fits if the install begins at {begin:%H:%M}{_and_the_place_is_open(job, room, begin.time())}."


def _and_the_place_is_open(job: JobToPlan, room: Room, begin: clock_time) -> str:
    opens = job.access.opens
    return "" if opens is None or opens <= begin else " and one may get in by then"


def _rooms(job: JobToPlan, work: Work) -> list[Room]:
    return rooms(job.booking.said, work, zone=job.zone, access=job.access)


def _is_short(job: JobToPlan, part: str, work: Work | None = None) -> bool:
    return any(room.is_short for room in _rooms(job, work or job.work) if room.part == part)
