"""The organic garland: mixed sizes along a line, base quads with fillers in the gaps and accents outside."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil, cos, pi, sin, sqrt
from random import Random
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from estimating.colouring import coloured
from estimating.layout import Balloon, Layout, Part
from estimating.packing import Tethered, balloons_for
from estimating.specs import (
    INFLATED,
    MOST_BALLOONS,
    OwnFigures,
    SpecError,
    SpecErrors,
    check_colour,
    check_millimetres,
    check_shares,
    check_size,
    check_true_or_false,
    check_whole,
    read_decimal,
)
from estimating.spines import SHAPES, Spine, length_of, spine_of
from studio.money import shares

NAME = "garland"
TITLE = "Garland"

INCH = Decimal("25.4")
SHORTEST, LONGEST = 12 * INCH, 2400 * INCH
THINNEST, WIDEST = 4 * INCH, 96 * INCH

THIN, FAT = 1.0, 5.0
"""Finished width in base diameters: at least a single file, at most what necks can reach."""

NEAR = 0.05
"""A silhouette this near the width asked for, as a part of it, will do; NEAR_ENOUGH is where solving stops."""

NEAR_ENOUGH = 0.01
STUCK = 0.002
"""Where a round changes the width by less than this part of it, necks can do no more."""

FIRST_STEPS, MORE_STEPS, ROUNDS = 140, 40, 8
RECOUNTS = 4

NECK = 1.2
"""Inches each neck is let out for an inch of width that is missing."""

WITHIN: Mapping[Part, float] = {"base": 1.0, "filler": 0.6, "accent": 1.0}
"""Part of a balloon's volume that lies in the cylinder of the mean silhouette: fillers sit in its skin."""

SHORTEST_NECK = 0.1
"""A balloon squashed against the line rests no nearer to it than this part of its radius."""

STRIDE = 0.6180339887498949
"""Steps of the golden section spread the necks' lengths evenly however many balloons there are."""

FILLER_DEPTH, ACCENT_DEPTH = 1.2, 0.85
"""How far inside the finished width the centres of fillers and accents rest, in their own radii."""

TOUCHING = 0.4
"""Balloons with less than this many inches between their skins count as touching when colours are spread."""


class _Knot(NamedTuple):
    size: int
    place: float
    across: float
    towards: float
    reach: float
    stray: float


