"""What can stand in for a balloon that cannot be had in time: the nearest colour, the same from a bigger bag, or two
balloons in one by a recipe of the studio's."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from stock.colour import distance
from stock.models import DoubleRecipe, Item, double_words
from stock.queries.board_rows import BoardRow, StandIn

LEAST_BLOWN = (6, 11)
"""A bag is blown to no less than six elevenths of its size: an 11-inch is used at 6 to 11 inches."""

FARTHEST = 30
"""Colours that look farther apart (ΔE) than this are not offered for each other: a choice of ours, no source."""

MOST_DOUBLES = 2


@dataclass(frozen=True)
class Double(StandIn):
    """Two balloons in one: `item` is the outer, `inner` the one inside it. `free` is how many can be made of both.

    `distance` is how far the recipe's own swatch is from the colour that is short.
    """

    inner: Item
    outer_free: int
    inner_free: int

    @property
    def label(self) -> str:
        """ "Ink over White 11-inch"."""
        return double_words(self.item, self.inner)

    @property
    def words(self) -> str:
        """ "Ink over White 11-inch, double-stuffed (ΔE 3.1), 40 and 62 free"."""
        return (
            f"{self.label}, double-stuffed (ΔE {self.distance or 0:.1f}), "
            f"{self.outer_free:,} and {self.inner_free:,} free"
        )


def recipes() -> tuple[DoubleRecipe, ...]:
    """Every double-stuffed recipe, in the order they were written down."""
    return tuple(DoubleRecipe.objects.order_by("pk"))


def stand_ins(
    short: BoardRow,
    rows: Iterable[BoardRow],
    day: date,
    *,
    most: int = 3,
    doubles: Sequence[DoubleRecipe] = (),
) -> tuple[StandIn, ...]:
    """What could be used on `day` in place of a balloon that is short, the best first.

    The same size comes first, where the colours are near enough: of its finish before others, then by how near they
    look. A bigger bag of the same colour follows, the smallest that can be blown down to the size. Of the `doubles`
    that look like it, the nearest two come last: each takes two balloons. Only what is free that day and later is
    offered.
    """
    wanted = short.item
    if wanted.colour is None or wanted.size is None:
        return ()
    found: list[tuple[tuple[int, bool, float], StandIn]] = []
    same_size: dict[int, tuple[Item, int]] = {}
    for row in rows:
        item = row.item
        if item.pk == wanted.pk or item.colour is None or item.size is None or item.sort != wanted.sort:
            continue
        free = row.cover.available(max(day, row.cover.today))
        if free <= 0 or item.colour.form != wanted.colour.form:
            continue
        if item.size == wanted.size:
            same_size[item.colour.pk] = (item, free)
            apart = distance(wanted.swatch, item.swatch)
            if apart > FARTHEST:
                continue
            other_finish = item.colour.finish != wanted.colour.finish
            found.append(((0, other_finish, apart), StandIn(item, free, apart)))
        elif item.colour_id == wanted.colour_id and can_be_blown_to(item.size, wanted.size):
            found.append(((1, False, item.size), StandIn(item, free, None)))
    single = [one for _, one in sorted(found, key=lambda pair: pair[0])[:most]]
    return (*single, *_doubles(wanted, same_size, doubles))


def _doubles(wanted: Item, same_size: dict[int, tuple[Item, int]], recipes: Iterable[DoubleRecipe]) -> list[Double]:
    """What can be made by the recipes of what is free in the size, the nearest first."""
    made = []
    for recipe in recipes:
        if recipe.looks_like_id != wanted.colour_id or not {recipe.outer_id, recipe.inner_id} <= same_size.keys():
            continue
        (outer, outer_free), (inner, inner_free) = same_size[recipe.outer_id], same_size[recipe.inner_id]
        apart = distance(wanted.swatch, recipe.swatch)
        made.append(Double(outer, min(outer_free, inner_free), apart, inner, outer_free, inner_free))
    return sorted(made, key=lambda double: double.distance or 0)[:MOST_DOUBLES]


def can_be_blown_to(size: int, wanted: int) -> bool:
    """Whether a bag of one nominal size can be blown to another, neither past its size nor limp."""
    part, whole = LEAST_BLOWN
    return wanted <= size and wanted * whole >= size * part
