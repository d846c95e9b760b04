"""The pieces of a job on its page, each with its price and where on the quote it goes."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from django.utils.safestring import SafeString

from bookings.models import Booking, Piece
from bookings.queries.estimates import to_make
from bookings.queries.goes_in import AN_EXTRA, IN_ALL, NOWHERE
from bookings.queries.known import is_known, may_have
from bookings.queries.offering import Offering
from bookings.queries.pictured import describe, piece_drawing
from stock.models import Colour
from studio.units import System


class PieceRow(NamedTuple):
    """A piece on the job's page; `goes_in` is empty for one that is in everything that is offered."""

    pk: int
    name: str
    description: str
    price_minor: int | None
    picture: SafeString
    goes_in: str = ""


def is_choice(pieces: Sequence[Piece], booking: Booking) -> bool:
    """Whether the booking's client would be given anything to choose."""
    if any(piece.goes_in not in (IN_ALL, NOWHERE) for piece in pieces):
        return True
    return may_have(booking, "charges") and (is_known(booking, "charges") or booking.charges.exists())


def piece_row(
    piece: Piece,
    offering: Offering | None,
    prices: Mapping[int, int] | None,
    measures: System,
    colours: Sequence[Colour] | None = None,
) -> PieceRow:
    """A piece with its price in what the job is estimated with, else in its own option or as an extra.

    `prices` are by the piece's key; None where no amount is to be seen. `colours` are all of the studio's.
    """
    one = to_make(piece)
    price_minor = None if prices is None else prices.get(piece.pk)
    if prices is not None and price_minor is None and offering is not None:
        price_minor = offering.price_where_offered(piece.pk)
    return PieceRow(
        piece.pk,
        piece.name,
        describe(one, measures),
        price_minor,
        piece_drawing(one, prefix=f"piece-{piece.pk}", measures=measures, colours=colours),
        _where(piece, offering),
    )


def _where(piece: Piece, offering: Offering | None) -> str:
    """Where a piece goes, in a word or two."""
    if piece.goes_in == IN_ALL:
        return ""
    if piece.goes_in == AN_EXTRA:
        return "extra, taken" if piece.is_taken else "extra"
    options = () if offering is None else offering.options
    named = [one.name for one in options if len(options) > 1 and str(one.number) == piece.goes_in]
    return named[0] if named else str(piece.get_goes_in_display()).lower()
