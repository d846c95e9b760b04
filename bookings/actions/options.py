"""What a booking offers to choose from: which option each piece goes in, what the options are called, its charges."""

from collections.abc import Mapping
from datetime import datetime

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.actions.pieces import check_open
from bookings.choosing import MOST_EXTRAS
from bookings.models import Booking, Charge, OptionName, Piece
from bookings.queries.goes_in import why_not_offer
from studio.models import User


class OfferRefused(Exception):
    """What was asked cannot be offered; the message is a sentence for the page."""


@transaction.atomic
def arrange_offer(
    *, booking: Booking, goes_in: Mapping[int, str], names: Mapping[int, str], by: User, at: datetime
) -> None:
    """Put each piece (by its key) where it goes, and call the options as `names` says; an empty name takes it back.

    Raises PiecesAreFixed where the job has ended, OfferRefused where that makes no quote: see `why_not_offer`.
    """
    check_open(booking)
    pieces = list(booking.pieces.order_by("position"))
    for piece in pieces:
        piece.goes_in = goes_in.get(piece.pk, piece.goes_in)
        if piece.goes_in != Piece.GoesIn.EXTRA:
            piece.is_taken = False
    called = dict(booking.option_names.values_list("number", "name")) | dict(names)
    refused = why_not_offer(pieces, [number for number, name in called.items() if name], booking.charges.count())
    if refused:
        raise OfferRefused(refused)
    Piece.objects.bulk_update(pieces, ["goes_in", "is_taken"])
    for number, name in names.items():
        if name:
            OptionName.objects.update_or_create(booking=booking, number=number, defaults={"name": name})
        else:
            OptionName.objects.filter(booking=booking, number=number).delete()
    write_history(booking, "Options and extras arranged.", at=at, by=by)


@transaction.atomic
def keep_charge(
    *,
    booking: Booking,
    charge: Charge | None,
    name: str,
    note: str,
    minutes: int,
    amount_minor: int | None,
    by: User,
    at: datetime,
) -> Charge:
    """Write a new charge (`charge` None) or a changed one. Raises PiecesAreFixed, OfferRefused for one too many."""
    check_open(booking)
    if charge is None:
        extras = booking.charges.count() + booking.pieces.filter(goes_in=Piece.GoesIn.EXTRA).count()
        if extras >= MOST_EXTRAS:
            raise OfferRefused(f"A quote has up to {MOST_EXTRAS} extras: remove one first.")
        charge = Charge(booking=booking)
    charge.name, charge.note, charge.minutes, charge.amount_minor = name, note, minutes, amount_minor
    charge.save()
    write_history(booking, f"Extra “{name}” kept.", at=at, by=by)
    return charge


@transaction.atomic
def remove_charge(*, charge: Charge, by: User, at: datetime) -> None:
    """No longer offer it. Quotes already issued keep theirs. Raises PiecesAreFixed."""
    check_open(charge.booking)
    write_history(charge.booking, f"Extra “{charge.name}” removed.", at=at, by=by)
    charge.delete()
