"""Balloons drawn cheaply for paper: round dots of a wide pen, as many to a path as keep the picture the same.

What takes a reader of a PDF its time is the paths, so balloons of one colour and size are drawn together wherever
that leaves every two that overlap in order.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from estimating.discs import Disc, Swatch, figure, finish_of
from estimating.layout import Form
from estimating.shading import PAPER_FINISHES, afar_stroke, facets, paper_dots, paper_shades
from estimating.sight import Sight
from estimating.silhouettes import outline, path

COARSE = 10.0
"""A balloon of a larger radius in inches is dotted more finely."""

MOST_DOTS = 1000
"""Where the balloons of a picture come to more dots than this, each is small and drawn in fewer."""

SHARDS = 12
"""What the facets of a foil come to in dots."""

SPECK = 110
"""A balloon less wide than this part of a crowded sheet, a millimetre or two of A4, is drawn without its shine."""

GRAIN = 160
"""One less wide than this part of it, hardly a millimetre, is a body alone: its rim would be a hair's breadth."""

Alike = tuple[str, str | None, Form, int, float]


def on_paper(shown: list[Disc], palette: Mapping[str, Swatch], keys: Mapping[str, str], wide: float) -> list[str]:
    """The paths of these discs, given the furthest first, on a sheet so many inches `wide`.

    `keys` are short names of the colours, which mark bodies. Of a balloon that others hide only the body is drawn.
    """
    lines: list[str] = []
    afar = _is_afar(shown, palette)
    sight = _sight_of(shown, palette)
    for batch in batches(shown, sight):
        first = shown[batch[0]]
        marks = f'data-colour="{keys[first.colour]}" data-size="{first.size}"'
        marks += "" if first.inner is None else f' data-inner="{keys[first.inner]}"'
        if first.form == "round":
            lines += _dots(shown, batch, palette, marks, sight, wide if afar else None)
        else:
            lines += [line for n in batch for line in _foil(shown[n], palette[first.colour], marks)]
    return lines


def _sight_of(shown: list[Disc], palette: Mapping[str, Swatch]) -> Sight | None:
    """What is seen of the discs; None where some are hearts or stars, past whose outline one sees."""
    if any(disc.form != "round" for disc in shown):
        return None
    return Sight(
        shown, [any(shade.opacity < 1 for shade in PAPER_FINISHES[finish_of(palette[d.colour])]) for d in shown]
    )


def batches(shown: list[Disc], sight: Sight | None = None) -> list[list[int]]:
    """Places of discs, the furthest first, in few batches: all alike in one, none over another, overlaps in order.

    With `sight` only those overlaps count that are seen. Of what may be drawn next the batch is taken that the highest
    pile still waits for, and of several such the one that leaves the smallest part of its kind behind. A least number
    is too hard to find; this comes to about half as many as drawing layer by layer.
    """
    over = _overlaps(shown) if sight is None else [sight.over(n) for n in range(len(shown))]
    under = [0] * len(shown)
    for other in (other for others in over for other in others):
        under[other] += 1
    pile = [1] * len(shown)
    for n in range(len(shown) - 1, -1, -1):
        pile[n] += max((pile[other] for other in over[n]), default=0)
    ready: dict[Alike, list[int]] = {}
    for n, waits in enumerate(under):
        if not waits:
            ready.setdefault(_alike(shown[n]), []).append(n)
    left = Counter(_alike(disc) for disc in shown)
    drawn: list[list[int]] = []
    while ready:
        chosen = max(ready, key=lambda alike: (max(pile[n] for n in ready[alike]), len(ready[alike]) / left[alike]))
        batch = ready.pop(chosen)
        left[chosen] -= len(batch)
        drawn.append(batch)
        for other in (other for n in batch for other in over[n]):
            under[other] -= 1
            if not under[other]:
                ready.setdefault(_alike(shown[other]), []).append(other)
    return drawn


def _alike(disc: Disc) -> Alike:
    return disc.colour, disc.inner, disc.form, disc.size, disc.r


