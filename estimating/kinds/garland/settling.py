"""Balloons tied to a garland's line, and settled until it is as wide as asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import cos, pi, sin, sqrt
from random import Random
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from estimating.kinds.garland.taper import Taper
from estimating.layout import Part
from estimating.packing import Tethered
from estimating.spines import Spine, length_of

NEAR = 0.05
"""A silhouette this near the width asked for, as a part of it, will do; NEAR_ENOUGH is where solving stops."""

NEAR_ENOUGH = 0.01
STUCK = 0.002
"""Where a round changes the width by less than this part of it, necks can do no more."""

FIRST_STEPS, MORE_STEPS, ROUNDS = 140, 40, 8
RECOUNTS = 4

NECK = 1.2
"""Inches each neck is let out for an inch of width that is missing."""

SHORTEST_NECK = 0.1
"""A balloon squashed against the line rests no nearer to it than this part of its radius."""

STRIDE = 0.6180339887498949
"""Steps of the golden section spread the necks' lengths evenly however many balloons there are."""

FILLER_DEPTH, ACCENT_DEPTH = 1.2, 0.85
"""How far inside the finished width the centres of fillers and accents rest, in their own radii."""

TOUCHING = 0.4
"""Balloons with less than this many inches between their skins count as touching when colours are spread."""


PUT_IN: tuple[Part, ...] = ("base", "filler", "accent")
"""The order in which balloons go in."""

LEAN = 0.3
"""How far from strict order sizes are shuffled where large ones keep to the thick parts of a taper."""

CLUSTER_STEPS, CLUSTER_SHIFT = 60, 0.35
"""Steps that clusters and the garland under them settle; how far along the line its balloons are tied from its middle,
in their own radii and by turns to either side."""


class _Knot(NamedTuple):
    size: int
    place: float
    across: float
    towards: float
    reach: float
    stray: float


def tied_on(
    counts: Mapping[int, int],
    parts: Mapping[int, Part],
    spine: Spine,
    width: float,
    taper: Taper,
    inflated: Mapping[int, float],
    rng: Random,
    *,
    has_ends: bool = True,
) -> tuple[list[int], Tethered]:
    """Every balloon's nominal size, and all of them tied to the spine but not yet settled.

    `has_ends` is false for a stretch from the middle of a garland, whose balloons are tied right up to its ends.
    """
    length = length_of(spine)
    bags = {part: [n for n in counts if parts[n] == part for _ in range(counts[n])] for part in PUT_IN}
    knots = [knot for part in PUT_IN for knot in _knots(part, bags[part], length, width, taper, inflated, rng)]
    end = min(max(inflated[size] for size in counts if parts[size] == "base") / 2, length / 4) if has_ends else 0.0
    s = [min(max(end + (length - 2 * end) * knot.place + knot.stray, end), length - end) for knot in knots]
    return [knot.size for knot in knots], Tethered(
        spine=spine,
        s=np.array(s),
        reach=np.array([knot.reach for knot in knots]),
        radius=np.array([inflated[knot.size] / 2 for knot in knots]),
        across=np.array([knot.across for knot in knots]),
        towards=np.array([knot.towards for knot in knots]),
    )


