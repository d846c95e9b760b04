"""An offer with a choice in it, and the choices there are."""

from itertools import chain, combinations

from django.utils import timezone

from bookings import actions
from bookings.actions.options import arrange_offer, keep_charge
from bookings.choosing import Choice
from tests.factories import NOON


def offered(booking, owner, add_garland, goes_in=("all", "1", "2", "extra")):
    """The booking with a garland for each place, and a charge to tick."""
    for n in range(len(goes_in)):
        add_garland(booking, name=f"Garland {n + 1}", feet=4 + 2 * n)
    pieces = list(booking.pieces.order_by("position"))
    arrange_offer(
        booking=booking,
        goes_in={piece.pk: place for piece, place in zip(pieces, goes_in, strict=True)},
        names={1: "Simple", 2: "With a second garland"},
        by=owner,
        at=NOON,
    )
    keep_charge(
        booking=booking, charge=None, name="Take-down", note="the same night", minutes=45, amount_minor=4_000,
        by=owner, at=NOON,
    )  # fmt: skip
    return booking


def say(quote, choice, *, today=None, name="Ines"):
    return actions.accept_quote(
        quote=quote, name=name, today=today or timezone.localdate(), at=NOON, address=None, browser="", choice=choice
    )


def every_choice(offer):
    extras = [extra.number for extra in offer.extras]
    ticked = chain.from_iterable(combinations(extras, n) for n in range(len(extras) + 1))
    return [Choice(option.number, frozenset(some)) for some in ticked for option in offer.options]
