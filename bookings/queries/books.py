"""The books read: month by month, as a journal an accountant takes over, as a client's statement."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Max, Min, Prefetch, Sum
from django.db.models.functions import ExtractMonth

from bookings.books import CHART, PAID_INTO, Account
from bookings.models import AmountDue, Client, Entry, Payment, Posting, Refund
from studio.money import from_minor

JOURNAL_COLUMNS = (
    "Date",
    "Entry",
    "Account code",
    "Account",
    "Debit",
    "Credit",
    "Invoice",
    "Credit note",
    "Receipt",
    "Booking",
    "Client",
    "Tax",
    "Tax rate %",
    "Currency",
    "What",
)
_MONEY = [account.value for account in PAID_INTO.values()]


@dataclass(frozen=True, slots=True)
class Totals:
    """What a month or a year came to: invoiced before tax, tax on it, charges for cancelling, money in less money out.

    `month` is 1 to 12, or 0 for the whole year.
    """

    month: int
    sales: int = 0
    tax: int = 0
    fees: int = 0
    received: int = 0

    @property
    def first(self) -> date:
        """A day of it, to write the month's name from."""
        return date(2000, self.month or 1, 1)


def totals_of(year: int) -> tuple[list[Totals], Totals]:
    """The twelve months of a year, and the year. Sales count on the day of the invoice, money on the day it moved."""
    rows = (
        Posting.objects.filter(entry__on__year=year)
        .annotate(month=ExtractMonth("entry__on"))
        .values("month", "account")
        .annotate(debits=Sum("debit_minor"), credited=Sum("credit_minor"))
        .order_by()
    )
    sums: dict[tuple[int, str], int] = {}
    for row in rows:
        account = Account(row["account"])
        sign = 1 if CHART[account].grows_by_debit else -1
        for month in (row["month"], 0):
            key = (month, account.value)
            sums[key] = sums.get(key, 0) + sign * (row["debits"] - row["credited"])
    found = [
        Totals(
            month,
            sales=sums.get((month, Account.SALES.value), 0),
            tax=sums.get((month, Account.TAX.value), 0),
            fees=sums.get((month, Account.FEES.value), 0),
            received=sum(sums.get((month, account), 0) for account in _MONEY),
        )
        for month in range(13)
    ]
    return found[1:], found[0]


def years_of_books(today: date) -> list[int]:
    """The years there is anything in, and this one, the newest first."""
    ends = Entry.objects.aggregate(first=Min("on"), last=Max("on"))
    first, last = (ends["first"] or today).year, max((ends["last"] or today).year, today.year)
    return list(range(last, min(first, today.year) - 1, -1))


def journal(first: date, last: date) -> Iterator[tuple[str | int | Decimal | None, ...]]:
    """Every posting from one day to another, both included, under `JOURNAL_COLUMNS`, in the order it was written down.

    Amounts are in the main unit. `Tax` is what the line adds to sales tax payable.
    """
    yield JOURNAL_COLUMNS
    rows = (
        Posting.objects.filter(entry__on__gte=first, entry__on__lte=last)
        .select_related("entry__client", "entry__invoice", "entry__credit_note", "entry__payment")
        .defer("entry__invoice__pdf", "entry__credit_note__pdf", "entry__credit_note__told")
        .order_by("entry__on", "entry__number", "pk")
    )
    for row in rows.iterator(chunk_size=500):
        entry, about = row.entry, CHART[Account(row.account)]
        is_tax = row.account == Account.TAX.value
        yield (
            entry.on.isoformat(),
            entry.number,
            int(about.code),
            about.name,
            from_minor(row.debit_minor, entry.currency) if row.debit_minor else None,
            from_minor(row.credit_minor, entry.currency) if row.credit_minor else None,
            entry.invoice.number if entry.invoice else None,
            entry.credit_note.number if entry.credit_note else None,
            entry.payment.number if entry.payment else None,
            entry.booking_id,
            entry.client.shown_name,
            from_minor(row.credit_minor - row.debit_minor, entry.currency) if is_tax else None,
            _rate(entry) if is_tax else None,
            entry.currency,
            entry.what,
        )


def _rate(entry: Entry) -> Decimal | None:
    said = entry.invoice.told.get("tax_percent") if entry.invoice else ""
    return Decimal(said) if said else None


@dataclass(frozen=True, slots=True)
class StatementLine:
    """One line of a statement: what became payable or was paid, and what was owed after it."""

    on: date
    what: str
    owed: int
    paid: int
    balance: int


def statement_lines(client: Client) -> list[StatementLine]:
    """What a client was asked to pay and what they paid, in order; the last balance is what they owe now.

    What is asked is the schedule of their accepted quotes; money kept as credit has not paid for anything yet. Five
    statements, however many bookings they have.
    """
    happened: list[tuple[date, int, str, int, int]] = []
    asked = Prefetch("amounts_due", AmountDue.objects.filter(void_at__isnull=True, amount_minor__gt=0).order_by("pk"))
    given_back = Prefetch("refunds", Refund.objects.filter(from_booking_minor__gt=0).order_by("pk"))
    for booking in client.bookings.order_by("pk").prefetch_related(asked, "payments", "credit_moves", given_back):
        for due in booking.amounts_due.all():
            happened.append((due.due_on, 0, f"{due.get_kind_display()}: {booking.shown_title}", due.amount_minor, 0))
        for paid in booking.payments.all():
            if paid.settled_minor:
                happened.append((paid.received_on, 1, f"{_paid_words(paid)}", 0, paid.settled_minor))
        for move in booking.credit_moves.all():
            amount = move.amount_minor if move.kind == "used" else -move.amount_minor
            what = "Credit used" if amount > 0 else "Kept as credit"
            happened.append((move.on, 1, f"{what}: {booking.shown_title}", max(-amount, 0), max(amount, 0)))
        for back in booking.refunds.all():
            happened.append((back.refunded_on, 1, "Given back to you", back.from_booking_minor, 0))
    return list(_running(sorted(happened, key=lambda one: one[:2])))


def _running(happened: Iterable[tuple[date, int, str, int, int]]) -> Iterator[StatementLine]:
    balance = 0
    for on, _order, what, owed, paid in happened:
        balance += owed - paid
        yield StatementLine(on, what, owed, paid, balance)


def _paid_words(payment: Payment) -> str:
    return f"Paid, {payment.get_method_display().lower()}, receipt {payment.number}"
