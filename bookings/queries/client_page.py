"""A quote as its client reads it: the pictures, the options beside each other, the extras, and what was chosen."""

import re
from dataclasses import dataclass

from django.db.models.functions import Left

from bookings.choosing import Asked, Choice, Extra, Offer, Option, agreed, is_part_of
from bookings.models import Quote, QuotePiece
from studio.money import minor_units

_VIEW = re.compile(r'viewBox="[-0-9.]+ [-0-9.]+ ([0-9.]+) ([0-9.]+)"')


@dataclass(frozen=True, slots=True)
class ShownPiece:
    """A quoted piece; `size` its picture's place is kept at until it has arrived, None where it has no picture."""

    piece: QuotePiece
    size: tuple[int, int] | None
    is_drawn: bool
    price: int


@dataclass(frozen=True, slots=True)
class ShownOption:
    """An option beside the others: `picture` is of what only it has, `pieces` is all of it."""

    option: Option
    pieces: tuple[ShownPiece, ...]
    picture: ShownPiece | None
    is_chosen: bool

    @property
    def balloons(self) -> int:
        """How many there are in it."""
        return sum(row.piece.balloons for row in self.pieces)


@dataclass(frozen=True, slots=True)
class ShownExtra:
    """An extra to tick; `row` is the piece it is, None for a charge."""

    extra: Extra
    row: ShownPiece | None
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class ClientPage:
    """The quote with a choice made. `pieces` are read one below the other: all of a quote that offers no options, what
    every option shares of one that does, and exactly what was chosen of one that was accepted.
    """

    offer: Offer
    choice: Choice
    asked: Asked
    pieces: tuple[ShownPiece, ...]
    options: tuple[ShownOption, ...]
    extras: tuple[ShownExtra, ...]
    places: int

    @property
    def balloons(self) -> int:
        """How many balloons are in what is read one below the other."""
        return sum(row.piece.balloons for row in self.pieces)

    @property
    def charges(self) -> list[Extra]:
        """The chosen extras that are no pieces."""
        return [shown.extra for shown in self.extras if shown.is_chosen and shown.row is None]

    @property
    def chosen_words(self) -> str:
        """“Simple, 2 extras”."""
        named = [option.option.name for option in self.options if option.is_chosen]
        ticked = len(self.choice.extras)
        extras = [f"{ticked or 'no'} extra{'' if ticked == 1 else 's'}"] if self.extras else []
        said = ", ".join([*named, *extras])
        return said[:1].upper() + said[1:]


def client_page(quote: Quote, offer: Offer, choice: Choice, *, is_settled: bool) -> ClientPage:
    """What the client reads of a quote; once it `is_settled` nothing but what was chosen."""
    rows = _rows(quote, choice)
    has_options = len(offer.options) > 1 and not is_settled
    if is_settled:
        below = [row for row in rows if is_part_of(choice, option=row.piece.option, extra=row.piece.extra)]
    else:
        below = [row for row in rows if not row.piece.extra and not (has_options and row.piece.option)]
    of_extra = {row.piece.extra: row for row in rows if row.piece.extra}
    return ClientPage(
        offer=offer,
        choice=choice,
        asked=agreed(offer, choice),
        pieces=tuple(below),
        options=tuple(_option(one, rows, choice) for one in offer.options) if has_options else (),
        extras=tuple(
            ShownExtra(extra, of_extra.get(extra.number), extra.number in choice.extras)
            for extra in offer.extras
            if not is_settled or extra.number in choice.extras
        ),
        places=minor_units(quote.currency),
    )


def _rows(quote: Quote, choice: Choice) -> list[ShownPiece]:
    pieces = quote.pieces.order_by("position").defer("picture", "layout", "spec", "kind")
    return [
        ShownPiece(piece, _size_of(opening := piece.opening), bool(opening), piece.price_in(choice.option))
        for piece in pieces.annotate(opening=Left("picture", 600))
    ]


def _option(option: Option, rows: list[ShownPiece], choice: Choice) -> ShownOption:
    of_it = [row for row in rows if not row.piece.extra and row.piece.option in (0, option.number)]
    priced = [ShownPiece(row.piece, row.size, row.is_drawn, row.piece.price_in(option.number)) for row in of_it]
    # What only this option has comes first: that is what tells it from the others.
    own = sorted((row for row in priced if row.is_drawn), key=lambda row: not row.piece.option)
    return ShownOption(option, tuple(priced), own[0] if own else None, option.number == choice.option)


def _size_of(opening: str) -> tuple[int, int] | None:
    """The width and height of a picture, from the first words of its SVG."""
    view = _VIEW.search(opening)
    return (round(float(view[1]) * 4), round(float(view[2]) * 4)) if view else None
