"""The kinds of piece, one module each: its spec, its title and how it is laid out."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from estimating.kinds import counted, garland
from estimating.kinds.counted import CountedSpec
from estimating.kinds.garland import GarlandSpec
from estimating.layout import Layout, Structure
from estimating.specs import INFLATED, OwnFigures, SpecError, SpecErrors

__all__ = [
    "INFLATED",
    "KINDS",
    "CountedSpec",
    "GarlandSpec",
    "Kind",
    "OwnFigures",
    "SpecError",
    "SpecErrors",
]


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of piece.

    `spec` is the class of its spec (with `to_json`, `from_json` and `own_figures`); `lay_out(spec,
    inflated=…)` gives its layout and raises SpecErrors; `structure(layout)` says how the balloons are tied.
    """

    name: str
    title: str
    spec: type[Any]
    lay_out: Callable[..., Layout]
    structure: Callable[[Layout], Structure]


KINDS: Mapping[str, Kind] = {
    garland.NAME: Kind(garland.NAME, garland.TITLE, GarlandSpec, garland.lay_out, Layout.structure),
    counted.NAME: Kind(counted.NAME, counted.TITLE, CountedSpec, counted.lay_out, Layout.structure),
}
