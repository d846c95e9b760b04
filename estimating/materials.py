"""What a layout takes: balloons with spares, ties, line and hooks.

How it is tied, by common practice: pairs are knotted neck to neck and two pairs twisted into a quad, which
needs no tie. Two quads are brought together on the line as a cluster with one 260, and a quad left over takes
one of its own. Each accent is tied in with one 260 and each point the piece hangs from with another. Pairs of
fillers are tucked in.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from math import ceil, exp, log, log1p

from estimating.layout import Layout, Structure
from estimating.learning import Beta
from estimating.lines import Line, Sort
from estimating.specs import OwnFigures, SpecError, SpecErrors
from estimating.spines import bends

__all__ = ["Line", "MaterialRules", "Materials", "Sort", "materials", "together"]


@dataclass(frozen=True, slots=True)
class MaterialRules:
    """The studio's figures behind a materials list. Raises SpecErrors where one makes no sense.

    Pops: 2 to 5 % indoors and 5 to 10 % outdoors are usual (from memory, no citable figure). Points: one
    every 2 to 3 ft indoors and about every foot outdoors (from memory). Line: 2 to 3 ft over at each end
    (common practice). Foil does not pop; one in a hundred leaks at its seam or valve, in any place (common practice,
    no source).
    """

    pop_indoors_percent: Decimal = Decimal(3)
    pop_outdoors_percent: Decimal = Decimal(8)
    foil_lost_percent: Decimal = Decimal(1)
    confidence_percent: Decimal = Decimal(95)
    line_over_each_end_ft: Decimal = Decimal(3)
    point_every_ft_indoors: Decimal = Decimal("2.5")
    point_every_ft_outdoors: Decimal = Decimal(1)

    def __post_init__(self) -> None:
        limits = (
            ("pop_indoors_percent", Decimal(0), Decimal(50)),
            ("pop_outdoors_percent", Decimal(0), Decimal(50)),
            ("foil_lost_percent", Decimal(0), Decimal(50)),
            ("confidence_percent", Decimal(1), Decimal("99.9")),
            ("line_over_each_end_ft", Decimal(0), Decimal(20)),
            ("point_every_ft_indoors", Decimal("0.5"), Decimal(20)),
            ("point_every_ft_outdoors", Decimal("0.5"), Decimal(20)),
        )
        errors = [
            SpecError(name, f"must be from {low} to {high}", getattr(self, name))
            for name, low, high in limits
            if not low <= getattr(self, name) <= high
        ]
        if errors:
            raise SpecErrors(errors)

    def pop_rate(self, outdoors: bool) -> float:
        """The part of balloons inflated that pop or are thrown out."""
        return float(self.pop_outdoors_percent if outdoors else self.pop_indoors_percent) / 100


@dataclass(frozen=True, slots=True)
class Materials:
    """Everything a piece takes, how it is tied, and how many points it hangs from."""

    lines: tuple[Line, ...]
    structure: Structure
    attachments: int
    outdoors: bool

    def balloons(self) -> int:
        """How many balloons go into the piece, without spares."""
        return sum(line.needed for line in self.lines if line.sort == "latex")

    def total_of(self, sort: Sort) -> int:
        """How many of one sort to take along, spares included."""
        return sum(line.total for line in self.lines if line.sort == sort)


def materials(
    layout: Layout,
    *,
    rules: MaterialRules,
    outdoors: bool,
    own: OwnFigures | None = None,
    structure: Structure | None = None,
    extras: Sequence[Line] = (),
    pops: Mapping[int, Beta] | None = None,
    more: Mapping[int, float] | None = None,
) -> Materials:
    """The materials list of a layout; line and points given by hand in `own` come before those worked out.

    `structure` is how the piece's kind ties its balloons, as the layout says where it is None; `extras` are lines of
    the kind's own and of whatever else was asked for, put after the others. `pops` are what jobs have shown of the
    latex of some nominal sizes in such a place, where the rules' own figure stands for the rest; the spares then
    allow for how much is still uncertain. `more` is how many times the layout's count of a size such pieces have used:
    what is drawn stays what is needed, and what is used beyond it goes along as spares.
    """
    own = own or OwnFigures()
    every = rules.point_every_ft_outdoors if outdoors else rules.point_every_ft_indoors
    points = own.attachments if own.attachments is not None else number_of_points(layout, every)
    feet = own.line_ft if own.line_ft is not None else line_feet(layout, rules)
    structure = structure or layout.structure()
    ties = structure.clusters + structure.quads_left + structure.accents + structure.toppers + points
    pop_rate, confidence = rules.pop_rate(outdoors), float(rules.confidence_percent) / 100
    foils, lost = layout.foils(), float(rules.foil_lost_percent) / 100
    lines = []
    for (colour, size), needed in sorted(layout.counts().items(), key=lambda count: (count[0][1], count[0][0])):
        known = None if foils[colour, size] or pops is None else pops.get(size)
        rate = lost if foils[colour, size] else pop_rate
        used = max(needed, ceil(round(needed * more.get(size, 1.0), 6))) if more else needed
        total = known.to_inflate(used, confidence) if known else count_with_spares(used, rate, confidence)
        lines.append(Line("latex", colour, size, needed, total - needed))
    if ties:
        lines.append(Line("tie", None, None, ties, count_with_spares(ties, pop_rate, confidence) - ties))
    if feet:
        lines.append(Line("line", None, None, feet, 0))
    if points:
        # A hook that will not hold is found out on the wall: one in ten more (common practice, no source).
        lines.append(Line("hook", None, None, points, ceil(points / 10)))
    return Materials((*lines, *extras), structure, points, outdoors)


def item_lines(extras: Sequence[tuple[str, int]]) -> tuple[Line, ...]:
    """Things off the shelf that go with a piece, such as greenery, frames and stands: an item's key and how many."""
    return tuple(Line("item", None, None, quantity, 0, item) for item, quantity in extras)


