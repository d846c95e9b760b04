"""What can stand in for a balloon that cannot be had in time: the nearest colour, or the same from a bigger bag."""

from collections.abc import Iterable
from datetime import date

from stock.colour import distance
from stock.queries.board_rows import BoardRow, StandIn

LEAST_BLOWN = (6, 11)
"""A bag is blown to no less than six elevenths of its size: an 11-inch is used at 6 to 11 inches."""

FARTHEST = 30
"""Colours that look farther apart (ΔE) than this are not offered for each other: a choice of ours, no source."""


def stand_ins(short: BoardRow, rows: Iterable[BoardRow], day: date, *, most: int = 3) -> tuple[StandIn, ...]:
    """What could be used on `day` in place of a balloon that is short, the best first.

    The same size comes first, where the colours are near enough: of its finish before others, then by how near they
    look. A bigger bag of the same colour follows, the smallest that can be blown down to the size. Only what is free
    that day and later is offered.
    """
    wanted = short.item
    if wanted.colour is None or wanted.size is None:
        return ()
    found: list[tuple[tuple[int, bool, float], StandIn]] = []
    for row in rows:
        item = row.item
        if item.pk == wanted.pk or item.colour is None or item.size is None or item.sort != wanted.sort:
            continue
        free = row.cover.available(max(day, row.cover.today))
        if free <= 0 or item.colour.form != wanted.colour.form:
            continue
        if item.size == wanted.size:
            apart = distance(wanted.swatch, item.swatch)
            if apart > FARTHEST:
                continue
            other_finish = item.colour.finish != wanted.colour.finish
            found.append(((0, other_finish, apart), StandIn(item, free, apart)))
        elif item.colour_id == wanted.colour_id and can_be_blown_to(item.size, wanted.size):
            found.append(((1, False, item.size), StandIn(item, free, None)))
    return tuple(one for _, one in sorted(found, key=lambda pair: pair[0])[:most])


def can_be_blown_to(size: int, wanted: int) -> bool:
    """Whether a bag of one nominal size can be blown to another, neither past its size nor limp."""
    part, whole = LEAST_BLOWN
    return wanted <= size and wanted * whole >= size * part
