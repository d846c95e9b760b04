"""One client on one page, and everything kept of them as they may ask for it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from django.db.models import Prefetch, QuerySet

from bookings.models import (
    Booking,
    Client,
    ConsentEntry,
    HistoryEntry,
    Photo,
    Quote,
    QuoteOpening,
    QuotePiece,
)
from bookings.queries.clients import CURRENT, Twice, written_down_again
from bookings.queries.money import ClientOwes, credit_of, owed_by_client
from bookings.queries.quotes import light, state_of

MOST_JOBS = 200


@dataclass(frozen=True, slots=True)
class Consent:
    """What a client said to one thing, the latest first."""

    what: str
    label: str
    entries: tuple[ConsentEntry, ...]

    @property
    def latest(self) -> ConsentEntry | None:
        """What holds now; None where they were never asked."""
        return self.entries[0] if self.entries else None

    @property
    def is_given(self) -> bool:
        """Whether they agree, as it stands."""
        return self.latest is not None and self.latest.is_given


@dataclass(frozen=True, slots=True)
class JobRow:
    """One job of theirs. `quotes` are what was sent, and how each stands; empty for crew."""

    booking: Booking
    quotes: tuple[tuple[Any, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ClientPage:
    """Everything a client's page says. `owing` and `credit` are of no amount for crew."""

    client: Client
    jobs: list[JobRow]
    consents: list[Consent]
    reachable: bool
    owing: ClientOwes | None = None
    credit: int = 0
    twice: list[Twice] = field(default_factory=list)


def client_page(client: Client, *, today: date, shows_money: bool) -> ClientPage:
    """A client on one page. Crew read who it is, the jobs, what to keep away, whether photos may be shown, and how to
    reach them while a job of theirs is under way."""
    bookings = list(client.bookings.order_by("-event_on", "-pk")[:MOST_JOBS])
    for booking in bookings:
        booking.client = client
    consents = consents_of(client)
    under_way = any(booking.stage in CURRENT for booking in bookings)
    if not shows_money:
        photos = [consent for consent in consents if consent.what == ConsentEntry.What.PHOTOS]
        return ClientPage(client, [JobRow(booking) for booking in bookings], photos, under_way)
    credit = credit_of(client.pk)
    return ClientPage(
        client,
        _with_quotes(bookings, today),
        consents,
        reachable=True,
        owing=next(iter(owed_by_client(today=today, client=client.pk, held={client.pk: credit})), None),
        credit=credit,
        twice=written_down_again(client),
    )


def consents_of(client: Client) -> list[Consent]:
    """What they said to each thing they may be asked. What was said last holds, by its day, then as it was written."""
    entries = list(client.consents.select_related("by").order_by("-on", "-at", "-pk"))
    return [
        Consent(str(what), label, tuple(entry for entry in entries if entry.what == what))
        for what, label in ConsentEntry.What.choices
    ]


def _with_quotes(bookings: Sequence[Booking], today: date) -> list[JobRow]:
    from_booking: dict[int, list[tuple[Any, str]]] = {}
    by_key = {booking.pk: booking for booking in bookings}
    for quote in light(Quote.objects.filter(booking__in=by_key)).select_related("acceptance").order_by("-version"):
        quote.booking = by_key[quote.booking_id]
        from_booking.setdefault(quote.booking_id, []).append((quote, state_of(quote, today=today)))
    return [JobRow(booking, tuple(from_booking.get(booking.pk, ()))) for booking in bookings]


def everything_of(client: Client, *, at: datetime) -> dict[str, Any]:
    """All that is kept of a client, as plain values: what they get when they ask. Amounts are in the smallest unit."""
    return {
        "asked_for": at,
        "client": _columns(client, "name", "phone", "email", "notes", "latex_allergy", "allergies", "found_us"),
        "consent": [
            _columns(entry, "what", "is_given", "how", "on", "at")
            for entry in client.consents.order_by("on", "at", "pk")
        ],
        "jobs": [_job(booking) for booking in _with_all_of_it(client.bookings.order_by("pk"))],
        "payments": [
            _columns(row, "number", "currency", "amount_minor", "method", "received_on", "note")
            for row in client.payments.order_by("number")
        ],
        "refunds": [
            _columns(row, "currency", "amount_minor", "method", "refunded_on", "note")
            for row in client.refunds.order_by("pk")
        ],
        "invoices": [
            _columns(row, "number", "kind", "issued_on", "currency", "net_minor", "tax_minor", "total_minor", "told")
            for row in client.invoices.defer("pdf").order_by("number")
        ],
    }


def _with_all_of_it(bookings: QuerySet[Booking]) -> QuerySet[Booking]:
    """The bookings with everything `_job` says of them: six statements, however many they are."""
    quotes = Quote.objects.defer("pdf").select_related("acceptance").order_by("version")
    return bookings.prefetch_related(
        Prefetch("history", HistoryEntry.objects.order_by("at", "pk")),
        Prefetch("photos", Photo.objects.defer("full", "picture").order_by("added_at", "pk")),
        Prefetch("quotes", quotes),
        Prefetch("quotes__pieces", QuotePiece.objects.defer("spec", "layout", "picture")),
        Prefetch("quotes__openings", QuoteOpening.objects.order_by("at")),
    )


def _job(booking: Booking) -> dict[str, Any]:
    said = _columns(
        booking, "title", "stage", "event_on", "date_text", "needed_on", "ready_by", "place", "wants", "budget",
        "created_at",
    )  # fmt: skip
    return {
        "number": booking.pk,
        **said,
        "what_happened": [_columns(entry, "at", "what") for entry in booking.history.all()],
        "photos": [_columns(photo, "name", "width", "height", "added_at") for photo in booking.photos.all()],
        "quotes": [
            _columns(quote, "number", "version", "issued_at", "currency", "total_minor", "deposit_minor", "told")
            | {
                "pieces": [_columns(piece, "name", "description", "price_minor") for piece in quote.pieces.all()],
                "accepted": _columns(quote.acceptance, "name", "at", "address", "browser")
                if hasattr(quote, "acceptance")
                else None,
                "opened": [opening.at for opening in quote.openings.all()],
            }
            for quote in booking.quotes.all()
        ],
    }


def _columns(row: Any, *names: str) -> dict[str, Any]:
    return {name: getattr(row, name) for name in names}
