"""Issuing an invoice, and taking one back by a credit note. Numbers have no gaps; what was issued never changes."""

from datetime import datetime
from typing import Any

from django.db import transaction

from bookings import books
from bookings.actions.books import hold, take_number, write_entry
from bookings.actions.jobs import write_history
from bookings.actions.payments import MoneyRefused
from bookings.models import Booking, CreditNote, Invoice, InvoiceLine
from bookings.paperwork.billing import BillPaper
from bookings.queries.billing import billable, why_not_void
from bookings.queries.money import standing
from studio.models import User
from studio.money import show


class PaperOutdated(Exception):
    """Its number was given to another meanwhile, or the booking has moved on: the paper is to be made again."""


@transaction.atomic
def issue_invoice(*, paper: BillPaper, by: User, at: datetime) -> Invoice:
    """Issue a prepared invoice. Raises PaperOutdated, or MoneyRefused where nothing of that kind can be issued now."""
    booking = hold(paper.booking)
    found = billable(booking)
    if paper.bill.kind not in found.kinds:
        raise MoneyRefused(found.why_not or f"A {paper.bill.kind} invoice cannot be issued for this job now.")
    live = frozenset(one.pk for one in found.live)
    if paper.live != live or found.quote is None or paper.quote != found.quote.pk:
        raise PaperOutdated(f"booking {booking.pk} has moved on")
    return write_invoice(booking, paper, by=by, at=at)


@transaction.atomic
def void_invoice(*, paper: BillPaper, by: User, at: datetime) -> CreditNote:
    """Take an invoice back by its prepared credit note. Raises PaperOutdated and MoneyRefused."""
    booking = hold(paper.booking)
    live = billable(booking).live
    invoice = next((one for one in live if one.pk == paper.takes_back), None)
    if invoice is None:
        raise MoneyRefused("This invoice was taken back already.")
    if why := why_not_void(invoice, live):
        raise MoneyRefused(why)
    if paper.live != frozenset(one.pk for one in live):
        raise PaperOutdated(f"booking {booking.pk} has moved on")
    return write_credit_note(booking, paper, by=by, at=at)


def write_invoice(booking: Booking, paper: BillPaper, *, by: User, at: datetime) -> Invoice:
    """The rows of an invoice of a booking that is held."""
    _take(paper, "invoice")
    position = standing(booking.pk).position
    invoice = Invoice.objects.create(
        booking=booking,
        client=booking.client,
        quote_id=paper.quote,
        kind=paper.bill.kind,
        deposits_minor=paper.bill.deposits,
        issued_by=by,
        **paper.columns,
    )
    InvoiceLine.objects.bulk_create(
        InvoiceLine(invoice=invoice, position=n, **_within(line)) for n, line in enumerate(paper.lines)
    )
    if paper.bill.total or paper.bill.net or paper.bill.deposits:
        write_entry(
            postings=books.invoice(paper.bill, position=position),
            what=f"{invoice}, {invoice.get_kind_display()}".lower(),
            on=invoice.issued_on, currency=invoice.currency, client=booking.client, booking=booking, invoice=invoice,
            by=by, at=at,
        )  # fmt: skip
    said = f"{invoice} issued: {show(invoice.total_minor, invoice.currency)}."
    write_history(booking, said, at=at, by=by, money=True)
    return invoice


def write_credit_note(booking: Booking, paper: BillPaper, *, by: User, at: datetime) -> CreditNote:
    """The row of a credit note of a booking that is held."""
    _take(paper, "credit note")
    position = standing(booking.pk).position
    if paper.takes_back is None:
        raise ValueError(f"credit note {paper.number} names no invoice")
    note = CreditNote.objects.create(invoice_id=paper.takes_back, issued_by=by, **paper.columns)
    write_entry(
        postings=books.credit_note(paper.bill, position=position), what=f"{note} for {note.invoice}".lower(),
        on=note.issued_on, currency=note.currency, client=booking.client, booking=booking, invoice=note.invoice,
        credit_note=note, by=by, at=at,
    )  # fmt: skip
    said = f"{note.invoice} taken back by {str(note).lower()}."
    write_history(booking, said, at=at, by=by, money=True)
    return note


def _take(paper: BillPaper, series: str) -> None:
    if take_number(series) != paper.number:
        raise PaperOutdated(f"{series} {paper.number} was given to another")


def _within(line: dict[str, Any]) -> dict[str, Any]:
    """A line as its columns have room for it; the paper and its words keep all of it."""
    return line | {"what": line["what"][:200], "note": line["note"][:300]}
