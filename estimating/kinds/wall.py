"""A wall panel: quads on a regular lattice, or mixed sizes that fill it like a garland laid flat."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from math import ceil, pi
from random import Random

from estimating.colouring import coloured, dealt, faded
from estimating.filling import filled, gap_sizes
from estimating.kinds.garland import TOUCHING
from estimating.lattices import ACROSS, Grid, alternate_sizes, turned_quads
from estimating.layout import Balloon, Layout
from estimating.lines import Task
from estimating.outlines import Depths, rectangle
from estimating.specs import (
    INFLATED,
    MOST_BALLOONS,
    Spec,
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
)
from studio.money import shares

NAME = "wall"
TITLE = "Wall panel"

INCH = Decimal("25.4")
NARROWEST, WIDEST = 12 * INCH, 720 * INCH
LOWEST, HIGHEST = 12 * INCH, 192 * INCH

STYLES = ("grid", "organic")
PATTERNS = ("plain", "mixed", "checks", "stripes", "fade")
ORGANIC_PATTERNS = ("plain", "mixed", "fade")

MOST: Mapping[str, int] = {"grid": 12_000, "organic": 2 * MOST_BALLOONS}
"""The most balloons of a panel. A grid needs no settling, so it may be large; more than this no page draws."""

ALTERNATE_GAPS: tuple[tuple[float, float, float], ...] = ((2.0, 4.5, 0.5), (4.5, 7.5, 1.0), (7.5, 11.0, 2.0))
"""How much smaller the small ones of alternate sizes are: from and to which inflated diameter, and the inches (common
practice, two texts agree)."""

SOLID = 0.56
"""Part of an organic panel's volume that is balloon. Spheres poured together reach 0.64; a panel only a balloon or two
deep loses some of that at its faces."""

DEEP = 1.45
"""Depth of an organic panel in mean diameters of its large balloons, where none is given."""

GARLAND_WIDTH = 1.5
"""An organic panel is worked like garlands this many feet wide side by side (common practice, no source)."""

POINT_EVERY = 48.0
"""A panel is held at its top corners, and between them no further apart than this (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class WallSpec(Spec):
    """A wall panel as asked for. Raises SpecErrors with everything that is wrong.

    `mix` is nominal size and percent of the balloons by count: one size for a grid, up to six for an organic panel.
    `colours` are a colour's key and percent. `pattern` is one of PATTERNS; checks and stripes deal whole quads and
    columns in turn. In a grid `spacing_percent` is how far apart its columns stand, 100 for quads side by side that do
    not interlock; with `alternate` sizes large and small ones take turns and lock square, the small ones `gap_mm`
    smaller (None for the usual). `depth_mm` is how deep an organic panel is (None for the usual).
    """

    width_mm: Decimal
    height_mm: Decimal
    mix: tuple[tuple[int, int], ...]
    colours: tuple[tuple[str, int], ...]
    style: str = "organic"
    pattern: str = "mixed"
    spacing_percent: int = 86
    alternate: bool = False
    gap_mm: Decimal | None = None
    depth_mm: Decimal | None = None
    outdoors: bool = False
    seed: int = 1
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()

    def __post_init__(self) -> None:
        errors = [
            *check_millimetres("width_mm", self.width_mm, NARROWEST, WIDEST, "from 1 ft to 60 ft"),
            *check_millimetres("height_mm", self.height_mm, LOWEST, HIGHEST, "from 1 ft to 16 ft"),
            *check_shares("mix", self.mix, check_size, 6),
            *check_shares("colours", self.colours, check_colour, 8),
            *check_whole("spacing_percent", self.spacing_percent, 80, 130),
            *check_true_or_false("alternate", self.alternate),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
            *check_doubled("doubled", self.doubled, [colour for colour, _ in self.colours]),
            *check_extras("extras", self.extras),
            *self._style_errors(),
        ]
        if errors:
            raise SpecErrors(errors)

    def _style_errors(self) -> list[SpecError]:
        """What disagrees with the style or the pattern."""
        if self.style not in STYLES:
            return [SpecError("style", f"must be one of {', '.join(STYLES)}", self.style)]
        grid, errors = self.style == "grid", []
        allowed = PATTERNS if grid else ORGANIC_PATTERNS
        if self.pattern not in allowed:
            said = f"must be one of {', '.join(allowed)} for a panel whose style is {self.style}"
            errors.append(SpecError("pattern", said, self.pattern))
        if self.pattern == "plain" and len(self.colours) > 1:
            errors.append(
                SpecError("pattern", "can be plain only where colours names one", f"{len(self.colours)} colours")
            )
        if self.pattern in ("checks", "stripes", "fade") and len(self.colours) == 1:
            errors.append(SpecError("colours", f"must name at least 2 where the pattern is {self.pattern}", 1))
        if grid and len(self.mix) > 1:
            errors.append(SpecError("mix", "must name one size where the style is grid", len(self.mix)))
        if not grid and self.alternate:
            errors.append(SpecError("alternate", "must be false where the style is organic", self.alternate))
        if self.gap_mm is not None:
            errors += check_millimetres("gap_mm", self.gap_mm, INCH / 4, 4 * INCH, "from 1/4 in to 4 in")
            if not self.alternate:
                errors.append(SpecError("gap_mm", "must be left out where alternate is false", f"{self.gap_mm} mm"))
        if self.depth_mm is not None:
            errors += check_millimetres("depth_mm", self.depth_mm, 3 * INCH, 48 * INCH, "from 3 in to 4 ft")
            if grid:
                errors.append(SpecError("depth_mm", "must be left out where the style is grid", f"{self.depth_mm} mm"))
        return errors


def lay_out(spec: WallSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """The panel balloon by balloon, from the top left. Raises SpecErrors where these sizes do not fit it."""
    inflated = {**INFLATED, **inflated}
    width, height = _inches(spec.width_mm), _inches(spec.height_mm)
    _check_fit(spec, inflated)
    balloons = _grid(spec, inflated) if spec.style == "grid" else _organic(spec, inflated)
    stretches = ceil(round(width / POINT_EVERY, 6))
    return Layout(
        balloons=tuple(balloons),
        spine=(),
        length=height,
        width=max(b.x + b.diameter / 2 for b in balloons) - min(b.x - b.diameter / 2 for b in balloons),
        strings=(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height), (0.0, 0.0)),),
        points=tuple((width * n / stretches, 0.0) for n in range(stretches + 1)),
    ).double_stuffed(spec.doubled)


