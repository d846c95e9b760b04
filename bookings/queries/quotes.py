"""Quotes as they stand: what state they are in, who opened them, how the client reaches them."""

from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property

from django.conf import settings
from django.db.models import QuerySet
from django.urls import reverse

from bookings.changes import Offered, OfferedPiece
from bookings.choosing import Asked, Choice, Extra, Offer, Option
from bookings.links import token_for
from bookings.models import Booking, Quote
from bookings.queries.agreed import agreed_of, choice_of, offer_of
from studio.money import show

STATES = ("accepted", "withdrawn", "replaced", "ended", "expired", "open")


def state_of(quote: Quote, *, today: date) -> str:
    """One of STATES: what the client's page shows the quote as."""
    if hasattr(quote, "acceptance"):
        return "accepted"
    if quote.withdrawn_at is not None:
        return "withdrawn"
    if quote.replaced_at is not None:
        return "replaced"
    if quote.booking.stage in (Booking.Stage.LOST, Booking.Stage.CANCELLED, Booking.Stage.DONE):
        return "ended"
    return "expired" if quote.valid_until < today else "open"


def link_of(quote: Quote) -> str:
    """The path of the client's page, with its token made anew from the salt."""
    return reverse("bookings:client", args=[token_for(quote.link_salt, key=settings.LINK_KEY)])


@dataclass(frozen=True)
class QuoteView:
    """A quote for the owner: what it is, how it stands, and when its link was opened."""

    quote: Quote
    state: str

    @cached_property
    def openings(self) -> list[datetime]:
        """When its link was opened, the latest first; asked for where it is said."""
        return sorted((opening.at for opening in self.quote.openings.all()), reverse=True)

    @cached_property
    def offer(self) -> Offer:
        """Everything it offers."""
        return offer_of(self.quote)

    @property
    def choice(self) -> Choice | None:
        """What the client chose; None while nothing was accepted."""
        return choice_of(self.quote) if self.state == "accepted" else None

    @property
    def agreed(self) -> Asked | None:
        """What that comes to."""
        return agreed_of(self.quote) if self.state == "accepted" else None

    @property
    def chosen_options(self) -> list[Option]:
        """The options there are, once accepted the chosen one."""
        return [one for one in self.offer.options if self.choice is None or one.number == self.choice.option]

    @property
    def chosen_extras(self) -> list[Extra]:
        """The extras there are, once accepted the ticked ones."""
        return [one for one in self.offer.extras if self.choice is None or one.number in self.choice.extras]

    @property
    def note(self) -> str:
        """How it stands in a few words."""
        if self.state == "accepted":
            return f"accepted by {self.quote.acceptance.name or 'a client who was erased'}"
        if self.state == "open":
            last = self.quote.valid_until
            return f"{opened_words(len(self.openings))}, open until {last:%a} {last.day} {last:%b}"
        return self.state


def opened_words(times: int) -> str:
    """“not opened yet”, “opened once”, “opened 3 times”."""
    if not times:
        return "not opened yet"
    return "opened " + {1: "once", 2: "twice"}.get(times, f"{times} times")


def quote_view(quote: Quote, *, today: date) -> QuoteView:
    """The quote with its state."""
    return QuoteView(quote, state_of(quote, today=today))


def light(quotes: QuerySet[Quote]) -> QuerySet[Quote]:
    """The quotes without the paper they carry, for lists."""
    return quotes.defer("pdf", "reasons", "told")


def comparable(quote: Quote) -> Offered:
    """The quote as the client read it, to say what the next version changes."""
    offer = offer_of(quote)
    return Offered(
        title=quote.told["title"],
        day=quote.told["day"],
        place=quote.told["place"],
        terms=quote.told["terms"],
        total=show(quote.total_minor, quote.currency),
        deposit=show(quote.deposit_minor, quote.currency),
        pieces=[
            OfferedPiece(piece.name, piece.description, show(piece.price_minor, quote.currency))
            for piece in quote.pieces.filter(extra=0).order_by("position")
        ],
        options=offered_options(offer, quote.currency),
        extras=offered_extras(offer, quote.currency),
    )


def offered_options(offer: Offer, currency: str) -> list[OfferedPiece]:
    """The options to say what changed of them; none where there is one, whose total is the quote's."""
    if len(offer.options) == 1:
        return []
    return [OfferedPiece(one.name, "", show(one.asked.total, currency)) for one in offer.options]


def offered_extras(offer: Offer, currency: str) -> list[OfferedPiece]:
    """The extras to say what changed of them."""
    return [OfferedPiece(one.name, one.description, show(one.asked.price, currency)) for one in offer.extras]
