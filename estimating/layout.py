"""A balloon, and a layout: every balloon of a piece, with its place.

Lengths are inches. x runs to the right, y downwards and z towards the viewer; the spine lies in the plane z = 0 and
begins at the piece's left end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple, get_args

Part = Literal["base", "filler", "accent", "counted"]
PARTS: tuple[Part, ...] = get_args(Part)


def to_thousandth(inches: float) -> float:
    """A length rounded to the thousandth of an inch that layouts are kept in."""
    return round(inches * 1000) / 1000


@dataclass(frozen=True, slots=True)
class Balloon:
    """One balloon: its centre, its inflated diameter, its nominal size, a key for its colour and its part."""

    x: float
    y: float
    z: float
    diameter: float
    size: int
    colour: str
    part: Part

    def __post_init__(self) -> None:
        for name in ("x", "y", "z", "diameter"):
            object.__setattr__(self, name, to_thousandth(getattr(self, name)))


class Bounds(NamedTuple):
    """The box round everything a layout shows, in inches."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Structure:
    """How the balloons of a layout are tied together.

    Two balloons make a pair, two pairs a quad, two quads a cluster; `quads_left` is the quad that found no partner.
    Fillers go in as pairs, accents and counted balloons singly.
    """

    pairs: int
    quads: int
    clusters: int
    quads_left: int
    fillers: int
    filler_pairs: int
    accents: int
    counted: int


@dataclass(frozen=True, slots=True)
class Layout:
    """The balloons of a piece along its spine.

    `length` is the length of the spine and `width` the mean width of the silhouette, measured, not asked for.
    Every figure is kept to a thousandth of an inch, so that a layout compares equal to itself after a trip
    through JSON.
    """

    balloons: tuple[Balloon, ...]
    spine: tuple[tuple[float, float], ...]
    length: float
    width: float

    def __post_init__(self) -> None:
        spine = tuple((to_thousandth(x), to_thousandth(y)) for x, y in self.spine)
        object.__setattr__(self, "spine", spine)
        object.__setattr__(self, "length", to_thousandth(self.length))
        object.__setattr__(self, "width", to_thousandth(self.width))

    def counts(self) -> Counter[tuple[str, int]]:
        """How many balloons of each colour and nominal size."""
        return Counter((balloon.colour, balloon.size) for balloon in self.balloons)

    def bounds(self) -> Bounds:
        """The box round the balloons and the spine."""
        xs = [(b.x - b.diameter / 2, b.x + b.diameter / 2) for b in self.balloons] + [(x, x) for x, _ in self.spine]
        ys = [(b.y - b.diameter / 2, b.y + b.diameter / 2) for b in self.balloons] + [(y, y) for _, y in self.spine]
        return Bounds(min(x for x, _ in xs), min(y for y, _ in ys), max(x for _, x in xs), max(y for _, y in ys))

    def structure(self) -> Structure:
        """The pairs, quads and clusters that its base makes, and what goes in singly."""
        parts = Counter(balloon.part for balloon in self.balloons)
        quads = -(-parts["base"] // 4)
        return Structure(
            pairs=-(-parts["base"] // 2),
            quads=quads,
            clusters=quads // 2,
            quads_left=quads % 2,
            fillers=parts["filler"],
            filler_pairs=-(-parts["filler"] // 2),
            accents=parts["accent"],
            counted=parts["counted"],
        )

    def to_json(self) -> dict[str, Any]:
        """A compact dictionary for a JSON field, in thousandths of an inch."""
        colours = sorted({balloon.colour for balloon in self.balloons})
        place = {colour: n for n, colour in enumerate(colours)}
        return {
            "colours": colours,
            "balloons": [
                [
                    *(round(value * 1000) for value in (b.x, b.y, b.z, b.diameter)),
                    b.size,
                    place[b.colour],
                    PARTS.index(b.part),
                ]
                for b in self.balloons
            ],
            "spine": [[round(x * 1000), round(y * 1000)] for x, y in self.spine],
            "length": round(self.length * 1000),
            "width": round(self.width * 1000),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Layout:
        """The layout that `to_json` wrote."""
        colours = data["colours"]
        return cls(
            balloons=tuple(
                Balloon(x / 1000, y / 1000, z / 1000, diameter / 1000, size, colours[colour], PARTS[part])
                for x, y, z, diameter, size, colour, part in data["balloons"]
            ),
            spine=tuple((x / 1000, y / 1000) for x, y in data["spine"]),
            length=data["length"] / 1000,
            width=data["width"] / 1000,
        )
