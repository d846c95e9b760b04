import json
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from itertools import combinations, pairwise
from math import hypot

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating.drawing import Swatch, discs, svg
from estimating.kinds.string_arch import StringArchSpec, advice, hardware, lay_out, tasks
from estimating.lines import Site, Task
from estimating.materials import MaterialRules, materials
from estimating.specs import OwnFigures, SpecErrors

INCH = Decimal("25.4")
FOOT = 12 * INCH
TURNS = (("navy", 1), ("white", 1), ("coral", 1))
ARCH = StringArchSpec(TURNS, size=11, span_mm=10 * FOOT, rise_mm=8 * FOOT)
PALETTE = {key: Swatch("#1f3a5f", key.title()) for key in ("navy", "white", "coral")}


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param({"rise_mm": None}, "rise_mm must be given: two of span, rise and length", id="one measure"),
        pytest.param(
            {"length_mm": 9 * FOOT}, "length_mm must be more than the span of 120 in (got 108 in)", id="too short"
        ),
        pytest.param(
            {"length_mm": 40 * FOOT}, "for a span of 120 in and a rise or sag of 96 in (got 480 in)", id="three at odds"
        ),
        pytest.param({"span_mm": FOOT}, "span_mm must be from 2 ft to 200 ft", id="no arch"),
        pytest.param({"spacing_mm": INCH}, "spacing_mm must be from 2 in to 5 ft", id="too close"),
        pytest.param({"size": None}, "size must be given, or diameter_mm", id="no balloon"),
        pytest.param({"colours": ()}, "colours must name from 1 to 12 (got 0)", id="no colour"),
        pytest.param(
            {"colours": (("navy", 0),)}, "colours must be a whole number from 1 to 100 (got 0)", id="none of one"
        ),
        pytest.param({"colours_by": "mood"}, "colours_by must be one of percent, count (got mood)", id="by mood"),
        pytest.param({"colours_by": "percent"}, "colours must add up to 100 percent (got 3 percent)", id="percent"),
        pytest.param({"helium": 1}, "helium must be true or false (got 1)", id="helium"),
        pytest.param({"extras": (("fern", 1),)}, "extras must be the key of an item (got 'fern')", id="extras"),
    ],
)
def test_what_cannot_be_is_refused_with_field_rule_and_value(changed, said):
    with pytest.raises(SpecErrors) as errors:
        replace(ARCH, **changed)
    assert said in str(errors.value)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param(
            {"size": 5}, "size must take 9-inch balloons or larger to float (got 5-inch)", id="too small to float"
        ),
        pytest.param(
            {"diameter_mm": Decimal("6.5") * INCH},
            "diameter_mm must be more than 7 in across for 11-inch balloons of 3 g to float on helium (got 6.5 in)",
            id="blown too little to float",
        ),
        pytest.param(
            {"spacing_mm": 6 * INCH},
            "spacing_mm must be at least 10.8 in for 11-inch balloons blown so far (got 6 in)",
            id="they would press on each other",
        ),
        pytest.param(
            {"span_mm": 3 * FOOT, "rise_mm": 2 * FOOT, "spacing_mm": 5 * FOOT},
            "spacing_mm must be at most",
            id="two balloons are no arch",
        ),
        pytest.param(
            {"colours": (("navy", 99), ("white", 1)), "colours_by": "percent"},
            "colours must each come to at least one of the 20 balloons (got 1)",
            id="a hundredth of twenty",
        ),
    ],
)
def test_balloons_that_do_not_fit_the_line_are_refused_with_what_would_work(changed, said):
    with pytest.raises(SpecErrors) as errors:
        lay_out(replace(ARCH, **changed))
    assert said in str(errors.value)


def test_a_string_arch_spec_is_the_same_after_a_trip_through_json():
    spec = replace(ARCH, extras=(("3", 2),), doubled=(("navy", "white"),), diameter_mm=Decimal("260.35"), outdoors=True)
    assert StringArchSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec


def test_a_spec_kept_with_what_was_typed_can_be_read():
    assert StringArchSpec.from_json(ARCH.to_json() | {"typed": {"span": "10 ft"}}) == ARCH


def test_everything_about_a_string_arch_is_worked_out():
    assert ARCH.own_figures() == OwnFigures()


def test_20_ft_of_line_holds_a_balloon_every_foot():
    layout = lay_out(replace(ARCH, rise_mm=None, length_mm=20 * FOOT))
    assert len(layout.balloons) == 20
    assert layout.length == pytest.approx(240)
    assert layout.notes == ()


def test_spacing_that_does_not_come_out_even_is_said():
    layout = lay_out(replace(ARCH, rise_mm=None, length_mm=14 * FOOT, spacing_mm=16 * INCH))
    assert len(layout.balloons) == 10
    assert layout.notes == ("10 balloons are evened out to one every 16.8 in.",)