def tasks(spec: WallSpec, layout: Layout) -> tuple[Task, ...]:
    """A grid is as many feet of packed garland as its columns are high; an organic panel garlands side by side."""
    wide, high = _inches(spec.width_mm) / 12, _inches(spec.height_mm) / 12
    if spec.style == "grid":
        quads_high = len({b.y for b in layout.balloons})
        return (Task("foot", ceil(round(len(layout.balloons) / 4 / quads_high * high, 6))),)
    return (Task("foot", ceil(round(wide * high / GARLAND_WIDTH, 6))),)


def diameters(spec: WallSpec, inflated: Mapping[int, float]) -> tuple[float, float]:
    """A grid's large and small inflated diameters, the same where sizes do not alternate."""
    large = inflated[spec.mix[0][0]]
    if not spec.alternate:
        return large, large
    if spec.gap_mm is not None:
        return large, large - _inches(spec.gap_mm)
    for least, most, gap in ALTERNATE_GAPS:
        if least < large <= most:
            return large, large - gap
    said = f"must be false for balloons inflated to {large:g} in, or gap_mm say how much smaller the small ones are"
    raise SpecErrors([SpecError("alternate", said, True)])


def _check_fit(spec: WallSpec, inflated: Mapping[int, float]) -> None:
    """Every balloon must fit within the panel."""
    largest = max((inflated[size], size) for size, _ in spec.mix)
    least = largest[0] * (ACROSS if spec.style == "grid" and not spec.alternate else 1.0)
    errors = []
    for name, asked, needed in (
        ("width_mm", spec.width_mm, 2 * largest[0] if spec.alternate else least),
        ("height_mm", spec.height_mm, largest[0]),
        *((("depth_mm", spec.depth_mm, largest[0]),) if spec.depth_mm is not None else ()),
    ):
        if _inches(asked) < needed:
            said = f"must be at least {ceil(needed)} in to hold {largest[1]}-inch balloons"
            errors.append(SpecError(name, said, f"{_inches(asked):g} in"))
            errors.append(
                SpecError("mix", f"must be smaller for a {name[:-3]} of {_inches(asked):g} in", f"{largest[1]}-inch")
            )
    if errors:
        raise SpecErrors(errors)


