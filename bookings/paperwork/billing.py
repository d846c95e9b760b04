"""An invoice or a credit note made ready to be issued: everything it freezes, worked out before anything is written.

As with a quote, drawing the PDF is slow and nobody's work should wait for it. The paper carries the number it was made
with and what it was made from; issuing refuses it where either has moved on, and it is made again.
"""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from bookings.books import Bill, adds_up, net_and_tax
from bookings.models import AmountDue, Booking, Invoice, MoneyTerms, NumberSeries, Quote
from bookings.owing import Kept, kept_on_cancelling
from bookings.paperwork.bills import bill_pdf, day, paper_of, sender
from bookings.queries.billing import Billable, BillableLine, accepted_quote, billable, lines_of, terms_of
from bookings.queries.day_words import day_words
from studio.models import Studio
from studio.money import from_minor, minor_units, shares, tax, to_minor


@dataclass(frozen=True, slots=True)
class BillPaper:
    """What issuing freezes: the columns of an invoice and its lines, or of a credit note.

    A credit note takes the invoice `takes_back` back. `live` are the keys of the invoices that
    stood when it was made, `quote` the accepted quote.
    """

    booking: int
    quote: int
    live: frozenset[int]
    bill: Bill
    columns: dict[str, Any]
    lines: tuple[dict[str, Any], ...] = ()
    takes_back: int | None = None

    @property
    def number(self) -> int:
        """The number it was made with."""
        number: int = self.columns["number"]
        return number


@dataclass(frozen=True, slots=True)
class CancellationPaper:
    """What calling a job off on a day issues: credit notes for what was invoiced, and an invoice for what is kept."""

    on: date
    kept: Kept
    live: frozenset[int]
    notes: tuple[BillPaper, ...]
    charge: BillPaper | None


def next_number(series: str) -> int:
    """The number that comes next; another may take it first."""
    row = NumberSeries.objects.filter(pk=series).first()
    return (row.last if row else 0) + 1


def prepare_invoice(booking: Booking, *, kind: str, studio: Studio, today: date, at: datetime) -> BillPaper:
    """An invoice of a kind that `billable` allows, made from the accepted quote."""
    found = billable(booking)
    if found.quote is None or kind not in found.kinds:
        raise ValueError(found.why_not or f"a {kind} invoice cannot be issued for booking {booking.pk} now")
    bill, lines = _deposit(found.quote) if kind == Invoice.Kind.DEPOSIT else _work(found, kind)
    if not adds_up([(line["net_minor"], line["tax_minor"]) for line in lines], bill):
        raise ValueError(f"the lines of an invoice for booking {booking.pk} do not add up to {bill}")
    dues = _dues(booking, kind, bill.total, today)
    told = _told(booking, studio, bill, lines, currency=found.quote.currency, today=today) | {
        "kind": Invoice.Kind(kind).label,
        "each_line": bool(found.quote.told.get("tax_each_line")),
        "tax_percent": found.quote.told.get("tax_percent", ""),
        "about": f"{found.quote}, accepted {day(found.quote.acceptance.at.date())}",
        "total_words": "To pay",
        "dues": dues,
        "pay_to": _lines_of(MoneyTerms.objects.current().pay_to),
    }
    return _paper(booking, found, bill, told, lines, "invoice", studio=studio, today=today, at=at)


def prepare_credit_note(
    invoice: Invoice, *, why: str, studio: Studio, today: date, at: datetime, after: int = 0
) -> BillPaper:
    """The credit note that takes an invoice back. `after` is how many of the series are made before it together."""
    booking = invoice.booking
    bill = Bill(invoice.kind, invoice.net_minor, invoice.tax_minor, invoice.deposits_minor)
    lines = tuple(
        {"what": row.what, "note": row.note, "net_minor": row.net_minor, "tax_minor": row.tax_minor}
        for row in invoice.lines.order_by("position")
    )
    told = _told(booking, studio, bill, lines, currency=invoice.currency, today=today) | {
        "kind": "Credit note",
        "each_line": invoice.told["each_line"],
        "tax_percent": invoice.told["tax_percent"],
        "about": f"Takes back invoice {invoice.number} of {invoice.told['issued']}",
        "total_words": "Total credited",
        "remarks": [why] if why else [],
    }
    found = Billable(invoice.quote, billable(booking).live)
    paper = _paper(booking, found, bill, told, (), "credit note", studio=studio, today=today, at=at, after=after)
    paper.columns["why"] = why
    return BillPaper(paper.booking, paper.quote, paper.live, bill, paper.columns, takes_back=invoice.pk)


