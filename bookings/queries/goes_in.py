"""Which pieces of a booking go together: those of an option, those of every one, and the extras."""

from collections.abc import Sequence

from bookings.choosing import MOST_EXTRAS, ONLY_OPTION
from bookings.models import Piece

OF_AN_OPTION = (Piece.GoesIn.FIRST, Piece.GoesIn.SECOND, Piece.GoesIn.THIRD)
IN_ALL, AN_EXTRA, NOWHERE = Piece.GoesIn.ALL, Piece.GoesIn.EXTRA, Piece.GoesIn.NONE


def option_numbers(pieces: Sequence[Piece]) -> list[int]:
    """The options there are: those that have a piece of their own, else the only one."""
    return sorted({int(piece.goes_in) for piece in pieces if piece.goes_in in OF_AN_OPTION}) or [ONLY_OPTION]


def goes_with(piece: Piece, option: int) -> bool:
    """Whether a piece is made where that option is."""
    return piece.goes_in in (IN_ALL, str(option))


def made_pieces(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces that the job is estimated with: those of its first option, and the extras that were taken."""
    first = option_numbers(pieces)[0]
    made = [piece for piece in pieces if goes_with(piece, first) or (piece.goes_in == AN_EXTRA and piece.is_taken)]
    return made or list(pieces)


def made_with(piece: Piece | None, others: Sequence[Piece]) -> list[Piece]:
    """The others that a piece is estimated together with: of its option, of every one, and the extras taken.

    A piece that goes in every option, one that is an extra or not offered, and a new one stand in the first.
    """
    first = option_numbers(others)[0]
    option = int(piece.goes_in) if piece is not None and piece.goes_in in OF_AN_OPTION else first
    return [one for one in others if goes_with(one, option) or (one.goes_in == AN_EXTRA and one.is_taken)]


def why_not_offer(pieces: Sequence[Piece], charges: int = 0) -> str:
    """Why what the pieces go in cannot be offered; empty where it can."""
    numbers = option_numbers(pieces)
    if not any(goes_with(piece, number) for number in numbers for piece in pieces):
        return "Every piece is an extra or not offered: put one in the quote first."
    extras = charges + sum(piece.goes_in == AN_EXTRA for piece in pieces)
    if extras > MOST_EXTRAS:
        return f"A quote has up to {MOST_EXTRAS} extras (it has {extras}): leave some out first."
    return ""
