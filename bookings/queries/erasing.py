"""What goes and what stays where a client asks to be erased, and why it cannot be done yet."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import models
from django.db.models import Q

from bookings.models import Acceptance, Booking, Client, Invoice, Payment, Photo, Piece, Quote
from bookings.queries.clients import CURRENT
from bookings.queries.money import credit_of, owed_by_booking, standing
from bookings.queries.wrapup import has_stock_out
from studio.models import Studio
from studio.money import show

DESCRIBES = frozenset(
    {
        "photo", "piece", "historyentry", "charge", "optionname", "question", "datehold", "place", "strike",
        "bringtick",
    }
)  # fmt: skip
"""What hangs on a booking, by the names of models, that describes its client or their wishes: it goes with them."""

STAYS = frozenset(
    {
        "amountdue", "creditmove", "entry", "invoice", "payment", "refund",  # the books
        "quote", "materialswap", "pulltick", "wrapup",  # blanked by themselves, or numbers alone
        "onthejob",  # which of the studio worked on it
        "acknowledgement",  # which of the studio answered for what of the site's safety
    }
)  # fmt: skip
"""What hangs on a booking and stays: the books, and what holds nobody's data."""


@dataclass(frozen=True, slots=True)
class Erasure:
    """What erasing a client would do, in sentences. It can be done where `why_not` is empty."""

    goes: tuple[str, ...]
    stays: tuple[str, ...]
    why_not: str


def rows_naming(model: type[models.Model]) -> list[Any]:
    """Every key of another model to this one, those without a way back too."""
    fields = model._meta.get_fields(include_hidden=True)
    return [
        field
        for field in fields
        if field.auto_created and not field.concrete and (field.one_to_many or field.one_to_one)
    ]


def open_quotes_of(client: Client) -> Q:
    """Which quotes of a client go: those nobody said yes to. One that was accepted is a record of the sale."""
    return Q(booking__client=client, acceptance__isnull=True, erased_at__isnull=True)


def erasure_of(client: Client, *, today: date) -> Erasure:
    """What goes, what stays, and why not."""
    bookings = Booking.objects.filter(client=client)
    jobs, photos = bookings.count(), Photo.objects.filter(booking__client=client).count()
    pieces = Piece.objects.filter(booking__client=client).count()
    quotes = Quote.objects.filter(open_quotes_of(client)).count()
    yeses = Acceptance.objects.filter(quote__booking__client=client).count()
    invoices, payments = (model.objects.filter(client=client).count() for model in (Invoice, Payment))
    goes = [
        "Name, telephone, e-mail, notes, allergies and how they found you.",
        _said(jobs, "job", "its title, place, wishes, budget and what happened in it"),
        _said(pieces, "piece", "as it was designed"),
        _said(photos, "photo of the place", "and the sketches on it") if photos else "",
        _said(quotes, "quote nobody accepted", "its words, pictures and PDF; every link to a quote is dead"),
        _said(yeses, "acceptance", "the typed name, the network address and the browser") if yeses else "",
        "Questions they asked, what you answered, and the letters you wrote them from here.",
    ]
    stays = [
        "The number, the days and the stage of each job, and what it took off the shelf.",
        _said(yeses, "accepted quote", "with its PDF: the record of what was sold") if yeses else "",
        _said(invoices, "invoice", "and its PDF, with the name on it, for as long as tax law asks") if invoices else "",
        _said(payments, "payment", "with its receipt number, and the books it is in") if payments else "",
        "When they gave or withdrew consent, without their name.",
        "A reason somebody typed into the shelf’s ledger, which is never edited.",
        "Backups made before today, and mail that has left: those are yours to delete.",
    ]
    return Erasure(tuple(filter(None, goes)), tuple(filter(None, stays)), why_not_erase(client, today=today))


def _said(count: int, what: str, more: str) -> str:
    """“2 photos of the place, and …”; nothing where there is none."""
    if not count:
        return ""
    head, _, tail = what.partition(" ")
    word = what if count == 1 else f"{head}s {tail}".strip()
    if what.startswith("accepted") and count > 1:
        word = "accepted quotes"
    return f"{count:,} {word}: {more}."


def why_not_erase(client: Client, *, today: date) -> str:
    """A sentence while something is still between them and the studio; empty where they can be erased."""
    if client.erased_at is not None:
        return "They have been erased already."
    under_way = Booking.objects.filter(client=client, stage__in=CURRENT).order_by("pk").first()
    if under_way is not None:
        return (
            f"Booking {under_way.pk}, {under_way.shown_title}, is still {under_way.stage}: wrap it up, cancel it or "
            "mark it as lost first."
        )
    currency = Studio.objects.current().currency
    owed = sum(one.owed for one in owed_by_booking(today=today, clients=[client.pk]))
    if owed:
        return f"They still owe {show(owed, currency)}: take the payment or take the invoice back first."
    if credit := credit_of(client.pk):
        return f"They have {show(credit, currency)} of credit with you: give it back first."
    for booking in Booking.objects.filter(client=client).order_by("pk"):
        if (left := standing(booking.pk).position) > 0:
            return f"Booking {booking.pk} has {show(left, currency)} invoiced and not paid: settle that first."
        if has_stock_out(booking):
            return f"What was taken off the shelf for booking {booking.pk} is still on the road: bring it home first."
    return ""
