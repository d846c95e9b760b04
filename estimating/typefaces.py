"""The real outlines of numerals and letters, read from font files.

The files are kept beside their licences, all the SIL Open Font License.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from fontTools.pens.basePen import BasePen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from estimating.outlines import Contour, Outline

HERE = Path(__file__).resolve().parent / "fonts"

FONTS: dict[str, tuple[str, str]] = {
    "round": ("Round", "fredoka-bold-latin.woff2"),
    "poster": ("Poster", "bricolage-grotesque-bold-latin.woff2"),
    "plain": ("Plain", "atkinson-hyperlegible-next-bold-latin.woff2"),
}
"""The faces to choose from: what each is called, and its file."""

CURVE_STEPS = 6
"""Chords that each curve of an outline becomes."""


SPECK = 1e-3
"""Lines round less than this, in squared capital heights, are dust left where two strokes were made one."""


class Glyph(NamedTuple):
    """One character's outline as drawn (empty for a space) and how far the next one is, where a capital is 1 high."""

    outline: Outline
    advance: float


class _Chords(BasePen):
    """A pen that keeps the corners of each closed line, its curves cut into chords."""

    def __init__(self, glyphs: Any, scale: float) -> None:
        super().__init__(glyphs)
        self.scale = scale
        self.contours: list[Contour] = []
        self._line: list[tuple[float, float]] = []

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802 - the pen protocol's name
        self._line = [pt]

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        self._line.append(pt)

    def _curveToOne(self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]) -> None:  # noqa: N802
        x0, y0 = self._line[-1]
        for n in range(1, CURVE_STEPS + 1):
            t = n / CURVE_STEPS
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            self._line.append(
                (a * x0 + b * pt1[0] + c * pt2[0] + d * pt3[0], a * y0 + b * pt1[1] + c * pt2[1] + d * pt3[1])
            )

    def _closePath(self) -> None:  # noqa: N802
        spots = [(round(x * self.scale, 9), round(-y * self.scale, 9)) for x, y in self._line]
        corners = [here for n, here in enumerate(spots) if here != spots[n - 1]]
        if len(corners) > 2 and Outline((tuple(corners),)).area() > SPECK:
            self.contours.append(tuple(corners))


def missing_from(font: str, text: str) -> list[str]:
    """The characters of a text that the face has no outline for, each once, in order."""
    known = _read(font)[0].getBestCmap()
    return [char for char in dict.fromkeys(text) if ord(char) not in known]


@cache
def glyph(font: str, char: str) -> Glyph:
    """One character of a face; raises KeyError where the face has none."""
    file, glyphs, scale = _read(font)
    name = file.getBestCmap()[ord(char)]
    pen = _Chords(glyphs, scale)
    glyphs[name].draw(pen)
    return Glyph(Outline(tuple(pen.contours)), glyphs[name].width * scale)


@cache
def _read(font: str) -> tuple[TTFont, Any, float]:
    """A face's file, its glyphs, and the factor that makes a capital 1 high."""
    file = TTFont(HERE / FONTS[font][1])
    glyphs = file.getGlyphSet()
    capital = BoundsPen(glyphs)
    glyphs[file.getBestCmap()[ord("H")]].draw(capital)
    return file, glyphs, 1.0 / capital.bounds[3]
