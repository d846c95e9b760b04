"""The calendar: what is on which day, and the same as a feed other calendars read. No amount is in either."""

import calendar
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import Count, Max, OuterRef, Prefetch, QuerySet, Subquery

from bookings.diary import Clash, short_day
from bookings.feed import FeedEvent, Status
from bookings.links import calendar_uid
from bookings.models import Booking, DayLimits, HistoryEntry, Piece
from bookings.queries.dates import LIVE, between, diary_job, full_among, standing_of, with_standing
from bookings.queries.entries import PART_WORDS, Entry
from bookings.timetable import PARTS, Slot, timetable

FEED_DAYS_BACK = 60
"""How long a day gone by stays in the feed."""

_SHOWN = (Booking.Stage.ENQUIRY, Booking.Stage.QUOTED, Booking.Stage.BOOKED, Booking.Stage.DONE)
_DAY = timedelta(days=1)


@dataclass(slots=True)
class CalendarDay:
    """A day with what is on it, the earliest first, and why it is full."""

    day: date
    is_of_month: bool = True
    is_today: bool = False
    is_chosen: bool = False
    entries: list[Entry] = field(default_factory=list)
    clashes: list[Clash] = field(default_factory=list)

    @property
    def first(self) -> list[Entry]:
        """The few that have room in a month."""
        return self.entries[:3]

    @property
    def more(self) -> int:
        """How many have none."""
        return max(len(self.entries) - 3, 0)

    @property
    def words(self) -> str:
        """“Saturday 12 December, 2 entries, full”."""
        many = len(self.entries)
        counted = f", {many} {'entry' if many == 1 else 'entries'}" if many else ""
        return f"{self.day:%A} {self.day.day} {self.day:%B}{counted}{', full' if self.clashes else ''}"


@dataclass(slots=True)
class Month:
    """The weeks of a month, each of seven days, those of the months beside it too."""

    first: date
    weeks: list[list[CalendarDay]]
    chosen: CalendarDay

    @property
    def days(self) -> list[CalendarDay]:
        """The days of the month itself on which there is something."""
        return [day for week in self.weeks for day in week if day.is_of_month and day.entries]

    @property
    def head(self) -> list[date]:
        """Seven days, for the names above the columns."""
        return [day.day for day in self.weeks[0]]

    @property
    def before(self) -> date:
        """The first of the month before."""
        return (self.first - _DAY).replace(day=1)

    @property
    def after(self) -> date:
        """The first of the month after."""
        return (self.first + timedelta(days=31)).replace(day=1)


def month(first: date, *, chosen: date, today: date, zone: ZoneInfo) -> Month:
    """The month that begins on `first`, with everything that is on its days."""
    limits = DayLimits.objects.current()
    weeks = calendar.Calendar(limits.week_start).monthdatescalendar(first.year, first.month)
    shown_from, shown_to = weeks[0][0], weeks[-1][-1]
    jobs = list(_jobs(shown_from, shown_to, today=today))
    on = defaultdict(list)
    for entry in _entries(jobs, shown_from, shown_to, zone=zone, limits=limits):
        on[entry.slot.day].append(entry)
    full = defaultdict(list)
    live = [diary_job(job, limits=limits, zone=zone) for job in jobs if job.stage in LIVE]
    for clash in full_among(live, max(shown_from, today), shown_to, limits=limits):
        full[clash.day].append(clash)

    def made(day: date) -> CalendarDay:
        return CalendarDay(day, day.month == first.month, day == today, day == chosen, on[day], full[day])

    made_weeks = [[made(day) for day in week] for week in weeks]
    return Month(first, made_weeks, next(day for week in made_weeks for day in week if day.day == chosen))


def _jobs(first: date, last: date, *, today: date) -> QuerySet[Booking]:
    """Every job of the calendar that may take something of these days."""
    return with_standing(Booking.objects.filter(between(first, last), stage__in=_SHOWN), today=today).order_by("pk")


def entries(first: date, last: date, *, today: date, zone: ZoneInfo, limits: DayLimits) -> list[Entry]:
    """What begins on the days from `first` to `last`: whole days before hours, the earliest first.

    Of a job that is not booked only the event: nobody prepares for it yet.
    """
    return _entries(_jobs(first, last, today=today), first, last, zone=zone, limits=limits)


def _entries(jobs: Iterable[Booking], first: date, last: date, *, zone: ZoneInfo, limits: DayLimits) -> list[Entry]:
    found = []
    for job in jobs:
        standing = standing_of(job)
        for slot in timetable(job.said, zone=zone, usual=limits.usual):
            if first <= slot.day <= last and (standing == "booked" or slot.part == "event"):
                found.append(Entry(job, slot, standing))
    return sorted(found, key=_order)