@dataclass(frozen=True, slots=True)
class GarlandSpec:
    """A garland as asked for. Raises SpecErrors with everything that is wrong.

    `mix` is nominal size and percent of the balloons by count, `colours` a colour's key and percent of the
    balloons; each adds up to 100. `shape` is one of `spines.SHAPES`; `seed` settles what is left to chance.
    """

    length_mm: Decimal
    width_mm: Decimal
    mix: tuple[tuple[int, int], ...]
    colours: tuple[tuple[str, int], ...]
    outdoors: bool = False
    shape: str = "doorway"
    seed: int = 1

    def __post_init__(self) -> None:
        errors = [
            *check_millimetres("length_mm", self.length_mm, SHORTEST, LONGEST, "from 1 ft to 200 ft"),
            *check_millimetres("width_mm", self.width_mm, THINNEST, WIDEST, "from 4 in to 8 ft"),
            *check_shares("mix", self.mix, check_size, 6),
            *check_shares("colours", self.colours, check_colour, 8),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
        ]
        if self.shape not in SHAPES:
            errors.append(SpecError("shape", f"must be one of {', '.join(SHAPES)}", self.shape))
        if errors:
            raise SpecErrors(errors)

    def own_figures(self) -> OwnFigures:
        """Everything about a garland is worked out."""
        return OwnFigures()

    def to_json(self) -> dict[str, Any]:
        """A dictionary for a JSON field; lengths as text so that they stay exact."""
        return {
            "length_mm": str(self.length_mm),
            "width_mm": str(self.width_mm),
            "mix": [list(share) for share in self.mix],
            "colours": [list(share) for share in self.colours],
            "outdoors": self.outdoors,
            "shape": self.shape,
            "seed": self.seed,
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> GarlandSpec:
        """The spec that `to_json` wrote; raises SpecErrors as the constructor does."""
        return cls(
            length_mm=read_decimal("length_mm", data["length_mm"]),
            width_mm=read_decimal("width_mm", data["width_mm"]),
            mix=tuple((size, percent) for size, percent in data["mix"]),
            colours=tuple((colour, percent) for colour, percent in data["colours"]),
            outdoors=data["outdoors"],
            shape=data["shape"],
            seed=data["seed"],
        )


def lay_out(spec: GarlandSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """The garland balloon by balloon. Raises SpecErrors where these sizes cannot make that width.

    Sizes the studio has set no inflated diameter for take the usual one. The count comes from volume; then the
    necks are let out or in until the silhouette, measured, is as wide as asked. Where necks alone cannot do it,
    the count is solved for as well.
    """
    inflated = {**INFLATED, **inflated}
    length, width = float(spec.length_mm / INCH), float(spec.width_mm / INCH)
    parts = parts_of(spec.mix, inflated)
    _check_width(width, parts, inflated)
    spine = spine_of(spec.shape, length)
    number = volume_count(length, width, spec.mix, parts, inflated)
    for _ in range(RECOUNTS):
        counts = whole_counts(number, spec.mix, parts)
        rng = Random(spec.seed)
        order, tethered = _tied_on(counts, parts, spine, width, inflated, rng)
        measured = _settled_to(width, tethered, np.array([parts[size] != "filler" for size in order]))
        if abs(measured - width) <= NEAR * width:
            break
        # A handful can slip aside and leave the line bare where it is measured: never more than thrice as many.
        number *= (width / max(measured, width / 2)) ** 1.5
    else:
        said = f"must be nearer {measured:.0f} in for these sizes at this length"
        raise SpecErrors([SpecError("width_mm", said, f"{width:g} in")])
    first, second = tethered.couples(TOUCHING)
    couples = list(zip(first.tolist(), second.tolist(), strict=True))
    colours = coloured(order, spec.colours, couples, rng)
    places = zip(tethered.x.tolist(), tethered.y.tolist(), tethered.z.tolist(), strict=True)
    return Layout(
        balloons=tuple(
            Balloon(x, y, z, inflated[size], size, colour, parts[size])
            for (x, y, z), size, colour in zip(places, order, colours, strict=True)
        ),
        spine=spine,
        length=length,
        width=measured,
    )


def parts_of(mix: Sequence[tuple[int, int]], inflated: Mapping[int, float] = INFLATED) -> dict[int, Part]:
    """What each size of a mix is for.

    Sizes from 7 to 15 inches are the base; without any, the small ones are where one of them is the commonest, and
    else the least of the large. Other sizes up to 6 inches fill gaps. From 16 inches they stand out singly, and so
    does the largest of the base where it is half as big again as the commonest.
    """
    sizes = [size for size, _ in sorted(mix, key=lambda share: (-share[1], -share[0]))]
    middling = [size for size in sizes if 6 < size < 16]
    small = [size for size in sizes if size <= 6]
    base = middling or (small if sizes[0] in small else [min(size for size in sizes if size >= 16)])
    parts: dict[int, Part] = {}
    for size in sizes:
        if size in base:
            stands_out = size == max(sizes) and size != base[0] and inflated[size] >= 1.5 * inflated[base[0]]
            parts[size] = "accent" if stands_out else "base"
        else:
            parts[size] = "filler" if size <= 6 else "accent"
    return parts


def volume_count(
    length: float,
    width: float,
    mix: Sequence[tuple[int, int]],
    parts: Mapping[int, Part],
    inflated: Mapping[int, float],
) -> float:
    """How many balloons the volume asks for; raises SpecErrors where they are too many to lay out."""
    number = balloons_for(length, width, [(inflated[n], percent, WITHIN[parts[n]]) for n, percent in mix])
    if number > MOST_BALLOONS - 2 * len(mix):
        asked = f"{length / 12:g} ft long and {width:g} in wide takes {number:.0f}"
        raise SpecErrors([SpecError("length_mm", f"must take at most {MOST_BALLOONS} balloons", asked)])
    return number


def whole_counts(number: float, mix: Sequence[tuple[int, int]], parts: Mapping[int, Part]) -> dict[int, int]:
    """How many of each size: by largest remainder, the base made up to quads and fillers to pairs."""
    shared = shares(max(4, ceil(number)), [percent for _, percent in mix])
    counts = {size: count for (size, _), count in zip(mix, shared, strict=True)}
    for part, whole in (("base", 4), ("filler", 2)):
        members = [size for size in counts if parts[size] == part]
        if members:
            commonest = max(members, key=lambda size: (counts[size], size))
            counts[commonest] += -sum(counts[size] for size in members) % whole
    return counts


def _check_width(width: float, parts: Mapping[int, Part], inflated: Mapping[int, float]) -> None:
    """A base balloon must fit across, and no neck reaches further than the stretch of a few balloons."""
    base = [inflated[size] for size, part in parts.items() if part == "base"]
    thinnest, widest = THIN * max(base), FAT * max(base)
    if not thinnest <= width <= widest:
        said = f"must be from {ceil(thinnest)} in to {int(widest)} in for these sizes"
        raise SpecErrors([SpecError("width_mm", said, f"{width:g} in")])


def _tied_on(
    counts: Mapping[int, int],
    parts: Mapping[int, Part],
    spine: Spine,
    width: float,
    inflated: Mapping[int, float],
    rng: Random,
) -> tuple[list[int], Tethered]:
    """Every balloon's nominal size, and all of them tied to the spine but not yet settled."""
    knots: list[_Knot] = []
    for part in ("base", "filler", "accent"):
        bag = [size for size in counts if parts[size] == part for _ in range(counts[size])]
        bag = [size for _, size in sorted((rng.random(), size) for size in bag)]
        bunch = {"base": 4, "filler": 2, "accent": 1}[part]
        bunches = -(-len(bag) // bunch)
        for n, size in enumerate(bag):
            r, place = inflated[size] / 2, (n // bunch + 0.5) / bunches
            if part == "base":
                turn = pi / 4 * (n // bunch % 2) + pi / 2 * (n % bunch) + 0.5 * (rng.random() - 0.5)
                reach = max(r, (width / 2 - r) * sqrt((n * STRIDE + 0.5) % 1.0))
                stray = 0.5 * r * (2 * rng.random() - 1)
            else:
                # What is put in last goes where it is seen: at the surface, in front and, if large, to the sides.
                turn = pi / 2 + (rng.random() - 0.5) * pi * (0.8 if part == "filler" else 1.3)
                reach = width / 2 - (FILLER_DEPTH if part == "filler" else ACCENT_DEPTH) * r
                reach = max(r, reach)
                stray = (rng.random() - 0.5) * (4 * r if part == "filler" else 0.5 * length_of(spine) / bunches)
            knots.append(_Knot(size, place, round(cos(turn), 9), round(sin(turn), 9), reach, stray))
    length = length_of(spine)
    end = min(max(inflated[size] for size in counts if parts[size] == "base") / 2, length / 4)
    s = [min(max(end + (length - 2 * end) * knot.place + knot.stray, end), length - end) for knot in knots]
    return [knot.size for knot in knots], Tethered(
        spine=spine,
        s=np.array(s),
        reach=np.array([knot.reach for knot in knots]),
        radius=np.array([inflated[knot.size] / 2 for knot in knots]),
        across=np.array([knot.across for knot in knots]),
        towards=np.array([knot.towards for knot in knots]),
    )


def _settled_to(width: float, tethered: Tethered, moved: NDArray[np.bool_]) -> float:
    """Settle, measure, and let necks out or in until the silhouette is as wide as asked; the width reached.

    Only the necks of the `moved` change: fillers stay at the surface, in the gaps, where they are seen.
    """
    tethered.settle(FIRST_STEPS)
    measured = tethered.silhouette()
    for _ in range(ROUNDS):
        before = measured
        if abs(measured - width) <= NEAR_ENOUGH * width:
            break
        changed = np.maximum(tethered.reach + NECK * (width - measured), SHORTEST_NECK * tethered.radius)
        tethered.reach = np.where(moved, changed, tethered.reach)
        tethered.settle(MORE_STEPS)
        measured = tethered.silhouette()
        if abs(measured - before) < STUCK * width:
            break
    return measured
