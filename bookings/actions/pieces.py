"""The pieces of a booking: kept with the layout their spec makes."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import Max

from bookings.actions.jobs import write_history
from bookings.lifecycle import may_be_quoted
from bookings.models import Booking, Piece
from estimating.queries import laid_out
from studio.editions import StaleForm
from studio.models import User


class PiecesAreFixed(Exception):
    """The job has ended, so its pieces stay as they were."""

    def __init__(self, booking: Booking) -> None:
        super().__init__(f"This job is {booking.get_stage_display()}: its pieces stay as they are.")


class PieceIsGone(Exception):
    """Somebody else removed the piece since the form was opened."""

    def __init__(self) -> None:
        super().__init__(
            "This piece was removed by somebody else since you opened it. What you typed is here as a new piece: "
            "press Keep to add it again."
        )


@transaction.atomic
def keep_piece(
    *,
    booking: Booking,
    piece: Piece | None,
    edition: int,
    name: str,
    kind: str,
    spec: Any,
    typed: Mapping[str, str],
    by: User,
    at: datetime,
) -> Piece:
    """Write a new piece (`piece` None) or a changed one, laid out anew; `typed` keeps its lengths as they were typed.

    Raises StaleForm where the piece has moved on from `edition`, PieceIsGone where it was removed, PiecesAreFixed where
    the job has ended, SpecErrors where the spec cannot be laid out.
    """
    layout = laid_out(kind, spec).to_json()
    check_open(booking)
    if piece is None:
        last = Piece.objects.filter(booking=booking).aggregate(last=Max("position"))["last"]
        piece = Piece(booking=booking, position=0 if last is None else last + 1, edition=0)
    else:
        found = Piece.objects.select_for_update().filter(pk=piece.pk).first()
        if found is None:
            raise PieceIsGone
        piece = found
        if piece.edition != edition:
            raise StaleForm(f"“{piece.name}”", opened=str(edition))
    added = piece.pk is None
    piece.name, piece.kind, piece.layout = name, kind, layout
    piece.spec = spec.to_json() | {"typed": dict(typed)}
    piece.edition += 1
    piece.save()
    write_history(booking, f"{name} {'added' if added else 'changed'}.", at=at, by=by)
    return piece


@transaction.atomic
def remove_piece(*, piece: Piece, by: User, at: datetime) -> None:
    """Take a piece off the booking. Quotes already issued keep theirs. Raises PiecesAreFixed."""
    check_open(piece.booking)
    write_history(piece.booking, f"{piece.name} removed.", at=at, by=by)
    piece.delete()


def check_open(booking: Booking) -> None:
    """Wait for the booking’s row, the queue for everything about its pieces, and see that it may be changed."""
    now = Booking.objects.select_for_update().get(pk=booking.pk)
    if not may_be_quoted(now.stage):
        raise PiecesAreFixed(now)
