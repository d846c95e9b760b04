"""What a piece weighs, what each point it hangs from bears, and how much of a van it fills.

Masses are grams. The air in a balloon weighs nothing in air, so a piece weighs its rubber, ties, line and hooks.
Balloons of helium are counted as if their lift were gone: that is when the points bear most.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from estimating.gas import LITRES_PER_FT3, litres_of
from estimating.gas import grams_of as foil_grams
from estimating.layout import Layout
from estimating.materials import Materials
from estimating.specs import SpecError, SpecErrors

GRAMS: dict[int, float] = {
    3: 0.6,
    5: 1.0,
    6: 1.4,
    9: 2.5,
    10: 3.0,
    11: 4.7,
    12: 5.2,
    14: 7.5,
    16: 10.0,
    17: 11.5,
    18: 13.0,
    24: 28.0,
    30: 51.0,
    36: 102.0,
}
"""The rubber of one balloon by nominal size.

For 11, 12, 16, 30 and 36 inches the most that trade lift charts leave room for (gross lift less charted lift); a
kitchen scale gave 3 g for an 11-inch, so this errs on the heavy side, as a load should. The others lie between, from
memory.
"""

TIE_GRAMS = 1.688
"""A 260, by a laboratory balance (a trade FAQ)."""

LINE_GRAMS_PER_FOOT = 3.0
"""Decorating strip; fishing line is far lighter (from memory)."""

HOOK_GRAMS = 12.0
"""A hook with what holds it (from memory)."""

POUND = 453.59237

PACKED_LOOSE = 0.60
"""Part of the room that loose balloons fill: less than the 0.64 of equal spheres shaken down (Phys. Rev. A 27, 1053,
1983), since nobody shakes a van; 0.60 itself is from memory."""

PACKED_TIED = 0.45
"""Part of the room that tied lengths of garland fill: they cannot be pressed into each other (no source)."""


@dataclass(frozen=True, slots=True)
class Weight:
    """What a piece weighs, in grams, and what of. `unknown` are the things with it whose weight nobody has written."""

    balloons: float
    ties: float
    line: float
    hooks: float
    other: float = 0.0
    unknown: tuple[str, ...] = ()

    @property
    def total(self) -> float:
        """All of it."""
        return self.balloons + self.ties + self.line + self.hooks + self.other

    @property
    def hung(self) -> float:
        """What the hooks bear: all but the hooks themselves."""
        return self.total - self.hooks

    def why(self, system: str) -> str:
        """“balloons 620 g, ties 44 g, line 90 g, hooks 156 g”."""
        parts = (
            ("balloons", self.balloons),
            ("ties", self.ties),
            ("line", self.line),
            ("hooks", self.hooks),
            ("frames and the like", self.other),
        )
        return ", ".join(f"{name} {grams_in_words(grams, system)}" for name, grams in parts if grams)


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that goes with a piece: its name, what one weighs and what it takes up in the van, None where nobody
    has said."""

    name: str
    grams: float | None
    litres: float | None = None


@dataclass(frozen=True, slots=True)
class ThingsRoom:
    """How much of a van things take, in cubic feet; what is `known` takes it, how much `unknown` takes is not said."""

    cubic_feet: float
    known: tuple[str, ...]
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PointLoad:
    """A point along the spine (inches from its start), the length it bears and the grams that weighs."""

    at: float
    tributary: float
    grams: float


@dataclass(frozen=True, slots=True)
class PointLoads:
    """How a weight is shared between points; `one_fewer` is the most any bears once one of the others has let go.

    It is None where there is only one point: nothing then holds the piece.
    """

    points: tuple[PointLoad, ...]
    one_fewer: float | None

    @property
    def heaviest(self) -> float:
        """The most that one of them bears, in grams."""
        return max(point.grams for point in self.points)


@dataclass(frozen=True, slots=True)
class VanLoad:
    """How much room balloons take in a van, in cubic feet, and how many times it drives."""

    inflated: float
    room: float
    van: float
    trips: int

    @property
    def why(self) -> str:
        """How the trips follow."""
        return f"{self.inflated:.0f} ft³ of balloons take {self.room:.0f} ft³ of van; yours holds {self.van:g} ft³"


def weigh(layout: Layout, materials: Materials, *, items: Mapping[str, Thing] | None = None) -> Weight:
    """What a piece weighs as it hangs, spares left at home; `items` are frames, greenery and the like by their keys.

    Things of the list that `items` leaves out are not named. Raises SpecErrors for a weight below nothing.
    """
    needed: Counter[str] = Counter()
    other, unknown = 0.0, []
    for line in materials.lines:
        needed[line.sort] += line.needed
        thing = (items or {}).get(line.item or "")
        if thing is not None and thing.grams is None:
            unknown.append(thing.name)
        elif thing is not None and thing.grams is not None:
            _check_at_least_zero(grams=thing.grams)
            other += thing.grams * line.needed
    foils = layout.foils()
    return Weight(
        balloons=sum(
            grams_of(size) * (number - foils[colour, size]) for (colour, size), number in layout.counts().items()
        )
        + sum(foil_grams(balloon) for balloon in layout.balloons if balloon.is_foil),
        ties=needed["tie"] * TIE_GRAMS,
        line=needed["line"] * LINE_GRAMS_PER_FOOT,
        hooks=needed["hook"] * HOOK_GRAMS,
        other=other,
        unknown=tuple(unknown),
    )