def kept_of(booking: Booking, *, today: date) -> Kept:
    """What the terms the client accepted keep of the job, were it called off today."""
    quote = accepted_quote(booking)
    if quote is None:
        return Kept(0, "Nothing was accepted, so nothing is kept.")
    steps = [(days, percent) for days, percent in quote.told.get("notice", [])]
    return kept_on_cancelling(total=terms_of(quote).total, steps=steps, event=booking.event_on, today=today)


def tax_in_kept(booking: Booking, kept: Kept) -> int:
    """How much of what is kept is sales tax: its share of the total that was accepted, where the studio has it taxed.

    What the client pays is what they agreed to, either way.
    """
    quote = accepted_quote(booking)
    if quote is None or not MoneyTerms.objects.current().taxes_cancellation:
        return 0
    asked = terms_of(quote)
    return net_and_tax(kept.amount, price=asked.price, tax=asked.tax)[1]


def prepare_cancellation(
    booking: Booking, *, why: str, is_waived: bool, studio: Studio, today: date, at: datetime
) -> CancellationPaper:
    """The papers of calling a job off: what was invoiced is taken back, what is kept is invoiced."""
    kept = Kept(0, "The charge was waived.") if is_waived else kept_of(booking, today=today)
    found = billable(booking)
    # A balance takes the deposit off, so it is taken back before it.
    back = sorted(found.live, key=lambda one: one.kind == Invoice.Kind.DEPOSIT)
    notes = tuple(
        prepare_credit_note(
            one, why=f"The job was cancelled. {why}".strip(), studio=studio, today=today, at=at, after=n
        )
        for n, one in enumerate(back)
    )
    charge = _charge(booking, found, kept, studio=studio, today=today, at=at) if kept.amount else None
    return CancellationPaper(today, kept, frozenset(one.pk for one in found.live), notes, charge)


def _charge(booking: Booking, found: Billable, kept: Kept, *, studio: Studio, today: date, at: datetime) -> BillPaper:
    due = tax_in_kept(booking, kept)
    bill = Bill(Invoice.Kind.CANCELLATION, kept.amount - due, due)
    lines = ({"what": "Cancellation charge", "note": kept.reason, "net_minor": bill.net, "tax_minor": due},)
    currency = found.quote.currency if found.quote else studio.currency
    told = _told(booking, studio, bill, lines, currency=currency, today=today) | {
        "kind": Invoice.Kind.CANCELLATION.label,
        "tax_percent": found.quote.told.get("tax_percent", "") if found.quote and due else "",
        "total_words": "To pay",
        "dues": [{"what": "Cancellation charge", "amount": kept.amount, "on": day(today)}],
        "pay_to": _lines_of(MoneyTerms.objects.current().pay_to),
        "remarks": ["What you have paid already is set against it."],
    }
    return _paper(booking, found, bill, told, lines, "invoice", studio=studio, today=today, at=at)


def _deposit(quote: Quote) -> tuple[Bill, tuple[dict[str, Any], ...]]:
    asked = terms_of(quote)
    net, due = net_and_tax(asked.deposit, price=asked.price, tax=asked.tax)
    note = "To hold the date. It is taken off the balance."
    line = {"what": "Deposit", "note": note, "net_minor": net, "tax_minor": due}
    return Bill(Invoice.Kind.DEPOSIT, net, due), (line,)


def _work(found: Billable, kind: str) -> tuple[Bill, tuple[dict[str, Any], ...]]:
    """Every piece that was accepted, less the deposits that were invoiced."""
    quote, taken_off = found.quote, found.deposits
    if quote is None:
        raise ValueError("work is invoiced from an accepted quote")
    asked, agreed = terms_of(quote), lines_of(quote)
    lines: list[dict[str, Any]] = [
        {"what": line.what, "note": line.note, "net_minor": line.price, "tax_minor": due}
        for line, due in zip(agreed, line_taxes(agreed, quote), strict=True)
    ]
    lines += [
        {
            "what": f"Less {str(one).lower()}, deposit",
            "note": f"of {one.told['issued']}",
            "net_minor": -one.net_minor,
            "tax_minor": -one.tax_minor,
        }
        for one in taken_off
    ]
    net, due = sum(one.net_minor for one in taken_off), sum(one.tax_minor for one in taken_off)
    return Bill(kind, asked.price - net, asked.tax - due, deposits=net), tuple(lines)


