"""Layers of equal balloons stacked along a line, each turned into the gaps of the one before.

A layer is n touching balloons of diameter d with their centres on a ring of radius R = d / (2 sin(pi/n)). The next is
turned by pi/n and touches it at a pitch of sqrt(d² - (2 R sin(pi/2n))²): for quads 2^(-1/4) d, with an outer width of
(1 + √2) d. Every layer is turned the same way, so a colour that keeps its place in each of them winds round.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import cycle, islice
from math import asin, ceil, cos, pi, sin, sqrt
from typing import NamedTuple

from estimating.spines import Spine, along
from studio.money import shares

PATTERNS = ("spiral", "stripes", "blocks")

LEAST_PER_LAYER, MOST_PER_LAYER = 2, 6


class Spot(NamedTuple):
    """Where a balloon of a stack has its centre, and the colour it has."""

    x: float
    y: float
    z: float
    colour: str


def ring_radius(per_layer: int, diameter: float) -> float:
    """How far the centres of a layer of touching balloons lie from the line."""
    return diameter / (2 * sin(pi / per_layer))


def pitch(per_layer: int, diameter: float, compression_percent: int = 0) -> float:
    """How far apart layers lie that touch in each other's gaps, less what they are pushed together."""
    across = 2 * ring_radius(per_layer, diameter) * sin(pi / (2 * per_layer))
    return sqrt(diameter * diameter - across * across) * (100 - compression_percent) / 100


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
    spine: Spine, stations: Sequence[float], per_layer: int, diameter: float, colours: Sequence[Sequence[str]]
) -> list[Spot]:
    """Every balloon of the layers at these distances along a spine; `colours` names each layer's, place by place."""
    radius = ring_radius(per_layer, diameter)
    turns = [pi * half / per_layer for half in range(2 * per_layer)]
    ring = [(radius * round(cos(turn), 9), radius * round(sin(turn), 9)) for turn in turns]
    spots = []
    for layer, ((x, y), (along_x, along_y)) in enumerate(along(spine, stations)):
        for place, colour in enumerate(colours[layer]):
            across, towards = ring[(2 * place + layer) % (2 * per_layer)]
            spots.append(Spot(x - along_y * across, y + along_x * across, towards, colour))
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
