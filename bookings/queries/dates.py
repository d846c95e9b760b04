"""Which days jobs take, which of them clash, and which dates are held for whom."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta, tzinfo
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet, Subquery

from bookings.diary import Clash, DiaryJob, Standing, Work, clashes, clashes_with, short_day
from bookings.models import Booking, DateHold, DayLimits, Quote, SeenClash
from bookings.models.dates import WAITING
from bookings.queries.entries import Entry
from bookings.queries.known import may_have
from bookings.timetable import Part, Slot, later, minutes_between, timetable

LIVE = (Booking.Stage.ENQUIRY, Booking.Stage.QUOTED, Booking.Stage.BOOKED)

_DAY = timedelta(days=1)


def between(first: date, last: date) -> Q:
    """Jobs that may take something of the days from `first` to `last`: usual times reach a day to either side."""
    days = (first - _DAY, last + _DAY)
    return Q(event_on__range=days) | Q(needed_on__range=days) | Q(strike_on__range=days)


def with_standing(jobs: QuerySet[Booking], *, today: date) -> QuerySet[Booking]:
    """The jobs with their clients, `held_until`, `is_offered` and `quoted_minutes`, in one query."""
    holds = DateHold.objects.holding(today).filter(booking=OuterRef("pk")).values("until")[:1]
    minutes = Quote.objects.filter(booking=OuterRef("pk")).order_by("-version").values("person_minutes")[:1]
    return jobs.select_related("client").annotate(
        held_until=Subquery(holds),
        is_offered=Exists(Quote.objects.open(today).filter(booking=OuterRef("pk"))),
        quoted_minutes=Subquery(minutes),
    )


def standing_of(booking: Any) -> Standing:
    """How firmly a job with its standing has its date."""
    if booking.stage in (Booking.Stage.BOOKED, Booking.Stage.DONE):
        return "booked"
    if booking.held_until is not None:
        return "held"
    return "offered" if booking.is_offered else "asked"


def diary_job(booking: Any, *, limits: DayLimits, zone: tzinfo) -> DiaryJob:
    """What a job with its standing takes of its days.

    Its person-minutes are those of its last quote, or what the studio takes a job to need. Install and strike take
    the crew for as long as they last and the way there and back, with one van; the rest is prep.
    """
    name = booking.shown_title
    slots = {slot.part: slot for slot in timetable(booking.said, zone=zone, usual=limits.usual)}
    works = []
    if booking.event_on is not None:
        works.append(Work(booking.event_on, is_the_job=True))
        works += _out(booking, slots, limits)
    rest = (booking.quoted_minutes or limits.job_hours * 60) - sum(work.minutes for work in works)
    if booking.prep_day is not None:
        works.append(Work(booking.prep_day, minutes=max(rest, 0)))
    return DiaryJob(booking.pk or 0, name, standing_of(booking), tuple(works), booking.held_until)


def _out(booking: Any, slots: dict[Part, Slot], limits: DayLimits) -> list[Work]:
    """The install and the strike: who is out with the van, when."""
    crew, way = booking.crew, booking.travel_minutes
    lasts: dict[Part, int] = {"install": limits.install_minutes, "strike": limits.strike_minutes}
    out, within = [], 0
    for part, usual in lasts.items():
        slot = slots.get(part)
        if slot is None:
            within += crew * (usual + 2 * way)
        elif slot.begins is None or slot.ends is None:
            out.append(Work(slot.day, crew * (usual + 2 * way), crew, 1))
        else:
            begins, ends = later(slot.begins, -way), later(slot.ends, way)
            minutes = crew * minutes_between(begins, ends)
            out.append(Work(slot.day, minutes, crew, 1, begins, ends))
    if within:
        # Without a time the crew is out all day of the event.
        out.append(Work(booking.event_on, within, crew if "install" not in slots else 0, int("install" not in slots)))
    return out


def diary(first: date, last: date, *, today: date, zone: tzinfo, limits: DayLimits) -> list[DiaryJob]:
    """Every live job that takes something of these days."""
    jobs = live_between(first, last, today=today).order_by("pk")
    return [diary_job(job, limits=limits, zone=zone) for job in jobs]


@dataclass(frozen=True, slots=True)
class Around:
    """A job's days: how long parts take and what a day holds, and every live job from `first` to `last`, itself too.

    Once the job is over or has gone by, nothing is near it and nobody is in its way.
    """

    limits: DayLimits
    first: date
    last: date
    jobs: tuple[Any, ...] = ()


def around(booking: Booking, *, today: date, zone: tzinfo) -> Around:
    """What is on the days of a job and near them. Two statements."""
    limits = DayLimits.objects.current()
    if booking.event_on is None or booking.event_on < today or booking.stage not in LIVE:
        return Around(limits, today, today)
    slots = timetable(booking.said, zone=zone, usual=limits.usual)
    # The way there and back may reach over midnight.
    first, last = min(slot.day for slot in slots) - _DAY, max(slot.last_day for slot in slots) + _DAY
    return Around(limits, first, last, tuple(live_between(first, last, today=today).order_by("pk")))


def live_between(first: date, last: date, *, today: date) -> QuerySet[Booking]:
    """The jobs that are asked for, quoted or booked, and may take something of the days from `first` to `last`."""
    return with_standing(Booking.objects.filter(between(first, last), stage__in=LIVE), today=today)


def clashes_of(booking: Booking, *, today: date, zone: tzinfo, near: Around | None = None) -> list[Clash]:
    """What the days of a job cannot take, with what else is on them; nothing once it is over or has gone by.

    `near` is what is `around` it, where the caller has read it.
    """
    near = near or around(booking, today=today, zone=zone)
    jobs = [diary_job(job, limits=near.limits, zone=zone) for job in near.jobs]
    own = next((job for job in jobs if job.booking == booking.pk), None)
    return clashes_with(own, jobs, near.limits.limits) if own is not None else []


def clashes_on(day: date, *, today: date, zone: tzinfo, but: int = 0) -> list[Clash]:
    """What a job of which only the event day is known would clash with; `but` is the job itself, once it is kept."""
    limits = DayLimits.objects.current()
    asked: Any = Booking(pk=but, event_on=day, title="This enquiry")
    asked.held_until, asked.is_offered, asked.quoted_minutes = None, False, None
    return _clashes(diary_job(asked, limits=limits, zone=zone), today=today, zone=zone, limits=limits)


def _clashes(job: DiaryJob, *, today: date, zone: tzinfo, limits: DayLimits) -> list[Clash]:
    if not job.days:
        return []
    others = diary(min(job.days), max(job.days), today=today, zone=zone, limits=limits)
    return clashes_with(job, others, limits.limits)


def full_days(first: date, last: date, *, today: date, zone: tzinfo) -> list[Clash]:
    """The days from `first` to `last` that what is booked and held cannot both have."""
    limits = DayLimits.objects.current()
    return full_among(diary(first, last, today=today, zone=zone, limits=limits), first, last, limits=limits)


def full_among(jobs: Sequence[DiaryJob], first: date, last: date, *, limits: DayLimits) -> list[Clash]:
    """The same, of jobs that were read before: all that take something of these days, and maybe others."""
    return [clash for clash in clashes(jobs, limits.limits) if first <= clash.day <= last]


def unseen(found: Iterable[Clash], *, today: date) -> list[Clash]:
    """Those of some clashes that come whatever becomes of open quotes, and that nobody has said they have seen."""
    seen = set(SeenClash.objects.filter(day__gte=today).values_list("stamp", flat=True))
    return [clash for clash in found if not clash.might and clash.stamp not in seen]


@dataclass(frozen=True, slots=True)
class OnTheDay:
    """What else is there on a day somebody asks for."""

    day: date
    clashes: list[Clash]
    others: list[DiaryJob]


def on_the_day(day: date, *, today: date, zone: tzinfo, but: int = 0) -> OnTheDay:
    """For an enquiry: the clashes the day would have, and the jobs that are on it already beside the job `but`."""
    limits = DayLimits.objects.current()
    others = diary(day, day, today=today, zone=zone, limits=limits)
    others = [job for job in others if job.booking != but]
    there = [job for job in others if any(work.day == day and work.is_the_job for work in job.works)]
    return OnTheDay(day, clashes_on(day, today=today, zone=zone, but=but), there)


def hold_of(booking: Booking, *, today: date) -> DateHold | None:
    """The hold there is on the job's date."""
    return DateHold.objects.holding(today).filter(booking=booking).select_related("booking__client").first()


