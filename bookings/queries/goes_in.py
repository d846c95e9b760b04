"""Which pieces of a booking go together: those of an option, those of every one, and the extras."""

from collections.abc import Collection, Sequence

from bookings.choosing import MOST_EXTRAS, ONLY_OPTION
from bookings.models import Booking, Piece

OF_AN_OPTION = (Piece.GoesIn.FIRST, Piece.GoesIn.SECOND, Piece.GoesIn.THIRD)
IN_ALL, AN_EXTRA, NOWHERE = Piece.GoesIn.ALL, Piece.GoesIn.EXTRA, Piece.GoesIn.NONE


def option_names(booking: Booking, pieces: Sequence[Piece]) -> dict[int, str]:
    """What the options of the booking are called; asked only where a piece is of an option at all."""
    if not any(piece.goes_in in OF_AN_OPTION for piece in pieces):
        return {}
    return dict(booking.option_names.values_list("number", "name"))


def option_numbers(pieces: Sequence[Piece], named: Collection[int] = ()) -> list[int]:
    """The options there are: those with a piece of their own and those with a name, else the only one.

    So “Simple” can be what is in every option, and nothing more. Where no piece is of an option, names make none.
    """
    own = {int(piece.goes_in) for piece in pieces if piece.goes_in in OF_AN_OPTION}
    return sorted(own | set(named)) if own else [ONLY_OPTION]


def goes_with(piece: Piece, option: int) -> bool:
    """Whether a piece is made where that option is."""
    return piece.goes_in in (IN_ALL, str(option))


def made_pieces(pieces: Sequence[Piece], named: Collection[int] = ()) -> list[Piece]:
    """The pieces that the job is estimated with: those of its first option, and the extras that were taken.

    Where that is nothing, all of them.
    """
    first = option_numbers(pieces, named)[0]
    made = [piece for piece in pieces if goes_with(piece, first) or (piece.goes_in == AN_EXTRA and piece.is_taken)]
    return made or list(pieces)


def made_with(piece: Piece | None, others: Sequence[Piece], named: Collection[int] = ()) -> list[Piece]:
    """The others that a piece is estimated together with: of its option, of every one, and the extras taken.

    A piece that goes in every option, one that is an extra or not offered, and a new one stand in the first.
    """
    first = option_numbers(others, named)[0]
    option = int(piece.goes_in) if piece is not None and piece.goes_in in OF_AN_OPTION else first
    return [one for one in others if goes_with(one, option) or (one.goes_in == AN_EXTRA and one.is_taken)]


def why_not_offer(pieces: Sequence[Piece], named: Collection[int] = (), charges: int = 0) -> str:
    """Why what the pieces go in cannot be offered; empty where it can."""
    inside = {number: [p.pk for p in pieces if goes_with(p, number)] for number in option_numbers(pieces, named)}
    empty = next((number for number, held in inside.items() if not held), None)
    if empty is not None and len(inside) > 1:
        return f"Option {empty} has no piece: put one in it, or take its name away."
    if empty is not None:
        return "Every piece is an extra or not offered: put one in the quote first."
    for number, held in inside.items():
        twin = next((other for other, also in inside.items() if other > number and also == held), None)
        if twin is not None:
            return f"Options {number} and {twin} are the same pieces: put one more in one of them, or take a name away."
    extras = charges + sum(piece.goes_in == AN_EXTRA for piece in pieces)
    if extras > MOST_EXTRAS:
        return f"A quote has up to {MOST_EXTRAS} extras (it has {extras}): leave some out first."
    return ""
