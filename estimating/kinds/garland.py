"""The organic garland: mixed sizes along a line, base quads with fillers in the gaps and accents outside."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimating.layout import Layout
from estimating.specs import (
    INFLATED,
    OwnFigures,
    SpecError,
    SpecErrors,
    check_colour,
    check_millimetres,
    check_shares,
    check_size,
    check_true_or_false,
    check_whole,
    read_decimal,
)
from estimating.spines import SHAPES

NAME = "garland"
TITLE = "Garland"

INCH = Decimal("25.4")
SHORTEST, LONGEST = 12 * INCH, 2400 * INCH
THINNEST, WIDEST = 4 * INCH, 96 * INCH


@dataclass(frozen=True, slots=True)
class GarlandSpec:
    """A garland as asked for. Raises SpecErrors with everything that is wrong.

    `mix` is nominal size and percent of the balloons by count, `colours` a colour's key and percent of the balloons; each
    adds up to 100. `shape` is one of `spines.SHAPES`; `seed` settles what is left to chance.
    """

    length_mm: Decimal
    width_mm: Decimal
    mix: tuple[tuple[int, int], ...]
    colours: tuple[tuple[str, int], ...]
    outdoors: bool = False
    shape: str = "doorway"
    seed: int = 1

    def __post_init__(self) -> None:
        errors = [
            *check_millimetres("length_mm", self.length_mm, SHORTEST, LONGEST, "from 1 ft to 200 ft"),
            *check_millimetres("width_mm", self.width_mm, THINNEST, WIDEST, "from 4 in to 8 ft"),
            *check_shares("mix", self.mix, check_size, 6),
            *check_shares("colours", self.colours, check_colour, 8),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
        ]
        if self.shape not in SHAPES:
            errors.append(SpecError("shape", f"must be one of {', '.join(SHAPES)}", self.shape))
        if errors:
            raise SpecErrors(errors)

    def own_figures(self) -> OwnFigures:
        """Everything about a garland is worked out."""
        return OwnFigures()

    def to_json(self) -> dict[str, Any]:
        """A dictionary for a JSON field; lengths as text so that they stay exact."""
        return {
            "length_mm": str(self.length_mm),
            "width_mm": str(self.width_mm),
            "mix": [list(share) for share in self.mix],
            "colours": [list(share) for share in self.colours],
            "outdoors": self.outdoors,
            "shape": self.shape,
            "seed": self.seed,
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> GarlandSpec:
        """The spec that `to_json` wrote; raises SpecErrors as the constructor does."""
        return cls(
            length_mm=read_decimal("length_mm", data["length_mm"]),
            width_mm=read_decimal("width_mm", data["width_mm"]),
            mix=tuple((size, percent) for size, percent in data["mix"]),
            colours=tuple((colour, percent) for colour, percent in data["colours"]),
            outdoors=data["outdoors"],
            shape=data["shape"],
            seed=data["seed"],
        )


def lay_out(spec: GarlandSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """The garland balloon by balloon. Raises SpecErrors where these sizes cannot make that width."""
    raise NotImplementedError