def held_dates(*, today: date, limit: int = 20) -> list[DateHold]:
    """Every date that is held, the first to lapse first."""
    holds = DateHold.objects.holding(today).filter(booking__event_on__isnull=False)
    return list(holds.select_related("booking__client").order_by("until", "pk")[:limit])


@dataclass(frozen=True, slots=True)
class DatesCard:
    """The days of one job for its page. `unseen` are the clashes to look at first."""

    entries: list[Entry]
    clashes: list[Clash]
    unseen: list[Clash]
    hold: DateHold | None
    lapsed: DateHold | None
    can_be_held: bool

    @property
    def held_words(self) -> str:
        """“Held for Ines Vale until Fri 27 Nov”, or nothing."""
        return f"Held for {self.hold.booking.client.shown_name} until {short_day(self.hold.until)}" if self.hold else ""


def dates_of(booking: Booking, *, today: date, zone: tzinfo, near: Around | None = None) -> DatesCard:
    """When each part of the job is, what its days cannot take, and whether its date is held.

    `near` is what is `around` it, where the caller has read it.
    """
    waits = booking.stage in WAITING
    kept = None
    if waits and may_have(booking, "holds"):
        kept = booking.holds.filter(let_go_at__isnull=True).select_related("booking__client").first()
    lapsed = kept if kept is not None and kept.until < today else None
    hold = None if lapsed is not None else kept
    near = near or around(booking, today=today, zone=zone)
    slots = timetable(booking.said, zone=zone, usual=near.limits.usual)
    found = clashes_of(booking, today=today, zone=zone, near=near)
    has_its_date = hold is not None or booking.stage == Booking.Stage.BOOKED
    return DatesCard(
        entries=[Entry(booking, slot, "booked") for slot in slots],
        clashes=found,
        unseen=unseen(found, today=today) if has_its_date and found else [],
        hold=hold,
        lapsed=lapsed,
        can_be_held=waits and booking.event_on is not None and booking.event_on >= today,
    )


