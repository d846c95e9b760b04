"""Money in, money back, and a client's credit. Amounts are whole minor units of the studio's currency."""

from datetime import date, datetime

from django.db import transaction

from bookings import books
from bookings.actions.books import hold, hold_client, take_number, write_entry
from bookings.actions.jobs import write_history
from bookings.models import Booking, Client, CreditMove, Payment, Refund
from bookings.queries.money import credit_of, standing
from studio.models import User
from studio.money import show


class MoneyRefused(Exception):
    """Nothing was written; the message is a sentence for the page, `field` where it belongs."""

    def __init__(self, sentence: str, *, field: str | None = None) -> None:
        super().__init__(sentence)
        self.field = field


class MoreThanOwed(MoneyRefused):
    """More than the booking owes, and nobody has said yet that this is meant."""

    def __init__(self, owed: int, surplus: int, currency: str) -> None:
        super().__init__(
            f"Amount is {show(surplus, currency)} more than the {show(owed, currency)} still owed. "
            "If that is what came in, tick that it is meant: the rest is kept as the client’s credit.",
            field="amount",
        )


class HasChanged(MoneyRefused):
    """Somebody else wrote about the same money since the form was opened; `now` is what the amount is now."""

    def __init__(self, sentence: str, now: int) -> None:
        super().__init__(sentence)
        self.now = now


@transaction.atomic
def take_payment(
    *,
    booking: Booking,
    amount_minor: int,
    method: str,
    received_on: date,
    note: str,
    owed_seen: int,
    surplus_is_meant: bool,
    currency: str,
    today: date,
    by: User,
    at: datetime,
) -> Payment:
    """Write down money that came in. What is more than owed becomes the client's credit.

    `owed_seen` is what the page said was owed. Raises HasChanged where it is another amount now, MoreThanOwed where a
    surplus is not said to be meant, MoneyRefused for an amount of nothing or a day that has not come.
    """
    booking = hold(booking.pk)
    now = standing(booking.pk)
    _check(amount_minor, received_on, today=today, currency=currency, field="received_on")
    if now.owed != owed_seen:
        raise HasChanged(_since(booking, now.owed, currency), now.owed)
    surplus = max(amount_minor - now.owed, 0)
    if surplus and not surplus_is_meant:
        raise MoreThanOwed(now.owed, surplus, currency)
    settles = amount_minor - surplus
    payment = Payment.objects.create(
        number=take_number("receipt"),
        booking=booking,
        client=booking.client,
        currency=currency,
        amount_minor=amount_minor,
        surplus_minor=surplus,
        left_minor=now.owed - settles,
        method=method,
        received_on=received_on,
        note=note,
        by=by,
        at=at,
    )
    lines = books.payment(method=method, settles=settles, surplus=surplus, position=now.position)
    what = f"{show(amount_minor, currency)} received, {payment.get_method_display().lower()}"
    write_entry(
        postings=lines, what=f"Payment, receipt {payment.number}", on=received_on, currency=currency,
        client=booking.client, booking=booking, payment=payment, by=by, at=at,
    )  # fmt: skip
    kept = f" {show(surplus, currency)} of it is kept as credit." if surplus else ""
    write_history(booking, f"{what}.{kept}", at=at, by=by, money=True)
    return payment


@transaction.atomic
def refund(
    *,
    booking: Booking,
    amount_minor: int,
    method: str,
    refunded_on: date,
    note: str,
    could_seen: int,
    currency: str,
    today: date,
    by: User,
    at: datetime,
) -> Refund:
    """Give money back: out of the client's credit first, then out of what the booking was paid, which is owed again.

    `could_seen` is what the page said could be given back. Raises HasChanged where it is another amount now, and
    MoneyRefused for more than that, for nothing, or on a day that has not come.
    """
    booking = hold(booking.pk)
    now, credit = standing(booking.pk), credit_of(booking.client_id)
    could = credit + now.settled
    _check(amount_minor, refunded_on, today=today, currency=currency, field="refunded_on")
    _check_refund(amount_minor, could, could_seen, currency)
    from_credit = min(amount_minor, credit)
    made = Refund.objects.create(
        client=booking.client,
        booking=booking,
        currency=currency,
        from_credit_minor=from_credit,
        from_booking_minor=amount_minor - from_credit,
        method=method,
        refunded_on=refunded_on,
        note=note,
        by=by,
        at=at,
    )
    _write_refund(made, now.position, by=by, at=at)
    write_history(booking, f"{show(amount_minor, currency)} given back. {note}".strip(), at=at, by=by, money=True)
    return made


