"""The day a balance is due, when its job is moved to another day."""

from datetime import date

from django.utils import timezone

from bookings.diary import short_day
from bookings.models import AmountDue, Booking, Invoice, MoneyTerms
from bookings.owing import moved_with_its_day
from bookings.queries.money import live_invoices, standing


def move_balance(booking: Booking, *, before: date | None, today: date) -> str:
    """Have the balance of a booking that is held follow it from the day `before`; a sentence on what became of it.

    An invoice says a day that a client has on paper: once the balance is invoiced, it stays due on it. Empty where
    the day has not changed, or nothing of the balance is left to pay.
    """
    after = booking.event_on or booking.prep_day
    balances = AmountDue.objects.filter(booking=booking, kind=AmountDue.Kind.BALANCE, void_at__isnull=True)
    due = balances.select_related("quote__acceptance").defer("quote__pdf", "quote__told", "quote__reasons").first()
    if due is None or before is None or after is None or before == after or standing(booking.pk).owed <= 0:
        return ""
    day = moved_with_its_day(
        due.due_on,
        before=before,
        after=after,
        today=today,
        agreed=timezone.localdate(due.quote.acceptance.at),
        balance_days=MoneyTerms.objects.current().balance_days,
    )
    if day == due.due_on:
        return ""
    invoices = live_invoices().filter(booking=booking, kind__in=[Invoice.Kind.BALANCE, Invoice.Kind.WHOLE])
    invoice = invoices.defer("pdf", "told").first()
    if invoice is not None:
        return f"The balance stays due on {short_day(due.due_on)}: {invoice} says so."
    due.due_on = day
    due.save(update_fields=["due_on"])
    return f"The balance is due on {short_day(day)} now."
