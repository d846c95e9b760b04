"""What is at hand while a piece is made: its booking, the booking's pieces, the studio's colours."""

from dataclasses import dataclass, replace

from django.http import Http404
from django.shortcuts import get_object_or_404

from bookings import queries
from bookings.models import Booking, Piece
from bookings.queries.known import with_what_it_has
from stock.models import Colour

AN_ESTIMATE_ASKS = ("kit", "swaps", "stock")
"""What of a booking its estimate and what is short look for."""


@dataclass(frozen=True, slots=True)
class Editing:
    """A piece being made. Everything is read once; `piece` is None for one that is not there yet."""

    booking: Booking
    pieces: list[Piece]
    colours: list[Colour]
    piece: Piece | None = None

    @property
    def others(self) -> list[Piece]:
        """The booking's other pieces."""
        return [piece for piece in self.pieces if self.piece is None or piece.pk != self.piece.pk]

    @property
    def choosable(self) -> list[Colour]:
        """The colours that may be chosen: those in use, and those the piece has already."""
        kept = set(self.piece.layout["colours"]) if self.piece is not None else set()
        return [colour for colour in self.colours if colour.in_use or colour.key in kept]


def editing(booking_id: int) -> Editing:
    """The booking with its pieces, for a piece that is not there yet; raises Http404."""
    found = with_what_it_has(Booking.objects.select_related("client"), *AN_ESTIMATE_ASKS)
    booking = get_object_or_404(found, pk=booking_id)
    return Editing(booking, queries.pieces_of(booking), list(Colour.objects.order_by("position", "name", "pk")))


def with_piece(at: Editing, piece_id: int) -> Editing:
    """With the piece of that number; without one where it was removed. Another job's is not found."""
    piece = next((piece for piece in at.pieces if piece.pk == piece_id), None)
    if piece is None and Piece.objects.filter(pk=piece_id).exists():
        raise Http404("That piece belongs to another job.")
    return replace(at, piece=piece)


def with_piece_named(at: Editing, named: str) -> Editing:
    """With the piece that a form is about, where it names one."""
    if not named:
        return at
    if not named.isdecimal() or len(named) > 18:
        raise Http404("That is no piece.")
    return with_piece(at, int(named))
