"""The bouquet and the centrepiece: balloons on ribbons of staggered length over a weight, or a low bunch on a table."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from math import hypot
from random import Random

from estimating.afloat import afloat_advice, sealing
from estimating.bags import Diameters, foil_diameter
from estimating.gas import (
    floating_diameter,
    helium_lines,
    lift_of,
    ribbon_lines,
    weight_lines,
    weights_for,
)
from estimating.kinds.bouquet.bunch import Ball, heaped, on_ribbons
from estimating.kinds.bouquet.spec import INCH, BouquetSpec
from estimating.layout import FORMS, WEIGHT_HEIGHT, Balloon, Gas, Layout
from estimating.lines import Line, Measured, Said, Site, Task
from estimating.setting import Point, Setting
from estimating.specs import INFLATED

__all__ = ["NAME", "TITLE", "BouquetSpec", "advice", "extras", "lay_out", "said", "tasks"]

NAME = "bouquet"
TITLE = "Bouquet or centrepiece"

TABLE = 30.0
"""Inches: the height of a common table, which what is lower than KNEE_HIGH stands on."""

KNEE_HIGH = 48.0

KNOT_ALLOWANCE = 6.0
"""Inches of each ribbon that go into its knots (common practice, no source)."""

APART = 6.0


def lay_out(spec: BouquetSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """Every balloon of every bouquet. Raises SpecErrors where so many do not fit below that height."""
    balls = _balls(spec, Diameters.of(inflated))
    height = float(spec.height_mm / INCH)
    table = TABLE if height < KNEE_HIGH else 0.0
    one = on_ribbons(balls, height, Random(spec.seed)) if spec.helium else heaped(balls, height, Random(spec.seed))
    gas: Gas = "helium" if spec.helium else "air"
    left = min(x - ball.diameter / 2 for ball, (x, _, _) in zip(balls, one, strict=True))
    right = max(x + ball.diameter / 2 for ball, (x, _, _) in zip(balls, one, strict=True))
    balloons: list[Balloon] = []
    strings: list[tuple[Point, ...]] = []
    knots: list[Point] = []
    for n in range(spec.alike):
        shift, knot = n * (right - left + APART), (n * (right - left + APART), -WEIGHT_HEIGHT)
        for ball, (x, y, z) in zip(balls, one, strict=True):
            balloons.append(
                Balloon(x + shift, y, z, ball.diameter, ball.size, ball.colour, "bouquet", form=ball.form, gas=gas)
            )
            if spec.helium:
                strings.append(_ribbon((x + shift, y), ball.diameter / 2, knot))
        knots += [knot] if spec.helium else []
    tallest = -min(b.y - b.diameter / 2 for b in balloons)
    return Layout(
        balloons=tuple(balloons),
        spine=(),
        length=tallest,
        width=right - left,
        strings=tuple(strings),
        points=(),
        setting=Setting(weights=tuple(knots), table=table),
    ).double_stuffed(spec.doubled)


def said(spec: BouquetSpec, layout: Layout, measured: Measured) -> Said:
    """“3 bouquets alike”, “each 6 ft high”."""
    one, many = ("Centrepiece", "centrepieces") if layout.setting.table else ("Bouquet", "bouquets")
    high = measured(float(spec.height_mm / INCH))
    return Said(one, f"{high} high") if spec.alike == 1 else Said(f"{spec.alike} {many} alike", f"each {high} high")


def extras(spec: BouquetSpec, layout: Layout, site: Site) -> tuple[Line, ...]:
    """Ribbon, weights and helium."""
    if not spec.helium:
        return ()
    layout = layout.in_foil(spec.foil_colours())
    feet = sum(length_of_string(string) + KNOT_ALLOWANCE for string in layout.strings) / 12
    in_one = layout.balloons[: len(layout.balloons) // spec.alike]
    weights = weights_for(lift_of(in_one, site)) * spec.alike
    return (
        *ribbon_lines(feet, len(layout.strings)),
        *weight_lines(weights),
        *helium_lines(layout.balloons, site),
    )


def tasks(spec: BouquetSpec, layout: Layout) -> tuple[Task, ...]:
    """A ribbon for every balloon that floats, and the sealing of the latex ones where it is asked for."""
    if not spec.helium:
        return ()
    sealed = sealing(layout.in_foil(spec.foil_colours()).balloons) if spec.sealed else ()
    return (Task("ribbon", len(layout.strings)), *sealed)


def advice(
    spec: BouquetSpec, layout: Layout, site: Site, *, inflated: Mapping[int, float] = INFLATED
) -> tuple[str, ...]:
    """Which balloons come down before the event is over, and what helium outdoors means."""
    if not spec.helium:
        return ()
    said = afloat_advice(layout.in_foil(spec.foil_colours()).balloons, site, sealed=spec.sealed)
    outdoors = ("Wind tangles ribbons and sun bursts helium balloons: outdoors few hold for long.",)
    return said + (outdoors if spec.outdoors else ())


def length_of_string(string: tuple[Point, ...]) -> float:
    """Inches along a string."""
    return sum(hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise(string))


def _balls(spec: BouquetSpec, inflated: Mapping[int, float]) -> list[Ball]:
    """The balloons of one bouquet, colours in turn, the largest and the foils last: they go highest."""
    balls = []
    for colour, size, count in spec.latex:
        diameter = floating_diameter(size, inflated) if spec.helium else inflated[size]
        balls += [(n / count, Ball(colour, size, "round", diameter)) for n in range(count)]
    for colour, size, form, count in spec.foils:
        kind = next(known for known in FORMS if known == form)
        balls += [(n / count, Ball(colour, size, kind, foil_diameter(size))) for n in range(count)]
    foils = spec.foil_colours()
    balls.sort(key=lambda one: (one[1].colour in foils, one[1].size, one[0], one[1].colour))
    return [ball for _, ball in balls]


def _ribbon(centre: Point, radius: float, knot: Point) -> tuple[Point, ...]:
    """The ribbon from a balloon's neck to the knot, hanging a little to the outside of the straight line."""
    (x, y), (kx, ky) = centre, knot
    far = hypot(x - kx, y - ky)
    nx, ny = x + (kx - x) / far * radius, y + (ky - y) / far * radius
    points = []
    for n in range(6):
        part = n / 5
        bow = 0.10 * (nx - kx) * 4 * part * (1 - part)
        points.append((nx + (kx - nx) * part + bow, ny + (ky - ny) * part))
    return tuple(points)
