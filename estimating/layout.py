"""A balloon, and a layout: every balloon of a piece, with its place.

Lengths are inches. x runs to the right, y downwards and z towards the viewer; the spine lies in the plane z = 0 and
begins at the piece's left end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, NamedTuple, get_args

from estimating.setting import Point, Setting

Part = Literal["base", "filler", "accent", "counted", "packed", "float", "bouquet", "panel", "glyph", "topper"]
PARTS: tuple[Part, ...] = get_args(Part)

Form = Literal["round", "heart", "star"]
FORMS: tuple[Form, ...] = get_args(Form)

BARE = Setting()
"""Nothing besides balloons and strings."""

WEIGHT_HEIGHT = 3.0
"""Inches that a weight stands high."""

Gas = Literal["air", "helium"]
GASES: tuple[Gas, ...] = get_args(Gas)


def to_thousandth(inches: float) -> float:
    """A length rounded to the thousandth of an inch that layouts are kept in."""
    return round(inches * 1000) / 1000


@dataclass(frozen=True, slots=True)
class Balloon:
    """One balloon: its centre, its inflated diameter, its nominal size, a key for its colour and its part.

    `inner` is the key of the colour of a second balloon of the same size stuffed inside it, None where there is none.
    `form` is its outline (hearts and stars are foil); `gas` is what it is filled with. `in_foil` is known once its
    colour's finish is (`Layout.in_foil`) and is not kept.
    """

    x: float
    y: float
    z: float
    diameter: float
    size: int
    colour: str
    part: Part
    inner: str | None = None
    form: Form = "round"
    gas: Gas = "air"
    in_foil: bool = False

    @property
    def is_foil(self) -> bool:
        """Is it foil, by its colour or its outline?"""
        return self.in_foil or self.form != "round"

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
    Fillers go in as pairs, accents, toppers and counted balloons singly. `floats` and `bouquets` hang on ribbon;
    `panels` sit in a frame and `glyphs` inside the outline of a letter.
    """

    pairs: int
    quads: int
    clusters: int
    quads_left: int
    fillers: int
    filler_pairs: int
    accents: int
    counted: int
    toppers: int = 0
    floats: int = 0
    bouquets: int = 0
    panels: int = 0
    glyphs: int = 0


