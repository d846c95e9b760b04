"""Numerals and letters filled with small balloons inside their real outline."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from itertools import islice
from math import ceil
from random import Random

from estimating.bags import Diameters
from estimating.colouring import coloured, faded
from estimating.filling import Filling, discs_for, filled, gap_sizes
from estimating.kinds.garland import TOUCHING
from estimating.layout import Balloon, Layout
from estimating.lines import Line, Measured, Said, Site, Task
from estimating.outlines import Depths, Outline, stroke_of
from estimating.specs import (
    INFLATED,
    MOST_BALLOONS,
    SIZES,
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
from estimating.typefaces import FONTS, glyph, missing_from
from studio.money import shares

NAME = "glyphs"
TITLE = "Numerals and letters"

INCH = Decimal("25.4")
LOWEST, HIGHEST = 8 * INCH, 144 * INCH
MOST_CHARACTERS = 12
PATTERNS = ("mixed", "fade")

STATIONS = 64
"""Stations of a depth map in the height of a capital."""

TRACKING = 0.05
"""Room between two characters beyond what the face leaves, in capital heights: balloons stand out over the edge."""

SQUEEZED = 1.08
"""A balloon may be this much wider than the stroke it is squeezed into."""

TIGHT = 1.07
"""Balloons pressed into a frame give way and bulge out of its plane: so many for one that would lie flat. That is 0.88
of the plane, between what is thrown together (0.82) and what is laid by hand (0.907)."""


@dataclass(frozen=True, slots=True)
class GlyphsSpec(Spec):
    """Numerals and letters as asked for. Raises SpecErrors with everything that is wrong.

    `height_mm` is the height of a capital; `font` one of `typefaces.FONTS`; `mix` nominal size and percent of the
    balloons by count, `colours` a colour's key and percent. `pattern` mixes the colours, or fades the first above into
    the last below. `doubled` are outer and inner colours, `extras` items by key and how many.
    """

    text: str
    height_mm: Decimal
    mix: tuple[tuple[int, int], ...]
    colours: tuple[tuple[str, int], ...]
    font: str = "round"
    pattern: str = "mixed"
    outdoors: bool = False
    seed: int = 1
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()

    def __post_init__(self) -> None:
        errors = [
            *check_millimetres("height_mm", self.height_mm, LOWEST, HIGHEST, "from 8 in to 12 ft"),
            *check_shares("mix", self.mix, check_size, 4),
            *check_shares("colours", self.colours, check_colour, 8),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
            *check_doubled("doubled", self.doubled, [colour for colour, _ in self.colours]),
            *check_extras("extras", self.extras),
        ]
        if self.pattern not in PATTERNS:
            errors.append(SpecError("pattern", f"must be one of {', '.join(PATTERNS)}", self.pattern))
        errors += self._text_errors()
        if errors:
            raise SpecErrors(errors)

    def _text_errors(self) -> list[SpecError]:
        if self.font not in FONTS:
            return [SpecError("font", f"must be one of {', '.join(FONTS)}", self.font)]
        if not isinstance(self.text, str) or not 1 <= len(self.text) <= MOST_CHARACTERS or not self.text.strip():
            return [SpecError("text", f"must be from 1 to {MOST_CHARACTERS} characters", repr(self.text))]
        if missing := missing_from(self.font, self.text):
            said = f"must be characters that the {self.font} font has"
            return [SpecError("text", said, " ".join(missing))]
        return []


def outlines_of(spec: GlyphsSpec) -> list[tuple[str, Outline]]:
    """Each character but spaces with its outline in place, in inches: capitals stand with their feet at 0."""
    height, across, placed = float(spec.height_mm / INCH), 0.0, []
    for char in spec.text:
        outline, advance = glyph(spec.font, char)
        if outline.contours:
            placed.append((char, outline.moved(height, across, 0.0)))
        across += (advance + TRACKING) * height
    return placed


def lay_out(spec: GlyphsSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """Each character filled by itself, as many balloons as its outline's area asks for.

    Raises SpecErrors where the strokes are too thin for these sizes, or the balloons too many.
    """
    blown = Diameters.of(inflated)
    usual = blown.on_average(spec.colours)
    placed = outlines_of(spec)
    _check_strokes(spec, placed, usual)
    _check_number(spec, usual)
    counts = [_counts(outline, spec, usual) for _, outline in placed]
    rng = Random(spec.seed)
    sizes: list[int] = []
    fillings: list[Filling] = []
    couples: list[tuple[int, int]] = []
    for (char, outline), each in zip(placed, counts, strict=True):
        filling, order = _filled(char, outline, each, spec, usual, rng)
        first, second = filling.couples(TOUCHING)
        couples += [(a + len(sizes), b + len(sizes)) for a, b in zip(first.tolist(), second.tolist(), strict=True)]
        sizes += order
        fillings.append(filling)
    colours = (
        faded(sizes, [y for filling in fillings for y in filling.y.tolist()], spec.colours, rng)
        if spec.pattern == "fade"
        else coloured(sizes, spec.colours, couples, rng)
    )
    across = [blown.across(size, colour) for size, colour in zip(sizes, colours, strict=True)]
    if blown.has_foil(colours):
        rest = iter(across)
        for filling in fillings:
            filling.blow(list(islice(rest, len(filling.x))))
    places = [place for f in fillings for place in zip(f.x.tolist(), f.y.tolist(), f.z.tolist(), strict=True)]
    balloons = [
        Balloon(x, y, z, diameter, size, colour, "glyph")
        for (x, y, z), diameter, size, colour in zip(places, across, sizes, colours, strict=True)
    ]
    return _framed(balloons, [outline for _, outline in placed]).double_stuffed(spec.doubled)


def _framed(balloons: Sequence[Balloon], outlines: Sequence[Outline]) -> Layout:
    """Balloons in their frames, from the left edge of the first: each held at the two ends of its foot."""
    boxes = [outline.box() for outline in outlines]
    left = min(box[0] for box in boxes)
    return Layout(
        balloons=tuple(replace(balloon, x=balloon.x - left) for balloon in balloons),
        spine=(),
        length=sum(outline.length() for outline in outlines),
        width=max(box[2] for box in boxes) - left,
        strings=tuple(tuple((x - left, y) for x, y in (*line, line[0])) for each in outlines for line in each.contours),
        points=tuple((edge - left, box[3]) for box in boxes for edge in (box[0], box[2])),
    )


def said(spec: GlyphsSpec, layout: Layout, measured: Measured) -> Said:
    """““30” filled with balloons”, “4 ft high”."""
    what = f"“\u2068{spec.text.strip()}\u2069” filled with balloons"
    return Said(what, f"{measured(float(spec.height_mm / INCH))} high")


def frame_line(spec: GlyphsSpec, layout: Layout, site: Site) -> tuple[Line, ...]:
    """The frame is bent along every outline: as many feet of line to tie balloons to it."""
    return (Line("line", None, None, ceil(round(layout.length / 12, 6)), 0),)


def tasks(spec: GlyphsSpec, layout: Layout) -> tuple[Task, ...]:
    """A stroke has an edge on either side, so the strokes are half as long as the outlines."""
    return (Task("foot", ceil(round(layout.length / 24, 6))),)


def _check_strokes(spec: GlyphsSpec, placed: list[tuple[str, Outline]], inflated: Mapping[int, float]) -> None:
    """The smallest balloon must fit into the strokes, the largest somewhere in each character."""
    height = float(spec.height_mm / INCH)
    by_diameter = sorted((inflated[size], size) for size, _ in spec.mix)
    (least, small), (most, large) = by_diameter[0], by_diameter[-1]
    thin = min((SQUEEZED * stroke_of([outline]) / height, char) for char, outline in placed)
    widest = {char: 2 * SQUEEZED * float(_depths(spec.font, char).deep.max()) for char, _ in placed}
    tight = min((room, char) for char, room in widest.items())
    needed = max((least / thin[0], small, thin[1]), (most / tight[0], large, tight[1]))
    if needed[0] > height:
        said = f"must be at least {ceil(needed[0])} in for {needed[1]}-inch balloons to fit into {needed[2]}"
        fit = [size for size in sorted(inflated) if inflated[size] <= height * min(thin[0], tight[0])]
        rule = f"must have no balloons larger than {fit[-1]}-inch" if fit else "has no balloons small enough"
        raise SpecErrors(
            [
                SpecError("height_mm", said, f"{height:g} in"),
                SpecError("mix", f"{rule} for a height of {height:g} in", f"{needed[1]}-inch"),
            ]
        )


def _check_number(spec: GlyphsSpec, inflated: Mapping[int, float]) -> None:
    """Raises SpecErrors, naming what would work, where there are more balloons than settle in time."""

    def number(other: GlyphsSpec) -> int:
        return sum(sum(_counts(outline, other, inflated).values()) for _, outline in outlines_of(other))

    if (total := number(spec)) <= MOST_BALLOONS:
        return
    height = float(spec.height_mm / INCH)
    # An area goes with the square of its height; whole balloons may then still be one or two too many.
    most = int(height * (MOST_BALLOONS / total) ** 0.5)
    while number(replace(spec, height_mm=most * INCH)) > MOST_BALLOONS:
        most -= 1
    said = f"must be at most {most} in to take no more than {MOST_BALLOONS} balloons for this text"
    errors = [SpecError("height_mm", said, f"{height:g} in, {total} balloons")]
    smallest = min(size for size, _ in spec.mix)
    for size in (size for size in SIZES if size > smallest):
        alone = replace(spec, mix=((size, 100),))
        if number(alone) > MOST_BALLOONS:
            continue
        try:
            _check_strokes(alone, outlines_of(alone), inflated)
        except SpecErrors:
            break
        rule = f"must have balloons of {size}-inch or larger for a height of {height:g} in"
        errors.append(SpecError("mix", rule, f"{smallest}-inch"))
        break
    raise SpecErrors(errors)


def _counts(outline: Outline, spec: GlyphsSpec, inflated: Mapping[int, float]) -> dict[int, int]:
    """How many of each size one character takes; what only fills gaps takes none of its area."""
    small = gap_sizes(spec.mix, inflated)
    sizes = [(0.0 if size in small else inflated[size], float(percent)) for size, percent in spec.mix]
    number = max(1, round(TIGHT * discs_for(outline.area(), sizes)))
    shared = shares(number, [percent for _, percent in spec.mix])
    return {size: count for (size, _), count in zip(spec.mix, shared, strict=True)}


def _filled(
    char: str,
    outline: Outline,
    counts: Mapping[int, int],
    spec: GlyphsSpec,
    inflated: Mapping[int, float],
    rng: Random,
) -> tuple[Filling, list[int]]:
    """One character's balloons settled, and their nominal sizes in the same order."""
    gaps = gap_sizes(spec.mix, inflated)
    height = float(spec.height_mm / INCH)
    left, top, _, _ = outline.box()
    flat = glyph(spec.font, char).outline.box()
    depths = _depths(spec.font, char).moved(height, left - flat[0] * height, top - flat[1] * height)
    large = [size for size in counts if size not in gaps for _ in range(counts[size])]
    small = [size for size in counts if size in gaps for _ in range(counts[size])]
    filling = filled(depths, [inflated[size] for size in large], [inflated[size] for size in small], rng)
    return filling, large + small


@cache
def _depths(font: str, char: str) -> Depths:
    return Depths.of(glyph(font, char).outline, 1 / STATIONS)
