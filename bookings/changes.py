"""What one version of a quote changed from the one before, in sentences."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OfferedPiece:
    """A piece as one version offered it; `price` as shown."""

    name: str
    description: str
    price: str


@dataclass(frozen=True, slots=True)
class Offered:
    """One version of a quote, every figure as the client reads it."""

    title: str
    day: str
    place: str
    terms: str
    total: str
    deposit: str
    pieces: Sequence[OfferedPiece]
    options: Sequence[OfferedPiece] = ()
    extras: Sequence[OfferedPiece] = ()


def changes_between(before: Offered, after: Offered) -> list[str]:
    """Sentences on everything a client would notice, the total last; empty where nothing differs.

    `options` are told apart by their names and totals, `extras` like pieces. Where there are options, theirs are the
    totals there are.
    """
    sentences = []
    for what, old, new in (
        ("Title", before.title, after.title),
        ("Day", before.day, after.day),
        ("Place", before.place, after.place),
    ):
        if old != new:
            sentences.append(f"{what}: {old or 'not said'} became {new or 'not said'}.")
    sentences += _piece_changes(before.pieces, after.pieces)
    sentences += _piece_changes(before.extras, after.extras, "Extra, ")
    sentences += _piece_changes(before.options, after.options, "Option, ")
    if before.terms != after.terms:
        sentences.append("The terms were changed.")
    if after.options:
        return sentences
    if before.deposit != after.deposit:
        sentences.append(f"Deposit: {before.deposit} became {after.deposit}.")
    if before.total != after.total:
        sentences.append(f"Total: {before.total} became {after.total}.")
    return sentences


def _piece_changes(before: Sequence[OfferedPiece], after: Sequence[OfferedPiece], called: str = "") -> list[str]:
    """Pieces are matched by name; the first of several of one name with the first of the other version."""
    left = list(before)
    sentences = []
    for piece in after:
        was = next((old for old in left if old.name == piece.name), None)
        if was is None:
            said = f"{piece.description}, {piece.price}" if piece.description else piece.price
            sentences.append(f"{called}{piece.name} was added: {said}.")
            continue
        left.remove(was)
        if was.description != piece.description:
            sentences.append(f"{called}{piece.name}: {was.description} became {piece.description}.")
        if was.price != piece.price:
            sentences.append(f"{called}{piece.name}: {was.price} became {piece.price}.")
    return sentences + [f"{called}{old.name} was taken out." for old in left]