def test_it_takes_its_helium_and_weights_that_hold_its_lift():
    """Twenty of 10.75 in hold 0.376 ft³ and lift 11.0 g each less 3 g of latex: 160 g, held by one and a half times."""
    lines = {line.sort: line.needed for line in hardware(ARCH, lay_out(ARCH), Site())}
    assert lines["gas"] == pytest.approx(20 * 0.3764 * 28.317, rel=0.01)
    assert lines["weight"] == 2


def test_air_on_a_pole_takes_two_weights_and_no_helium():
    spec = replace(ARCH, helium=False)
    assert [(line.sort, line.needed) for line in hardware(spec, lay_out(spec), Site())] == [("weight", 2)]


def test_a_long_line_takes_more_weights():
    spec = replace(ARCH, span_mm=60 * FOOT, rise_mm=30 * FOOT)
    lines = {line.sort: line.needed for line in hardware(spec, lay_out(spec), Site())}
    assert lines["weight"] > 2


def test_a_line_that_will_not_float_long_enough_is_said():
    assert len(advice(ARCH, lay_out(ARCH), Site(hours_afloat=24))) == 1
    assert advice(ARCH, lay_out(ARCH), Site(hours_afloat=4)) == ()


def test_colours_follow_each_other_in_turn():
    colours = [b.colour for b in lay_out(replace(ARCH, colours=(("navy", 2), ("white", 1)))).balloons]
    assert colours[:7] == ["navy", "navy", "white", "navy", "navy", "white", "navy"]


def test_colours_by_percent_are_shared_exactly_and_kept_apart():
    spec = replace(ARCH, colours=(("navy", 50), ("white", 50)), colours_by="percent")
    colours = [b.colour for b in lay_out(spec).balloons]
    assert Counter(colours) == {"navy": 10, "white": 10}
    assert sum(a == b for a, b in pairwise(colours)) <= 4


def test_helium_stands_up_from_its_line_and_air_straight_out_from_its_pole():
    floating, stiff = lay_out(ARCH).balloons[0], lay_out(replace(ARCH, helium=False)).balloons[0]
    assert (floating.gas, stiff.gas) == ("helium", "air")
    assert floating.y < stiff.y
    assert stiff.x < floating.x < 6


def test_an_arch_that_rises_as_far_as_asked_keeps_off_the_floor():
    layout = lay_out(ARCH)
    assert min(y for _, y in layout.spine) == pytest.approx(-96, abs=0.05)
    assert max(b.y + b.diameter / 2 for b in layout.balloons) <= 0
    assert layout.points == ()
    assert layout.strings == (layout.spine,)
    assert layout.setting.weights == (layout.spine[0], layout.spine[-1])


@settings(max_examples=40, deadline=None)
@given(
    span=st.integers(36, 360),
    flat=st.floats(0.15, 2.0),
    size=st.sampled_from([9, 11, 16]),
    spacing=st.integers(5, 30),
    helium=st.booleans(),
    doubled=st.booleans(),
)
def test_every_balloon_is_drawn_counted_and_needed_and_none_overlaps_the_next(
    span, flat, size, spacing, helium, doubled
):
    spec = StringArchSpec(
        TURNS,
        size=size,
        span_mm=span * INCH,
        rise_mm=max(24, round(span * flat)) * INCH,
        spacing_mm=spacing * INCH,
        helium=helium,
        doubled=(("navy", "white"),) if doubled else (),
    )
    try:
        layout = lay_out(spec)
    except SpecErrors as errors:
        assume("spacing_mm" not in str(errors) and "colours" not in str(errors))
        raise
    drawn = Counter((disc.colour, disc.size) for disc in discs(layout))
    if doubled:
        drawn["white", size] += drawn["navy", size]
    made = materials(layout, rules=MaterialRules(), outdoors=False)
    needed = {(line.colour, line.size): line.needed for line in made.lines if line.sort == "latex"}
    assert drawn == layout.counts() == Counter(needed)
    assert svg(layout, PALETTE, title="An arch").count("<circle") == len(layout.balloons)
    for a, b in combinations(layout.balloons, 2):
        assert hypot(a.x - b.x, a.y - b.y) >= 0.97 * a.diameter
    assert lay_out(spec) == layout


def test_what_floats_on_a_line_is_sealed_where_it_is_asked_for():
    sealed = replace(ARCH, sealed=True)
    layout = lay_out(sealed)

    assert tasks(sealed, layout) == (Task("sealed", len(layout.balloons)),)
    assert tasks(ARCH, layout) == ()
    assert tasks(replace(sealed, helium=False), lay_out(replace(sealed, helium=False))) == ()
    assert advice(sealed, layout, Site(hours_afloat=48)) == ()


def test_small_foil_on_a_line_is_said_not_to_carry_itself():
    spec = replace(ARCH, size=9)
    said = advice(spec, lay_out(spec).in_foil({key: "round" for key, _ in spec.colours}), Site())
    assert said == ("A 9-inch foil does not carry itself on helium: fill it with air, or take a larger one.",)
