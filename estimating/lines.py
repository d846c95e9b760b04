"""What a piece takes, line by line, what there is to do to it, and the place it is made for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, NamedTuple

Measured = Callable[[float], str]
"""Says a length in inches in the measures of whoever reads it."""

Sort = Literal["latex", "tie", "line", "hook", "ribbon", "weight", "gas", "decal", "item"]
"""What a line is of. Line and ribbon are in whole feet, gas in whole litres of helium as it fills balloons; "item" is
anything on the shelf, named by its key."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a materials list. `needed` go into the piece; `total` is that with `spares`.

    `item` is the key of the shelf's item, for the sort "item" only.
    """

    sort: Sort
    colour: str | None
    size: int | None
    needed: int
    spares: int
    item: str | None = None

    @property
    def total(self) -> int:
        """What to take along."""
        return self.needed + self.spares


class Said(NamedTuple):
    """A piece in words, for who cannot see its picture: what it is, and how large, empty where nobody measured it."""

    what: str
    size: str


@dataclass(frozen=True, slots=True)
class Task:
    """Work that comes on top of inflating and hanging: how often it is done, priced by the studio's pace.

    "foot" is a foot assembled, "ribbon" one ribbon cut and tied, "letter" one letter of a decal set on a balloon,
    "sealed" one balloon sealed inside so that it floats longer.
    """

    sort: Literal["foot", "ribbon", "letter", "sealed"]
    count: int


@dataclass(frozen=True, slots=True)
class Site:
    """The place a piece is made for: metres above the sea, degrees Celsius, and how many hours it is to float."""

    altitude_m: int = 0
    celsius: int = 21
    hours_afloat: int = 6
    outdoors: bool = False
