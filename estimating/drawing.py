"""A layout as a picture: the same discs for the screen and, drawn more cheaply, for paper.

One unit of a drawing is an inch. Both pictures draw every balloon of the layout once and nothing else that is
round, so that what the client sees can be counted.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from html import escape
from typing import NamedTuple

from estimating.layout import Balloon, Layout
from estimating.scenery import Scene, scene_of
from estimating.shading import PAPER_SHADES, SCREEN_DEPTHS, PaperShades, gradient, paper_shades

NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class UnknownColourError(KeyError):
    """A layout has balloons in colours the palette does not know: `colours` are their keys."""

    def __init__(self, colours: Iterable[str]) -> None:
        self.colours = tuple(sorted(colours))
        super().__init__(f"no swatch for the colours {', '.join(self.colours)}")


class Swatch(NamedTuple):
    """A colour as drawn: `hex` as #rrggbb, the name people call it by, its finish, and its outline if it is foil."""

    hex: str
    name: str
    finish: str = "standard"
    form: str = "round"


class Disc(NamedTuple):
    """One balloon as seen from the front, in inches; `depth` is its centre's distance in front of the spine."""

    x: float
    y: float
    r: float
    colour: str
    size: int
    depth: float


def discs(layout: Layout) -> list[Disc]:
    """Every balloon once, the furthest first."""
    ordered = sorted(layout.balloons, key=lambda b: (b.z, b.x, b.y, b.size, b.colour))
    return [Disc(b.x, b.y, b.diameter / 2, b.colour, b.size, b.z) for b in ordered]


def svg(
    layout: Layout,
    palette: Mapping[str, Swatch],
    *,
    title: str,
    scale_note: str | None = None,
    prefix: str = "p",
    scene: Scene | None = None,
) -> str:
    """The picture for a screen, to be put straight into a page: one circle a balloon, softly lit.

    `prefix` begins every id, so that a page can hold several. `scene` is what stands behind, None for a wall of our
    own. Raises UnknownColourError for a colour without a swatch.
    """
    shown = discs(layout)
    keys = _keys(layout, palette)
    scene = scene or scene_of(layout)
    level_of = _levels(shown)
    used = sorted({(keys[disc.colour], level) for disc, level in zip(shown, level_of, strict=True)})
    swatches = {keys[colour]: palette[colour] for colour in keys}
    lines = [
        *_opening(scene, layout, palette, title, prefix),
        "<defs>",
        *(gradient(f"{prefix}-{key}-{level}", swatches[key].hex, level) for key, level in used),
        "</defs>",
        *scene.behind,
        *(
            f'<circle cx="{_figure(disc.x)}" cy="{_figure(disc.y)}" r="{_figure(disc.r, 3)}"'
            f' fill="url(#{prefix}-{keys[disc.colour]}-{level})"/>'
            for disc, level in zip(shown, level_of, strict=True)
        ),
        *_note(scene, scale_note),
        "</svg>",
    ]
    return "\n".join(lines)


def svg_for_paper(
    layout: Layout,
    palette: Mapping[str, Swatch],
    *,
    title: str,
    scale_note: str | None = None,
    prefix: str = "p",
    scene: Scene | None = None,
) -> str:
    """The picture for a PDF: the same discs as round dots of a wide pen, many to a path.

    A balloon is a dark dot for its rim, a smaller one for its body and two light ones for its shine. Dots of
    one colour and size share a path where none of them overlaps another, so the order from back to front is
    kept.
    """
    keys = _keys(layout, palette)
    scene = scene or scene_of(layout)
    lines = [*_opening(scene, layout, palette, title, prefix), *scene.behind, '<g fill="none" stroke-linecap="round">']
    shades = {colour: paper_shades(palette[colour].hex) for colour in keys}
    for slab in _slabs(discs(layout)):
        groups: dict[tuple[str, int, float], list[Disc]] = {}
        for disc in slab:
            groups.setdefault((disc.colour, disc.size, disc.r), []).append(disc)
        for (colour, size, r), members in groups.items():
            lines += _dots(members, r, shades[colour], f'data-colour="{keys[colour]}" data-size="{size}"')
    return "\n".join([*lines, "</g>", *_note(scene, scale_note), "</svg>"])


