"""Ceiling floats: helium balloons loose under a ceiling, with or without ribbon tails."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random

from estimating.afloat import afloat_advice, sealing
from estimating.bags import Diameters
from estimating.gas import floating_diameter, helium_lines, ribbon_lines
from estimating.kinds.floats.scattering import densest, scattered
from estimating.kinds.floats.spec import INCH, FloatsSpec
from estimating.layout import Balloon, Layout
from estimating.lines import Line, Measured, Said, Site, Task
from estimating.setting import Point, Room, Setting
from estimating.specs import INFLATED, SpecError, SpecErrors

__all__ = ["NAME", "SEEN_FROM_BELOW", "TITLE", "FloatsSpec", "advice", "densest", "extras", "lay_out", "said", "tasks"]

NAME = "floats"
TITLE = "Ceiling floats"

HEADROOM = 6.0
"""Inches a tail ends above the floor at the least."""

SEEN_FROM_BELOW = 0.32
"""How far down the picture an inch of depth lies: the ceiling as one sees it from the door."""


def lay_out(spec: FloatsSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """Every balloon under its ceiling, seen from a little below; no two press into one another.

    Raises SpecErrors where they would not fit side by side, and where tails would drag on the floor.
    """
    blown = Diameters.of(inflated)
    width, depth = spec.sides()
    height, tail = float(spec.ceiling_mm / INCH), float(spec.tail_mm / INCH)
    widest = max(
        blown.across(size, colour, floating_diameter(size, blown)) for size, _ in spec.mix for colour, _ in spec.colours
    )
    if tail and widest + tail > height - HEADROOM:
        most = height - HEADROOM - widest
        rule = f"must be at most {most:.0f} in under that ceiling_mm"
        raise SpecErrors([SpecError("tail_mm", rule, f"{tail:g} in")])
    rng = Random(spec.seed)
    balloons = tuple(
        Balloon(x, across / 2 + deep * SEEN_FROM_BELOW, -deep, across, size, colour, "float", gas="helium")
        for size, across, colour, (x, deep) in zip(*scattered(spec, blown, rng), strict=True)
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


def said(spec: FloatsSpec, layout: Layout, measured: Measured) -> Said:
    """“Ceiling floats”, “over 12 ft × 10 ft, under a ceiling of 9 ft”."""
    width, depth, height = (measured(float(mm / INCH)) for mm in (spec.width_mm, spec.depth_mm, spec.ceiling_mm))
    return Said(TITLE, f"over {width} × {depth}, under a ceiling of {height}")


def extras(spec: FloatsSpec, layout: Layout, site: Site) -> tuple[Line, ...]:
    """Helium, and ribbon for the tails."""
    feet = float(spec.tail_mm / INCH) / 12 * len(layout.strings)
    return (*ribbon_lines(feet, len(layout.strings)), *helium_lines(layout.balloons, site))


def tasks(spec: FloatsSpec, layout: Layout) -> tuple[Task, ...]:
    """A ribbon for every tail, and the sealing where it is asked for."""
    ribbons = (Task("ribbon", len(layout.strings)),) if layout.strings else ()
    return (*ribbons, *sealing(layout.balloons)) if spec.sealed else ribbons


def advice(
    spec: FloatsSpec, layout: Layout, site: Site, *, inflated: Mapping[int, float] = INFLATED
) -> tuple[str, ...]:
    """Which balloons come down before the event is over, and what a ceiling may do to them."""
    said = afloat_advice(layout.balloons, site, sealed=spec.sealed)
    return (*said, "Ask about the ceiling: lamps, beams, stucco and sprinklers burst or hide balloons.")


def _tail(balloon: Balloon, tail: float, rng: Random) -> tuple[Point, ...]:
    """A ribbon that hangs from a balloon's neck, swaying a little."""
    sway, x, neck = (rng.random() - 0.5) * 0.08 * tail, balloon.x, balloon.y + balloon.diameter / 2
    return tuple((x + sway * across, neck + tail * down) for across, down in ((0, 0), (0.8, 0.33), (1, 0.66), (0.5, 1)))
