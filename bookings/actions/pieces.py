"""The pieces of a booking: kept with the layout their spec makes."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import Max

from bookings.actions.jobs import StaleForm, write_history
from bookings.models import Booking, Piece
from estimating.kinds import KINDS
from studio.models import User


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

    Raises StaleForm where the piece has moved on from `edition`, SpecErrors where the spec cannot be laid out.
    """
    laid_out = KINDS[kind].lay_out(spec).to_json()
    # The booking's row is the queue for everything about its pieces.
    Booking.objects.select_for_update().get(pk=booking.pk)
    if piece is None:
        last = Piece.objects.filter(booking=booking).aggregate(last=Max("position"))["last"]
        piece = Piece(booking=booking, position=0 if last is None else last + 1, edition=0)
    else:
        piece = Piece.objects.select_for_update().get(pk=piece.pk)
        if piece.edition != edition:
            raise StaleForm(f"“{piece.name}”")
    added = piece.pk is None
    piece.name, piece.kind, piece.layout = name, kind, laid_out
    piece.spec = spec.to_json() | {"typed": dict(typed)}
    piece.edition += 1
    piece.save()
    write_history(booking, f"{name} {'added' if added else 'changed'}.", at=at, by=by)
    return piece


@transaction.atomic
def remove_piece(*, piece: Piece, by: User, at: datetime) -> None:
    """Take a piece off the booking. Quotes already issued keep theirs."""
    write_history(piece.booking, f"{piece.name} removed.", at=at, by=by)
    piece.delete()
