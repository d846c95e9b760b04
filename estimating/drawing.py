"""A layout as a picture: the same discs for the screen and, drawn more cheaply, for paper.

One unit of a drawing is an inch. Both pictures draw every balloon of the layout once and nothing else that is
round, so that what the client sees can be counted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from estimating import ornaments
from estimating.layout import FORMS, Form, Layout
from estimating.ornaments import plain_text
from estimating.scenery import Scene, scene_of
from estimating.setting import Words
from estimating.shading import SCREEN_DEPTHS, facets, finish_drawn, ink_on, paint, paper_dots, paper_shades, seam
from estimating.silhouettes import outline, path

SHADED_FROM = 15.0
"""Inches of depth that take all the shade there is; a shallower layout, all of which is seen, takes less of it."""


COARSE = 10.0
"""A balloon of a larger radius in inches is dotted more finely on paper."""


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
    """One balloon as seen from the front, in inches; `depth` is its centre's distance in front of the spine.

    A disc with an `inner` colour stands for two balloons.
    """

    x: float
    y: float
    r: float
    colour: str
    size: int
    depth: float
    inner: str | None = None
    form: Form = "round"


def discs(layout: Layout) -> list[Disc]:
    """Every balloon once, the furthest first."""
    ordered = sorted(layout.balloons, key=lambda b: (b.z, b.x, b.y, b.size, b.colour))
    return [Disc(b.x, b.y, b.diameter / 2, b.colour, b.size, b.z, b.inner, b.form) for b in ordered]


def svg(
    layout: Layout,
    palette: Mapping[str, Swatch],
    *,
    title: str,
    scale_note: str | None = None,
    prefix: str = "p",
    scene: Scene | None = None,
    what: str = "",
) -> str:
    """The picture for a screen, to be put straight into a page: one circle a round balloon, softly lit.

    A heart or a star is a path marked data-form instead. `prefix` begins every id, so that a page can hold several.
    `scene` is what stands behind, None for a wall of our own; `what` says in words what the piece is and how large,
    for those who do not see it. Raises UnknownColourError for a colour without a swatch.
    """
    keys = _keys(layout, palette)
    shown = _formed(discs(layout), palette)
    scene = scene or scene_of(layout)
    level_of = _levels(shown)
    used = {(disc._replace(x=0, y=0, r=0, size=0, depth=0), level) for disc, level in zip(shown, level_of, strict=True)}
    lines = [
        *_opening(scene, layout, palette, title, prefix, what),
        "<defs>",
        *sorted(_paint(disc, f"{prefix}-{_key(disc, level, keys)}", level, palette) for disc, level in used),
        "</defs>",
        *scene.behind,
        *_behind(layout),
        *(
            _drawn(disc, f"{prefix}-{_key(disc, level, keys)}", palette[disc.colour])
            for disc, level in zip(shown, level_of, strict=True)
        ),
        *_before(layout, palette),
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
    what: str = "",
) -> str:
    """The picture for a PDF: the same discs as round dots of a wide pen, many to a path.

    A balloon is a dark dot for its rim, a smaller one for its body and lighter ones for its shine. Dots of one
    colour and size share a path where none of them overlaps another, so the order from back to front is kept. A
    heart or a star is a path of its own.
    """
    keys = _keys(layout, palette)
    scene = scene or scene_of(layout)
    lines = [*_opening(scene, layout, palette, title, prefix, what), *scene.behind]
    lines += [*_behind(layout), '<g fill="none" stroke-linecap="round">']
    for slab in _slabs(_formed(discs(layout), palette)):
        groups: dict[tuple[str, str | None, Form, int, float], list[Disc]] = {}
        for disc in slab:
            groups.setdefault((disc.colour, disc.inner, disc.form, disc.size, disc.r), []).append(disc)
        for (colour, inner, form, size, _), members in groups.items():
            marks = f'data-colour="{keys[colour]}" data-size="{size}"'
            marks += "" if inner is None else f' data-inner="{keys[inner]}"'
            if form == "round":
                lines += _dots(members, palette[colour], None if inner is None else palette[inner].hex, marks)
            else:
                lines += [line for disc in members for line in _foil_on_paper(disc, palette[colour], marks)]
    lines += ["</g>", *_before(layout, palette)]
    return "\n".join([*lines, *_note(scene, scale_note), "</svg>"])


def _formed(shown: list[Disc], palette: Mapping[str, Swatch]) -> list[Disc]:
    """The discs, those in a colour that only comes as hearts or stars as what they are."""
    return [
        disc._replace(form=next((form for form in FORMS if form == palette[disc.colour].form), disc.form))
        if disc.form == "round"
        else disc
        for disc in shown
    ]


def _key(disc: Disc, level: int, keys: Mapping[str, str]) -> str:
    """What tells a disc's paint from others."""
    inner = "" if disc.inner is None else keys[disc.inner]
    return f"{keys[disc.colour]}{inner}-{level}{'' if disc.form == 'round' else disc.form[0]}"