def _overlaps(shown: list[Disc]) -> list[list[int]]:
    """For each disc which later ones overlap it."""
    cell = 2 * max(disc.r for disc in shown)
    over: list[list[int]] = [[] for _ in shown]
    placed: dict[tuple[int, int], list[int]] = {}
    for n, disc in enumerate(shown):
        column, row = int(disc.x // cell), int(disc.y // cell)
        # Whatever overlaps it has its centre in this cell of the picture or in one of the eight round it.
        near = [(column + across, row + down) for across in (-1, 0, 1) for down in (-1, 0, 1)]
        for other in (found for spot in near for found in placed.get(spot, ())):
            reach = disc.r + shown[other].r
            if (disc.x - shown[other].x) ** 2 + (disc.y - shown[other].y) ** 2 < reach * reach:
                over[other].append(n)
        placed.setdefault((column, row), []).append(n)
    return over


def _is_afar(shown: list[Disc], palette: Mapping[str, Swatch]) -> bool:
    """Are there so many balloons on the sheet that each is seen small?"""
    cost = {finish: len(dots) + SHARDS * (finish == "foil") for finish, dots in PAPER_FINISHES.items()}
    return sum(cost[finish_of(palette[disc.colour])] for disc in shown) > MOST_DOTS


def _dots(
    shown: list[Disc],
    batch: list[int],
    palette: Mapping[str, Swatch],
    marks: str,
    sight: Sight | None,
    sheet: float | None,
) -> list[str]:
    """The paths of balloons alike: rim, body and shine; only the body carries the marks.

    `sheet` is the width of a sheet so crowded that each is seen from afar.
    """
    first = shown[batch[0]]
    swatch, inner = palette[first.colour], None if first.inner is None else palette[first.inner].hex
    finish, r, drawn, afar = finish_of(swatch), first.r, [], sheet is not None
    speck, grain = (2 * r * part < (sheet or 0.0) for part in (SPECK, GRAIN))
    dots = paper_dots(swatch.hex, finish=finish, inner=inner, fine=r > COARSE, afar=afar)
    for shade, name in dots[grain : 2 if speck else None]:
        places = [
            shown[n] for n in batch if shade.is_body or sight is None or sight.shows(n, shade.dx, shade.dy, shade.scale)
        ]
        if not places:
            continue
        at = "".join(f"M{figure(d.x + shade.dx * r)} {figure(d.y + shade.dy * r)}h0" for d in places)
        mark = f" {marks}" if shade.is_body else ""
        through = "" if shade.opacity == 1 else f' stroke-opacity="{shade.opacity:g}"'
        wide = figure(2 * r * shade.scale, 3)
        drawn.append(f'<path{mark} stroke="{name}" stroke-width="{wide}"{through} d="{at}"/>')
    seen = [shown[n] for n in batch if sight is None or sight.shows(n)]
    if afar and seen and not speck:
        drawn += afar_stroke([(d.x, d.y) for d in seen], r, swatch.hex, finish=finish)
    if not afar and finish == "foil":
        drawn += [line for d in seen for line in facets(d.x, d.y, r, swatch.hex)]
    return drawn


def _foil(disc: Disc, swatch: Swatch, marks: str) -> list[str]:
    """A heart or a star in three layers, a seam, a shaded body and a lighter middle, with what it throws back."""
    shades, curves = paper_shades(swatch.hex, finish="foil"), outline(disc.form)
    outer, middle = path(curves, disc.x, disc.y, disc.r), path(curves, disc.x - 0.02 * disc.r, disc.y, disc.r * 0.8)
    return [
        f'<path {marks} data-form="{disc.form}" d="{outer}" fill="{shades[2]}" stroke="{shades[0]}"'
        f' stroke-width="{figure(disc.r * 0.08, 2)}" stroke-linejoin="round"/>',
        f'<path d="{middle}" fill="{shades[3]}"/>',
        *facets(disc.x, disc.y, disc.r, swatch.hex, puckered=False),
    ]
