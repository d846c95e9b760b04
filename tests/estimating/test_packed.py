from collections import Counter
from dataclasses import replace
from decimal import Decimal
from itertools import combinations
from math import dist

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating.drawing import Swatch, discs, svg
from estimating.kinds.packed import PackedSpec, Topper, lay_out
from estimating.materials import MaterialRules, materials
from estimating.scenery import RAIL_EDGE
from estimating.specs import SpecErrors
from estimating.stacking import outer_width

INCH = Decimal("25.4")
FOOT = 12 * INCH
TWO = (("navy", 50), ("white", 50))

GARLAND = PackedSpec("garland", TWO, size=11, length_mm=16 * FOOT, shape="straight")
SWAG = PackedSpec("garland", TWO, size=11, span_mm=12 * FOOT, rise_mm=3 * FOOT)
ARCH = PackedSpec("arch", TWO, size=11, span_mm=10 * FOOT, rise_mm=8 * FOOT)
COLUMN = PackedSpec("column", TWO, size=11, height_mm=6 * FOOT)

PALETTE = {key: Swatch("#1f3a5f", key.title()) for key in ("navy", "white", "coral", "sand")}

inches = st.integers(60, 400).map(lambda number: number * INCH)
measures = st.one_of(
    st.fixed_dictionaries(
        {
            "form": st.just("garland"),
            "length_mm": inches,
            "shape": st.sampled_from(["straight", "swag", "doorway"]),
        }
    ),
    st.fixed_dictionaries({"form": st.just("arch"), "span_mm": inches, "rise_mm": inches}),
    st.fixed_dictionaries(
        {
            "form": st.just("column"),
            "height_mm": inches,
            "topper": st.sampled_from([None, Topper(36, "coral"), Topper(36, "sand", foil=True)]),
        }
    ),
)
choices = st.fixed_dictionaries(
    {
        "colours": st.sampled_from([TWO, (("navy", 25), ("white", 50), ("coral", 25)), (("sand", 100),)]),
        "size": st.sampled_from([5, 9, 11, 16]),
        "per_layer": st.sampled_from([4, 5, 6]),
        "pattern": st.sampled_from(["spiral", "stripes", "blocks"]),
        "compression_percent": st.sampled_from([0, 10]),
    }
)


@st.composite
def specs(draw):
    """A packed piece of any form that can be made."""
    made = PackedSpec(**draw(measures), **draw(choices))
    if draw(st.booleans()):
        made = replace(made, doubled=((made.colours[0][0], "white"),))
    try:
        lay_out(made)
    except SpecErrors as errors:
        assert made.form == "arch", errors  # Only an arch can turn too sharply, or have legs too near each other.
        assume(False)
    return made


@settings(max_examples=25, deadline=None)
@given(specs())
def test_discs_drawn_are_balloons_counted_are_balloons_needed(spec):
    layout = lay_out(spec)
    drawn = Counter((disc.colour, disc.size) for disc in discs(layout))
    drawn.update((balloon.inner, balloon.size) for balloon in layout.balloons if balloon.inner is not None)
    made = materials(layout, rules=MaterialRules(), outdoors=False)
    needed = Counter({(line.colour, line.size): line.needed for line in made.lines if line.sort == "latex"})
    assert drawn == layout.counts() == needed
    assert svg(layout, PALETTE, title="A piece").count("<circle") == len(layout.balloons)


@settings(max_examples=25, deadline=None)
@given(specs())
def test_only_whole_layers_are_made_and_the_same_each_time(spec):
    layout = lay_out(spec)
    parts = Counter(balloon.part for balloon in layout.balloons)
    assert parts["packed"] % spec.per_layer == 0
    assert parts["topper"] == (spec.topper is not None)
    assert lay_out(spec) == layout


@pytest.mark.parametrize("per_layer", [4, 5, 6])
@pytest.mark.parametrize("spec", [GARLAND, COLUMN], ids=["garland", "column"])
def test_a_straight_piece_is_as_wide_as_its_layers_and_no_two_balloons_overlap(spec, per_layer):
    layout = lay_out(replace(spec, per_layer=per_layer))
    left, top, right, bottom = layout.bounds()
    thickness = bottom - top if spec is GARLAND else right - left
    assert thickness == pytest.approx(outer_width(per_layer, 9.5), rel=0.06)
    assert layout.width == pytest.approx(outer_width(per_layer, 9.5), abs=0.001)
    gaps = [dist((a.x, a.y, a.z), (b.x, b.y, b.z)) for a, b in combinations(layout.balloons, 2)]
    assert min(gaps) == pytest.approx(9.5, abs=0.003)


def test_a_quad_piece_is_1_plus_root_2_diameters_wide():
    assert lay_out(replace(GARLAND, diameter_mm=10 * INCH)).width == pytest.approx(24.142, abs=0.001)


def test_an_arch_stands_with_both_feet_on_the_floor():
    layout = lay_out(ARCH)
    assert layout.bounds().bottom == pytest.approx(0, abs=0.3)
    first, last = layout.balloons[:4], layout.balloons[-4:]
    for foot, at in ((first, 0), (last, 120)):
        assert max(b.y + b.diameter / 2 for b in foot) == pytest.approx(0, abs=0.3)
        assert sum(b.x for b in foot) / 4 == pytest.approx(at, abs=0.5)
    assert layout.points == ()


