"""Calling a booked job off: what it held is free, what was invoiced is taken back, what the terms keep is invoiced."""

from datetime import datetime

from django.db import transaction

from bookings.actions.books import hold
from bookings.actions.invoices import PaperOutdated, write_credit_note, write_invoice
from bookings.actions.jobs import end_booking, write_history
from bookings.actions.payments import MoneyRefused, free_surplus
from bookings.models import AmountDue, Booking
from bookings.paperwork.billing import CancellationPaper
from bookings.queries.money import live_invoices
from studio.models import Studio, User
from studio.money import show


@transaction.atomic
def cancel_booking(
    *, booking: Booking, why: str, by: User, at: datetime, papers: CancellationPaper | None = None
) -> Booking:
    """Cancel a booked job. `papers` say what is kept and take invoices back; what was paid beyond that is credit.

    Raises MoveRefused at any other stage, MoneyRefused where something is invoiced and there are no papers for it, and
    PaperOutdated where they no longer fit.
    """
    booking = hold(booking.pk)
    live = frozenset(live_invoices().filter(booking=booking).values_list("pk", flat=True))
    if papers is None and live:
        raise MoneyRefused("This job is invoiced: its invoices are taken back when it is cancelled.")
    if papers is not None and papers.live != live:
        raise PaperOutdated(f"booking {booking.pk} has been invoiced meanwhile")
    booking = end_booking(booking, Booking.Stage.CANCELLED, f"Cancelled. {why}".strip(), by=by, at=at)
    currency = Studio.objects.current().currency
    if papers is not None:
        for note in papers.notes:
            write_credit_note(booking, note, by=by, at=at)
        if papers.charge is not None:
            charge = write_invoice(booking, papers.charge, by=by, at=at)
            currency = charge.currency
            AmountDue.objects.create(
                booking=booking,
                quote_id=charge.quote_id,
                kind=AmountDue.Kind.CANCELLATION,
                amount_minor=charge.total_minor,
                due_on=charge.issued_on,
            )
        said = f"{show(papers.kept.amount, currency)} is kept. {papers.kept.reason}"
        write_history(booking, said, at=at, by=by, money=True)
    on = papers.on if papers is not None else at.date()
    free_surplus(booking=booking, currency=currency, today=on, by=by, at=at)
    return booking
