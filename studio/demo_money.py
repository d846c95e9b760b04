"""The demo's money: terms, a deposit that was paid and invoiced, and one that is late."""

from datetime import date, datetime, timedelta

from bookings import actions
from bookings.models import AmountDue, Booking, MoneyTerms
from bookings.paperwork.billing import prepare_invoice
from bookings.queries.money import standing
from studio.models import Studio, User

DAYS_LATE = 9


def set_terms() -> None:
    """The balance a week before, more kept the shorter the notice; an invented bank."""
    MoneyTerms.objects.create(
        pk=1,
        balance_days=7,
        notice=[[30, 25], [14, 50], [0, 80]],
        pay_to="Harbour Bank of Port Alder, account 0142 0163. Please write the number of the invoice beside it.",
    )


def pay_one_deposit(paid: Booking, late: Booking, *, by: User, today: date, at: datetime) -> None:
    """The first job's deposit is invoiced and paid by card; the second's should have been paid days ago."""
    studio = Studio.objects.current()
    paid = Booking.objects.select_related("client").get(pk=paid.pk)
    paper = prepare_invoice(paid, kind="deposit", studio=studio, today=today, at=at)
    invoice = actions.issue_invoice(paper=paper, by=by, at=at)
    actions.take_payment(
        booking=paid,
        amount_minor=invoice.total_minor,
        method="card",
        received_on=today,
        note="at the counter",
        owed_seen=standing(paid.pk).owed,
        surplus_is_meant=False,
        currency=studio.currency,
        today=today,
        by=by,
        at=at,
    )
    AmountDue.objects.filter(booking=late, kind=AmountDue.Kind.DEPOSIT).update(due_on=today - timedelta(days=DAYS_LATE))