def last_day_to_hold(quote: Quote, *, today: date) -> date | None:
    """The last day a client may hold their date until from this quote, or None where they may not.

    It is so many days from today as the studio allows, no later than the quote is open, and before the event.
    """
    return _last_day(quote, DayLimits.objects.current().hold_days, today)


def _last_day(quote: Quote, most: int, today: date) -> date | None:
    booking = quote.booking
    if not most or booking.stage not in WAITING or booking.event_on is None:
        return None
    last = min(today + timedelta(days=most), quote.valid_until, booking.event_on - _DAY)
    return last if last >= today else None


def client_has_held(quote: Quote) -> bool:
    """Whether the client has held the date from this version already: once each."""
    return DateHold.objects.filter(quote=quote).exists()


@dataclass(frozen=True, slots=True)
class ClientDates:
    """What a client is told about their date: how long it is held, until when they may hold it, or neither."""

    day: date | None
    first: date
    held_until: date | None
    last: date | None
    has_lapsed: bool


def with_dates(quotes: QuerySet[Quote], *, today: date) -> QuerySet[Quote]:
    """The quotes with `held_until`, `has_held` and `hold_days`, what `client_dates` reckons from, in the same query."""
    limits = DayLimits.objects.filter(pk=1).values("hold_days")
    return quotes.annotate(
        held_until=Subquery(DateHold.objects.lasting(today).filter(booking=OuterRef("booking")).values("until")[:1]),
        has_held=Exists(DateHold.objects.filter(quote=OuterRef("pk"))),
        hold_days=Subquery(limits),
    )


def client_dates(quote: Any, *, today: date) -> ClientDates:
    """The dates of the page of a quote that was read `with_dates`."""
    # The job was read with the quote: its stage is asked here, not of the hold's job once more.
    until = quote.held_until if quote.booking.stage in WAITING else None
    is_open = quote.withdrawn_at is None and quote.replaced_at is None and quote.valid_until >= today
    most = DayLimits().hold_days if quote.hold_days is None else quote.hold_days
    last = _last_day(quote, most, today) if is_open and until is None and not quote.has_held else None
    return ClientDates(quote.booking.event_on, today, until, last, has_lapsed=quote.has_held and until is None)