def _check_count(spec: WallSpec, number: float) -> None:
    if number > MOST[spec.style]:
        asked = f"{_inches(spec.width_mm) / 12:g} ft by {_inches(spec.height_mm) / 12:g} ft takes {number:.0f}"
        raise SpecErrors([SpecError("width_mm", f"must take at most {MOST[spec.style]} balloons", asked)])


def _grid(spec: WallSpec, inflated: Mapping[int, float]) -> list[Balloon]:
    """Quads in rows and columns, each of one colour."""
    width, height = _inches(spec.width_mm), _inches(spec.height_mm)
    large, small = diameters(spec, inflated)
    grid = (
        alternate_sizes(width, height, large, small)
        if spec.alternate
        else turned_quads(width, height, large, spec.spacing_percent / 100)
    )
    _check_count(spec, len(grid.places))
    colour_of = _quad_colours(spec, grid, Random(spec.seed))
    size = spec.mix[0][0]
    return [
        Balloon(at.x, at.y, at.z, small if at.is_small else large, size, colour_of[at.column, at.row], "packed")
        for at in grid.places
    ]


def _quad_colours(spec: WallSpec, grid: Grid, rng: Random) -> dict[tuple[int, int], str]:
    """The colour of each quad, by its column and row."""
    quads = [(column, row) for row in range(grid.rows) for column in range(grid.columns)]
    if spec.pattern in ("checks", "stripes"):
        turns = dealt(spec.colours, grid.columns + grid.rows)
        return {(c, r): turns[c + r if spec.pattern == "checks" else c] for c, r in quads}
    if spec.pattern == "fade":
        given = faded([1] * len(quads), [float(row) for _, row in quads], spec.colours, rng)
    else:
        place = {quad: n for n, quad in enumerate(quads)}
        steps = ((1, 0), (0, 1), (1, 1), (-1, 1))
        couples = [(n, place[c + x, r + y]) for (c, r), n in place.items() for x, y in steps if (c + x, r + y) in place]
        given = coloured([1] * len(quads), spec.colours, couples, rng)
    return dict(zip(quads, given, strict=True))


def _organic(spec: WallSpec, inflated: Mapping[int, float]) -> list[Balloon]:
    """Large ones spread over the panel at all its depths, small ones in the gaps in front."""
    width, height = _inches(spec.width_mm), _inches(spec.height_mm)
    counts, depth = organic_counts(spec, inflated)
    gaps, rng = gap_sizes(spec.mix, inflated), Random(spec.seed)
    large = [size for size in counts if size not in gaps for _ in range(counts[size])]
    small = [size for size in counts if size in gaps for _ in range(counts[size])]
    sizes = large + small
    depths = Depths.of(rectangle(width, height), min(1.0, min(width, height) / 48))
    filling = filled(depths, [inflated[n] for n in large], [inflated[n] for n in small], rng, depth)
    if spec.pattern == "fade":
        colours = faded(sizes, filling.y.tolist(), spec.colours, rng)
    else:
        first, second = filling.couples(TOUCHING)
        colours = coloured(sizes, spec.colours, list(zip(first.tolist(), second.tolist(), strict=True)), rng)
    places = zip(filling.x.tolist(), filling.y.tolist(), filling.z.tolist(), strict=True)
    return [
        Balloon(x, y, z, inflated[size], size, colour, "panel")
        for (x, y, z), size, colour in zip(places, sizes, colours, strict=True)
    ]


def organic_counts(spec: WallSpec, inflated: Mapping[int, float]) -> tuple[dict[int, int], float]:
    """How many of each size fill an organic panel, and how deep it is in inches."""
    gaps = gap_sizes(spec.mix, inflated)
    large = [(inflated[size], percent) for size, percent in spec.mix if size not in gaps]
    usual = max(max(d for d, _ in large), DEEP * sum(d * n for d, n in large) / sum(n for _, n in large))
    depth = usual if spec.depth_mm is None else _inches(spec.depth_mm)
    mean = sum(percent * pi / 6 * inflated[size] ** 3 for size, percent in spec.mix) / 100
    number = SOLID * _inches(spec.width_mm) * _inches(spec.height_mm) * depth / mean
    _check_count(spec, number)
    shared = shares(max(4, ceil(number)), [percent for _, percent in spec.mix])
    return {size: count for (size, _), count in zip(spec.mix, shared, strict=True)}, depth


def _inches(length: Decimal) -> float:
    return float(length / INCH)
