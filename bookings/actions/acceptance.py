"""The client's yes: everything it means, together or not at all."""

from datetime import date, datetime

from django.db import transaction

from bookings.actions.books import hold
from bookings.actions.dates import take_turns_over_days
from bookings.actions.jobs import write_history
from bookings.actions.payments import free_surplus
from bookings.choosing import MOST_OPTIONS, Choice, Offer, agreed, needed_of
from bookings.lifecycle import check_move
from bookings.models import Acceptance, AmountDue, Booking, MoneyTerms, Piece, Quote
from bookings.owing import schedule
from bookings.queries import state_of
from bookings.queries.agreed import material_rows, offer_of
from bookings.queries.dates import clashes_of
from stock import actions as stock
from stock import queries as stock_queries
from studio.models import Studio


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
    *,
    quote: Quote,
    name: str,
    today: date,
    at: datetime,
    address: str | None,
    browser: str,
    choice: Choice | None = None,
) -> Acceptance:
    """Record the yes, book the job, hold its materials firmly for the prep day, and make deposit and balance due.

    What is held and owed is exactly `choice`, the first that the quote offers where none is given; the booking's pieces
    are from then on the chosen ones.

    What an earlier version was paid counts for this one; what is more than it costs becomes the client's credit.

    Twice is once: a second yes finds the first, whatever it chose. Raises AcceptanceRefused for a quote that is no
    longer open, NoSuchChoice for an option or an extra it does not offer.
    """
    booking = hold(quote.booking_id)
    quote = Quote.objects.select_for_update().get(pk=quote.pk)
    quote.booking = booking
    state = state_of(quote, today=today)
    if state == "accepted":
        return quote.acceptance
    if state != "open":
        raise AcceptanceRefused(state, _SENTENCES[state])
    offer = offer_of(quote)
    choice = choice or offer.first_choice
    asked = agreed(offer, choice)
    yes = Acceptance.objects.create(
        quote=quote,
        name=name,
        at=at,
        address=address,
        browser=browser[:300],
        option=choice.option,
        extras=sorted(choice.extras),
        price_minor=asked.price,
        tax_minor=asked.tax,
        total_minor=asked.total,
        deposit_minor=asked.deposit,
    )
    if booking.stage != Booking.Stage.BOOKED:
        check_move(booking.stage, Booking.Stage.BOOKED)
    booking.stage = Booking.Stage.BOOKED
    # Where the owner has moved the day since, theirs is the day it is needed on.
    booking.needed_on = booking.prep_day or quote.needed_on
    booking.save(update_fields=["stage", "needed_on"])
    settle_pieces(quote, choice)
    # What an earlier version has taken off the shelf already is with the job, and not promised once more.
    out = stock_queries.taken_for(booking.pk)
    stock.reserve(
        needs={
            item: max(total - out.get(item, 0), 0) for item, total in needed_of(choice, material_rows(quote)).items()
        },
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
        deposit=asked.deposit,
        total=asked.total,
        today=today,
        event=booking.event_on,
        prep=booking.needed_on,
        balance_days=MoneyTerms.objects.current().balance_days,
    )
    AmountDue.objects.bulk_create(
        AmountDue(booking=booking, quote=quote, kind=due.what, amount_minor=due.amount, due_on=due.on) for due in dues
    )
    free_surplus(booking=booking, currency=quote.currency, today=today, by=None, at=at)
    write_history(booking, f"{quote} accepted by {name}{_chosen_words(offer, choice)}.", at=at)
    _say_what_it_clashes_with(booking, today=today, at=at)
    return yes


def _say_what_it_clashes_with(booking: Booking, *, today: date, at: datetime) -> None:
    """A yes is taken on a full day too: the client was offered it. The owner is told at once."""
    take_turns_over_days()
    for clash in clashes_of(booking, today=today, zone=Studio.objects.current().zone):
        if not clash.might:
            write_history(booking, f"Booked on a full day. {clash.sentence}", at=at)


def settle_pieces(quote: Quote, choice: Choice) -> None:
    """Have the booking's pieces be those that were chosen: of other options nothing is made, extras are taken or not.

    A quote that offered one option leaves the options of the booking alone: they came later.
    """
    pieces = quote.booking.pieces
    if quote.options.exists():
        others = {str(number) for number in range(1, MOST_OPTIONS + 1)} - {str(choice.option)}
        pieces.filter(goes_in__in=others).update(goes_in=Piece.GoesIn.NONE)
        pieces.filter(goes_in=str(choice.option)).update(goes_in=Piece.GoesIn.ALL)
        quote.booking.option_names.all().delete()
    for extra in quote.extras.all():
        sort, _, key = extra.made_from.partition(" ")
        rows = pieces if sort == "piece" else quote.booking.charges
        rows.filter(pk=key).update(is_taken=extra.number in choice.extras)


def _chosen_words(offer: Offer, choice: Choice) -> str:
    """“: Simple, with Take-down”; empty where there was nothing to choose."""
    if not offer.is_a_choice:
        return ""
    option = next(one.name for one in offer.options if one.number == choice.option)
    extras = [one.name for one in offer.extras if one.number in choice.extras]
    said = [option] if len(offer.options) > 1 else []
    said += [f"with {', '.join(extras)}"] if extras else ["without extras"] if offer.extras else []
    return f": {', '.join(said)}"[:200]
