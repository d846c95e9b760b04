"""Foil among latex: in every kind each balloon is as wide as it is in its finish, and picture, counts and gas agree."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from itertools import combinations
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.bags import FOIL_SHRINKS, Diameters
from estimating.discs import Swatch, discs
from estimating.drawing import svg
from estimating.gas import FOILS, LITRES_PER_FT3, floating_diameter, litres_of
from estimating.kinds import (
    KINDS,
    BouquetSpec,
    CountedSpec,
    FloatsSpec,
    GarlandSpec,
    GlyphsSpec,
    PackedSpec,
    SpecErrors,
    StringArchSpec,
    WallSpec,
)
from estimating.kinds.garland import Cluster
from estimating.kinds.packed import Topper
from estimating.layout import Balloon, Layout
from estimating.materials import MaterialRules, materials
from estimating.queries import inflated_in_force, laid_out
from studio.money import shares
from tests.factories import ColourFactory

INCH, FOOT = Decimal("25.4"), Decimal("304.8")
BLOWN = Diameters(foils={"gold": "round"})
HALF, THIRDS, ALL = (("navy", 50), ("gold", 50)), (("navy", 33), ("sand", 33), ("gold", 34)), (("gold", 100),)
PALETTE = {key: Swatch("#1f3a5f", key.title()) for key in ("navy", "sand")} | {
    "gold": Swatch("#c9a227", "Gold", "foil")
}

GARLAND = GarlandSpec(20 * FOOT, 22 * INCH, ((11, 60), (5, 40)), HALF)
PACKED = PackedSpec("garland", HALF, size=11, length_mm=16 * FOOT, shape="straight")
COLUMN = PackedSpec("column", HALF, size=11, height_mm=6 * FOOT, pattern="stripes")
ARCH = PackedSpec("arch", HALF, size=11, span_mm=10 * FOOT, rise_mm=8 * FOOT, pattern="blocks")
STRING = StringArchSpec(HALF, colours_by="percent", size=18, span_mm=12 * FOOT, rise_mm=8 * FOOT, spacing_mm=24 * INCH)
CEILING = FloatsSpec(12 * FOOT, 10 * FOOT, HALF)
GRID = WallSpec(8 * FOOT, 7 * FOOT, ((11, 100),), HALF, style="grid")
PANEL = WallSpec(8 * FOOT, 7 * FOOT, ((11, 60), (5, 40)), HALF)
NUMERALS = GlyphsSpec("30", 4 * FOOT, ((5, 100),), HALF)

EVERY_KIND = [
    pytest.param("garland", GARLAND, id="garland"),
    pytest.param("garland", replace(GARLAND, clusters=(Cluster(30, 18, 3), Cluster(70, 18, 2, "gold"))), id="clusters"),
    pytest.param("garland", replace(GARLAND, length_mm=150 * FOOT, shape="straight"), id="garland that repeats"),
    pytest.param("garland", replace(GARLAND, taper="thick to thin", trail_mm=4 * FOOT), id="tapering garland"),
    pytest.param("packed", PACKED, id="packed garland"),
    pytest.param("packed", COLUMN, id="column"),
    pytest.param("packed", ARCH, id="packed arch"),
    pytest.param("packed", replace(PACKED, size=18, helium=True), id="packed garland on helium"),
    pytest.param("string_arch", STRING, id="string arch"),
    pytest.param("floats", CEILING, id="ceiling"),
    pytest.param("floats", replace(CEILING, mix=((11, 70), (18, 30)), per_hundred_ft2=60), id="ceiling of two sizes"),
    pytest.param("wall", GRID, id="grid"),
    pytest.param("wall", PANEL, id="organic panel"),
    pytest.param("wall", replace(PANEL, pattern="fade"), id="fading panel"),
    pytest.param("wall", replace(PANEL, width_mm=60 * FOOT, mix=((5, 50), (11, 50))), id="panel that repeats"),
    pytest.param("glyphs", NUMERALS, id="numerals"),
    pytest.param("glyphs", replace(NUMERALS, pattern="fade", text="Ida"), id="fading letters"),
    pytest.param("counted", CountedSpec((("navy", 11, 20), ("gold", 11, 12), ("gold", 18, 3))), id="counted"),
]


def across(balloon: Balloon) -> float:
    """What a balloon of the plain table is across in its finish, with the gas it has."""
    if balloon.colour == "gold":
        return round(balloon.size * FOIL_SHRINKS, 3)
    return floating_diameter(balloon.size) if balloon.gas == "helium" else dict(BLOWN)[balloon.size]


def needed(layout: Layout) -> Counter[tuple[str | None, int | None]]:
    """The balloons a materials list asks for before spares."""
    made = materials(layout, rules=MaterialRules(), outdoors=False)
    return Counter({(line.colour, line.size): line.needed for line in made.lines if line.sort == "latex"})


@pytest.mark.parametrize(("kind", "spec"), EVERY_KIND)
def test_every_balloon_is_as_wide_as_it_is_in_its_finish(kind, spec):
    layout = KINDS[kind].lay_out(spec, inflated=BLOWN)
    assert {balloon.colour for balloon in layout.balloons} == {"navy", "gold"}
    assert [balloon.diameter for balloon in layout.balloons] == [across(b) for b in layout.balloons]
    assert layout == KINDS[kind].lay_out(spec, inflated=BLOWN)


@pytest.mark.parametrize(("kind", "spec"), EVERY_KIND)
def test_what_is_drawn_is_what_is_counted_is_what_is_needed(kind, spec):
    layout = KINDS[kind].lay_out(spec, inflated=BLOWN)
    drawn = Counter((disc.colour, disc.size) for disc in discs(layout))
    assert drawn == layout.counts() == needed(layout)
    if len(layout.balloons) < 800:
        assert svg(layout, PALETTE, title="It").count("<circle") >= len(layout.balloons)


@pytest.mark.parametrize(
    ("kind", "spec"),
    [
        pytest.param("garland", replace(GARLAND, colours=THIRDS), id="garland"),
        pytest.param(
            "floats", replace(CEILING, colours=THIRDS, mix=((11, 70), (18, 30)), per_hundred_ft2=50), id="ceiling"
        ),
        pytest.param("wall", replace(PANEL, colours=THIRDS), id="panel"),
        pytest.param("glyphs", replace(NUMERALS, colours=THIRDS), id="numerals"),
    ],
)
def test_each_size_is_shared_out_as_it_is_without_foil(kind, spec):
    layout = KINDS[kind].lay_out(spec, inflated=BLOWN)
    for size, _ in spec.mix:
        given_out = [layout.counts()[colour, size] for colour, _ in THIRDS]
        assert given_out == shares(sum(given_out), [percent for _, percent in THIRDS])


@settings(max_examples=12, deadline=None)
@given(
    feet=st.integers(6, 30),
    wide=st.integers(15, 30),
    gold=st.integers(1, 99),
    mix=st.sampled_from([((11, 100),), ((11, 60), (5, 40)), ((11, 50), (5, 40), (18, 10))]),
    seed=st.integers(0, 99),
)
def test_a_garland_with_foil_is_as_wide_as_asked(feet, wide, gold, mix, seed):
    colours = (("navy", 100 - gold), ("gold", gold))
    spec = GarlandSpec(feet * FOOT, wide * INCH, mix, colours, shape="swag", seed=seed)
    try:
        layout = KINDS["garland"].lay_out(spec, inflated=BLOWN)
    except SpecErrors:
        return
    assert layout.width == pytest.approx(wide, rel=0.05)
    assert needed(layout) == layout.counts()


@pytest.mark.parametrize(
    ("kind", "spec"),
    [
        pytest.param("garland", GARLAND, id="garland"),
        pytest.param("packed", replace(PACKED, pattern="stripes"), id="packed garland"),
        pytest.param("wall", PANEL, id="panel"),
        pytest.param("wall", GRID, id="grid"),
        pytest.param("glyphs", NUMERALS, id="numerals"),
    ],
)
def test_the_smaller_foil_takes_the_more_balloons_the_more_there_is_of_it(kind, spec):
    latex, half, all_foil = (
        len(KINDS[kind].lay_out(replace(spec, colours=colours), inflated=BLOWN).balloons)
        for colours in ((("navy", 50), ("sand", 50)), HALF, ALL)
    )
    # A grid keeps the room of its widest quads while there is any latex in it.
    assert latex <= half < all_foil if spec is GRID else latex < half < all_foil


@settings(max_examples=15, deadline=None)
@given(
    per_layer=st.integers(2, 6),
    pattern=st.sampled_from(["spiral", "stripes", "blocks"]),
    colours=st.sampled_from([HALF, (("navy", 75), ("gold", 25)), ALL]),
    own=st.sampled_from([6.0, 8.0, 9.5, 11.0]),
    feet=st.integers(5, 12),
    upright=st.booleans(),
)
def test_no_two_balloons_of_a_straight_packed_piece_overlap_and_some_touch(
    per_layer, pattern, colours, own, feet, upright
):
    spec = replace(COLUMN if upright else PACKED, colours=colours, per_layer=per_layer, pattern=pattern)
    spec = replace(spec, height_mm=feet * FOOT) if upright else replace(spec, length_mm=feet * FOOT)
    try:
        layout = KINDS["packed"].lay_out(spec, inflated=Diameters({11: own}, foils=BLOWN.foils))
    except SpecErrors as errors:
        assert {error.field for error in errors} == {"colours"}  # No whole place of a layer for a quarter.
        return
    gaps = [
        dist((a.x, a.y, a.z), (b.x, b.y, b.z)) - (a.diameter + b.diameter) / 2
        for a, b in combinations(layout.balloons, 2)
    ]
    assert min(gaps) == pytest.approx(0, abs=0.003)
    assert KINDS["packed"].structure(layout).quads == len(layout.balloons) / per_layer


@pytest.mark.parametrize("pattern", ["stripes", "blocks"])
def test_a_packed_garland_takes_no_layer_more_than_its_length_asks_for(pattern):
    for feet in range(4, 40):
        layout = KINDS["packed"].lay_out(replace(PACKED, pattern=pattern, length_mm=feet * FOOT), inflated=BLOWN)
        middles = sorted({b.x for b in layout.balloons})
        apart = (middles[-1] - middles[0]) / (len(middles) - 1)
        assert (len(middles) - 2) * apart < 12 * feet <= (len(middles) + 1) * apart


def test_a_column_with_foil_stands_on_the_floor_and_as_high_as_it_says():
    layout = KINDS["packed"].lay_out(COLUMN, inflated=BLOWN)
    assert layout.bounds().bottom == pytest.approx(0, abs=0.001)
    assert layout.bounds().top == pytest.approx(-layout.length, abs=0.001)
    assert layout.length == pytest.approx(72, abs=4)


def test_a_round_foil_topper_is_as_wide_as_the_same_foil_anywhere():
    spec = replace(COLUMN, topper=Topper(36, "gold"), colours=ALL)
    topper = KINDS["packed"].lay_out(spec, inflated=BLOWN).balloons[-1]
    assert topper.diameter == pytest.approx(36 * FOIL_SHRINKS, abs=0.001)


@pytest.mark.parametrize(
    "spec",
    [
        pytest.param(CEILING, id="one size"),
        pytest.param(replace(CEILING, per_hundred_ft2=130), id="close together"),
        pytest.param(replace(CEILING, mix=((11, 60), (18, 40)), per_hundred_ft2=65), id="two sizes"),
    ],
)
def test_balloons_under_a_ceiling_float_side_by_side(spec):
    balloons = KINDS["floats"].lay_out(spec, inflated=BLOWN).balloons
    pressed = [1 - dist((a.x, a.z), (b.x, b.z)) / ((a.diameter + b.diameter) / 2) for a, b in combinations(balloons, 2)]
    assert max(pressed) < 0.1


def test_more_foils_fit_under_a_ceiling_than_latex():
    spec = replace(CEILING, mix=((18, 100),), per_hundred_ft2=60)
    with pytest.raises(SpecErrors, match="per_hundred_ft2 must be at most"):
        KINDS["floats"].lay_out(replace(spec, colours=(("navy", 100),)), inflated=BLOWN)
    assert len(KINDS["floats"].lay_out(replace(spec, colours=ALL), inflated=BLOWN).balloons) == 72


def test_quads_of_foil_in_a_grid_are_drawn_in_about_their_middles():
    layout = KINDS["wall"].lay_out(replace(GRID, pattern="checks"), inflated=BLOWN)
    quads = [layout.balloons[n : n + 4] for n in range(0, len(layout.balloons), 4)]
    for quad in quads:
        assert len({b.colour for b in quad}) == 1
        gaps = sorted(dist((a.x, a.y, a.z), (b.x, b.y, b.z)) for a, b in combinations(quad, 2))
        assert gaps[0] == pytest.approx(quad[0].diameter, abs=0.003)


def test_foil_cannot_alternate_in_size_since_it_is_always_blown_full():
    with pytest.raises(SpecErrors) as refused:
        KINDS["wall"].lay_out(replace(GRID, alternate=True), inflated=BLOWN)
    assert [str(error) for error in refused.value] == [
        "alternate must be false where one of colours is foil, which cannot be blown smaller (got 50 percent foil)"
    ]
    assert KINDS["wall"].lay_out(replace(GRID, alternate=True)).balloons


def test_foil_is_blown_full_whatever_latex_is_blown_to():
    spec = replace(PACKED, diameter_mm=8 * INCH)
    sizes = {(b.colour, b.diameter) for b in KINDS["packed"].lay_out(spec, inflated=BLOWN).balloons}
    assert sizes == {("navy", 8.0), ("gold", round(11 * FOIL_SHRINKS, 3))}


def test_latex_too_small_for_helium_is_refused_and_foil_is_left_to_the_advice():
    spec = replace(PACKED, size=6, helium=True)
    with pytest.raises(SpecErrors, match="must take 9-inch balloons or larger to float"):
        KINDS["packed"].lay_out(spec, inflated=BLOWN)
    assert KINDS["packed"].lay_out(replace(spec, colours=ALL), inflated=BLOWN).balloons


def test_sizes_are_as_wide_by_volume_as_latex_and_foil_together():
    mean = BLOWN.on_average((("navy", 75), ("gold", 25)))
    assert mean[11] ** 3 == pytest.approx(0.75 * 9.5**3 + 0.25 * (11 * FOIL_SHRINKS) ** 3)
    assert BLOWN.on_average((("navy", 60), ("sand", 40))) is BLOWN


@pytest.mark.django_db
@pytest.mark.parametrize("form", ["round", "heart", "star"])
def test_a_colour_of_the_shelf_that_is_foil_is_laid_out_and_filled_as_foil(form):
    latex, foil = ColourFactory(name="Harbour"), ColourFactory(name="Brass", finish="foil", form=form)
    assert inflated_in_force().foils == {foil.key: form}
    spec = replace(CEILING, colours=((latex.key, 50), (foil.key, 50)), mix=((18, 100),), per_hundred_ft2=40)
    layout = laid_out("floats", spec)
    wide = {b.colour: b.diameter for b in layout.balloons}
    assert wide == {latex.key: 18.0, foil.key: round(18 * FOIL_SHRINKS, 3)}
    filled = [b for b in layout.in_foil(inflated_in_force().foils).balloons if b.colour == foil.key]
    assert {litres_of(b) for b in filled} == {FOILS[form, 18][0] * LITRES_PER_FT3}


@pytest.mark.django_db
def test_a_colour_of_latex_makes_no_table_of_foils():
    ColourFactory(name="Harbour")
    assert inflated_in_force() == Diameters()
    assert inflated_in_force(()) == Diameters()


def test_a_bouquet_of_foil_is_as_it_was():
    spec = BouquetSpec(latex=(("navy", 11, 5),), foils=(("gold", 18, "round", 2),))
    assert KINDS["bouquet"].lay_out(spec, inflated=BLOWN) == KINDS["bouquet"].lay_out(spec)
