"""What can be invoiced for a booking, and which invoices can be taken back."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bookings.models import Booking, CreditNote, Invoice, Payment, Quote, Refund
from bookings.owing import Open, owed_since
from bookings.queries.agreed import agreed_lines, agreed_of
from bookings.queries.known import may_have
from bookings.queries.money import Standing, credit_of, live_invoices, open_dues_of, standing_of

_WORK = (Invoice.Kind.BALANCE, Invoice.Kind.WHOLE)


@dataclass(frozen=True, slots=True)
class BillableLine:
    """One line of what was agreed, before tax. `tax` is its own where it has one, None where it follows the whole."""

    what: str
    note: str
    price: int
    tax: int | None = None


@dataclass(frozen=True, slots=True)
class Terms:
    """What an accepted quote asks, in minor units; its lines add up to `price`."""

    price: int
    tax: int
    deposit: int

    @property
    def total(self) -> int:
        """Price and tax."""
        return self.price + self.tax


def terms_of(quote: Quote) -> Terms:
    """What was agreed: every invoice, due and charge for cancelling is reckoned from this."""
    asked = agreed_of(quote)
    return Terms(asked.price, asked.tax, asked.deposit)


def lines_of(quote: Quote) -> list[BillableLine]:
    """What was agreed, line by line, for its invoice."""
    return [BillableLine(line.name, line.description, line.price_minor, line.tax_minor) for line in agreed_lines(quote)]


@dataclass(frozen=True, slots=True)
class Billable:
    """The accepted quote, the invoices that stand, and the kinds of invoice that can be issued now, or why none can."""

    quote: Quote | None
    live: tuple[Invoice, ...]
    kinds: tuple[str, ...] = ()
    why_not: str = ""

    @property
    def deposits(self) -> tuple[Invoice, ...]:
        """The deposit invoices that stand."""
        return tuple(one for one in self.live if one.kind == Invoice.Kind.DEPOSIT)


def accepted_quote(booking: Booking) -> Quote | None:
    """The newest version the client said yes to."""
    accepted = Quote.objects.filter(booking=booking, acceptance__isnull=False)
    return accepted.select_related("acceptance").defer("pdf", "reasons").order_by("-version").first()


def _newest_accepted(quotes: Sequence[Quote]) -> Quote | None:
    accepted = (quote for quote in quotes if hasattr(quote, "acceptance"))
    return max(accepted, key=lambda quote: quote.version, default=None)


def standing_invoices(booking: Booking) -> tuple[Invoice, ...]:
    """A booking's invoices that were not taken back, in their order, without their papers."""
    return tuple(live_invoices().filter(booking=booking).defer("pdf").order_by("pk"))


def billable(booking: Booking) -> Billable:
    """What can be invoiced: a deposit or all of it first, and the balance once a deposit is invoiced."""
    return _billable(booking, standing_invoices(booking), accepted_quote(booking))


def _billable(booking: Booking, live: tuple[Invoice, ...], quote: Quote | None) -> Billable:
    if quote is None:
        return Billable(
            None, live, why_not="Nothing to invoice yet: an invoice is made from the quote that was accepted."
        )
    if booking.stage not in (Booking.Stage.BOOKED, Booking.Stage.DONE):
        return Billable(quote, live, why_not=f"This job is {booking.stage}: nothing more is invoiced for it.")
    work = [one for one in live if one.kind in _WORK]
    if work and work[0].quote_id != quote.pk:
        said = f"{work[0]} is for an earlier version than the one accepted."
        return Billable(quote, live, why_not=f"{said} Take it back by a credit note, then issue another.")
    if work:
        return Billable(quote, live, why_not="Everything is invoiced.")
    found, asked = Billable(quote, live), terms_of(quote)
    if not found.deposits:
        first = (Invoice.Kind.DEPOSIT.value,) if asked.deposit else ()
        return Billable(quote, live, (*first, Invoice.Kind.WHOLE.value) if asked.total else ())
    if sum(one.total_minor for one in found.deposits) > asked.total:
        said = "The deposit invoiced is more than the job costs now. Take its invoice back by a credit note first."
        return Billable(quote, live, why_not=said)
    return Billable(quote, live, (Invoice.Kind.BALANCE.value,))


def why_not_void(invoice: Invoice, live: Sequence[Invoice]) -> str:
    """Why an invoice cannot be taken back; empty where it can. `live` are the invoices of its booking that stand."""
    if invoice.pk not in [one.pk for one in live]:
        return f"{invoice} was taken back already."
    balance = next((one for one in live if one.kind == Invoice.Kind.BALANCE), None)
    if invoice.kind == Invoice.Kind.DEPOSIT and balance is not None:
        return f"{balance} takes this deposit off: take that one back first."
    return ""


@dataclass(frozen=True, slots=True)
class MoneyCard:
    """A booking's money on its page: what is owed since when, what was paid, what was invoiced and can be."""

    now: Standing
    credit: int
    open_dues: tuple[Open, ...]
    since: date | None
    payments: tuple[Payment, ...]
    refunds: tuple[Refund, ...]
    invoices: tuple[tuple[Invoice, CreditNote | None], ...]
    billable: Billable

    @property
    def can_give_back(self) -> int:
        """The most that can be refunded: the client's credit and what the booking was paid."""
        return self.credit + self.now.settled

    @property
    def can_use_credit(self) -> int:
        """How much of the client's credit this booking can take."""
        return min(self.credit, self.now.owed)

    @property
    def is_worth_showing(self) -> bool:
        """Whether there is any money to speak of."""
        return bool(self.now.due or self.payments or self.invoices or self.credit or self.billable.quote)


def money_card(booking: Booking, *, today: date, quotes: Sequence[Quote] | None = None) -> MoneyCard:
    """A booking's money on its page. `quotes` are all of its versions, where the caller has read them."""
    now = standing_of(booking)
    # Where all is settled nothing is left of any due.
    open_dues = tuple(open_dues_of(booking, now.settled)) if now.owed > 0 else ()
    noted: tuple[tuple[Invoice, CreditNote | None], ...] = ()
    if may_have(booking, "invoices"):
        invoices = booking.invoices.select_related("credit_note").order_by("-number")
        invoices = invoices.defer("pdf", "told", "credit_note__pdf", "credit_note__told")
        noted = tuple((one, getattr(one, "credit_note", None)) for one in invoices)
    live = tuple(one for one, note in reversed(noted) if note is None)
    paid, back = may_have(booking, "payments"), may_have(booking, "refunds")
    return MoneyCard(
        now=now,
        credit=credit_of(booking.client_id) if may_have(booking, "credit") else 0,
        open_dues=open_dues,
        since=owed_since(open_dues, today=today),
        payments=tuple(booking.payments.order_by("-received_on", "-pk")) if paid else (),
        refunds=tuple(booking.refunds.order_by("-refunded_on", "-pk")) if back else (),
        invoices=noted,
        billable=_billable(booking, live, accepted_quote(booking) if quotes is None else _newest_accepted(quotes)),
    )