def grams_of(size: int) -> float:
    """The rubber of a balloon of a nominal size; between two sizes of the table, the heavier."""
    return GRAMS[min((known for known in GRAMS if known >= size), default=max(GRAMS))]


def shared_along(grams: float, length: float, points: Sequence[float]) -> PointLoads:
    """A weight spread evenly along a spine (inches), shared between points by tributary length.

    Each point bears half the stretch on either side of it; those at the ends have one side only, and what reaches
    past them. Raises SpecErrors for no points, points off the spine, or figures below nothing.
    """
    _check_at_least_zero(grams=grams, length=length)
    if not points:
        raise SpecErrors([SpecError("points", "must be at least one", "none")])
    errors = [
        SpecError("points", f"must lie from 0 to {length:g} in along the spine", f"{at:g} in")
        for at in points
        if not -0.01 <= at <= length + 0.01
    ]
    if errors:
        raise SpecErrors(errors)
    places = sorted(points)
    shares = _tributaries(length, places)
    per_inch = grams / length if length else 0.0
    shared = tuple(
        PointLoad(at, share, share * per_inch if length else grams / len(places))
        for at, share in zip(places, shares, strict=True)
    )
    return PointLoads(shared, _one_fewer(grams, length, places))


def shared_evenly(grams: float, number: int) -> PointLoads:
    """A weight shared alike between so many points: where they are is not known. Raises SpecErrors."""
    _check_at_least_zero(grams=grams)
    if number < 1:
        raise SpecErrors([SpecError("points", "must be at least one", number)])
    shared = tuple(PointLoad(0.0, 0.0, grams / number) for _ in range(number))
    return PointLoads(shared, grams / (number - 1) if number > 1 else None)


def van_load(layouts: Iterable[Layout], *, van_cubic_feet: float, tied: bool = True) -> VanLoad:
    """How much of a van these take inflated, and the trips, rounded up. Raises SpecErrors for a van of no room."""
    if not van_cubic_feet > 0:
        raise SpecErrors([SpecError("van_cubic_feet", "must be above 0", van_cubic_feet)])
    inflated = sum(litres_of(b) for layout in layouts for b in layout.balloons) / LITRES_PER_FT3
    room = inflated / (PACKED_TIED if tied else PACKED_LOOSE)
    return VanLoad(inflated, room, van_cubic_feet, ceil(round(room / van_cubic_feet, 6)))


def room_of_things(things: Iterable[tuple[Thing, int]]) -> ThingsRoom:
    """How much of a van so many of each of these take as they travel, side by side. Raises SpecErrors for a room below
    nothing."""
    taken, known, unknown = 0.0, [], []
    for thing, number in things:
        if thing.litres is None:
            unknown.append(thing.name)
            continue
        _check_at_least_zero(litres=thing.litres)
        taken += thing.litres * number
        known.append(thing.name)
    return ThingsRoom(taken / LITRES_PER_FT3, tuple(dict.fromkeys(known)), tuple(dict.fromkeys(unknown)))


def room_in_words(cubic_feet: float, system: str) -> str:
    """“212 ft³”; “6.0 m³”. What is small is told more exactly."""
    if system == "metric":
        metres = cubic_feet * LITRES_PER_FT3 / 1000
        return f"{metres:.2f} m³" if metres < 1 else f"{metres:.1f} m³"
    return f"{cubic_feet:.1f} ft³" if cubic_feet < 10 else f"{cubic_feet:.0f} ft³"


def grams_in_words(grams: float, system: str) -> str:
    """“4 oz”, “2.3 lb”; “120 g”, “1.4 kg”."""
    small, large, many = ("g", "kg", 1000) if system == "metric" else ("oz", "lb", 16)
    amount = grams if system == "metric" else grams / POUND * 16
    if round(amount) >= many:
        return f"{amount / many:.1f}".removesuffix(".0") + f" {large}"
    return f"under 1 {small}" if 0 < amount < 0.5 else f"{amount:.0f} {small}"


def _tributaries(length: float, places: Sequence[float]) -> list[float]:
    """For each place, the stretch of the spine nearer to it than to any other."""
    middles = [0.0, *((a + b) / 2 for a, b in pairwise(places)), length]
    return [end - start for start, end in pairwise(middles)]


def _one_fewer(grams: float, length: float, places: Sequence[float]) -> float | None:
    """The most that one point bears once any one of the others has gone."""
    if len(places) == 1:
        return None
    if not length:
        return grams / (len(places) - 1)
    longest = max(max(_tributaries(length, [*places[:n], *places[n + 1 :]])) for n in range(len(places)))
    return grams * longest / length


def _check_at_least_zero(**figures: float) -> None:
    errors = [SpecError(name, "must be 0 or more", value) for name, value in figures.items() if not value >= 0]
    if errors:
        raise SpecErrors(errors)
