"""A wall panel: quads on a regular lattice, or mixed sizes that fill it like a garland laid flat."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from estimating.bags import Diameters
from estimating.kinds.wall.fitting import check_fit
from estimating.kinds.wall.grid import gridded
from estimating.kinds.wall.organic import organic_counts, strewn
from estimating.kinds.wall.spec import (
    HIGHEST,
    LOWEST,
    NARROWEST,
    ORGANIC_PATTERNS,
    PATTERNS,
    STYLES,
    WIDEST,
    WallSpec,
    in_inches,
)
from estimating.layout import Layout
from estimating.lines import Measured, Said, Task
from estimating.specs import INFLATED

__all__ = [
    "HIGHEST",
    "LOWEST",
    "NAME",
    "NARROWEST",
    "ORGANIC_PATTERNS",
    "PATTERNS",
    "STYLES",
    "TITLE",
    "WIDEST",
    "WallSpec",
    "lay_out",
    "organic_counts",
    "said",
    "tasks",
]

NAME = "wall"
TITLE = "Wall panel"

GARLAND_WIDTH = 1.5
"""An organic panel is worked like garlands this many feet wide side by side (common practice, no source)."""

POINT_EVERY = 48.0
"""A panel is held at its top corners, and between them no further apart than this (common practice, no source)."""


def lay_out(spec: WallSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """The panel balloon by balloon, from the top left. Raises SpecErrors where these sizes do not fit it.

    Past MOST_BALLOONS a typical stretch of an organic panel is settled and repeated.
    """
    inflated = Diameters.of(inflated)
    width, height = in_inches(spec.width_mm), in_inches(spec.height_mm)
    check_fit(spec, inflated)
    balloons, notes = (gridded(spec, inflated), ()) if spec.style == "grid" else strewn(spec, inflated)
    stretches = ceil(round(width / POINT_EVERY, 6))
    return Layout(
        balloons=tuple(balloons),
        spine=(),
        length=height,
        width=max(b.x + b.diameter / 2 for b in balloons) - min(b.x - b.diameter / 2 for b in balloons),
        strings=(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height), (0.0, 0.0)),),
        notes=notes,
        points=tuple((width * n / stretches, 0.0) for n in range(stretches + 1)),
    ).double_stuffed(spec.doubled)


def said(spec: WallSpec, layout: Layout, measured: Measured) -> Said:
    """“Grid wall panel”, “8 ft × 8 ft”."""
    width, height = measured(in_inches(spec.width_mm)), measured(in_inches(spec.height_mm))
    return Said("Grid wall panel" if spec.style == "grid" else "Organic wall panel", f"{width} wide, {height} high")


def tasks(spec: WallSpec, layout: Layout) -> tuple[Task, ...]:
    """A grid is as many feet of packed garland as its columns are high; an organic panel garlands side by side."""
    wide, high = in_inches(spec.width_mm) / 12, in_inches(spec.height_mm) / 12
    if spec.style == "grid":
        quads_high = len({b.y for b in layout.balloons})
        return (Task("foot", ceil(round(len(layout.balloons) / 4 / quads_high * high, 6))),)
    return (Task("foot", ceil(round(wide * high / GARLAND_WIDTH, 6))),)
