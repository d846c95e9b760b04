"""Layers of balloons stacked along a line, each turned into the gaps of the one before.

A layer is n touching balloons of diameter d with their centres on a ring of radius R = d / (2 sin(pi/n)). The next is
turned by pi/n and touches it at a pitch of sqrt(d² - (2 R sin(pi/2n))²): for quads 2^(-1/4) d, with an outer width of
(1 + √2) d. Every layer is turned the same way, so a colour that keeps its place in each of them winds round.

Balloons of other diameters among them keep their turn, tied to the same line: each stands as far from it as in a layer
of its own, so that no two in a layer overlap, and a layer comes to rest on the first that it touches.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import accumulate, cycle, islice, pairwise
from math import asin, ceil, cos, pi, sin, sqrt
from typing import NamedTuple

from estimating.spines import Spine, along
from studio.money import shares

PATTERNS = ("spiral", "stripes", "blocks")

LEAST_PER_LAYER, MOST_PER_LAYER = 2, 6


class Spot(NamedTuple):
    """Where a balloon of a stack has its centre, the colour it has and its diameter."""

    x: float
    y: float
    z: float
    colour: str
    diameter: float


class Stack(NamedTuple):
    """Layers on each other: the colours of each, the widest balloon in it, and how far it is from the one before."""

    colours: list[list[str]]
    widest: list[float]
    gaps: list[float]

    @property
    def length(self) -> float:
        """How long it is over all."""
        return sum(self.gaps) + (self.widest[0] + self.widest[-1]) / 2

    @property
    def apart(self) -> float:
        """The mean pitch of its layers."""
        if min(self.gaps) == max(self.gaps):
            return self.gaps[0]
        return sum(self.gaps) / len(self.gaps)

    def stations(self, start: float, scale: float = 1.0) -> list[float]:
        """Where its layers are along a line, the first at `start`, stretched by `scale`."""
        return list(accumulate((gap * scale for gap in self.gaps), initial=start))


def ring_radius(per_layer: int, diameter: float) -> float:
    """How far the centres of a layer of touching balloons lie from the line."""
    return diameter / (2 * sin(pi / per_layer))


def pitch(per_layer: int, diameter: float, compression_percent: int = 0) -> float:
    """How far apart layers lie that touch in each other's gaps, less what they are pushed together."""
    across = 2 * ring_radius(per_layer, diameter) * sin(pi / (2 * per_layer))
    return sqrt(diameter * diameter - across * across) * (100 - compression_percent) / 100


def pitch_between(per_layer: int, one: float, other: float) -> float:
    """How far apart two layers lie where balloons of these diameters touch in each other's gaps; `pitch` for equal
    ones."""
    if one == other:
        return pitch(per_layer, one)
    a, b = ring_radius(per_layer, one), ring_radius(per_layer, other)
    aside = a * a + b * b - 2 * a * b * cos(pi / per_layer)
    return sqrt(max(((one + other) / 2) ** 2 - aside, 0.0))


def stack_of(colours: Sequence[Sequence[str]], across: Mapping[str, float], compression_percent: int = 0) -> Stack:
    """Layers of these colours, place by place, on each other; `across` is each colour's diameter in inches."""
    known: dict[tuple[tuple[float, ...], tuple[float, ...]], float] = {}
    layers = [tuple(across[colour] for colour in layer) for layer in colours]
    for couple in pairwise(layers):
        if couple not in known:
            before, after = couple
            number = len(before)
            known[couple] = max(
                pitch_between(number, before[place], after[place - turned])
                for place in range(number)
                for turned in (0, 1)
            )
    closer = (100 - compression_percent) / 100
    gaps = [known[couple] * closer for couple in pairwise(layers)]
    return Stack([list(layer) for layer in colours], [max(layer) for layer in layers], gaps)


