"""The kinds of piece, one module each: its spec, its title and how it is laid out."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from estimating.kinds import bouquet, counted, floats, garland, glyphs, lettered, packed, string_arch, wall
from estimating.kinds.bouquet import BouquetSpec
from estimating.kinds.counted import CountedSpec
from estimating.kinds.floats import FloatsSpec
from estimating.kinds.garland import GarlandSpec
from estimating.kinds.glyphs import GlyphsSpec
from estimating.kinds.lettered import LetteredSpec
from estimating.kinds.packed import PackedSpec
from estimating.kinds.string_arch import StringArchSpec
from estimating.kinds.wall import WallSpec
from estimating.layout import Layout, Structure
from estimating.lines import Line, Measured, Said, Site, Task
from estimating.specs import INFLATED, OwnFigures, SpecError, SpecErrors

__all__ = [
    "INFLATED",
    "KINDS",
    "BouquetSpec",
    "CountedSpec",
    "FloatsSpec",
    "GarlandSpec",
    "GlyphsSpec",
    "Kind",
    "LetteredSpec",
    "OwnFigures",
    "PackedSpec",
    "SpecError",
    "SpecErrors",
    "StringArchSpec",
    "WallSpec",
]


def no_extras(spec: Any, layout: Layout, site: Site) -> tuple[Line, ...]:
    """Nothing besides balloons, ties, line and hooks."""
    return ()


def no_tasks(spec: Any, layout: Layout) -> tuple[Task, ...]:
    """Nothing to do besides inflating, assembling and hanging."""
    return ()


def no_advice(spec: Any, layout: Layout, site: Site, *, inflated: Mapping[int, float] = INFLATED) -> tuple[str, ...]:
    """Nothing the decorator need be told."""
    return ()


def by_title(title: str) -> Callable[[Any, Layout, Measured], Said]:
    """What is called by its title and has no size."""
    return lambda spec, layout, measured: Said(title, "")


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of piece.

    `spec` is the class of its spec (with `to_json`, `from_json` and `own_figures`); `lay_out(spec,
    inflated=…)` gives its layout and raises SpecErrors; `structure(layout)` says how the balloons are tied.
    `extras(spec, layout, site)` are lines of its own besides balloons, ties, line and hooks; `tasks(spec, layout)`
    is its work besides inflating, assembling its spine and hanging; `advice(spec, layout, site, inflated=…)` is what
    the decorator should know before saying yes, in sentences. `said(spec, layout, measured)` is what it is and how
    large, in words.
    """

    name: str
    title: str
    spec: type[Any]
    lay_out: Callable[..., Layout]
    said: Callable[[Any, Layout, Measured], Said]
    structure: Callable[[Layout], Structure] = Layout.structure
    extras: Callable[[Any, Layout, Site], tuple[Line, ...]] = no_extras
    tasks: Callable[[Any, Layout], tuple[Task, ...]] = no_tasks
    advice: Callable[..., tuple[str, ...]] = no_advice


KINDS: Mapping[str, Kind] = {
    garland.NAME: Kind(garland.NAME, garland.TITLE, GarlandSpec, garland.lay_out, garland.said),
    packed.NAME: Kind(
        packed.NAME,
        packed.TITLE,
        PackedSpec,
        packed.lay_out,
        packed.said,
        structure=packed.structure,
        extras=packed.hardware,
        tasks=packed.tasks,
        advice=packed.advice,
    ),
    string_arch.NAME: Kind(
        string_arch.NAME,
        string_arch.TITLE,
        StringArchSpec,
        string_arch.lay_out,
        string_arch.said,
        extras=string_arch.hardware,
        tasks=string_arch.tasks,
        advice=string_arch.advice,
    ),
    bouquet.NAME: Kind(
        bouquet.NAME,
        bouquet.TITLE,
        BouquetSpec,
        bouquet.lay_out,
        bouquet.said,
        extras=bouquet.extras,
        tasks=bouquet.tasks,
        advice=bouquet.advice,
    ),
    floats.NAME: Kind(
        floats.NAME,
        floats.TITLE,
        FloatsSpec,
        floats.lay_out,
        floats.said,
        extras=floats.extras,
        tasks=floats.tasks,
        advice=floats.advice,
    ),
    lettered.NAME: Kind(
        lettered.NAME,
        lettered.TITLE,
        LetteredSpec,
        lettered.lay_out,
        lettered.said,
        extras=lettered.extras,
        tasks=lettered.tasks,
        advice=lettered.advice,
    ),
    counted.NAME: Kind(counted.NAME, counted.TITLE, CountedSpec, counted.lay_out, by_title(counted.TITLE)),
    wall.NAME: Kind(wall.NAME, wall.TITLE, WallSpec, wall.lay_out, wall.said, tasks=wall.tasks),
    glyphs.NAME: Kind(
        glyphs.NAME,
        glyphs.TITLE,
        GlyphsSpec,
        glyphs.lay_out,
        glyphs.said,
        extras=glyphs.frame_line,
        tasks=glyphs.tasks,
    ),
}
