"""Packed pieces: balloons of one size in layers of four or five, as a garland, an arch or a column.

Only whole layers can be made, so a length is met by the nearest that are: a garland takes what its length asks for,
rounded up, an arch as many evened out from foot to foot, and a column the stack that comes nearest its height.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import replace
from math import ceil, cosh, sqrt
from typing import NamedTuple

from estimating.afloat import afloat_advice, sealing
from estimating.bags import Diameters, blown, foil_diameter
from estimating.gas import (
    check_afloat,
    floating_diameter,
    helium_lines,
    lift_of,
    weight_lines,
    weights_for,
)
from estimating.kinds.packed.spec import INCH, MEASURES, PackedSpec, Topper, in_inches
from estimating.layout import Balloon, Gas, Layout, Structure
from estimating.lines import Line, Measured, Said, Site, Task
from estimating.specs import INFLATED, SpecError, SpecErrors
from estimating.spines import Arc, Spine, arch, length_of, spine_of, swag
from estimating.stacking import (
    Stack,
    layers_along,
    layers_nearest,
    outer_width,
    patterned,
    per_layer_of,
    pitch,
    ring_radius,
    stack_asked,
    stack_length,
    stack_of,
    stacked,
)

__all__ = ["NAME", "TITLE", "PackedSpec", "Topper", "advice", "hardware", "lay_out", "said", "structure", "tasks"]

NAME = "packed"
TITLE = "Packed garland, arch or column"

LEAST_LAYERS = 2
EVENED = 0.5
"""Inches by which a piece may miss its length before its picture says so."""


class _Line(NamedTuple):
    """The line a piece is stacked on, its layers, where along it they are, and what there is to say about that."""

    spine: Spine
    stack: Stack
    stations: list[float]
    notes: list[str]


class _Wanted(NamedTuple):
    """A piece as asked for, and how many inches across the balloons of each of its colours are."""

    spec: PackedSpec
    across: Mapping[str, float]

    @property
    def widest(self) -> float:
        """The diameter of its widest balloons."""
        return max(self.across.values())

    @property
    def half_width(self) -> float:
        """Half of what its widest layers are wide."""
        return outer_width(self.spec.per_layer, self.widest) / 2

    @property
    def apart(self) -> float:
        """How far apart layers of its widest balloons are."""
        return pitch(self.spec.per_layer, self.widest, self.spec.compression_percent)

    def stack(self, layers: int) -> Stack:
        """So many layers of it."""
        spec = self.spec
        colours = patterned(spec.pattern, spec.colours, spec.colours_by == "percent", layers, spec.per_layer)
        return stack_of(colours, self.across, spec.compression_percent)


def lay_out(spec: PackedSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """The piece balloon by balloon. Raises SpecErrors where its balloons do not fit its measures.

    Sizes the studio has set no inflated diameter for take the usual one; foil among latex is as wide as it is when it
    is full, and its layers lie as near as that lets them. A closed form gives every place, so that the longest piece,
    of some 12,000 of the smallest balloons, takes a fraction of a second and need not be repeated.
    """
    inflated = Diameters.of(inflated)
    filled = {size: floating_diameter(size, inflated) for size in inflated} if spec.helium else inflated
    size, diameter = blown(spec.size, spec.diameter_mm, filled)
    wanted = _Wanted(spec, {colour: inflated.across(size, colour, diameter) for colour, _ in spec.colours})
    line = {"garland": _garland, "arch": _arch, "column": _column}[spec.form](wanted)
    notes = [*line.notes, *_shares_said(spec, line.stack.colours)]
    spots = stacked(line.spine, line.stations, spec.per_layer, line.stack.colours, wanted.across)
    gas: Gas = "helium" if spec.helium else "air"
    balloons = [Balloon(x, y, z, across, size, colour, "packed", gas=gas) for x, y, z, colour, across in spots]
    if spec.topper is not None:
        balloons.append(_crown(spec.topper, wanted, line, inflated))
        tall = balloons[-1].diameter / 2 - balloons[-1].y
        notes.append(f"With its topper it stands {tall:.1f} in tall.")
    stands = spec.form != "garland"
    layout = Layout(
        balloons=tuple(balloons),
        spine=line.spine,
        length=length_of(line.spine),
        width=outer_width(spec.per_layer, max(line.stack.widest)),
        notes=tuple(notes),
        points=() if stands else None,
    ).double_stuffed(spec.doubled)
    check_afloat(layout.in_foil(inflated.foils).balloons, "size" if spec.diameter_mm is None else "diameter_mm")
    return layout


def said(spec: PackedSpec, layout: Layout, measured: Measured) -> Said:
    """“Packed arch”, “8 ft high, 10 ft wide”."""
    if spec.form == "garland":
        return Said("Packed garland", f"{measured(layout.length)} × {measured(layout.width)}")
    if spec.form == "column":
        topped = "Column with a topper" if spec.topper is not None else "Column"
        return Said(topped, f"{measured(-layout.bounds().top)} high, {measured(layout.width)} wide")
    arc = spec.arc()
    return Said("Packed arch", f"{measured(arc.rise)} high, {measured(arc.span)} wide")


def structure(layout: Layout) -> Structure:
    """How it is tied: layers of pairs (a five is a pair and a trio), two layers to a cluster, a topper singly."""
    packed = [balloon for balloon in layout.balloons if balloon.part == "packed"]
    layers = round(len(packed) / per_layer_of(layout.width, max(balloon.diameter for balloon in packed)))
    in_layer = len(packed) // layers
    return replace(
        layout.structure(),
        pairs=layers * (in_layer // 2),
        quads=layers,
        clusters=layers // 2,
        quads_left=layers % 2,
    )


def advice(
    spec: PackedSpec, layout: Layout, site: Site, *, inflated: Mapping[int, float] = INFLATED
) -> tuple[str, ...]:
    """How long what floats will float, where that is less than the event asks for."""
    return afloat_advice(layout.balloons, site, sealed=spec.sealed)


def tasks(spec: PackedSpec, layout: Layout) -> tuple[Task, ...]:
    """The sealing of what floats, where it is asked for."""
    return sealing(layout.balloons) if spec.sealed else ()


def hardware(spec: PackedSpec, layout: Layout, site: Site) -> tuple[Line, ...]:
    """Helium, and weights: one under a column and one under each foot of an arch, more where helium pulls harder."""
    feet = {"garland": 0, "arch": 2, "column": 1}[spec.form] if spec.base == "weighted" or spec.helium else 0
    lifting = weights_for(lift_of(layout.balloons, site)) if spec.form == "arch" else 0
    return (*helium_lines(layout.balloons, site), *weight_lines(max(feet, lifting)))


def _garland(wanted: _Wanted) -> _Line:
    """Layers as close as they nest, centred on the line."""
    spec = wanted.spec
    if spec.length_mm is not None and spec.span_mm is None and spec.rise_mm is None:
        spine = spine_of(spec.shape, float(spec.length_mm / INCH))
    else:
        arc = spec.arc()
        spine = swag(arc.length, arc.rise / arc.span)
        _check_hang(spec, arc, wanted.half_width)
    length = length_of(spine)
    stack = _stacked_to(wanted, lambda stack: layers_along(length, stack.apart), layers_along(length, wanted.apart))
    return _Line(spine, stack, stack.stations((length - sum(stack.gaps)) / 2), _made_said(stack, length))


def _arch(wanted: _Wanted) -> _Line:
    """Layers evened out along half an ellipse, so that the first and last stand on the floor."""
    arc = wanted.spec.arc()
    _check_turns(wanted.spec, arc, wanted.half_width)
    first = layers_along(arc.length, wanted.apart)
    stack = _stacked_to(wanted, lambda stack: layers_along(arc.length, stack.apart), first)
    feet = (stack.widest[0] + stack.widest[-1]) / 2
    scale = (arc.length - feet) / sum(stack.gaps)
    closer = round(100 * (1 - scale))
    notes = [f"{len(stack.colours)} layers fit from foot to foot pushed {closer} percent closer."] if closer else []
    return _Line(arch(arc), stack, stack.stations(stack.widest[0] / 2, scale), notes)


def _column(wanted: _Wanted) -> _Line:
    """Layers as close as they nest, up from the floor."""
    assert wanted.spec.height_mm is not None
    asked = float(wanted.spec.height_mm / INCH)

    def nearest(stack: Stack) -> int:
        return layers_nearest(asked, (stack.widest[0] + stack.widest[-1]) / 2, stack.apart)

    stack = _stacked_to(wanted, nearest, layers_nearest(asked, wanted.widest, wanted.apart))
    stations = stack.stations(stack.widest[0] / 2)
    return _Line(((0.0, 0.0), (0.0, -stack.length)), stack, stations, _made_said(stack, asked))


def _stacked_to(wanted: _Wanted, asked: Callable[[Stack], int], first: int) -> Stack:
    """As many layers as are asked for, where they are enough to be one piece; raises SpecErrors."""
    least = _enough(first, wanted.spec, wanted.widest, wanted.apart)
    return stack_asked(wanted.stack, lambda stack: max(LEAST_LAYERS, asked(stack)), least)


def _enough(layers: int, spec: PackedSpec, diameter: float, apart: float) -> int:
    """So many layers, where they are enough to be one piece; raises SpecErrors."""
    if layers >= LEAST_LAYERS:
        return layers
    field = next(field for field in MEASURES[spec.form] if getattr(spec, field) is not None)
    least = stack_length(LEAST_LAYERS, diameter, apart)
    rule = f"must be at least {_said(ceil(least))} for two layers of balloons {diameter:.3g} in across"
    raise SpecErrors([SpecError(field, rule, in_inches(getattr(spec, field)))])


def _check_turns(spec: PackedSpec, arc: Arc, half_width: float) -> None:
    """An ellipse turns most sharply at its feet (b²/a) or its crown (a²/b): never inside half the arch's own width."""
    a = arc.span / 2
    if a < half_width:
        wide = _said(ceil(2 * half_width))
        field = "span_mm" if spec.span_mm is not None else "length_mm"
        raise SpecErrors(
            [
                SpecError(
                    field,
                    f"must make a span of at least {wide} for layers {wide} wide",
                    in_inches(getattr(spec, field)),
                )
            ]
        )
    _check_rise(spec, arc, half_width, ceil(sqrt(a * half_width)), int(a * a / half_width))


