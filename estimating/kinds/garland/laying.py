"""A garland laid out balloon by balloon."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from random import Random
from typing import NamedTuple

import numpy as np

from estimating.bags import Diameters
from estimating.colouring import coloured
from estimating.kinds.garland.counting import check_width, floor_of, parts_of, volume_count, whole_counts
from estimating.kinds.garland.settling import (
    CLUSTER_STEPS,
    FIRST_STEPS,
    NEAR,
    RECOUNTS,
    TOUCHING,
    settled_to,
    tied_on,
    with_clusters,
)
from estimating.kinds.garland.spec import INCH, GarlandSpec
from estimating.kinds.garland.taper import Taper
from estimating.layout import Balloon, Layout, Part
from estimating.lines import Measured, Said
from estimating.packing import Floats, Tethered
from estimating.specs import INFLATED, MOST_BALLOONS, SpecError, SpecErrors
from estimating.spines import Spine, length_of, straight

STRETCH = 700
"""About so many balloons make the typical stretch that a very long garland repeats."""

SEAM_STEPS = 30
"""Steps in which the stretches of a very long garland settle against each other."""


class _Settled(NamedTuple):
    """A garland whose balloons have their places: nominal sizes, the balloons, the width reached, what is left to
    chance from here on, and their colours where some are foil."""

    order: list[int]
    tethered: Tethered
    width: float
    rng: Random
    colours: list[str]


class _Wanted(NamedTuple):
    """What a garland is settled for; `usual` is how wide each size is, foil and latex taken together."""

    spec: GarlandSpec
    width: float
    taper: Taper
    parts: Mapping[int, Part]
    blown: Diameters
    usual: Mapping[int, float]

    def radii(self, order: Sequence[int], colours: Sequence[str]) -> Floats:
        """Half of what each balloon is across in its colour, in inches."""
        return np.array([self.blown.across(size, colour) / 2 for size, colour in zip(order, colours, strict=True)])

    @property
    def has_foil(self) -> bool:
        """Is any of it foil?"""
        return self.blown.has_foil([colour for colour, _ in self.spec.colours])


def lay_out(spec: GarlandSpec, *, inflated: Mapping[int, float] = INFLATED) -> Layout:
    """The garland balloon by balloon. Raises SpecErrors where these sizes cannot make that width.

    Sizes the studio has set no inflated diameter for take the usual one. The count comes from volume; then the
    necks are let out or in until the silhouette, measured, is as wide as asked. Where necks alone cannot do it,
    the count is solved for as well. Clusters come on top and are left out of the width. Past MOST_BALLOONS a typical
    stretch is settled and repeated. Where a colour is foil, balloons are coloured as soon as they lie side by side,
    and settle at the diameters they then have.
    """
    blown = Diameters.of(inflated)
    usual = blown.on_average(spec.colours)
    length, width = float(spec.length_mm / INCH), float(spec.width_mm / INCH)
    parts = parts_of(spec.mix, usual)
    taper = Taper.of(spec.taper, float(spec.trail_mm / spec.length_mm), floor_of(width, parts, usual))
    check_width(width, taper, parts, usual)
    spine = spec.spine
    wanted = _Wanted(spec, width, taper, parts, blown, usual)
    number = volume_count(length, width, spec.mix, parts, usual) * taper.fullness()
    notes: tuple[str, ...] = ()
    if number <= MOST_BALLOONS - 2 * len(spec.mix):
        settled = _solved(wanted, number, spine)
    else:
        settled, notes = _repeated(wanted, number, spine)
    order, tethered, measured, colours = _with_clusters(wanted, settled, length)
    places = zip(tethered.x.tolist(), tethered.y.tolist(), tethered.z.tolist(), strict=True)
    own = len(settled.order)
    return Layout(
        balloons=tuple(
            Balloon(x, y, z, blown.across(size, colour), size, colour, parts[size] if n < own else "accent")
            for n, ((x, y, z), size, colour) in enumerate(zip(places, order, colours, strict=True))
        ),
        spine=spine,
        length=length,
        width=measured,
        notes=notes,
    ).double_stuffed(spec.doubled)


def said(spec: GarlandSpec, layout: Layout, measured: Measured) -> Said:
    """“Garland”, “30 ft × 22 in”."""
    length, width = (measured(float(mm / INCH)) for mm in (spec.length_mm, spec.width_mm))
    return Said("Garland", f"{length} × {width}")


def _solved(wanted: _Wanted, number: float, spine: Spine, has_ends: bool = True) -> _Settled:
    """Counted, tied on and settled until the width is right; raises SpecErrors where it cannot be."""
    spec, width, taper, parts = wanted.spec, wanted.width, wanted.taper, wanted.parts
    for _ in range(RECOUNTS):
        counts = whole_counts(number, spec.mix, parts)
        rng = Random(spec.seed)
        order, tethered = tied_on(counts, parts, spine, width, taper, wanted.usual, rng, has_ends=has_ends)
        colours: list[str] = []
        if wanted.has_foil:
            tethered.settle(FIRST_STEPS)
            colours = _colours(order, {}, tethered, spec, rng)
            tethered.radius = wanted.radii(order, colours)
        measured = settled_to(width, tethered, np.array([parts[size] != "filler" for size in order]), taper)
        if abs(measured - width) <= NEAR * width:
            return _Settled(order, tethered, measured, rng, colours)
        # A handful can slip aside and leave the line bare where it is measured: never more than thrice as many.
        number *= (width / max(measured, width / 2)) ** 1.5
    said = f"must be nearer {measured:.0f} in for these sizes at this length"
    raise SpecErrors([SpecError("width_mm", said, f"{width:g} in")])


def _repeated(wanted: _Wanted, number: float, spine: Spine) -> tuple[_Settled, tuple[str, ...]]:
    """A typical stretch settled by itself, repeated along the spine and settled where the stretches meet."""
    if not wanted.taper.is_even:
        said = f"must be even, and trail_mm 0, where a garland takes more than {MOST_BALLOONS} balloons"
        raise SpecErrors([SpecError("taper", said, f"{wanted.spec.taper} with {number:.0f} balloons")])
    times, length, width = ceil(number / STRETCH), length_of(spine), wanted.width
    note = f"Laid out as a typical stretch of {length / times:.0f} in, repeated {times} times."
    aim = width
    for _ in range(RECOUNTS):
        # Round bends a stretch comes out wider or narrower than it was when level.
        one = _solved(wanted._replace(width=aim), number / times * (aim / width) ** 2, straight(length / times), False)
        tethered = one.tethered.repeated(times, spine)
        tethered.settle(SEAM_STEPS)
        measured = tethered.silhouette()
        if abs(measured - width) <= NEAR * width / 2:
            break
        aim *= width / measured
    if abs(measured - width) > NEAR * width:
        said = f"must be nearer {measured:.0f} in for these sizes on this line"
        raise SpecErrors([SpecError("width_mm", said, f"{width:g} in")])
    return _Settled(one.order * times, tethered, measured, one.rng, one.colours * times), (note,)


def _with_clusters(wanted: _Wanted, settled: _Settled, length: float) -> tuple[list[int], Tethered, float, list[str]]:
    """The garland with its clusters put in: nominal sizes, the balloons, the width without them, and colours."""
    spec, (order, tethered, measured, rng, coloured_already) = wanted.spec, settled
    own, fixed = len(order), dict(enumerate(coloured_already))
    if not spec.clusters:
        return order, tethered, measured, coloured_already or _colours(order, fixed, tethered, spec, rng)
    order = list(order)
    there = []
    for each in spec.clusters:
        across = wanted.usual[each.size] if each.colour is None else wanted.blown.across(each.size, each.colour)
        there.append((length * each.along / 100, [across] * each.number))
        if each.colour is not None:
            fixed.update({len(order) + n: each.colour for n in range(each.number)})
        order += [each.size] * each.number
    tethered = with_clusters(tethered, there, wanted.width, wanted.taper)
    colours = _colours(order, fixed, tethered, spec, rng)
    if wanted.has_foil:
        tethered.radius = wanted.radii(order, colours)
        tethered.settle(CLUSTER_STEPS)
    return order, tethered, tethered.first(own).silhouette(), colours


def _colours(
    order: list[int], fixed: Mapping[int, str], tethered: Tethered, spec: GarlandSpec, rng: Random
) -> list[str]:
    """A colour for every balloon: those of clusters that were given one keep it, the others share the garland's."""
    first, second = tethered.couples(TOUCHING)
    couples = list(zip(first.tolist(), second.tolist(), strict=True))
    if not fixed:
        return coloured(order, spec.colours, couples, rng)
    free = [n for n in range(len(order)) if n not in fixed]
    place = {n: at for at, n in enumerate(free)}
    between = [(place[a], place[b]) for a, b in couples if a in place and b in place]
    given = dict(zip(free, coloured([order[n] for n in free], spec.colours, between, rng), strict=True))
    return [fixed[n] if n in fixed else given[n] for n in range(len(order))]
