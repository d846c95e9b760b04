"""Pieces of more balloons than are settled one by one: they are laid out in bounded time, or say what would work."""

import re
from dataclasses import replace
from decimal import Decimal
from time import process_time

import numpy as np
import pytest

from estimating.filling import covered
from estimating.kinds import KINDS, GarlandSpec, GlyphsSpec, PackedSpec, SpecErrors, WallSpec
from estimating.kinds.garland import MOST_DRAWN
from estimating.layout import Layout
from estimating.materials import MaterialRules, materials
from estimating.outlines import Depths, rectangle
from estimating.specs import INFLATED, MOST_BALLOONS

INCH = Decimal("25.4")
FOOT = 12 * INCH
TWO = (("navy", 60), ("white", 40))
SECONDS = 6.0
"""Of the processor's time. The largest takes a tenth of it where nobody else is at work."""

PANEL = WallSpec(60 * FOOT, 16 * FOOT, ((11, 50), (5, 50)), TWO)
GRID = WallSpec(60 * FOOT, 16 * FOOT, ((5, 100),), TWO, style="grid")
SNAKE = PackedSpec(
    "garland",
    TWO,
    diameter_mm=2 * INCH,
    length_mm=200 * FOOT,
    shape="straight",
    per_layer=6,
    pattern="stripes",
    compression_percent=30,
)

LARGE = [
    pytest.param("wall", PANEL, id="an organic panel"),
    pytest.param("wall", replace(PANEL, mix=((6, 60), (3, 40)), pattern="fade"), id="one of small balloons"),
    pytest.param("wall", replace(PANEL, depth_mm=40 * INCH), id="a deep one"),
    pytest.param("wall", GRID, id="a grid"),
    pytest.param("wall", replace(GRID, alternate=True), id="a grid of alternate sizes"),
    pytest.param("packed", SNAKE, id="a packed garland"),
    pytest.param("packed", replace(SNAKE, shape="swag", span_mm=150 * FOOT), id="a packed swag"),
    pytest.param(
        "packed",
        replace(SNAKE, form="arch", span_mm=90 * FOOT, shape="swag", rise_mm=None, base="weighted"),
        id="a packed arch",
    ),
    pytest.param("garland", GarlandSpec(200 * FOOT, 30 * INCH, ((11, 60), (5, 40)), TWO), id="a garland"),
]


@pytest.mark.parametrize(("kind", "spec"), LARGE)
def test_the_largest_pieces_are_laid_out_in_bounded_time_and_counted_as_drawn(kind, spec):
    began = process_time()
    layout = KINDS[kind].lay_out(spec)
    assert process_time() - began < SECONDS

    assert MOST_BALLOONS < len(layout.balloons) <= MOST_DRAWN
    assert layout == Layout.from_json(layout.to_json())
    made = materials(layout, rules=MaterialRules(), outdoors=False)
    assert made.balloons() == len(layout.balloons) == layout.counts().total()


@pytest.mark.parametrize(
    ("kind", "spec"),
    [
        pytest.param("wall", replace(PANEL, mix=((3, 100),), depth_mm=30 * INCH), id="an organic panel"),
        pytest.param("wall", replace(GRID, mix=((3, 100),)), id="a grid"),
        pytest.param("wall", replace(GRID, mix=((3, 100),), alternate=True), id="a grid of alternate sizes"),
    ],
)
def test_a_panel_of_more_than_can_be_drawn_names_both_fields_and_either_works(kind, spec):
    with pytest.raises(SpecErrors) as refused:
        KINDS[kind].lay_out(spec)
    width, mix = refused.value
    assert (width.field, mix.field) == ("width_mm", "mix")
    most = int(re.findall(r"at most (\d+) in", width.rule)[0])
    size = int(re.findall(r"of (\d+)-inch", mix.rule)[0])

    assert 0.98 * MOST_DRAWN < len(KINDS[kind].lay_out(replace(spec, width_mm=most * INCH)).balloons) <= MOST_DRAWN
    assert len(KINDS[kind].lay_out(replace(spec, mix=((size, 100),))).balloons) <= MOST_DRAWN


def test_the_longest_text_is_refused_in_no_time():
    began = process_time()
    with pytest.raises(SpecErrors):
        KINDS["glyphs"].lay_out(GlyphsSpec("MMMMMMMMMMMM", 144 * INCH, ((3, 100),), TWO))
    assert process_time() - began < SECONDS


def test_a_very_large_organic_panel_says_that_a_stretch_is_repeated():
    (note,) = KINDS["wall"].lay_out(PANEL).notes
    ((inches, times),) = re.findall(r"^Laid out as a typical stretch of (\d+) in, repeated (\d+) times\.$", note)
    assert int(inches) * int(times) == 720


def test_a_panel_just_within_the_count_is_settled_whole():
    layout = KINDS["wall"].lay_out(replace(PANEL, width_mm=40 * FOOT))
    assert 0.8 * MOST_BALLOONS < len(layout.balloons) <= MOST_BALLOONS
    assert layout.notes == ()


def test_no_seam_shows_where_the_stretches_of_a_panel_meet():
    """As much of the panel is covered, and as much balloon stands, within half a foot of a seam as elsewhere."""
    layout = KINDS["wall"].lay_out(replace(PANEL, mix=((11, 100),), depth_mm=24 * INCH))
    times = int(layout.notes[0].split()[-2])
    assert times > 1
    seams = [720 * n / times for n in range(1, times)]
    held = [0.0] * 120
    for b in layout.balloons:
        held[min(119, max(0, int(b.x / 6)))] += b.diameter**3
    near = {n for n in range(120) for seam in seams if abs(6 * n + 3 - seam) < 6}
    at_seams = [held[n] for n in sorted(near)]
    elsewhere = [held[n] for n in range(4, 116) if n not in near]
    assert sum(at_seams) / len(at_seams) == pytest.approx(sum(elsewhere) / len(elsewhere), rel=0.15)


def test_a_repeated_panel_covers_its_rectangle_like_one_settled_whole():
    def cover(spec):
        layout = KINDS["wall"].lay_out(spec)
        wide = float(spec.width_mm / INCH)
        places = (np.array([getattr(b, name) for b in layout.balloons]) for name in ("x", "y", "diameter"))
        x, y, diameter = places
        return covered(Depths.of(rectangle(wide, 192.0), 1.0), x, y, diameter / 2)

    assert cover(PANEL) > cover(replace(PANEL, width_mm=40 * FOOT)) - 0.01


def test_every_colour_of_a_very_large_panel_comes_out_by_its_share():
    layout = KINDS["wall"].lay_out(PANEL)
    counts = layout.counts()
    for size in (5, 11):
        number = sum(count for (_, other), count in counts.items() if other == size)
        assert [counts[key, size] for key, _ in TWO] == pytest.approx([number * p / 100 for _, p in TWO], abs=1)


def test_the_studios_own_diameter_decides_what_a_panel_takes():
    small = KINDS["wall"].lay_out(PANEL, inflated={**INFLATED, 11: 9.0})
    assert len(small.balloons) > len(KINDS["wall"].lay_out(PANEL).balloons)