def _check_hang(spec: PackedSpec, arc: Arc, half_width: float) -> None:
    """A catenary turns most sharply at its lowest point, on its parameter as a radius: not inside half the width."""
    _check_rise(spec, arc, half_width, 0, int(half_width * (cosh(arc.span / 2 / half_width) - 1)))


def _check_rise(spec: PackedSpec, arc: Arc, half_width: float, least: int, most: int) -> None:
    """Raises SpecErrors, in the field that was given, where it rises or sags too little or too much for its span."""
    if least <= arc.rise <= most:
        return
    field, curve = "rise_mm", "rise" if spec.form == "arch" else "sag"
    limits, made = f"from {_said(least)} to {_said(most)}" if least else f"at most {_said(most)}", ""
    if spec.rise_mm is None:
        field, made = "length_mm", f" make a {curve}"
    rule = f"must{made or ' be'} {limits} for a span of {_said(arc.span)} and layers {_said(ceil(2 * half_width))} wide"
    raise SpecErrors([SpecError(field, rule, in_inches(getattr(spec, field)))])


def _crown(topper: Topper, wanted: _Wanted, line: _Line, inflated: Diameters) -> Balloon:
    """The topper, resting in the hollow of the top layer; raises SpecErrors where it would drop into it."""
    across = foil_diameter(topper.size) if topper.is_foil else inflated.across(topper.size, topper.colour)
    top = {wanted.across[colour] for colour in line.stack.colours[-1]}
    if across < max(top):
        rule = f"must be a size that is at least as wide as the column's balloons, {max(top):.3g} in"
        raise SpecErrors([SpecError("topper", rule, f"{topper.size}-inch, {across:.3g} in")])
    up = max(sqrt(((across + d) / 2) ** 2 - ring_radius(wanted.spec.per_layer, d) ** 2) for d in top)
    return Balloon(0.0, -line.stations[-1] - up, 0.0, across, topper.size, topper.colour, "topper", form=topper.form)


