"""The client's yes: everything it means, together or not at all."""

from datetime import date, datetime

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.actions.payments import free_surplus
from bookings.lifecycle import check_move
from bookings.models import Acceptance, AmountDue, Booking, MoneyTerms, Quote
from bookings.owing import schedule
from bookings.queries import state_of
from stock import actions as stock
from stock import queries as stock_queries


class AcceptanceRefused(Exception):
    """The quote can no longer be accepted; `state` is its state, the message a kind sentence."""

    def __init__(self, state: str, sentence: str) -> None:
        super().__init__(sentence)
        self.state = state


_SENTENCES = {
    "withdrawn": "This quote was withdrawn. Write to us and we will make you another.",
    "replaced": "This quote was replaced by a newer one. Please use the newest link we sent you.",
    "expired": "This quote has run out. Write to us: the date may still be free.",
    "ended": "This booking has been closed. Write to us if you would like to open it again.",
}


@transaction.atomic
def accept_quote(
    *, quote: Quote, name: str, today: date, at: datetime, address: str | None, browser: str
) -> Acceptance:
    """Record the yes, book the job, hold its materials firmly for the prep day, and make deposit and balance due.

    What an earlier version was paid counts for this one; what is more than it costs becomes the client's credit.

    Twice is once: a second yes finds the first. Raises AcceptanceRefused for a quote that is no longer open.
    """
    booking = Booking.objects.select_for_update().select_related("client").get(pk=quote.booking_id)
    quote = Quote.objects.select_for_update().get(pk=quote.pk)
    quote.booking = booking
    state = state_of(quote, today=today)
    if state == "accepted":
        return quote.acceptance
    if state != "open":
        raise AcceptanceRefused(state, _SENTENCES[state])
    yes = Acceptance.objects.create(quote=quote, name=name, at=at, address=address, browser=browser[:300])
    if booking.stage != Booking.Stage.BOOKED:
        check_move(booking.stage, Booking.Stage.BOOKED)
    booking.stage = Booking.Stage.BOOKED
    # Where the owner has moved the day since, theirs is the day it is needed on.
    booking.needed_on = booking.prep_day or quote.needed_on
    booking.save(update_fields=["stage", "needed_on"])
    # What an earlier version has taken off the shelf already is with the job, and not promised once more.
    out = stock_queries.taken_for(booking.pk)
    stock.reserve(
        needs={line.item_id: max(line.total - out.get(line.item_id, 0), 0) for line in quote.materials.all()},
        needed_on=booking.needed_on,
        booking=booking.pk,
        booking_name=booking.shown_title,
        firm=True,
        by=None,
        at=at,
    )
    stock.make_kit_firm(booking=booking.pk, by=None, at=at)
    AmountDue.objects.filter(booking=booking, void_at__isnull=True).update(void_at=at)
    dues = schedule(
        deposit=quote.deposit_minor,
        total=quote.total_minor,
        today=today,
        event=booking.event_on,
        prep=booking.needed_on,
        balance_days=MoneyTerms.objects.current().balance_days,
    )
    AmountDue.objects.bulk_create(
        AmountDue(booking=booking, quote=quote, kind=due.what, amount_minor=due.amount, due_on=due.on) for due in dues
    )
    free_surplus(booking=booking, currency=quote.currency, today=today, by=None, at=at)
    write_history(booking, f"{quote} accepted by {name}.", at=at)
    return yes