def _keys(layout: Layout, palette: Mapping[str, Swatch]) -> dict[str, str]:
    """A short name for each colour of a layout, in the order of the layout's keys."""
    used = sorted({balloon.colour for balloon in layout.balloons})
    if missing := [colour for colour in used if colour not in palette]:
        raise UnknownColourError(missing)
    return {colour: f"c{n}" for n, colour in enumerate(used)}


def _levels(shown: list[Disc]) -> list[int]:
    """For each disc how far forward it is, from 0 at the back; a flat layout is all at the front."""
    depths = [disc.depth for disc in shown]
    back, front = min(depths), max(depths)
    if front - back < 1.0:
        return [SCREEN_DEPTHS - 1] * len(shown)
    return [min(SCREEN_DEPTHS - 1, int((depth - back) / (front - back) * SCREEN_DEPTHS)) for depth in depths]


def _opening(scene: Scene, layout: Layout, palette: Mapping[str, Swatch], title: str, prefix: str) -> list[str]:
    left, top, width, height = scene.view
    view = " ".join(_figure(value) for value in (left, top, width, height))
    return [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" role="img"'
        f' aria-labelledby="{prefix}-title {prefix}-desc">',
        f'<title id="{prefix}-title">{_text(title)}</title>',
        f'<desc id="{prefix}-desc">{_text(_said(layout.balloons, palette))}</desc>',
    ]


def _said(balloons: Iterable[Balloon], palette: Mapping[str, Swatch]) -> str:
    """The picture in words; names are set apart so that a right-to-left one does not turn the sentence round."""
    counts = Counter(balloon.colour for balloon in balloons)
    colours = ", ".join(f"{n} \u2068{palette[colour].name}\u2069" for colour, n in counts.most_common())
    return f"{counts.total()} balloons: {colours}."


def _note(scene: Scene, scale_note: str | None) -> list[str]:
    if scale_note is None:
        return []
    left, top, width, height = scene.view
    tall = width / 36
    return [
        f'<text x="{_figure(left + tall)}" y="{_figure(top + height - tall * 0.7)}" font-size="{_figure(tall)}"'
        f' font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">{_text(scale_note)}</text>'
    ]


def _slabs(shown: list[Disc]) -> list[list[Disc]]:
    """The discs from back to front in as few layers as keep every overlapping two in order.

    Two overlapping discs of one colour and size must not share a layer, or their rims would merge; nor may
    others, since within a layer the order is lost.
    """
    slabs: list[list[Disc]] = []
    placed: list[tuple[Disc, int]] = []
    for disc in shown:
        slab = 0
        for other, at in placed:
            near = disc.r + other.r
            if at >= slab and (disc.x - other.x) ** 2 + (disc.y - other.y) ** 2 < near * near:
                slab = at + 1
        if slab == len(slabs):
            slabs.append([])
        slabs[slab].append(disc)
        placed.append((disc, slab))
    return slabs


def _dots(members: list[Disc], r: float, shades: PaperShades, marks: str) -> list[str]:
    """The paths of one colour and size in one layer: rim, body and shine; only the body carries the marks."""
    drawn = []
    for shade, name in zip(PAPER_SHADES, shades, strict=True):
        path = "".join(f"M{_figure(d.x + shade.dx * r)} {_figure(d.y + shade.dy * r)}h0" for d in members)
        mark = f" {marks}" if shade.is_body else ""
        drawn.append(f'<path{mark} stroke="{name}" stroke-width="{_figure(2 * r * shade.scale, 3)}" d="{path}"/>')
    return drawn


def _figure(value: float, places: int = 1) -> str:
    """A number as short as it can be written."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _text(said: str) -> str:
    """Text that cannot end the element it stands in; what XML cannot hold becomes a replacement character."""
    return escape(NOT_IN_XML.sub("\ufffd", said))