def test_a_column_stands_on_the_floor():
    layout = lay_out(COLUMN)
    assert layout.bounds().bottom == pytest.approx(0, abs=0.001)
    assert layout.bounds().top == pytest.approx(-layout.length, abs=0.001)
    assert layout.points == ()


def test_a_garland_hangs_from_points_worked_out_from_its_line():
    assert lay_out(GARLAND).points is None


def test_a_topper_rests_in_the_top_layer_without_pressing_into_it():
    *stack, topper = lay_out(replace(COLUMN, topper=Topper(36, "coral"))).balloons
    assert (topper.part, topper.size, topper.colour, topper.form) == ("topper", 36, "coral", "round")
    gaps = [dist((b.x, b.y, b.z), (topper.x, topper.y, topper.z)) - (b.diameter + topper.diameter) / 2 for b in stack]
    assert sorted(gaps)[:4] == pytest.approx([0, 0, 0, 0], abs=0.003)
    assert min(gaps) > -0.003


def test_a_foil_star_may_crown_a_column():
    topper = lay_out(replace(COLUMN, topper=Topper(36, "coral", "star"))).balloons[-1]
    assert topper.form == "star"
    assert 27 < topper.diameter < 28, "foil is narrower full than flat"


def test_a_double_stuffed_colour_takes_two_balloons_each():
    plain, doubled = lay_out(COLUMN), lay_out(replace(COLUMN, doubled=(("navy", "coral"),)))
    assert doubled.counts()["coral", 11] == plain.counts()["navy", 11]
    assert doubled.counts().total() == plain.counts().total() * 3 // 2


def test_a_diameter_alone_takes_the_bag_that_the_studio_blows_nearest_to_it():
    spec = replace(COLUMN, size=None, diameter_mm=Decimal("9.5") * INCH)
    assert {(b.size, b.diameter) for b in lay_out(spec).balloons} == {(11, 9.5)}
    assert {(b.size, b.diameter) for b in lay_out(spec, inflated={10: 9.5, 11: 8.0}).balloons} == {(10, 9.5)}


def test_the_studios_own_inflated_diameter_is_used():
    assert {b.diameter for b in lay_out(COLUMN, inflated={11: 10.0}).balloons} == {10.0}


@pytest.mark.parametrize(
    ("spec", "notes"),
    [
        pytest.param(
            replace(GARLAND, diameter_mm=11 * INCH, length_mm=20 * FOOT),
            ("26 whole layers make 242.2 in; 240.0 in was asked for.",),
            id="a garland longer than asked",
        ),
        pytest.param(
            replace(COLUMN, diameter_mm=10 * INCH, height_mm=78 * INCH),
            ("9 whole layers make 77.3 in; 78.0 in was asked for.",),
            id="a column lower than asked",
        ),
        pytest.param(ARCH, ("32 layers fit from foot to foot pushed 4 percent closer.",), id="an arch evened out"),
        pytest.param(
            replace(COLUMN, height_mm=Decimal("73.4") * INCH, colours=(("navy", 60), ("white", 40))),
            ("In the 4 places of a layer the colours come to 50, 50 percent.",),
            id="a spiral goes by quarters",
        ),
        pytest.param(
            replace(COLUMN, height_mm=Decimal("73.4") * INCH, topper=Topper(24, "coral")),
            ("With its topper it stands 93.9 in tall.",),
            id="a topper adds to the height",
        ),
    ],
)
def test_what_whole_layers_make_of_a_spec_is_said(spec, notes):
    assert lay_out(spec).notes == notes


@pytest.mark.parametrize(
    ("spec", "asked"),
    [
        pytest.param(replace(SWAG, span_mm=None, length_mm=14 * FOOT), "span", id="from sag and length"),
        pytest.param(replace(SWAG, rise_mm=None, length_mm=14 * FOOT), "rise", id="from span and length"),
    ],
)
def test_a_swag_takes_any_two_of_span_sag_and_length(spec, asked):
    layout = lay_out(spec)
    assert layout.length == pytest.approx(168, abs=0.01)
    assert getattr(spec.arc(), asked) == pytest.approx(spec.arc()._asdict()[asked])
    assert max(y for _, y in layout.spine) == pytest.approx(spec.arc().rise, abs=0.02)


@pytest.mark.parametrize(
    ("spec", "hangs"),
    [
        pytest.param(GARLAND, True, id="garland"),
        pytest.param(ARCH, False, id="arch"),
        pytest.param(COLUMN, False, id="column"),
    ],
)
def test_a_garland_is_drawn_on_its_rail_and_what_stands_on_the_floor(spec, hangs):
    assert (RAIL_EDGE in svg(lay_out(spec), PALETTE, title="A piece")) == hangs


def test_a_studio_that_pushes_layers_closer_takes_more_of_them():
    touching = replace(GARLAND, diameter_mm=11 * INCH, length_mm=20 * FOOT)
    assert len(lay_out(replace(touching, compression_percent=15)).balloons) == 4 * 31
    assert lay_out(replace(touching, compression_percent=15)).width == lay_out(touching).width
