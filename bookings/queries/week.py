"""What is coming up, and who is being waited on."""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import Any

from django.db.models import Count, F, Max, QuerySet

from bookings.models import Booking, Quote
from bookings.queries.allergies import allergies_of, with_latex_of_place
from bookings.queries.quotes import light, opened_words

DAYS_TO_LOAD = 3
"""How many days before its prep a job's pull list is offered on the page of the week."""


@dataclass(frozen=True, slots=True)
class ComingUp:
    """A booked job of the next days; `short` is how many balloons it lacks, `is_soon` that it is time to load it."""

    booking: Booking
    made: str
    short: int
    is_soon: bool = False
    allergy: str = ""

    @property
    def short_words(self) -> str:
        """What the coral badge says."""
        return f"short {self.short}"


@dataclass(frozen=True, slots=True)
class Waiting:
    """Somebody who owes an answer, or is owed one. `word` says what is waited for, `late` that it is overdue."""

    booking: Booking
    title: str
    note: str
    word: str
    quote: Quote | None = None


def coming_up(*, today: date, days: int, short: dict[int, int]) -> list[ComingUp]:
    """Booked jobs with an event or a prep day from today up to `days` on; `short` is booking key to what it lacks."""
    until = today + timedelta(days=days)
    jobs: QuerySet[Any] = with_latex_of_place(
        Booking.objects.going_ahead()
        .filter(needed_on__lt=until)
        .exclude(event_on__lt=today)
        .select_related("client")
        # A row a piece: what a piece is drawn from is much longer than its name, and is not read.
        .annotate(piece_name=F("pieces__name"))
        .order_by("event_on", "pk", "pieces__position")
    )
    found = []
    for _, rows in groupby(jobs, key=lambda row: row.pk):
        job, *more = rows
        made = ", ".join(row.piece_name for row in (job, *more) if row.piece_name is not None)
        is_soon = job.prep_day is not None and job.prep_day - today <= timedelta(days=DAYS_TO_LOAD)
        found.append(ComingUp(job, made, short.get(job.pk, 0), is_soon=is_soon, allergy=allergies_of(job).badge))
    return found


def waiting_on(*, today: date, limit: int = 40) -> list[Waiting]:
    """Open quotes nobody answered, the first to run out first; then enquiries nobody priced, the oldest first."""
    quotes = (
        light(Quote.objects.open(today))
        .filter(booking__stage__in=[Booking.Stage.QUOTED, Booking.Stage.BOOKED])
        .select_related("booking__client")
        .annotate(times=Count("openings"), last=Max("openings__at"))
        .order_by("valid_until", "pk")[:limit]
    )
    waiting = [
        Waiting(
            quote.booking,
            f"Quote {quote.number} to {quote.booking.client.shown_name}",
            opened_words(quote.times),
            _days_left(quote.valid_until, today),
            quote,
        )
        for quote in quotes
    ]
    enquiries = (
        Booking.objects.filter(stage=Booking.Stage.ENQUIRY).select_related("client").order_by("created_at", "pk")
    )[: max(limit - len(waiting), 0)]
    waiting += [
        Waiting(booking, f"Enquiry · {booking.client.shown_name}", _enquiry_note(booking), "reply")
        for booking in enquiries
    ]
    return waiting


def _days_left(last: date, today: date) -> str:
    days = (last - today).days
    return {0: "open today only", 1: "open until tomorrow"}.get(days, f"open {days} more days")


def _enquiry_note(booking: Booking) -> str:
    wants = " ".join(booking.wants.split())
    when = (
        f"{booking.event_on:%a} {booking.event_on.day} {booking.event_on:%b}" if booking.event_on else booking.date_text
    )
    said = " · ".join(part for part in (when, wants) if part) or "nothing more is known"
    return said if len(said) <= 90 else said[:89] + "…"
