"""Which balloon gets which colour, so that the shares come out exactly and equal colours do not clump."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from random import Random

from studio.money import shares

TRIES = 24
"""Partners each balloon that touches its own colour tries to change with, in each of SWEEPS rounds."""

SWEEPS = 3


def coloured(
    sizes: Sequence[int],
    colours: Sequence[tuple[str, int]],
    couples: Sequence[tuple[int, int]],
    rng: Random,
) -> list[str]:
    """A colour for each balloon.

    `sizes` gives each balloon's nominal size, `colours` the keys and their percent, `couples` the balloons
    that touch. Each size is shared out by largest remainder; then balloons of one size change places while
    that leaves fewer touching their own colour.
    """
    of_size: dict[int, list[int]] = {}
    for n, size in enumerate(sizes):
        of_size.setdefault(size, []).append(n)
    given = [0] * len(sizes)
    for members in of_size.values():
        counts = shares(len(members), [percent for _, percent in colours])
        wanted = [colour for colour, count in enumerate(counts) for _ in range(count)]
        order = sorted((rng.random(), n) for n in members)
        for (_, n), colour in zip(order, wanted, strict=True):
            given[n] = colour
    _spread(given, of_size, sizes, couples, rng, len(colours))
    return [colours[colour][0] for colour in given]


def _spread(
    given: list[int],
    of_size: Mapping[int, Sequence[int]],
    sizes: Sequence[int],
    couples: Sequence[tuple[int, int]],
    rng: Random,
    number: int,
) -> None:
    """Change places, in `given`, while fewer touch their own colour for it."""
    touching: list[set[int]] = [set() for _ in given]
    seen = [[0] * number for _ in given]
    for a, b in couples:
        touching[a].add(b)
        touching[b].add(a)
        seen[a][given[b]] += 1
        seen[b][given[a]] += 1
    chance = rng.random
    for _ in range(SWEEPS):
        for n, size in enumerate(sizes):
            mine, mine_seen, near = given[n], seen[n], touching[n]
            clashing = mine_seen[mine]
            if not clashing:
                continue
            members = of_size[size]
            many = len(members)
            best, partner = 0, -1
            for _ in range(TRIES):
                other = members[int(chance() * many)]
                theirs = given[other]
                if theirs == mine:
                    continue
                theirs_seen = seen[other]
                change = mine_seen[theirs] + theirs_seen[mine] - clashing - theirs_seen[theirs]
                # Two that touch each other still do so after changing places, in different colours.
                if other in near:
                    change -= 2
                if change < best:
                    best, partner = change, other
            if partner >= 0:
                theirs = given[partner]
                for place, old, new in ((n, mine, theirs), (partner, theirs, mine)):
                    given[place] = new
                    for neighbour in touching[place]:
                        seen[neighbour][old] -= 1
                        seen[neighbour][new] += 1


def faded(
    sizes: Sequence[int],
    heights: Sequence[float],
    colours: Sequence[tuple[str, int]],
    rng: Random,
    blur: float = 0.35,
) -> list[str]:
    """A colour for each balloon, the first at the least of the `heights` fading into the last at the greatest.

    Each size is shared out by largest remainder; `blur` is how far, as a part of the whole height, balloons of two
    colours mingle.
    """
    low, high = min(heights), max(heights)
    given = [""] * len(sizes)
    for size in sorted(set(sizes)):
        members = [n for n, other in enumerate(sizes) if other == size]
        counts = shares(len(members), [percent for _, percent in colours])
        wanted = [key for (key, _), count in zip(colours, counts, strict=True) for _ in range(count)]
        order = sorted((heights[n] + blur * (high - low) * (rng.random() - 0.5), n) for n in members)
        for (_, n), colour in zip(order, wanted, strict=True):
            given[n] = colour
    return given


def dealt(colours: Sequence[tuple[str, int]], number: int) -> list[str]:
    """So many colours in turn, each at every point as near its share as can be."""
    given, turns = [0] * len(colours), []
    for n in range(1, number + 1):
        due = [percent * n - 100 * had for (_, percent), had in zip(colours, given, strict=True)]
        at = due.index(max(due))
        given[at] += 1
        turns.append(colours[at][0])
    return turns
