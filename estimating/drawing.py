"""A layout as a picture: the same discs for the screen and, drawn more cheaply, for paper.

One unit of a drawing is an inch. Both pictures draw every balloon of the layout once and nothing else that is
round, so that what the client sees can be counted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from estimating import ornaments
from estimating.discs import Disc, Swatch, discs, figure, finish_of, formed
from estimating.layout import Layout
from estimating.on_paper import on_paper
from estimating.ornaments import plain_text
from estimating.scenery import Scene, scene_of
from estimating.setting import Words
from estimating.shading import SCREEN_DEPTHS, ink_on, paint, seam
from estimating.silhouettes import outline, path

__all__ = ["Disc", "Swatch", "UnknownColourError", "discs", "svg", "svg_for_paper"]

SHADED_FROM = 15.0
"""Inches of depth that take all the shade there is; a shallower layout, all of which is seen, takes less of it."""

LETTER_WIDTH = 0.52
"""A letter of the note about scale, in parts of the height of its line."""


class UnknownColourError(KeyError):
    """A layout has balloons in colours the palette does not know: `colours` are their keys."""

    def __init__(self, colours: Iterable[str]) -> None:
        self.colours = tuple(sorted(colours))
        super().__init__(f"no swatch for the colours {', '.join(self.colours)}")


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
    shown = formed(discs(layout), palette)
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
    lines += on_paper(formed(discs(layout), palette), palette, keys, scene.view[2])
    lines += ["</g>", *_before(layout, palette)]
    return "\n".join([*lines, *_note(scene, scale_note), "</svg>"])


def _key(disc: Disc, level: int, keys: Mapping[str, str]) -> str:
    """What tells a disc's paint from others."""
    inner = "" if disc.inner is None else keys[disc.inner]
    return f"{keys[disc.colour]}{inner}-{level}{'' if disc.form == 'round' else disc.form[0]}"


def _paint(disc: Disc, name: str, level: int, palette: Mapping[str, Swatch]) -> str:
    swatch = palette[disc.colour]
    inside = None if disc.inner is None else palette[disc.inner].hex
    return paint(name, swatch.hex, level, finish=finish_of(swatch), inner=inside, round_seam=disc.form == "round")


def _drawn(disc: Disc, fill: str, swatch: Swatch) -> str:
    """One balloon on the screen."""
    if disc.form != "round":
        shape, wide = path(outline(disc.form), disc.x, disc.y, disc.r), figure(disc.r * 0.05, 2)
        return (
            f'<path data-form="{disc.form}" d="{shape}" fill="url(#{fill})" stroke="{seam(swatch.hex)}"'
            f' stroke-width="{wide}" stroke-linejoin="round"/>'
        )
    return f'<circle cx="{figure(disc.x)}" cy="{figure(disc.y)}" r="{figure(disc.r, 3)}" fill="url(#{fill})"/>'


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
    view = " ".join(figure(value) for value in (left, top, width, height))
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
    # A tall picture is shown as high as there is room for, a wide one as wide.
    tall = min(max(width / 30, height / 24), 0.94 * width / (LETTER_WIDTH * max(len(scale_note), 1)))
    return [
        f'<text x="{figure(left + tall)}" y="{figure(top + height - tall * 0.5)}" font-size="{figure(tall)}"'
        f' font-family="Atkinson Hyperlegible Next, sans-serif" fill="#6a6273">{plain_text(scale_note)}</text>'
    ]
