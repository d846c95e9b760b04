"""Ceiling floats: helium balloons loose under a ceiling, with or without ribbon tails."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from math import ceil, sqrt
from random import Random
from typing import Any

from estimating.afloat import SMALLEST_AFLOAT, afloat_sentences
from estimating.colouring import coloured
from estimating.gas import floating_diameter, helium_lines, ribbon_lines, too_heavy_to_float
from estimating.layout import Balloon, Layout
from estimating.lines import Line, Site, Task
from estimating.setting import Point, Room, Setting
from estimating.specs import (
    INFLATED,
    MOST_BALLOONS,
    OwnFigures,
    SpecError,
    SpecErrors,
    check_colour,
    check_doubled,
    check_extras,
    check_millimetres,
    check_shares,
    check_size,
    check_true_or_false,
    check_whole,
    read_decimal,
)
from studio.money import shares

NAME = "floats"
TITLE = "Ceiling floats"

INCH = Decimal("25.4")
LEAST_SIDE, MOST_SIDE = 12 * INCH, 2400 * INCH
LOWEST, HIGHEST = 72 * INCH, 480 * INCH
LONGEST_TAIL = 120 * INCH

HEADROOM = 6.0
"""Inches a tail ends above the floor at the least."""

SEEN_FROM_BELOW = 0.32
"""How far down the picture an inch of depth lies: the ceiling as one sees it from the door."""

ROW = sqrt(3) / 2
"""Rows of a triangular lattice are this many spacings apart."""

FINER = 0.99
GOLDEN = 0.6180339887498949


@dataclass(frozen=True, slots=True)
class FloatsSpec:
    """A ceiling of floating balloons as asked for. Raises SpecErrors with everything that is wrong.

    `width_mm` and `depth_mm` are the part of the ceiling that is covered, `ceiling_mm` its height; `per_hundred_ft2`
    is how many balloons float under a hundred square feet (a hundred is usual). `mix` is nominal size and percent of
    the balloons, `colours` a colour's key and percent. `tail_mm` is the ribbon below each balloon, 0 for none.
    """

    width_mm: Decimal
    depth_mm: Decimal
    colours: tuple[tuple[str, int], ...]
    mix: tuple[tuple[int, int], ...] = ((11, 100),)
    per_hundred_ft2: int = 100
    ceiling_mm: Decimal = 96 * INCH
    tail_mm: Decimal = 36 * INCH
    sealed: bool = False
    outdoors: bool = False
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()
    seed: int = 1

    def __post_init__(self) -> None:
        errors = [
            *check_millimetres("width_mm", self.width_mm, LEAST_SIDE, MOST_SIDE, "from 1 ft to 200 ft"),
            *check_millimetres("depth_mm", self.depth_mm, LEAST_SIDE, MOST_SIDE, "from 1 ft to 200 ft"),
            *check_millimetres("ceiling_mm", self.ceiling_mm, LOWEST, HIGHEST, "from 6 ft to 40 ft"),
            *check_millimetres("tail_mm", self.tail_mm, Decimal(0), LONGEST_TAIL, "from 0 to 10 ft"),
            *check_shares("colours", self.colours, check_colour, 8),
            *check_shares("mix", self.mix, check_size, 6),
            *check_whole("per_hundred_ft2", self.per_hundred_ft2, 1, 500),
            *check_true_or_false("sealed", self.sealed),
            *check_true_or_false("outdoors", self.outdoors),
            *check_doubled("doubled", self.doubled, [colour for colour, _ in self.colours]),
            *check_extras("extras", self.extras),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
        ]
        if not errors:
            errors = self._together_errors()
        if errors:
            raise SpecErrors(errors)

    def _together_errors(self) -> list[SpecError]:
        errors = []
        if self.outdoors:
            errors.append(SpecError("outdoors", "must be off: floats need the ceiling of ceiling_mm above", "outdoors"))
        if small := [size for size, _ in self.mix if size < SMALLEST_AFLOAT]:
            rule = f"must be {SMALLEST_AFLOAT}-inch or larger to float"
            errors.append(SpecError("mix", rule, f"{small[0]}-inch"))
        if (number := self.number()) > MOST_BALLOONS:
            most = int(MOST_BALLOONS * 100 / self.square_feet())
            rule = f"must be at most {most} for that width_mm and depth_mm, which is {MOST_BALLOONS} balloons"
            errors.append(SpecError("per_hundred_ft2", rule, f"{self.per_hundred_ft2}, {number} balloons"))
        return errors

    def square_feet(self) -> float:
        """The part of the ceiling that is covered."""
        return float(self.width_mm * self.depth_mm / INCH / INCH) / 144

    def number(self) -> int:
        """How many balloons float."""
        return max(1, ceil(round(self.square_feet() * self.per_hundred_ft2 / 100, 6)))

    def own_figures(self) -> OwnFigures:
        """Nothing hangs, so there is neither line nor a point."""
        return OwnFigures(line_ft=0, attachments=0)

    def to_json(self) -> dict[str, Any]:
        """A dictionary for a JSON field; lengths as text so that they stay exact."""
        return {
            "width_mm": str(self.width_mm),
            "depth_mm": str(self.depth_mm),
            "colours": [list(share) for share in self.colours],
            "mix": [list(share) for share in self.mix],
            "per_hundred_ft2": self.per_hundred_ft2,
            "ceiling_mm": str(self.ceiling_mm),
            "tail_mm": str(self.tail_mm),
            "sealed": self.sealed,
            "outdoors": self.outdoors,
            "doubled": [list(pair) for pair in self.doubled],
            "extras": [list(extra) for extra in self.extras],
            "seed": self.seed,
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> FloatsSpec:
        """The spec that `to_json` wrote; raises SpecErrors as the constructor does."""
        return cls(
            width_mm=read_decimal("width_mm", data["width_mm"]),
            depth_mm=read_decimal("depth_mm", data["depth_mm"]),
            colours=tuple((colour, percent) for colour, percent in data["colours"]),
            mix=tuple((size, percent) for size, percent in data["mix"]),
            per_hundred_ft2=data["per_hundred_ft2"],
            ceiling_mm=read_decimal("ceiling_mm", data["ceiling_mm"]),
            tail_mm=read_decimal("tail_mm", data["tail_mm"]),
            sealed=data["sealed"],
            outdoors=data["outdoors"],
            doubled=tuple((outer, inner) for outer, inner in data["doubled"]),
            extras=tuple((item, quantity) for item, quantity in data["extras"]),
            seed=data["seed"],
        )


def lay_out(spec: FloatsSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """Every balloon under its ceiling, seen from a little below; no two press into one another.

    Raises SpecErrors where they would not fit side by side, and where tails would drag on the floor.
    """
    across = {size: floating_diameter(size, {**INFLATED, **inflated}) for size, _ in spec.mix}
    width, depth = float(spec.width_mm / INCH), float(spec.depth_mm / INCH)
    height, tail = float(spec.ceiling_mm / INCH), float(spec.tail_mm / INCH)
    if tail and max(across.values()) + tail > height - HEADROOM:
        most = height - HEADROOM - max(across.values())
        rule = f"must be at most {most:.0f} in under that ceiling_mm"
        raise SpecErrors([SpecError("tail_mm", rule, f"{tail:g} in")])
    number, rng = spec.number(), Random(spec.seed)
    spots, neighbours = _scattered(number, width, depth, max(across.values()), spec, rng)
    counted = shares(number, [percent for _, percent in spec.mix])
    sizes = [size for (size, _), count in zip(spec.mix, counted, strict=True) for _ in range(count)]
    sizes = [size for _, size in sorted((rng.random(), size) for size in sizes)]
    colours = coloured(sizes, spec.colours, neighbours, rng)
    balloons = tuple(
        Balloon(x, across[size] / 2 + deep * SEEN_FROM_BELOW, -deep, across[size], size, colour, "float", gas="helium")
        for (x, deep), size, colour in zip(spots, sizes, colours, strict=True)
    )
    return Layout(
        balloons=balloons,
        spine=(),
        length=width,
        width=depth,
        strings=tuple(_tail(balloon, tail, rng) for balloon in balloons) if tail else (),
        points=(),
        setting=Setting(room=Room(depth * SEEN_FROM_BELOW, height)),
    ).double_stuffed(spec.doubled)


def extras(spec: FloatsSpec, layout: Layout, site: Site) -> tuple[Line, ...]:
    """Helium, and ribbon for the tails. Raises SpecErrors where a balloon cannot carry itself there."""
    if sinking := too_heavy_to_float(layout.balloons, site):
        rule = f"must carry themselves at {site.altitude_m} m above the sea, where these do not"
        raise SpecErrors([SpecError("mix", rule, f"{sinking[0].size}-inch")])
    feet = float(spec.tail_mm / INCH) / 12 * len(layout.strings)
    return (*ribbon_lines(feet, len(layout.strings)), *helium_lines(layout.balloons, site))


def tasks(spec: FloatsSpec, layout: Layout) -> tuple[Task, ...]:
    """A ribbon for every tail, and the sealing where it is asked for."""
    ribbons = (Task("ribbon", len(layout.strings)),) if layout.strings else ()
    return (*ribbons, Task("sealed", len(layout.balloons))) if spec.sealed else ribbons


def advice(spec: FloatsSpec, layout: Layout, site: Site) -> tuple[str, ...]:
    """Which balloons come down before the event is over, and what a ceiling may do to them."""
    said = afloat_sentences([size for size, _ in spec.mix], (), hours=site.hours_afloat, sealed=spec.sealed)
    return (*said, "Ask about the ceiling: lamps, beams, stucco and sprinklers burst or hide balloons.")


def densest(diameter: float) -> int:
    """The most balloons of a diameter in inches that float side by side under a hundred square feet."""
    return int(100 * 144 / (ROW * diameter * diameter))


def _scattered(
    number: int, width: float, depth: float, diameter: float, spec: FloatsSpec, rng: Random
) -> tuple[list[Point], list[tuple[int, int]]]:
    """So many places under the ceiling (across, deep), and which of them lie side by side.

    They are those of rows as far apart as still hold enough, each place strayed as far as leaves it free. Where there
    is room each row begins elsewhere, so that no lines show; where there is none rows are nested.
    """
    spacing = sqrt(width * depth / number / ROW) * 1.2
    while len(lattice := _lattice(width, depth, spacing, diameter)) < number:
        spacing *= FINER
        if spacing < diameter:
            most = max(1, int(len(lattice) / spec.square_feet() * 100))
            sizes = ", ".join(f"{size}-inch" for size, _ in spec.mix)
            rule = f"must be at most {most} for balloons in mix of {sizes} to float side by side"
            raise SpecErrors([SpecError("per_hundred_ft2", rule, spec.per_hundred_ft2)])
    left_out = {n for _, n in sorted((rng.random(), n) for n in range(len(lattice)))[number:]}
    apart = spacing * ROW if spacing * ROW >= diameter else spacing
    stray = max(0.0, (apart - diameter) / 2) * 0.7
    kept: list[Point] = []
    rows: dict[int, list[int]] = {}
    for n, (x, deep, row) in enumerate(lattice):
        if n in left_out:
            continue
        rows.setdefault(row, []).append(len(kept))
        across, back = x + stray * (2 * rng.random() - 1), deep + stray * (2 * rng.random() - 1)
        kept.append((_within(across, width, diameter), _within(back, depth, diameter)))
    last = max(rows)
    return kept, _side_by_side(kept, [rows.get(row, []) for row in range(last + 1)], 1.4 * spacing)


def _within(place: float, side: float, diameter: float) -> float:
    """The nearest place at which a balloon does not reach over the edge, the middle where it is the larger."""
    return min(max(place, min(diameter, side) / 2), side - min(diameter, side) / 2)


def _lattice(width: float, depth: float, spacing: float, diameter: float) -> list[tuple[float, float, int]]:
    """Places across and deep, and their row: rows nested, or each begun elsewhere where they are clear."""
    clear = spacing * ROW >= diameter
    rows = 1 + int(max(0.0, depth - diameter) / (spacing * ROW))
    spots = []
    for row in range(rows):
        shifted = spacing * ((row * GOLDEN) % 1.0 if clear else row % 2 / 2)
        if shifted > width - diameter:
            shifted = 0.0
        columns = 1 + int(max(0.0, width - diameter - shifted) / spacing)
        deep = diameter / 2 + (max(0.0, depth - diameter) - (rows - 1) * spacing * ROW) / 2 + row * spacing * ROW
        spots += [(diameter / 2 + shifted + n * spacing, deep, row) for n in range(columns)]
    return spots


def _side_by_side(spots: list[Point], rows: list[list[int]], near: float) -> list[tuple[int, int]]:
    """The pairs of places that are no further apart than `near`, looked for in each row and the next."""
    pairs = []
    for row, after in zip(rows, [*rows[1:], []], strict=True):
        pairs += [(a, b) for a, b in pairwise(row) if spots[b][0] - spots[a][0] < near]
        begin = 0
        for a in row:
            while begin < len(after) and spots[after[begin]][0] < spots[a][0] - near:
                begin += 1
            for b in after[begin:]:
                if spots[b][0] > spots[a][0] + near:
                    break
                pairs.append((a, b))
    return pairs


def _tail(balloon: Balloon, tail: float, rng: Random) -> tuple[Point, ...]:
    """A ribbon that hangs from a balloon's neck, swaying a little."""
    sway, x, neck = (rng.random() - 0.5) * 0.08 * tail, balloon.x, balloon.y + balloon.diameter / 2
    return tuple((x + sway * across, neck + tail * down) for across, down in ((0, 0), (0.8, 0.33), (1, 0.66), (0.5, 1)))