def _knots(
    part: Part,
    bag: Sequence[int],
    length: float,
    width: float,
    taper: Taper,
    inflated: Mapping[int, float],
    rng: Random,
) -> list[_Knot]:
    """Where the balloons of one part are tied: their sizes drawn from a bag, in bunches along the line."""
    bag = [size for _, size in sorted((rng.random(), size) for size in bag)]
    bunch = {"base": 4, "filler": 2, "accent": 1}[part]
    bunches = -(-len(bag) // bunch)
    places = [(n // bunch + 0.5) / bunches for n in range(len(bag))]
    if not taper.is_even:
        # Where it is thin, the balloons of a quad stand behind each other; large ones keep to where it is thick.
        places = taper.places([(n + 0.5) / len(bag) for n in range(len(bag))], 4 if part == "accent" else 2)
        bag = _thick_first(bag, [taper.at(place) for place in places], inflated, rng)
    knots = []
    for n, (size, place) in enumerate(zip(bag, places, strict=True)):
        r, half = inflated[size] / 2, width * taper.at(place) / 2
        if part == "base":
            turn = pi / 4 * (n // bunch % 2) + pi / 2 * (n % bunch) + 0.5 * (rng.random() - 0.5)
            reach = max(r, (half - r) * sqrt((n * STRIDE + 0.5) % 1.0))
            stray = 0.5 * r * (2 * rng.random() - 1)
        else:
            # What is put in last goes where it is seen: at the surface, in front and, if large, to the sides.
            turn = pi / 2 + (rng.random() - 0.5) * pi * (0.8 if part == "filler" else 1.3)
            reach = max(r, half - (FILLER_DEPTH if part == "filler" else ACCENT_DEPTH) * r)
            stray = (rng.random() - 0.5) * (4 * r if part == "filler" else 0.5 * length / bunches)
        knots.append(_Knot(size, place, round(cos(turn), 9), round(sin(turn), 9), reach, stray))
    return knots


def settled_to(width: float, tethered: Tethered, moved: NDArray[np.bool_], taper: Taper) -> float:
    """Settle, measure, and let necks out or in until the silhouette is as wide as asked; the width reached.

    Only the necks of the `moved` change: fillers stay at the surface, in the gaps, where they are seen. In a taper
    they change in proportion to the width where they are.
    """
    length = length_of(tethered.spine)
    local = np.array([taper.at(s / length) for s in tethered.s.tolist()])
    tethered.settle(FIRST_STEPS)
    measured = tethered.silhouette()
    for _ in range(ROUNDS):
        before = measured
        if abs(measured - width) <= NEAR_ENOUGH * width:
            break
        changed = np.maximum(tethered.reach + NECK * (width - measured) * local, SHORTEST_NECK * tethered.radius)
        tethered.reach = np.where(moved, changed, tethered.reach)
        tethered.settle(MORE_STEPS)
        measured = tethered.silhouette()
        if abs(measured - before) < STUCK * width:
            break
    return measured


def with_clusters(
    tethered: Tethered, clusters: Sequence[tuple[float, Sequence[float]]], width: float, taper: Taper
) -> Tethered:
    """The settled garland with further balloons tied in, and all settled again.

    `clusters` are how far along in inches and the inflated diameters there. The balloons of one fan out from one side
    over the front to the other, so that most stand in front, and come after the garland's own in the result.
    """
    length = length_of(tethered.spine)
    s, reach, radius, across, towards = [], [], [], [], []
    for along, diameters in clusters:
        for n, diameter in enumerate(diameters):
            r, turn = diameter / 2, pi * (0.1 + 0.8 * (n + 0.5) / len(diameters))
            aside = CLUSTER_SHIFT * r * (n % 2 - 0.5) * min(2, len(diameters) - 1)
            s.append(min(max(along + aside, min(r, length / 4)), length - min(r, length / 4)))
            reach.append(max(r, width * taper.at(along / length) / 2 - (1 - ACCENT_DEPTH) * r))
            radius.append(r)
            across.append(round(cos(turn), 9))
            towards.append(round(sin(turn), 9))
    added = Tethered(
        spine=tethered.spine,
        s=np.array(s),
        reach=np.array(reach),
        radius=np.array(radius),
        across=np.array(across),
        towards=np.array(towards),
    )
    both = tethered.joined(added)
    both.settle(CLUSTER_STEPS)
    return both


def _thick_first(bag: Sequence[int], widths: Sequence[float], inflated: Mapping[int, float], rng: Random) -> list[int]:
    """Sizes for places of those widths: the larger the thicker, but shuffled somewhat."""
    order = sorted(range(len(bag)), key=lambda n: -widths[n] * (1 + LEAN * (2 * rng.random() - 1)))
    given = list(bag)
    for n, size in zip(order, sorted(bag, key=lambda size: -inflated[size]), strict=True):
        given[n] = size
    return given
