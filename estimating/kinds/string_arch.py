"""An arch of single balloons on a line: helium lifts the line evenly, so it stands as a catenary upside down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import cycle, islice, pairwise
from math import ceil, hypot
from random import Random
from typing import ClassVar

from estimating.afloat import afloat_advice, sealing
from estimating.bags import Diameters, blown, check_blown
from estimating.colouring import coloured
from estimating.gas import check_afloat, floating_diameter, helium_lines, lift_of, weight_lines, weights_for
from estimating.layout import Balloon, Layout
from estimating.lines import Line, Measured, Said, Site, Task
from estimating.setting import Setting
from estimating.specs import (
    INFLATED,
    MOST_BALLOONS,
    Spec,
    SpecError,
    SpecErrors,
    check_colour,
    check_colours_in_turn,
    check_doubled,
    check_extras,
    check_millimetres,
    check_one_of,
    check_shares,
    check_true_or_false,
    check_whole,
)
from estimating.spines import Arc, ArcError, along, catenary_arc, lifted

NAME = "string_arch"
TITLE = "Arch of single balloons on a line"

INCH = Decimal("25.4")
SHORTEST, LONGEST = 24 * INCH, 2400 * INCH
CLOSEST, WIDEST = 2 * INCH, 60 * INCH

NECK = 0.8
"""Inches from the line to the skin of a balloon tied to it: its neck."""

EVENED = 0.5
"""Inches by which the spacing may be evened out before the picture says so."""


@dataclass(frozen=True, slots=True)
class StringArchSpec(Spec):
    """A string arch as asked for. Raises SpecErrors with everything that is wrong.

    Any two of `span_mm`, `rise_mm` and `length_mm` of the line, and `spacing_mm` from balloon to balloon along it.
    `colours` are a colour's key and, by `colours_by`, its percent of the balloons or how many of it follow each other
    in turn. Balloons are told by nominal `size`, by the inflated `diameter_mm`, or by both. Without helium they are
    tied to a bent pole. `sealed` balloons are treated inside to float longer.
    """

    LEFT_OUT: ClassVar[frozenset[str]] = frozenset({"sealed"})

    colours: tuple[tuple[str, int], ...]
    size: int | None = None
    diameter_mm: Decimal | None = None
    span_mm: Decimal | None = None
    rise_mm: Decimal | None = None
    length_mm: Decimal | None = None
    spacing_mm: Decimal = 12 * INCH
    colours_by: str = "count"
    helium: bool = True
    sealed: bool = False
    outdoors: bool = False
    seed: int = 1
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()

    def __post_init__(self) -> None:
        errors = [
            *check_one_of("colours_by", self.colours_by, ("percent", "count")),
            *check_millimetres("spacing_mm", self.spacing_mm, CLOSEST, WIDEST, "from 2 in to 5 ft"),
            *check_true_or_false("helium", self.helium),
            *check_true_or_false("sealed", self.sealed),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
            *check_doubled("doubled", self.doubled, [key for key, _ in self.colours]),
            *check_extras("extras", self.extras),
            *check_blown(self.size, self.diameter_mm),
        ]
        for field in ("span_mm", "rise_mm", "length_mm"):
            if (value := getattr(self, field)) is not None:
                errors += check_millimetres(field, value, SHORTEST, LONGEST, "from 2 ft to 200 ft")
        errors += [] if errors else [*self._colour_errors(), *self._arc_errors()]
        if errors:
            raise SpecErrors(errors)

    def _colour_errors(self) -> list[SpecError]:
        if self.colours_by == "percent":
            return check_shares("colours", self.colours, check_colour, 8)
        return check_colours_in_turn("colours", self.colours)

    def _arc_errors(self) -> list[SpecError]:
        try:
            self.arc()
        except ArcError as error:
            value = getattr(self, f"{error.field}_mm")
            return [
                SpecError(f"{error.field}_mm", error.rule, "nothing" if value is None else f"{value / INCH:.4g} in")
            ]
        return []

    def arc(self) -> Arc:
        """Its span, rise and length in inches; raises ArcError where no line stands so."""
        span, rise, length = (
            None if value is None else float(value / INCH) for value in (self.span_mm, self.rise_mm, self.length_mm)
        )
        return catenary_arc(span=span, rise=rise, length=length)


def lay_out(spec: StringArchSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """The arch balloon by balloon, evenly spaced, half a space from each foot. Raises SpecErrors.

    Sizes the studio has set no inflated diameter for take the usual one; foil among latex is as wide as it is when it
    is full.
    """
    inflated = Diameters.of(inflated)
    filled = {size: floating_diameter(size, inflated) for size in inflated} if spec.helium else inflated
    size, diameter = blown(spec.size, spec.diameter_mm, filled)
    arc, asked = spec.arc(), float(spec.spacing_mm / INCH)
    across = {colour: inflated.across(size, colour, diameter) for colour, _ in spec.colours}
    _check_room(spec, size, max(across.values()), arc, asked)
    number = round(arc.length / asked)
    even = arc.length / number
    notes = [f"{number} balloons are evened out to one every {even:.1f} in."] if abs(even - asked) >= EVENED else []
    colours = _in_order(spec, number, size)
    missing = {key for key, _ in spec.colours} - set(colours)
    if missing:
        rule = f"must each come to at least one of the {number} balloons"
        raise SpecErrors([SpecError("colours", rule, ", ".join(f"{n}" for key, n in spec.colours if key in missing))])
    spine = lifted(arc)
    places = []
    stations = [even * (n + 0.5) for n in range(number)]
    for ((x, y), (along_x, along_y)), colour in zip(along(spine, stations), colours, strict=True):
        # Outwards from the line; what floats also stands up from where it is tied.
        aside, up = along_y, -along_x - (1.0 if spec.helium else 0.0)
        reach = (across[colour] / 2 + NECK) / hypot(aside, up)
        places.append((x + aside * reach, y + up * reach))
    layout = Layout(
        balloons=tuple(
            Balloon(x, y, 0.0, across[colour], size, colour, "float", gas="helium" if spec.helium else "air")
            for (x, y), colour in zip(places, colours, strict=True)
        ),
        spine=spine,
        length=arc.length,
        width=max(across.values()),
        strings=(spine,),
        notes=tuple(notes),
        points=(),
        setting=Setting(weights=(spine[0], spine[-1])),
    ).double_stuffed(spec.doubled)
    check_afloat(layout.in_foil(inflated.foils).balloons, "size" if spec.diameter_mm is None else "diameter_mm")
    return layout


def said(spec: StringArchSpec, layout: Layout, measured: Measured) -> Said:
    """“Arch of single balloons on a line”, “9 ft high, 16 ft wide”."""
    arc = spec.arc()
    return Said(TITLE, f"{measured(arc.rise)} high, {measured(arc.span)} wide")


def advice(
    spec: StringArchSpec, layout: Layout, site: Site, *, inflated: Mapping[int, float] = INFLATED
) -> tuple[str, ...]:
    """How long it will float, where that is less than the event asks for."""
    return afloat_advice(layout.balloons, site, sealed=spec.sealed)


def tasks(spec: StringArchSpec, layout: Layout) -> tuple[Task, ...]:
    """The sealing of what floats, where it is asked for."""
    return sealing(layout.balloons) if spec.sealed else ()


def hardware(spec: StringArchSpec, layout: Layout, site: Site) -> tuple[Line, ...]:
    """Helium, and weights: one at each foot, more where the balloons pull harder."""
    return (*helium_lines(layout.balloons, site), *weight_lines(max(2, weights_for(lift_of(layout.balloons, site)))))


def _check_room(spec: StringArchSpec, size: int, diameter: float, arc: Arc, asked: float) -> None:
    """Balloons on a line must not press on each other, nor be too few to arch."""
    if asked < diameter:
        rule = f"must be at least {ceil(10 * diameter) / 10:g} in for {size}-inch balloons blown so far"
        raise SpecErrors([SpecError("spacing_mm", rule, f"{asked:.4g} in")])
    number = arc.length / asked
    if number < 3:
        rule = f"must be at most {int(arc.length / 3)} in, or a line of {arc.length:.4g} in holds fewer than 3"
        raise SpecErrors([SpecError("spacing_mm", rule, f"{asked:.4g} in")])
    if number > MOST_BALLOONS:
        raise SpecErrors([SpecError("spacing_mm", f"must make at most {MOST_BALLOONS} balloons", round(number))])


def _in_order(spec: StringArchSpec, number: int, size: int) -> list[str]:
    """A colour for each balloon along the line."""
    if spec.colours_by == "percent":
        return coloured([size] * number, spec.colours, list(pairwise(range(number))), Random(spec.seed))
    turn = [key for key, count in spec.colours for _ in range(count)]
    return list(islice(cycle(turn), number))