@transaction.atomic
def refund_credit(
    *,
    client: Client,
    amount_minor: int,
    method: str,
    refunded_on: date,
    note: str,
    could_seen: int,
    currency: str,
    today: date,
    by: User,
    at: datetime,
) -> Refund:
    """Give a client back credit that belongs to no booking. Raises as `refund` does."""
    client = hold_client(client.pk)
    credit = credit_of(client.pk)
    _check(amount_minor, refunded_on, today=today, currency=currency, field="refunded_on")
    _check_refund(amount_minor, credit, could_seen, currency)
    made = Refund.objects.create(
        client=client,
        currency=currency,
        from_credit_minor=amount_minor,
        method=method,
        refunded_on=refunded_on,
        note=note,
        by=by,
        at=at,
    )
    _write_refund(made, 0, by=by, at=at)
    return made


@transaction.atomic
def use_credit(*, booking: Booking, currency: str, today: date, by: User, at: datetime) -> CreditMove:
    """Set the client's credit against what the booking owes, as far as it goes. Raises MoneyRefused for nothing."""
    booking = hold(booking.pk)
    now, credit = standing(booking.pk), credit_of(booking.client_id)
    amount = min(now.owed, credit)
    if amount <= 0:
        raise MoneyRefused(f"{booking.client} has no credit." if not credit else "This job owes nothing.")
    made = _move_credit(booking, CreditMove.Kind.USED, amount, on=today, by=by, at=at)
    write_entry(
        postings=books.credit_used(amount=amount, position=now.position), what="Credit used", on=today,
        currency=currency, client=booking.client, booking=booking, credit_move=made, by=by, at=at,
    )  # fmt: skip
    write_history(booking, f"{show(amount, currency)} of credit used.", at=at, by=by, money=True)
    return made


def free_surplus(*, booking: Booking, currency: str, today: date, by: User | None, at: datetime) -> CreditMove | None:
    """Make credit of what a held booking was paid beyond what it costs now; None where there is nothing."""
    now = standing(booking.pk)
    if now.owed >= 0:
        return None
    made = _move_credit(booking, CreditMove.Kind.SURPLUS, -now.owed, on=today, by=by, at=at)
    write_entry(
        postings=books.surplus_credited(amount=made.amount_minor, position=now.position),
        what="Paid more than it costs",
        on=today, currency=currency, client=booking.client, booking=booking, credit_move=made, by=by, at=at,
    )  # fmt: skip
    said = f"{show(made.amount_minor, currency)} paid is more than it costs now, and is kept as credit."
    write_history(booking, said, at=at, by=by, money=True)
    return made


def _move_credit(booking: Booking, kind: str, amount: int, *, on: date, by: User | None, at: datetime) -> CreditMove:
    return CreditMove.objects.create(
        client=booking.client, booking=booking, kind=kind, amount_minor=amount, on=on, by=by, at=at
    )


def _write_refund(made: Refund, position: int, *, by: User, at: datetime) -> None:
    lines = books.refund(
        method=made.method,
        from_credit=made.from_credit_minor,
        from_booking=made.from_booking_minor,
        position=position,
    )
    write_entry(
        postings=lines, what=f"Refund. {made.note}".strip(), on=made.refunded_on, currency=made.currency,
        client=made.client, booking=made.booking, refund=made, by=by, at=at,
    )  # fmt: skip


def _check(amount: int, on: date, *, today: date, currency: str, field: str) -> None:
    if amount <= 0:
        raise MoneyRefused(f"Amount must be more than nothing (got “{show(amount, currency)}”).", field="amount")
    if on > today:
        raise MoneyRefused(f"Day must be today or before (got “{on:%Y-%m-%d}”).", field=field)


def _check_refund(amount: int, could: int, could_seen: int, currency: str) -> None:
    if could != could_seen:
        said = "Somebody else has written about this money since you opened this page."
        raise HasChanged(f"{said} {show(could, currency)} can be given back now: look, then press again.", could)
    if amount > could:
        raise MoneyRefused(
            f"Amount must be at most the {show(could, currency)} that can be given back "
            f"(got “{show(amount, currency)}”).",
            field="amount",
        )


def _since(booking: Booking, owed: int, currency: str) -> str:
    """What somebody else wrote down meanwhile."""
    last = booking.payments.select_related("by").order_by("-at", "-pk").first()
    written = (
        f"{last.by.shown_name} wrote down {show(last.amount_minor, currency)} at {last.at:%H:%M} UTC. " if last else ""
    )
    return (
        f"This job’s money has changed since you opened this page. {written}Now {show(owed, currency)} is owed. "
        "If yours is another payment, press again."
    )
