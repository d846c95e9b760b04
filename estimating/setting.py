"""What belongs to a piece besides its balloons and strings: weights, greenery, words, a table, a ceiling.

Places are in inches on the picture of the layout they belong to: x to the right, y downwards.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

Point = tuple[float, float]


class Words(NamedTuple):
    """Lettering on a balloon: its middle, and the width and height it takes up."""

    text: str
    x: float
    y: float
    width: float
    height: float


class Room(NamedTuple):
    """A ceiling seen from a little below: how far down the picture its far edge lies, and how high it is."""

    far_edge: float
    height: float


@dataclass(frozen=True, slots=True)
class Setting:
    """`weights` are the middles of the upper sides of weights, which stand 3 inches high; `sprigs` are stems of
    greenery; `table` is the height of the table the piece stands on, 0 for the floor; `room` has its front edge of the
    ceiling at y = 0, None where there is no ceiling to be seen.
    """

    weights: tuple[Point, ...] = ()
    sprigs: tuple[tuple[Point, ...], ...] = ()
    words: tuple[Words, ...] = ()
    table: float = 0.0
    room: Room | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "weights", tuple(_exact(point) for point in self.weights))
        object.__setattr__(self, "sprigs", tuple(tuple(_exact(point) for point in stem) for stem in self.sprigs))
        object.__setattr__(self, "words", tuple(Words(words.text, *_exact(words[1:])) for words in self.words))
        object.__setattr__(self, "table", round(self.table * 1000) / 1000)
        if self.room is not None:
            object.__setattr__(self, "room", Room(*_exact(self.room)))

    def to_json(self) -> dict[str, Any]:
        """A compact dictionary for a JSON field, in thousandths of an inch; what is as usual is left out."""
        data: dict[str, Any] = {
            "weights": [_thousandths(point) for point in self.weights],
            "sprigs": [[_thousandths(point) for point in stem] for stem in self.sprigs],
            "words": [[words.text, *_thousandths(words[1:])] for words in self.words],
            "table": round(self.table * 1000),
            "room": None if self.room is None else _thousandths(self.room),
        }
        return {name: value for name, value in data.items() if value}

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Setting:
        """The setting that `to_json` wrote."""
        room = data.get("room")
        return cls(
            weights=tuple((x / 1000, y / 1000) for x, y in data.get("weights", ())),
            sprigs=tuple(tuple((x / 1000, y / 1000) for x, y in stem) for stem in data.get("sprigs", ())),
            words=tuple(Words(text, *(value / 1000 for value in rest)) for text, *rest in data.get("words", ())),
            table=data.get("table", 0) / 1000,
            room=None if room is None else Room(room[0] / 1000, room[1] / 1000),
        )


def _exact(values: Sequence[float]) -> tuple[Any, ...]:
    return tuple(round(value * 1000) / 1000 for value in values)


def _thousandths(values: Sequence[float]) -> list[int]:
    return [round(value * 1000) for value in values]
