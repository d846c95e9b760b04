"""Issuing a quote, and what may happen to it afterwards. What was issued never changes."""

from collections import Counter
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.db import transaction

from bookings.actions.books import hold
from bookings.actions.jobs import write_history
from bookings.choosing import most_needed
from bookings.lifecycle import check_move, may_be_quoted
from bookings.links import hash_of, new_salt, token_for
from bookings.models import Booking, Quote, QuoteExtra, QuoteMaterial, QuoteOpening, QuoteOption, QuotePiece
from bookings.paperwork import QuotePaper
from stock import actions as stock
from stock import queries as stock_queries
from studio.models import User


class QuoteRefused(Exception):
    """The quote cannot be sent, or no longer be changed; the message is a sentence for the page."""


@dataclass(frozen=True, slots=True)
class Link:
    """A link's salt, which makes its token, and the hash it is found by."""

    salt: str
    hash: str


def new_link() -> Link:
    """A link nobody has seen yet."""
    salt = new_salt()
    return Link(salt, hash_of(token_for(salt, key=settings.LINK_KEY)))


@transaction.atomic
def issue_quote(*, paper: QuotePaper, by: User, at: datetime) -> Quote:
    """Freeze the prepared paper as the next version, hold its materials tentatively, and replace what was open.

    Raises QuoteRefused where the booking has moved on since the paper was prepared.
    """
    booking = hold(paper.booking_id)
    if not may_be_quoted(booking.stage):
        raise QuoteRefused(f"Booking {booking.pk} is {booking.stage}: no quote can be sent for it.")
    if paper.made_from != paper.fingerprint_of(booking):
        raise QuoteRefused("The job changed while the quote was being prepared. Look it over and send it again.")
    if Quote.objects.filter(number=paper.number, version__gte=paper.version).exists():
        raise QuoteRefused("Another version was sent at the same moment. Look it over and send it again.")
    Quote.objects.filter(booking=booking, replaced_at__isnull=True).update(replaced_at=at)
    link = new_link()
    quote = Quote.objects.create(
        booking=booking,
        number=paper.number,
        version=paper.version,
        issued_at=at,
        issued_by=by,
        link_salt=link.salt,
        link_hash=link.hash,
        **paper.figures,
    )
    QuotePiece.objects.bulk_create([QuotePiece(quote=quote, **piece) for piece in paper.pieces])
    QuoteOption.objects.bulk_create([QuoteOption(quote=quote, **option) for option in paper.options])
    QuoteExtra.objects.bulk_create([QuoteExtra(quote=quote, **extra) for extra in paper.extras])
    QuoteMaterial.objects.bulk_create([QuoteMaterial(quote=quote, **line) for line in paper.materials])
    stock.reserve(
        needs=_beyond_what_is_held(booking, paper),
        needed_on=quote.needed_on,
        booking=booking.pk,
        booking_name=booking.shown_title,
        firm=False,
        lapses_on=quote.valid_until,
        by=by,
        at=at,
    )
    if booking.stage == Booking.Stage.ENQUIRY:
        check_move(booking.stage, Booking.Stage.QUOTED)
        booking.stage = Booking.Stage.QUOTED
        booking.save(update_fields=["stage"])
    write_history(booking, f"{quote} issued.", at=at, by=by)
    return quote


def _beyond_what_is_held(booking: Booking, paper: QuotePaper) -> dict[int, int]:
    """The most any choice of the new version would take on top of what is held or taken already.

    So whatever the client says yes to is there, and nothing counts twice.
    """
    held = Counter(stock_queries.held_firmly(booking.pk)) + Counter(stock_queries.taken_for(booking.pk))
    wanted = most_needed(
        (line["option"], line["extra"], line["item_id"], line["needed"] + line["spares"]) for line in paper.materials
    )
    return {item: more for item, total in wanted.items() if (more := total - held[item]) > 0}


@transaction.atomic
def withdraw_quote(*, quote: Quote, by: User, at: datetime) -> Quote:
    """Take an offer back: its link says so kindly and its materials are free. Twice is once; never after a yes."""
    booking = Booking.objects.select_for_update().get(pk=quote.booking_id)
    quote = Quote.objects.select_for_update().get(pk=quote.pk)
    if hasattr(quote, "acceptance"):
        raise QuoteRefused(f"{quote} was accepted by {quote.acceptance.name}: cancel the booking instead.")
    if quote.withdrawn_at is not None:
        return quote
    quote.withdrawn_at = at
    quote.save(update_fields=["withdrawn_at"])
    if quote.replaced_at is None:
        stock.release(booking=booking.pk, firm=False, by=by, at=at)
        if booking.stage == Booking.Stage.QUOTED:
            check_move(booking.stage, Booking.Stage.ENQUIRY)
            booking.stage = Booking.Stage.ENQUIRY
            booking.save(update_fields=["stage"])
    write_history(booking, f"{quote} withdrawn.", at=at, by=by)
    return quote


@transaction.atomic
def renew_link(*, quote: Quote, by: User, at: datetime) -> Quote:
    """Give the quote another link; from then on the old one leads nowhere."""
    link = new_link()
    quote.link_salt, quote.link_hash = link.salt, link.hash
    quote.save(update_fields=["link_salt", "link_hash"])
    write_history(quote.booking, f"{quote} has a new link; the old one is dead.", at=at, by=by)
    return quote


def record_opening(*, quote: Quote, what: str, at: datetime) -> None:
    """Somebody followed the link. The owner sees when; nothing else about them is kept."""
    QuoteOpening.objects.create(quote=quote, what=what, at=at)