def _shares_said(spec: PackedSpec, colours: list[list[str]]) -> list[str]:
    """What whole layers, or whole places in a layer, make of the shares; raises SpecErrors for a colour left out."""
    counts = Counter(colour for layer in colours for colour in layer)
    of = f"the {spec.per_layer} places of a layer" if spec.pattern == "spiral" else f"{len(colours)} whole layers"
    if missing := [f"{number}" for key, number in spec.colours if not counts[key]]:
        rule = f"must each come to at least one of {of} (pattern {spec.pattern})"
        raise SpecErrors([SpecError("colours", rule, f"{', '.join(missing)} percent")])
    made = [100 * counts[key] / counts.total() for key, _ in spec.colours]
    if spec.colours_by == "percent" and any(abs(m - p) >= 1 for m, (_, p) in zip(made, spec.colours, strict=True)):
        return [f"In {of} the colours come to {', '.join(f'{m:.0f}' for m in made)} percent."]
    return []


def _made_said(stack: Stack, asked: float) -> list[str]:
    if abs(stack.length - asked) < EVENED:
        return []
    return [f"{len(stack.colours)} whole layers make {stack.length:.1f} in; {asked:.1f} in was asked for."]


def _said(inches: float) -> str:
    """A length as errors say it, whose inches the page turns into the studio's measures."""
    return f"{inches:.4g} in"
