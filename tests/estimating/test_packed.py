import json
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from itertools import combinations
from math import dist, pi

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating.drawing import Swatch, discs, svg
from estimating.kinds.packed import PackedSpec, Topper, advice, hardware, lay_out, structure
from estimating.lines import Site
from estimating.materials import MaterialRules, materials
from estimating.scenery import RAIL_EDGE
from estimating.specs import OwnFigures, SpecErrors
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


def refused(spec, **changed):
    """What is said of a spec changed so."""
    with pytest.raises(SpecErrors) as errors:
        replace(spec, **changed)
    return str(errors.value)


@pytest.mark.parametrize(
    ("spec", "changed", "said"),
    [
        pytest.param(GARLAND, {"form": "wreath"}, "form must be one of garland, arch, column (got wreath)", id="form"),
        pytest.param(GARLAND, {"pattern": "plaid"}, "pattern must be one of spiral, stripes, blocks", id="pattern"),
        pytest.param(GARLAND, {"per_layer": 7}, "per_layer must be a whole number from 2 to 6 (got 7)", id="sevens"),
        pytest.param(
            GARLAND,
            {"compression_percent": 31},
            "compression_percent must be a whole number from 0 to 30",
            id="crushed",
        ),
        pytest.param(GARLAND, {"colours": (("navy", 60),)}, "colours must add up to 100 percent", id="not all"),
        pytest.param(GARLAND, {"size": None}, "size must be given, or diameter_mm", id="no balloon"),
        pytest.param(GARLAND, {"length_mm": None}, "length_mm must be given (got nothing)", id="no length"),
        pytest.param(
            GARLAND,
            {"span_mm": 8 * FOOT},
            "span_mm must be left out for garlands whose shape is straight",
            id="a span",
        ),
        pytest.param(GARLAND, {"length_mm": 300 * FOOT}, "length_mm must be from 1 ft to 200 ft", id="too long"),
        pytest.param(GARLAND, {"base": "weighted"}, "base must be none for a garland, which hangs (form)", id="base"),
        pytest.param(
            GARLAND, {"topper": Topper(24, "navy")}, "topper must be left out for garlands: only columns", id="topper"
        ),
        pytest.param(
            ARCH,
            {"length_mm": 18 * FOOT},
            "length_mm must be 248.3 in for a span of 120 in and a rise or sag of 96 in (got 216 in)",
            id="three",
        ),
        pytest.param(ARCH, {"rise_mm": None}, "rise_mm must be given: two of span, rise and length", id="one of three"),
        pytest.param(
            ARCH,
            {"rise_mm": None, "length_mm": 9 * FOOT},
            "length_mm must be more than the span of 120 in (got 108 in)",
            id="too short to span",
        ),
        pytest.param(ARCH, {"height_mm": FOOT}, "height_mm must be left out for arches", id="an arch's height"),
        pytest.param(COLUMN, {"height_mm": None}, "height_mm must be given", id="no height"),
        pytest.param(COLUMN, {"length_mm": FOOT}, "length_mm must be left out for columns", id="a column's length"),
        pytest.param(COLUMN, {"helium": True}, "helium must be false for a column, which stands", id="helium"),
        pytest.param(COLUMN, {"topper": Topper(13, "navy")}, "topper must be one of 3, 5, 6", id="topper's size"),
        pytest.param(
            COLUMN,
            {"topper": Topper(24, "navy", "star")},
            "topper must be one of 18, 36 for a foil star (got 24)",
            id="foil",
        ),
        pytest.param(COLUMN, {"topper": Topper(24, "")}, "topper must be the key of a colour", id="topper's colour"),
        pytest.param(
            COLUMN, {"doubled": (("sand", "white"),)}, "doubled must double colours of the piece", id="double"
        ),
        pytest.param(
            COLUMN,
            {"colours_by": "count", "colours": (("navy", 2), ("white", 1))},
            "colours must add up to the 4 balloons of a layer in a spiral (per_layer) (got 3)",
            id="three places of four",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_field_rule_and_value(spec, changed, said):
    assert said in refused(spec, **changed)


@pytest.mark.parametrize(
    ("spec", "said"),
    [
        pytest.param(
            replace(ARCH, rise_mm=2 * FOOT),
            "rise_mm must be from 27 in to 313 in for a span of 120 in and layers 23 in wide (got 24 in)",
            id="a low arch turns too sharply at its feet",
        ),
        pytest.param(
            replace(ARCH, span_mm=FOOT),
            "span_mm must make a span of at least 23 in for layers 23 in wide (got 12 in)",
            id="legs inside each other",
        ),
        pytest.param(
            replace(SWAG, span_mm=2 * FOOT, rise_mm=10 * FOOT),
            "rise_mm must be at most 6 in for a span of 24 in and layers 23 in wide (got 120 in)",
            id="a swag as narrow as itself",
        ),
        pytest.param(
            replace(ARCH, rise_mm=None, length_mm=Decimal("10.1") * FOOT),
            "length_mm must make a rise from 27 in to 313 in for a span of 120 in",
            id="a low arch told by its length",
        ),
        pytest.param(
            replace(COLUMN, size=36, height_mm=FOOT),
            "height_mm must be at least 63 in for two layers of balloons 34 in across (got 12 in)",
            id="one layer",
        ),
        pytest.param(
            replace(ARCH, helium=True, size=5),
            "size must take 9-inch balloons or larger to float (got 5-inch)",
            id="too small to float",
        ),
        pytest.param(
            replace(ARCH, helium=True, diameter_mm=7 * INCH, doubled=(("white", "navy"),)),
            "diameter_mm must be more than 8.8 in across for 11-inch balloons of 6 g to float on helium (got 7 in)",
            id="too heavy to float",
        ),
        pytest.param(
            replace(COLUMN, topper=Topper(9, "navy")),
            "topper must be a size that is at least as wide as the column's balloons, 9.5 in (got 9-inch, 7.12 in)",
            id="it would drop in",
        ),
        pytest.param(
            replace(COLUMN, colours=(("navy", 90), ("white", 10))),
            "colours must each come to at least one of the 4 places of a layer (pattern spiral) (got 10 percent)",
            id="a tenth of four places",
        ),
        pytest.param(
            replace(COLUMN, pattern="blocks", colours=(("navy", 98), ("white", 2))),
            "colours must each come to at least one of 9 whole layers (pattern blocks) (got 2 percent)",
            id="a fiftieth of nine layers",
        ),
    ],
)
def test_balloons_that_do_not_fit_are_refused_with_what_would_work(spec, said):
    with pytest.raises(SpecErrors) as errors:
        lay_out(spec)
    assert said in str(errors.value)


@pytest.mark.parametrize(
    "spec",
    [
        GARLAND,
        SWAG,
        replace(ARCH, base="weighted", outdoors=True, extras=(("12", 3),), doubled=(("navy", "sand"),)),
        replace(COLUMN, topper=Topper(36, "coral", "star"), diameter_mm=Decimal("254.5"), colours_by="percent"),
    ],
    ids=["garland", "swag", "arch", "column"],
)
def test_a_packed_spec_is_the_same_after_a_trip_through_json(spec):
    assert PackedSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec


def test_a_spec_kept_with_what_was_typed_or_before_a_field_was_new_can_be_read():
    data = COLUMN.to_json() | {"typed": {"height": "6 ft"}}
    del data["extras"]
    assert PackedSpec.from_json(data) == COLUMN


def test_everything_about_a_packed_piece_is_worked_out():
    assert GARLAND.own_figures() == OwnFigures()


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


def test_helium_goes_into_every_balloon_of_an_arch_that_floats():
    assert {b.gas for b in lay_out(replace(ARCH, helium=True)).balloons} == {"helium"}
    assert {b.gas for b in lay_out(ARCH).balloons} == {"air"}


def test_what_floats_is_filled_fuller_than_with_air():
    assert {b.diameter for b in lay_out(replace(ARCH, helium=True)).balloons} == {10.75}
    assert {b.diameter for b in lay_out(replace(ARCH, helium=True, diameter_mm=9 * INCH)).balloons} == {9.0}


@pytest.mark.parametrize(
    ("spec", "weights"),
    [
        pytest.param(COLUMN, 0, id="a column on its own foot"),
        pytest.param(replace(COLUMN, base="weighted"), 1, id="a weighted column"),
        pytest.param(replace(ARCH, base="weighted"), 2, id="a weighted arch"),
        pytest.param(GARLAND, 0, id="a garland"),
    ],
)
def test_each_weighted_foot_takes_a_weight_and_air_takes_no_helium(spec, weights):
    lines = hardware(spec, lay_out(spec), Site())
    assert {line.sort: line.needed for line in lines} == ({"weight": weights} if weights else {})


def test_a_floating_arch_takes_its_helium_and_weights_that_hold_its_lift():
    spec = replace(ARCH, helium=True)
    layout = lay_out(spec)
    taken = {line.sort: line.needed for line in hardware(spec, layout, Site())}
    litres = len(layout.balloons) * pi / 6 * 10.75**3 * 0.016387064
    assert taken["gas"] == pytest.approx(litres, rel=0.01)
    assert taken["weight"] * 170 > 1.5 * len(layout.balloons) * (litres / len(layout.balloons) * 1.0 - 3)


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
            ("26 whole layers make 20 ft 2 in (6.15 m); 20 ft (6.10 m) was asked for.",),
            id="a garland longer than asked",
        ),
        pytest.param(
            replace(COLUMN, diameter_mm=10 * INCH, height_mm=78 * INCH),
            ("9 whole layers make 6 ft 5 in (1.96 m); 6 ft 6 in (1.98 m) was asked for.",),
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
            ("With its topper it stands 7 ft 10 in (2.39 m) tall.",),
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


@pytest.mark.parametrize(
    ("per_layer", "pairs", "clusters", "left"),
    [
        pytest.param(4, 18, 4, 1, id="9 quads of two pairs"),
        pytest.param(5, 18, 4, 1, id="9 fives of a pair and a trio"),
        pytest.param(6, 27, 4, 1, id="9 sixes of three pairs"),
    ],
)
def test_layers_are_tied_from_pairs_and_joined_in_twos(per_layer, pairs, clusters, left):
    tied = structure(lay_out(replace(COLUMN, per_layer=per_layer, topper=Topper(24, "coral"))))
    assert (tied.pairs, tied.quads, tied.clusters, tied.quads_left) == (pairs, 9, clusters, left)
    assert tied.toppers == 1


def test_a_floating_arch_that_will_not_last_is_said_and_one_of_air_is_not():
    floating = replace(ARCH, helium=True)
    said = advice(floating, lay_out(floating), Site(hours_afloat=24))
    assert len(said) == 1
    assert said[0].startswith("A 11-inch floats") or said[0].startswith("An 11-inch floats")
    assert advice(floating, lay_out(floating), Site(hours_afloat=4)) == ()
    assert advice(ARCH, lay_out(ARCH), Site(hours_afloat=240)) == ()


def test_a_studio_that_pushes_layers_closer_takes_more_of_them():
    touching = replace(GARLAND, diameter_mm=11 * INCH, length_mm=20 * FOOT)
    assert len(lay_out(replace(touching, compression_percent=15)).balloons) == 4 * 31
    assert lay_out(replace(touching, compression_percent=15)).width == lay_out(touching).width