def _paint(disc: Disc, name: str, level: int, palette: Mapping[str, Swatch]) -> str:
    swatch = palette[disc.colour]
    inside = None if disc.inner is None else palette[disc.inner].hex
    return paint(name, swatch.hex, level, finish=finish_of(swatch), inner=inside, round_seam=disc.form == "round")


def finish_of(swatch: Swatch) -> str:
    """The finish a swatch is drawn in: hearts and stars are foil whatever is said of them."""
    return "foil" if swatch.form != "round" else finish_drawn(swatch.finish)


def _drawn(disc: Disc, fill: str, swatch: Swatch) -> str:
    """One balloon on the screen."""
    if disc.form != "round":
        shape, wide = path(outline(disc.form), disc.x, disc.y, disc.r), _figure(disc.r * 0.05, 2)
        return (
            f'<path data-form="{disc.form}" d="{shape}" fill="url(#{fill})" stroke="{seam(swatch.hex)}"'
            f' stroke-width="{wide}" stroke-linejoin="round"/>'
        )
    return f'<circle cx="{_figure(disc.x)}" cy="{_figure(disc.y)}" r="{_figure(disc.r, 3)}" fill="url(#{fill})"/>'


def _behind(layout: Layout) -> list[str]:
    """What belongs to a piece and is drawn before its balloons."""
    return [*([] if layout.setting.room else ornaments.strings(layout)), *ornaments.weights(layout)]


def _before(layout: Layout, palette: Mapping[str, Swatch]) -> list[str]:
    """What is drawn over the balloons: under a ceiling the tails too, each nearer than the balloons it crosses."""
    tails = ornaments.strings(layout) if layout.setting.room else []
    return [*tails, *ornaments.greenery(layout), *_words(layout, palette)]


def _words(layout: Layout, palette: Mapping[str, Swatch]) -> list[str]:
    """Lettering in an ink that reads on the balloon it is on."""
    found = layout.setting.words
    return [line for words in found for line in ornaments.lettering(words, _ink(words, layout, palette))]


def _ink(words: Words, layout: Layout, palette: Mapping[str, Swatch]) -> str:
    under = min(layout.balloons, key=lambda b: (b.x - words.x) ** 2 + (b.y - words.y) ** 2)
    return ink_on(palette[under.colour].hex)


def _keys(layout: Layout, palette: Mapping[str, Swatch]) -> dict[str, str]:
    """A short name for each colour of a layout, in the order of the layout's keys."""
    used = sorted({colour for colour, _ in layout.counts()})
    if missing := [colour for colour in used if colour not in palette]:
        raise UnknownColourError(missing)
    return {colour: f"c{n}" for n, colour in enumerate(used)}


def _levels(shown: list[Disc]) -> list[int]:
    """For each disc how far forward it is, from 0 at the back; a layout hardly a balloon deep stays light."""
    depths = [disc.depth for disc in shown]
    front = max(depths)
    reach = max(front - min(depths), SHADED_FROM)
    return [max(0, SCREEN_DEPTHS - 1 - int((front - depth) / reach * SCREEN_DEPTHS)) for depth in depths]


def _opening(
    scene: Scene, layout: Layout, palette: Mapping[str, Swatch], title: str, prefix: str, what: str
) -> list[str]:
    left, top, width, height = scene.view
    view = " ".join(_figure(value) for value in (left, top, width, height))
    said = ". ".join(sentence.rstrip(".") for sentence in (what, _said(layout, palette), *layout.notes) if sentence)
    return [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" role="img"'
        f' aria-labelledby="{prefix}-title {prefix}-desc">',
        f'<title id="{prefix}-title">{plain_text(title)}</title>',
        f'<desc id="{prefix}-desc">{plain_text(said)}.</desc>',
    ]


