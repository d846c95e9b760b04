"""Counting by weight: what one weighs, learnt from a known number, and how many a bag holds. Milligrams throughout."""

MOST_MILLIGRAMS = 100_000_000
"""A hundred kilograms: more than anybody weighs at once."""


def piece_weight(milligrams: int, pieces: int) -> int:
    """What one weighs, to the nearest milligram, a half going up; at least 1.

    Raises ValueError where nothing was weighed.
    """
    if milligrams <= 0 or pieces <= 0:
        raise ValueError(f"A known number that weighs something is needed (got {pieces} at {milligrams} mg).")
    return max((2 * milligrams + pieces) // (2 * pieces), 1)


def pieces_in(milligrams: int, piece_milligrams: int) -> int:
    """How many weigh `milligrams` together, to the nearest one, a half going up."""
    if milligrams < 0 or piece_milligrams <= 0:
        raise ValueError(f"A weight and the weight of one are needed (got {milligrams} and {piece_milligrams} mg).")
    return (2 * milligrams + piece_milligrams) // (2 * piece_milligrams)
