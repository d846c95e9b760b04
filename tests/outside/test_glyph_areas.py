"""The outlines of every character we can fill, against shapely: an independent planar geometry (GEOS)."""

import pytest
from shapely.geometry import Polygon

from estimating.typefaces import FONTS, SPECK, glyph, missing_from

CHARACTERS = [chr(code) for code in (*range(0x21, 0x7F), *range(0xA1, 0x100)) if code != 0xAD]


def region(outline):
    """The area inside by adding and taking away whole polygons."""
    found = Polygon()
    for line in outline.contours:
        found = found.symmetric_difference(Polygon(line).buffer(0))
    return found


@pytest.mark.parametrize("font", FONTS)
def test_areas_by_greens_theorem_are_those_of_the_region_with_its_holes(font):
    for char in CHARACTERS:
        if not missing_from(font, char):
            outline = glyph(font, char).outline
            assert outline.area() == pytest.approx(region(outline).area, rel=1e-3), char


HOLES = {
    "round": dict(zip("0123456789B", (1, 0, 0, 0, 0, 0, 1, 0, 2, 1, 1), strict=True)),
    "poster": dict(zip("0123456789B", (1, 0, 0, 0, 1, 0, 1, 0, 2, 1, 2), strict=True)),
    "plain": dict(zip("0123456789B", (2, 0, 0, 0, 1, 0, 1, 0, 2, 1, 2), strict=True)),
}
"""Holes as the faces draw them: the round 4 is open and its B of one hole, the plain 0 is slashed."""


@pytest.mark.parametrize("font", FONTS)
def test_the_holes_of_a_character_are_kept(font):
    rings = {char: region(glyph(font, char).outline).interiors for char in HOLES[font]}
    found = {char: sum(Polygon(ring).area > SPECK for ring in each) for char, each in rings.items()}
    assert found == HOLES[font]


@pytest.mark.parametrize("font", FONTS)
def test_frame_line_is_as_long_as_the_edges(font):
    for char in "0348AR&":
        outline = glyph(font, char).outline
        assert outline.length() == pytest.approx(sum(Polygon(line).length for line in outline.contours), rel=1e-9)