@dataclass(frozen=True, slots=True)
class Layout:
    """The balloons of a piece along its spine.

    `length` is the length of the spine and `width` the mean width of the silhouette, measured, not asked for.
    `strings` are lines drawn behind the balloons: ribbons, lines, frames. `notes` are sentences to be read with the
    picture. `points` are where it hangs or stands, None where that is to be worked out from the spine. `setting` is
    what belongs to the piece besides.
    Every figure is kept to a thousandth of an inch, so that a layout compares equal to itself after a trip
    through JSON.
    """

    balloons: tuple[Balloon, ...]
    spine: tuple[Point, ...]
    length: float
    width: float
    strings: tuple[tuple[Point, ...], ...] = ()
    notes: tuple[str, ...] = ()
    points: tuple[Point, ...] | None = None
    setting: Setting = BARE

    def __post_init__(self) -> None:
        object.__setattr__(self, "spine", _exact(self.spine))
        object.__setattr__(self, "strings", tuple(_exact(string) for string in self.strings))
        object.__setattr__(self, "notes", tuple(self.notes))
        if self.points is not None:
            object.__setattr__(self, "points", _exact(self.points))
        object.__setattr__(self, "length", to_thousandth(self.length))
        object.__setattr__(self, "width", to_thousandth(self.width))

    def counts(self) -> Counter[tuple[str, int]]:
        """How many balloons of each colour and nominal size; a double-stuffed one is two."""
        counts = Counter((balloon.colour, balloon.size) for balloon in self.balloons)
        counts.update((balloon.inner, balloon.size) for balloon in self.balloons if balloon.inner is not None)
        return counts

    def bounds(self) -> Bounds:
        """The box round the balloons, the spine and the strings."""
        lines = [*self.spine, *(point for string in self.strings for point in string)]
        lines += [(x, y + WEIGHT_HEIGHT) for x, y in self.setting.weights]
        xs = [(b.x - b.diameter / 2, b.x + b.diameter / 2) for b in self.balloons] + [(x, x) for x, _ in lines]
        ys = [(b.y - b.diameter / 2, b.y + b.diameter / 2) for b in self.balloons] + [(y, y) for _, y in lines]
        return Bounds(min(x for x, _ in xs), min(y for y, _ in ys), max(x for _, x in xs), max(y for _, y in ys))

    def foils(self) -> Counter[tuple[str, int]]:
        """How many of `counts` are foil."""
        return Counter((balloon.colour, balloon.size) for balloon in self.balloons if balloon.is_foil)

    def structure(self) -> Structure:
        """The pairs, quads and clusters that its base makes, and what goes in singly."""
        parts = Counter(balloon.part for balloon in self.balloons)
        tied = parts["base"] + parts["packed"]
        quads = -(-tied // 4)
        return Structure(
            pairs=-(-tied // 2),
            quads=quads,
            clusters=quads // 2,
            quads_left=quads % 2,
            fillers=parts["filler"],
            filler_pairs=-(-parts["filler"] // 2),
            accents=parts["accent"],
            counted=parts["counted"],
            toppers=parts["topper"],
            floats=parts["float"],
            bouquets=parts["bouquet"],
            panels=parts["panel"],
            glyphs=parts["glyph"],
        )

    def double_stuffed(self, doubled: Sequence[tuple[str, str]]) -> Layout:
        """The same layout where every balloon of an outer colour holds one of its inner colour."""
        inner = dict(doubled)
        if not inner:
            return self
        balloons = tuple(replace(b, inner=inner[b.colour]) if b.colour in inner else b for b in self.balloons)
        return replace(self, balloons=balloons)

    def in_foil(self, foils: Mapping[str, Form]) -> Layout:
        """The same layout where the balloons of these colours are known to be foil, of the outline each comes in."""
        if not any(balloon.colour in foils for balloon in self.balloons):
            return self
        return replace(
            self,
            balloons=tuple(
                replace(b, in_foil=True, form=foils[b.colour] if b.form == "round" else b.form)
                if b.colour in foils
                else b
                for b in self.balloons
            ),
        )

    def to_json(self) -> dict[str, Any]:
        """A compact dictionary for a JSON field, in thousandths of an inch; what is as usual is left out."""
        inners = {balloon.inner for balloon in self.balloons if balloon.inner is not None}
        colours = sorted({balloon.colour for balloon in self.balloons} | inners)
        place = {colour: n for n, colour in enumerate(colours)}
        data: dict[str, Any] = {
            "colours": colours,
            "balloons": [
                [
                    *(round(value * 1000) for value in (b.x, b.y, b.z, b.diameter)),
                    b.size,
                    place[b.colour],
                    PARTS.index(b.part),
                    *_unusual(b, place),
                ]
                for b in self.balloons
            ],
            "spine": _thousandths(self.spine),
            "length": round(self.length * 1000),
            "width": round(self.width * 1000),
        }
        if self.strings:
            data["strings"] = [_thousandths(string) for string in self.strings]
        if self.notes:
            data["notes"] = list(self.notes)
        if self.points is not None:
            data["points"] = _thousandths(self.points)
        if setting := self.setting.to_json():
            data["setting"] = setting
        return data

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Layout:
        """The layout that `to_json` wrote."""
        colours = data["colours"]
        points = data.get("points")
        return cls(
            balloons=tuple(_balloon(row, colours) for row in data["balloons"]),
            spine=_inches(data["spine"]),
            length=data["length"] / 1000,
            width=data["width"] / 1000,
            strings=tuple(_inches(string) for string in data.get("strings", ())),
            notes=tuple(data.get("notes", ())),
            points=None if points is None else _inches(points),
            setting=Setting.from_json(data.get("setting", {})),
        )


def _exact(points: Sequence[Point]) -> tuple[Point, ...]:
    return tuple((to_thousandth(x), to_thousandth(y)) for x, y in points)


def _thousandths(points: Sequence[Point]) -> list[list[int]]:
    return [[round(x * 1000), round(y * 1000)] for x, y in points]


def _inches(points: Sequence[Sequence[int]]) -> tuple[Point, ...]:
    return tuple((x / 1000, y / 1000) for x, y in points)


def _unusual(balloon: Balloon, place: Mapping[str, int]) -> list[int]:
    """Inner colour (-1 for none), form and gas, up to the last that is not as usual."""
    kept = [
        -1 if balloon.inner is None else place[balloon.inner],
        FORMS.index(balloon.form),
        GASES.index(balloon.gas),
    ]
    for usual in (0, 0, -1):
        if kept[-1] != usual:
            break
        kept.pop()
    return kept


def _balloon(row: Sequence[int], colours: Sequence[str]) -> Balloon:
    x, y, z, diameter, size, colour, part, *unusual = row
    inner, form, gas = [*unusual, *(-1, 0, 0)[len(unusual) :]]
    return Balloon(
        x / 1000,
        y / 1000,
        z / 1000,
        diameter / 1000,
        size,
        colours[colour],
        PARTS[part],
        None if inner < 0 else colours[inner],
        FORMS[form],
        GASES[gas],
    )