def _said(layout: Layout, palette: Mapping[str, Swatch]) -> str:
    """The picture in words; names are set apart so that a right-to-left one does not turn the sentence round."""
    counts = layout.counts()
    by_colour: Counter[str] = Counter()
    for (colour, _), n in counts.items():
        by_colour[colour] += n
    said = []
    for colour, n in by_colour.most_common():
        sizes = sorted((size, count) for (other, size), count in counts.items() if other == colour)
        of_sizes = (
            f"{sizes[0][0]}-inch" if len(sizes) == 1 else ", ".join(f"{count} {size}-inch" for size, count in sizes)
        )
        said.append(f"{n} \u2068{palette[colour].name}\u2069 ({of_sizes})")
    total, stuffed = counts.total(), sum(1 for balloon in layout.balloons if balloon.inner is not None)
    inside = f", {stuffed} of them inside others" if stuffed else ""
    return f"{total} balloon{'' if total == 1 else 's'}{inside}: {', '.join(said)}"


def _note(scene: Scene, scale_note: str | None) -> list[str]:
    if scale_note is None:
        return []
    left, top, width, height = scene.view
    tall = width / 36
    return [
        f'<text x="{_figure(left + tall)}" y="{_figure(top + height - tall * 0.7)}" font-size="{_figure(tall)}"'
        f' font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">{plain_text(scale_note)}</text>'
    ]


def _slabs(shown: list[Disc]) -> list[list[Disc]]:
    """The discs from back to front in as few layers as keep every overlapping two in order.

    Two overlapping discs of one colour and size must not share a layer, or their rims would merge; nor may
    others, since within a layer the order is lost.
    """
    slabs: list[list[Disc]] = []
    cell = 2 * max(disc.r for disc in shown)
    placed: dict[tuple[int, int], list[tuple[Disc, int]]] = {}
    for disc in shown:
        column, row = int(disc.x // cell), int(disc.y // cell)
        # Whatever overlaps it has its centre in this cell of the picture or in one of the eight round it.
        near = [(column + across, row + down) for across in (-1, 0, 1) for down in (-1, 0, 1)]
        slab = 0
        for other, at in (found for spot in near for found in placed.get(spot, ())):
            reach = disc.r + other.r
            if at >= slab and (disc.x - other.x) ** 2 + (disc.y - other.y) ** 2 < reach * reach:
                slab = at + 1
        if slab == len(slabs):
            slabs.append([])
        slabs[slab].append(disc)
        placed.setdefault((column, row), []).append((disc, slab))
    return slabs


def _dots(members: list[Disc], swatch: Swatch, inner: str | None, marks: str) -> list[str]:
    """The paths of one colour and size in one layer: rim, body and shine; only the body carries the marks."""
    finish, r, drawn = finish_of(swatch), members[0].r, []
    for shade, name in paper_dots(swatch.hex, finish=finish, inner=inner, fine=r > COARSE):
        dots = "".join(f"M{_figure(d.x + shade.dx * r)} {_figure(d.y + shade.dy * r)}h0" for d in members)
        mark = f" {marks}" if shade.is_body else ""
        through = "" if shade.opacity == 1 else f' stroke-opacity="{shade.opacity:g}"'
        wide = _figure(2 * r * shade.scale, 3)
        drawn.append(f'<path{mark} stroke="{name}" stroke-width="{wide}"{through} d="{dots}"/>')
    if finish == "foil":
        drawn += [line for d in members for line in facets(d.x, d.y, r, swatch.hex)]
    return drawn


def _foil_on_paper(disc: Disc, swatch: Swatch, marks: str) -> list[str]:
    """A heart or a star in three layers, a seam, a shaded body and a lighter middle, with what it throws back."""
    shades, curves = paper_shades(swatch.hex, finish="foil"), outline(disc.form)
    outer, middle = path(curves, disc.x, disc.y, disc.r), path(curves, disc.x - 0.02 * disc.r, disc.y, disc.r * 0.8)
    return [
        f'<path {marks} data-form="{disc.form}" d="{outer}" fill="{shades[2]}" stroke="{shades[0]}"'
        f' stroke-width="{_figure(disc.r * 0.08, 2)}" stroke-linejoin="round"/>',
        f'<path d="{middle}" fill="{shades[3]}"/>',
        *facets(disc.x, disc.y, disc.r, swatch.hex, puckered=False),
    ]


def _figure(value: float, places: int = 1) -> str:
    """A number as short as it can be written."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