def number_of_points(layout: Layout, every_ft: Decimal) -> int:
    """How many points a piece hangs from: those its kind gave it, else as many as its spine asks for."""
    return len(layout.points) if layout.points is not None else len(attachment_points(layout, every_ft))


def attachment_points(layout: Layout, every_ft: Decimal) -> list[float]:
    """Where a piece hangs, in inches along its spine: ends, bends, and between them no further than that apart."""
    if not layout.spine:
        return []
    fixed = [0.0, *bends(layout.spine), layout.length]
    points = [0.0]
    for start, end in pairwise(fixed):
        number = ceil(round((end - start) / (float(every_ft) * 12), 6))
        points += [start + (end - start) * n / number for n in range(1, number + 1)]
    return points


def line_feet(layout: Layout, rules: MaterialRules) -> int:
    """Whole feet of line: the spine and what is left over at each end."""
    if not layout.spine:
        return 0
    return ceil(round(layout.length / 12 + 2 * float(rules.line_over_each_end_ft), 6))


def count_with_spares(needed: int, pop_rate: float, confidence: float) -> int:
    """The smallest n for which, each balloon popping with that chance, P(at least `needed` of n hold) >= confidence.

    With k pops before the last good one there are C(needed + k - 1, k) orders, so the chance is the sum over k of
    C(needed + k - 1, k) (1 - p)^needed p^k, added up in logarithms until it suffices.
    """
    if not 0 <= pop_rate < 1 or not 0 < confidence < 1:
        raise ValueError(f"a pop rate is from 0 up to 1 and a confidence between them (got {pop_rate}, {confidence})")
    if needed == 0 or pop_rate == 0:
        return needed
    chance = needed * log1p(-pop_rate)
    reached, pops = exp(chance), 0
    while reached < confidence:
        pops += 1
        chance += log(pop_rate * (needed + pops - 1) / pops)
        reached += exp(chance)
    return needed + pops


def together(lists: Sequence[Materials]) -> tuple[Line, ...]:
    """The lines of several pieces as one list; each keeps the spares that its own piece asked for."""
    needed: dict[tuple[Sort, str | None, int | None, str | None], tuple[int, int]] = {}
    for line in (line for one in lists for line in one.lines):
        key = (line.sort, line.colour, line.size, line.item)
        had, spares = needed.get(key, (0, 0))
        needed[key] = (had + line.needed, spares + line.spares)
    return tuple(Line(sort, colour, size, *both, item) for (sort, colour, size, item), both in needed.items())
