"""A garland as asked for."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from math import isfinite
from typing import ClassVar, NamedTuple

from estimating.kinds.garland.taper import TAPERS
from estimating.specs import (
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
from estimating.spines import SHAPES, Spine, length_of, spine_of

INCH = Decimal("25.4")
SHORTEST, LONGEST = 12 * INCH, 2400 * INCH
THINNEST, WIDEST = 4 * INCH, 96 * INCH

MOST_CLUSTERS, MOST_IN_A_CLUSTER = 12, 24

SKETCHED = "sketched"
MOST_POINTS = 200
AGREED = 0.01
"""A path and its length differ by no more inches than this, which is what rounding makes of them."""


class Cluster(NamedTuple):
    """Large balloons put in one place: how far along in percent, their size and number, and their colour.

    Without a colour they share in the garland's.
    """

    along: int
    size: int
    number: int
    colour: str | None = None


@dataclass(frozen=True, slots=True)
class GarlandSpec(Spec):
    """A garland as asked for. Raises SpecErrors with everything that is wrong.

    `mix` is nominal size and percent of the balloons by count, `colours` a colour's key and percent of the
    balloons; each adds up to 100. `shape` is one of `spines.SHAPES`; `seed` settles what is left to chance. `taper` is
    one of TAPERS, begun at the left end; the last `trail_mm` of it trail thinly. `width_mm` is the mean width then
    too. `clusters` are balloons beyond the mix, put where they are wanted. `doubled` are outer and inner colours,
    `extras` items by key and how many. `path` is where a garland of the shape SKETCHED runs,
    in inches from its left end, and as long as `length_mm`; no other shape has one.
    """

    LEFT_OUT: ClassVar[frozenset[str]] = frozenset({"taper", "trail_mm", "clusters", "doubled", "extras", "path"})

    length_mm: Decimal
    width_mm: Decimal
    mix: tuple[tuple[int, int], ...]
    colours: tuple[tuple[str, int], ...]
    outdoors: bool = False
    shape: str = "doorway"
    seed: int = 1
    taper: str = "even"
    trail_mm: Decimal = Decimal(0)
    clusters: tuple[Cluster, ...] = ()
    doubled: tuple[tuple[str, str], ...] = ()
    extras: tuple[tuple[str, int], ...] = ()
    path: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "clusters", tuple(Cluster(*cluster) for cluster in self.clusters))
        inside = [colour for colour, _ in self.colours] + [each.colour for each in self.clusters]
        errors = [
            *check_millimetres("length_mm", self.length_mm, SHORTEST, LONGEST, "from 1 ft to 200 ft"),
            *check_millimetres("width_mm", self.width_mm, THINNEST, WIDEST, "from 4 in to 8 ft"),
            *check_shares("mix", self.mix, check_size, 6),
            *check_shares("colours", self.colours, check_colour, 8),
            *check_true_or_false("outdoors", self.outdoors),
            *check_whole("seed", self.seed, 0, 2**31 - 1),
        ]
        if self.shape not in (*SHAPES, SKETCHED):
            errors.append(SpecError("shape", f"must be one of {', '.join((*SHAPES, SKETCHED))}", self.shape))
        errors += self._path_errors()
        if self.taper not in TAPERS:
            errors.append(SpecError("taper", f"must be one of {', '.join(TAPERS)}", self.taper))
        errors += [*self._trail_errors(), *self._cluster_errors()]
        errors += [*check_doubled("doubled", self.doubled, inside), *check_extras("extras", self.extras)]
        if errors:
            raise SpecErrors(errors)

    @property
    def spine(self) -> Spine:
        """The line it follows, in inches."""
        return self.path or spine_of(self.shape, float(self.length_mm / INCH))

    def _path_errors(self) -> list[SpecError]:
        """A sketched garland has a path, no other has; its length is the path's."""
        if self.shape != SKETCHED:
            said = f"must be left out unless the shape is {SKETCHED}"
            return [SpecError("path", said, f"{len(self.path)} points")] if self.path else []
        if not 2 <= len(self.path) <= MOST_POINTS:
            return [SpecError("path", f"must have from 2 to {MOST_POINTS} points", len(self.path))]
        if any(len(point) != 2 or not all(isfinite(value) for value in point) for point in self.path):
            return [SpecError("path", "must be points of two finite numbers", "another")]
        if any(before == after for before, after in pairwise(self.path)):
            return [SpecError("path", "must have points that follow each other elsewhere", "one twice")]
        length = length_of(self.path)
        if isinstance(self.length_mm, Decimal) and abs(length - float(self.length_mm / INCH)) > AGREED:
            said = f"must be the length of the path, {length:.4g} in"
            return [SpecError("length_mm", said, f"{self.length_mm / INCH:.4g} in")]
        return []

    def _trail_errors(self) -> list[SpecError]:
        """A trailing end is part of the garland, and something is left to trail from."""
        errors = check_millimetres("trail_mm", self.trail_mm, Decimal(0), LONGEST, "from 0 to 200 ft")
        if check_millimetres("length_mm", self.length_mm, SHORTEST, LONGEST, ""):
            return errors
        if not errors and self.trail_mm * 3 > self.length_mm * 2:
            said = f"must be at most two thirds of length_mm, {self.length_mm * 2 / 3 / INCH:.0f} in here"
            errors.append(SpecError("trail_mm", said, f"{self.trail_mm / INCH:.4g} in"))
        return errors

    def _cluster_errors(self) -> list[SpecError]:
        errors: list[SpecError] = []
        if len(self.clusters) > MOST_CLUSTERS:
            errors.append(SpecError("clusters", f"must be at most {MOST_CLUSTERS}", len(self.clusters)))
        for cluster in self.clusters:
            errors += check_whole("clusters", cluster.along, 0, 100) + check_size("clusters", cluster.size)
            errors += check_whole("clusters", cluster.number, 1, MOST_IN_A_CLUSTER)
            if cluster.colour is not None:
                errors += check_colour("clusters", cluster.colour)
        return errors