def stack_asked(made: Callable[[int], Stack], asked: Callable[[Stack], int], first: int) -> Stack:
    """The stack that has as many layers as its own pitch asks for, beginning with `first`; of two that ask for each
    other the higher.

    `made` stacks so many layers. Their number decides which colours meet, and so what they are apart.
    """
    tried: list[int] = []
    layers = first
    while layers not in tried:
        stack = made(layers)
        tried.append(layers)
        layers = asked(stack)
    return stack if layers == tried[-1] else made(max(tried[tried.index(layers) :]))


def outer_width(per_layer: int, diameter: float) -> float:
    """How wide a stack is over all."""
    return 2 * ring_radius(per_layer, diameter) + diameter


def per_layer_of(width: float, diameter: float) -> int:
    """How many balloons are in each layer of a stack that is so wide over all."""
    return round(pi / asin(diameter / (width - diameter)))


def stack_length(layers: int, diameter: float, apart: float) -> float:
    """How long so many layers are over all, `apart` being their pitch."""
    return (layers - 1) * apart + diameter


def layers_along(length: float, apart: float) -> int:
    """The whole layers that a length takes, rounded up."""
    return ceil(round(length / apart, 6))


def layers_nearest(height: float, diameter: float, apart: float) -> int:
    """The whole layers whose stack comes nearest a height over all; a tie goes to the higher."""
    return max(1, int((height - diameter) / apart + 0.5) + 1)


def stacked(
    spine: Spine,
    stations: Sequence[float],
    per_layer: int,
    colours: Sequence[Sequence[str]],
    across: Mapping[str, float],
) -> list[Spot]:
    """Every balloon of the layers at these distances along a spine; `colours` names each layer's, place by place, and
    `across` is each colour's diameter in inches."""
    turns = [pi * half / per_layer for half in range(2 * per_layer)]
    rings = {}
    for diameter in set(across.values()):
        radius = ring_radius(per_layer, diameter)
        rings[diameter] = [(radius * round(cos(turn), 9), radius * round(sin(turn), 9)) for turn in turns]
    spots = []
    for layer, ((x, y), (along_x, along_y)) in enumerate(along(spine, stations)):
        for place, colour in enumerate(colours[layer]):
            diameter = across[colour]
            aside, towards = rings[diameter][(2 * place + layer) % (2 * per_layer)]
            spots.append(Spot(x - along_y * aside, y + along_x * aside, towards, colour, diameter))
    return spots


def patterned(
    pattern: str, colours: Sequence[tuple[str, int]], in_percent: bool, layers: int, per_layer: int
) -> list[list[str]]:
    """The colours of each layer, place by place.

    A spiral gives each colour its places in every layer. Stripes are whole layers, mixed as evenly as shares allow,
    or repeated as counted; blocks are whole layers from one end to the other. `colours` are keys with percent, or with
    whole places (spiral) or layers (stripes); blocks share out their layers in proportion either way. A colour whose
    share is too small for one place or layer is left out.
    """
    keys, numbers = [key for key, _ in colours], [number for _, number in colours]
    if pattern == "spiral":
        return [_run(keys, shares(per_layer, numbers) if in_percent else numbers)] * layers
    if pattern == "blocks":
        order = _run(keys, shares(layers, numbers))
    elif in_percent:
        order = _mixed(keys, shares(layers, numbers))
    else:
        order = list(islice(cycle(_run(keys, numbers)), layers))
    return [[key] * per_layer for key in order]


def _run(keys: Sequence[str], numbers: Sequence[int]) -> list[str]:
    return [key for key, number in zip(keys, numbers, strict=True) for _ in range(number)]


def _mixed(keys: Sequence[str], numbers: Sequence[int]) -> list[str]:
    """So many of each in one row, each spread over the whole of it: next comes whatever is furthest behind."""
    total, used = sum(numbers), [0] * len(numbers)
    row = []
    for place in range(1, total + 1):
        behind = [number * place - had * total for number, had in zip(numbers, used, strict=True)]
        waiting = [n for n, number in enumerate(numbers) if used[n] < number]
        chosen = max(waiting, key=lambda n: (behind[n], -n))
        used[chosen] += 1
        row.append(keys[chosen])
    return row