def line_taxes(lines: Sequence[BillableLine], quote: Quote) -> list[int]:
    """The tax of each line, adding up to the tax agreed: its own, or reckoned on it where the quote says so.

    Where tax was reckoned on the total, the lines share it.
    """
    agreed = terms_of(quote).tax
    shared = [line for line in lines if line.tax is None]
    left = agreed - sum(line.tax or 0 for line in lines)
    each = iter(_reckoned(shared, quote, left) or shares(left, [line.price for line in shared]))
    return [next(each) if line.tax is None else line.tax for line in lines]


def _reckoned(lines: Sequence[BillableLine], quote: Quote, left: int) -> list[int]:
    """The tax reckoned line by line, where the quote's was and it comes to what is left; else nothing."""
    if not quote.told.get("tax_each_line"):
        return []
    currency, percent = quote.currency, Decimal(quote.told["tax_percent"])
    places = minor_units(currency)
    each = [to_minor(tax(from_minor(line.price, currency), percent, places), currency) for line in lines]
    return each if sum(each) == left else []


def _dues(booking: Booking, kind: str, total: int, today: date) -> list[dict[str, Any]]:
    """By when it is to be paid, as the schedule has it."""
    rows = {row.kind: row for row in booking.amounts_due.filter(void_at__isnull=True)}
    if kind == Invoice.Kind.WHOLE:
        return [
            {"what": row.get_kind_display(), "amount": row.amount_minor, "on": day(row.due_on)}
            for row in sorted(rows.values(), key=lambda row: row.due_on)
            if row.amount_minor
        ]
    own = rows.get(AmountDue.Kind(kind).value)
    label = AmountDue.Kind(kind).label
    return [{"what": label, "amount": total, "on": day(own.due_on if own else today)}] if total else []


def _told(
    booking: Booking, studio: Studio, bill: Bill, lines: Sequence[Mapping[str, Any]], *, currency: str, today: date
) -> dict[str, Any]:
    """The words every bill has, as text that needs nothing else to be read."""
    client = booking.client
    return {
        "studio": sender(studio),
        "client": client.shown_name,
        "contact": ", ".join(part for part in (client.email, client.phone) if part and part != client.shown_name),
        "title": booking.shown_title,
        "when": day_words(booking),
        "issued": day(today),
        "currency": currency,
        "lines_head": "For",
        "lines": [
            {"what": line["what"], "note": line["note"], "net": line["net_minor"], "tax": line["tax_minor"]}
            for line in lines
        ],
        "each_line": False,
        "tax_percent": "",
        "shows_tax": bool(bill.tax),
        "net": bill.net,
        "tax": bill.tax,
        "total": bill.total,
        "about": "",
        "dues": [],
        "pay_to": [],
        "remarks": [],
    }


def _paper(
    booking: Booking,
    found: Billable,
    bill: Bill,
    told: dict[str, Any],
    lines: tuple[dict[str, Any], ...],
    series: str,
    *,
    studio: Studio,
    today: date,
    at: datetime,
    after: int = 0,
) -> BillPaper:
    if found.quote is None:
        raise ValueError(f"booking {booking.pk} has no accepted quote")
    number = next_number(series) + after
    told["name"] = f"{series.capitalize()} {number}"
    pdf = bill_pdf(told, made_at=at, paper=paper_of(studio))
    columns = {
        "number": number,
        "currency": told["currency"],
        "issued_on": today,
        "issued_at": at,
        "net_minor": bill.net,
        "tax_minor": bill.tax,
        "total_minor": bill.total,
        "told": told,
        "pdf": pdf,
        "pdf_sha256": hashlib.sha256(pdf).hexdigest(),
    }
    live = frozenset(one.pk for one in found.live)
    return BillPaper(booking.pk, found.quote.pk, live, bill, columns, lines)


def _lines_of(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]
