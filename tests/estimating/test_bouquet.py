import json
from collections import Counter
from decimal import Decimal
from math import sqrt

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating import gas
from estimating.drawing import Swatch, discs, svg, svg_for_paper
from estimating.hours import HourRates, work
from estimating.kinds import KINDS, BouquetSpec, SpecErrors
from estimating.layout import Layout
from estimating.lines import Site, Task
from estimating.materials import MaterialRules, materials

INCH = Decimal("25.4")
LATEX, FOIL = ("a", "b", "c"), {"h": ("#c02040", "heart"), "s": ("#d0a030", "star"), "r": ("#b0b4bc", "round")}
PALETTE = {key: Swatch(f"#{n}0{n}0{n}0", key) for n, key in enumerate(LATEX, start=3)} | {
    key: Swatch(tint, key, "foil", form) for key, (tint, form) in FOIL.items()
}
KIND = KINDS["bouquet"]
SPEC = BouquetSpec(latex=(("a", 11, 4), ("b", 11, 3)), foils=(("h", 18, "heart", 1), ("s", 18, "star", 1)))
SITE = Site()

specs = st.builds(
    BouquetSpec,
    latex=st.dictionaries(
        st.tuples(st.sampled_from(LATEX), st.sampled_from([9, 11, 12, 16])), st.integers(1, 4), min_size=1, max_size=4
    ).map(lambda found: tuple((colour, size, count) for (colour, size), count in found.items())),
    foils=st.sampled_from([(), (("h", 18, "heart", 2),), (("s", 36, "star", 1), ("r", 18, "round", 2))]),
    alike=st.integers(1, 3),
    height_mm=st.integers(60, 100).map(lambda inches: inches * INCH),
    helium=st.booleans(),
    seed=st.integers(0, 50),
)


def all_needed(spec, layout):
    listed = materials(
        layout,
        rules=MaterialRules(),
        outdoors=spec.outdoors,
        own=spec.own_figures(),
        extras=KIND.extras(spec, layout, SITE),
    )
    return {(line.colour, line.size): line.needed for line in listed.lines if line.sort == "latex"}


def line_of(spec, sort, site=SITE):
    layout = KIND.lay_out(spec)
    found = [line for line in KIND.extras(spec, layout, site) if line.sort == sort]
    return found[0] if found else None


@settings(max_examples=25, deadline=None)
@given(specs)
def test_what_is_drawn_is_counted_and_needed_and_asked_for(spec):
    try:
        layout = KIND.lay_out(spec)
    except SpecErrors:
        assume(False)
    asked = Counter({(c, size): n * spec.alike for c, size, n in spec.latex})
    asked.update({(c, size): n * spec.alike for c, size, _, n in spec.foils})
    assert Counter((disc.colour, disc.size) for disc in discs(layout)) == asked
    assert layout.counts() == asked
    assert all_needed(spec, layout) == asked
    picture = svg(layout, PALETTE, title="It")
    formed = sum(n for (colour, _), n in asked.items() if colour in "hs")
    assert (picture.count("<circle"), picture.count("data-form=")) == (asked.total() - formed, formed)
    assert svg_for_paper(layout, PALETTE, title="It").count("data-form=") == formed


@settings(max_examples=15, deadline=None)
@given(specs)
def test_balloons_of_a_bouquet_hardly_press_into_one_another(spec):
    try:
        balloons = KIND.lay_out(spec).balloons[: sum(n for *_, n in spec.latex) + sum(n for *_, n in spec.foils)]
    except SpecErrors:
        assume(False)
    for n, one in enumerate(balloons):
        for other in balloons[:n]:
            gap = sqrt((one.x - other.x) ** 2 + (one.y - other.y) ** 2 + (one.z - other.z) ** 2)
            assert gap > 0.62 * (one.diameter + other.diameter) / 2


def test_a_bouquet_is_as_high_as_asked_and_stands_on_its_weight():
    layout = KIND.lay_out(SPEC)
    bounds = layout.bounds()
    assert -bounds.top == pytest.approx(72, abs=1.5)
    assert bounds.bottom == 0
    assert all(string[-1] == (0.0, -3.0) for string in layout.strings)


def test_ribbons_are_of_staggered_length():
    lengths = {round(string[0][1]) for string in KIND.lay_out(SPEC).strings}
    assert len(lengths) >= 4


def test_each_of_several_bouquets_has_its_own_weight_and_they_stand_apart():
    layout = KIND.lay_out(BouquetSpec(latex=(("a", 11, 5),), alike=3))
    thirds = [layout.balloons[n : n + 5] for n in (0, 5, 10)]
    assert len(layout.setting.weights) == 3
    assert max(b.x + b.diameter / 2 for b in thirds[0]) < min(b.x - b.diameter / 2 for b in thirds[1])


def test_a_low_one_stands_on_a_table_and_a_high_one_on_the_floor():
    assert KIND.lay_out(BouquetSpec(latex=(("a", 11, 3),), height_mm=40 * INCH)).setting.table == 30
    assert KIND.lay_out(SPEC).setting.table == 0


