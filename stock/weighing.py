"""What one weighs or takes up, learnt from a known number, and how many a bag on the scale holds.

Milligrams and millilitres throughout.
"""

MOST_MILLIGRAMS = 100_000_000
"""A hundred kilograms: more than anybody weighs at once."""

MOST_LITRES = 10_000
"""Ten cubic metres: more than most vans hold."""


def piece_weight(milligrams: int, pieces: int) -> int:
    """What one weighs, to the nearest milligram, a half going up; at least 1.

    Raises ValueError where nothing was weighed.
    """
    if milligrams <= 0 or pieces <= 0:
        raise ValueError(f"A known number that weighs something is needed (got {pieces} at {milligrams} mg).")
    return _of_one(milligrams, pieces)


def piece_room(millilitres: int, pieces: int) -> int:
    """The room of one, from a known number packed as it travels, to the nearest millilitre and never nothing.

    Raises ValueError where there is nothing to pack.
    """
    if millilitres <= 0 or pieces <= 0:
        raise ValueError(f"A known number that takes some room is needed (got {pieces} in {millilitres} ml).")
    return _of_one(millilitres, pieces)


def pieces_in(milligrams: int, piece_milligrams: int) -> int:
    """How many weigh `milligrams` together, to the nearest one, a half going up."""
    if milligrams < 0 or piece_milligrams <= 0:
        raise ValueError(f"A weight and the weight of one are needed (got {milligrams} and {piece_milligrams} mg).")
    return (2 * milligrams + piece_milligrams) // (2 * piece_milligrams)


def _of_one(together: int, pieces: int) -> int:
    """An equal part, a half going up and never nothing."""
    return max((2 * together + pieces) // (2 * pieces), 1)