def _order(entry: Entry) -> tuple[date, bool, float, int, int]:
    slot = entry.slot
    moment = slot.begins.timestamp() if slot.begins else 0.0
    return slot.day, slot.begins is not None, moment, PARTS.index(slot.part), entry.booking.pk


def feed_events(*, today: date, zone: ZoneInfo, address: str) -> list[FeedEvent]:
    """Everything booked, held or out on an open quote, and what was cancelled, from some weeks back on.

    `address` is where the studio's pages are. What is not booked is tentative, and only its event is told.
    """
    since = today - timedelta(days=FEED_DAYS_BACK)
    stages = (*_SHOWN, Booking.Stage.CANCELLED)
    jobs = with_changes(with_standing(Booking.objects.filter(event_on__gte=since, stage__in=stages), today=today))
    # What a piece is drawn from is much longer than its name, and is not read.
    names = Prefetch("pieces", Piece.objects.only("booking", "name", "position"))
    usual = DayLimits.objects.current().usual
    return [
        event
        for job in jobs.prefetch_related(names).order_by("event_on", "pk")
        for event in _events_of(job, timetable(job.said, zone=zone, usual=usual), address)
    ]


def with_changes(jobs: QuerySet[Booking]) -> QuerySet[Any]:
    """The jobs with `changes`, which counts what was written in a job's story and only grows, and `changed_at`."""
    story = HistoryEntry.objects.filter(booking=OuterRef("pk")).order_by().values("booking")
    return jobs.annotate(
        changes=Subquery(story.annotate(many=Count("pk")).values("many")),
        changed_at=Subquery(story.annotate(last=Max("at")).values("last")),
    )


def _events_of(job: Any, slots: list[Slot], address: str) -> Iterator[FeedEvent]:
    standing, is_cancelled = standing_of(job), job.stage == Booking.Stage.CANCELLED
    if standing == "asked" and not is_cancelled:
        return
    status: Status = "CANCELLED" if is_cancelled else "CONFIRMED" if standing == "booked" else "TENTATIVE"
    for slot in slots:
        if status == "TENTATIVE" and slot.part != "event":
            continue
        yield FeedEvent(
            uid=calendar_uid(job.pk, slot.part, key=settings.LINK_KEY),
            summary=f"{PART_WORDS[slot.part]}: {job.shown_title}",
            day=slot.day,
            last_day=slot.last_day,
            begins=slot.begins,
            ends=slot.ends,
            status=status,
            sequence=job.changes or 0,
            changed=job.changed_at or job.created_at,
            location="" if slot.part == "prep" else job.place,
            description=_description(job, slot, standing, is_cancelled=is_cancelled),
            url=f"{address}bookings/{job.pk}/",
            is_busy=slot.begins is not None,
        )


def _description(job: Any, slot: Slot, standing: str, *, is_cancelled: bool) -> str:
    """What somebody on the way there wants to know. Neither the brief nor the budget: people write amounts there."""
    lines = []
    if standing == "held" and not is_cancelled:
        lines.append(f"Held until {short_day(job.held_until)}.")
    elif standing == "offered" and not is_cancelled:
        lines.append("Quoted, not booked yet.")
    made = ", ".join(piece.name for piece in sorted(job.pieces.all(), key=lambda piece: piece.position))
    lines += [made] if made else []
    if job.ready_by:
        lines.append(f"Ready by {job.ready_by:%H:%M}.")
    if slot.is_usual:
        lines.append("A time in here is the usual one: nobody has set it yet.")
    elif slot.begins is None and slot.part != "prep":
        lines.append("No time set yet.")
    people = "person" if job.crew == 1 else "people"
    lines.append(f"{job.crew} {people} on the job.")
    lines.append(" · ".join(said for said in (job.client.shown_name, job.client.phone) if said))
    return "\n".join(line for line in lines if line)


def client_event(booking: Any, *, zone: ZoneInfo, studio: str, is_booked: bool) -> FeedEvent | None:
    """The event alone, for the client's own calendar; None while there is no day.

    `booking` is one with its changes. Nothing in it leads to the quote: people share their calendars.
    """
    event = next((slot for slot in timetable(booking.said, zone=zone) if slot.part == "event"), None)
    if event is None:
        return None
    return FeedEvent(
        uid=calendar_uid(booking.pk, "client", key=settings.LINK_KEY),
        summary=f"{booking.title or 'Balloons'} ({studio})",
        day=event.day,
        last_day=event.last_day,
        begins=event.begins,
        ends=event.ends,
        status="CONFIRMED" if is_booked else "TENTATIVE",
        sequence=booking.changes or 0,
        changed=booking.changed_at or booking.created_at,
        location=booking.place,
        description=f"Balloons by {studio}.",
        is_busy=event.begins is not None,
    )