def test_its_ribbon_weights_and_helium_are_counted():
    assert line_of(SPEC, "ribbon").needed == 45 - 5
    assert line_of(SPEC, "weight").needed == 1
    assert line_of(SPEC, "gas").needed == 98


def test_weights_hold_each_bouquet_by_itself():
    """Four bouquets pull as much as two weights hold, but each needs its own."""
    spec = BouquetSpec(latex=(("a", 11, 3),), alike=4)
    assert gas.weights_for(gas.lift_of(KIND.lay_out(spec).balloons, SITE)) == 1
    assert line_of(spec, "weight").needed == 4


def test_air_takes_no_ribbon_no_weight_and_no_helium():
    spec = BouquetSpec(latex=(("a", 11, 5), ("b", 5, 4)), helium=False)
    layout = KIND.lay_out(spec)
    assert KIND.extras(spec, layout, SITE) == ()
    assert KIND.tasks(spec, layout) == ()
    assert layout.strings == ()
    assert all(balloon.y + balloon.diameter / 2 <= 0.001 for balloon in layout.balloons)


def test_tying_ribbons_and_sealing_take_their_time():
    spec = BouquetSpec(latex=SPEC.latex, foils=SPEC.foils, sealed=True)
    layout = KIND.lay_out(spec)
    tasks = KIND.tasks(spec, layout)
    assert tasks == (Task("ribbon", 9), Task("sealed", 7))
    listed = materials(layout, rules=MaterialRules(), outdoors=False, own=spec.own_figures())
    steps = {step.name: step.minutes for step in work(listed, layout, rates=HourRates(), tasks=tasks)}
    assert (steps["Tie ribbons"], steps["Seal"]) == (5, 2)


def test_it_says_which_come_down_too_early():
    layout = KIND.lay_out(SPEC)
    assert KIND.advice(SPEC, layout, Site(hours_afloat=6)) == ()
    assert "seal it inside" in KIND.advice(SPEC, layout, Site(hours_afloat=20))[0]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        pytest.param({}, "latex and foils must be from 1 to 30 together (got 0)", id="nothing"),
        pytest.param({"latex": (("a", 5, 3),)}, "latex must be 9-inch or larger with helium", id="too small to float"),
        pytest.param({"latex": (("a", 11, 2), ("a", 11, 3))}, "latex must name each colour and size once", id="twice"),
        pytest.param({"foils": (("h", 24, "heart", 1),)}, "foils must be one of 18-inch round", id="no such foil"),
        pytest.param(
            {"latex": (("a", 11, 1),), "foils": (("a", 18, "star", 1),)},
            "foils must not be in a colour of latex (got a)",
            id="one colour as both",
        ),
        pytest.param(
            {"latex": (("a", 36, 3),), "height_mm": 48 * INCH},
            "height_mm must be at least 60 in for balloons of these sizes in latex and foils (got 48 in)",
            id="too low",
        ),
        pytest.param({"latex": (("a", 11, 3),), "alike": 61}, "alike must be a whole number from 1 to 60", id="many"),
        pytest.param({"latex": (("a", 11, 3),), "doubled": (("z", "a"),)}, "doubled must double colours", id="doubled"),
        pytest.param({"latex": (("a", 11, 3),), "extras": (("x", 1),)}, "extras must be the key of an item", id="item"),
    ],
)
def test_what_cannot_be_made_is_refused_with_both_fields(asked, said):
    with pytest.raises(SpecErrors) as refused:
        KIND.lay_out(BouquetSpec(**asked))
    assert said.replace("size once", "size only once") in str(refused.value)


def test_a_foil_that_sinks_in_the_mountains_is_said():
    """The place may be written down after the bouquet was made, so it is no refusal."""
    spec = BouquetSpec(foils=(("h", 18, "heart", 2),))
    layout = KIND.lay_out(spec)
    assert KIND.advice(spec, layout, Site()) == ()
    assert KIND.advice(spec, layout, Site(altitude_m=4000)) == (
        "An 18-inch foil does not carry itself on helium at 4,000 m above the sea: "
        "fill it with air, or take a larger one.",
    )


def test_a_doubled_colour_is_two_balloons_each_and_lifts_less():
    plain, doubled = (BouquetSpec(latex=(("a", 11, 5),), doubled=pairs) for pairs in ((), (("a", "b"),)))
    assert KIND.lay_out(doubled).counts() == {("a", 11): 5, ("b", 11): 5}
    lifts = [gas.lift_of(KIND.lay_out(spec).balloons, SITE) for spec in (plain, doubled)]
    assert lifts[0] - lifts[1] == pytest.approx(5 * gas.LATEX_GRAMS[11])


@pytest.mark.parametrize("spec", [SPEC, BouquetSpec(latex=(("a", 5, 9),), helium=False, extras=(("7", 2),))])
def test_spec_and_layout_are_the_same_after_a_trip_through_json(spec):
    assert BouquetSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec
    layout = KIND.lay_out(spec)
    assert Layout.from_json(json.loads(json.dumps(layout.to_json()))) == layout
    assert KIND.lay_out(spec) == layout
