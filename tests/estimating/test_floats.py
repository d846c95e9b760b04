import json
import re
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from math import hypot

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from estimating.drawing import Swatch, discs, svg
from estimating.kinds import KINDS, FloatsSpec, SpecErrors
from estimating.kinds.floats import SEEN_FROM_BELOW
from estimating.layout import Layout
from estimating.lines import Site, Task
from estimating.materials import MaterialRules, materials

FT = Decimal("304.8")
KIND = KINDS["floats"]
PALETTE = {"a": Swatch("#203050", "A"), "b": Swatch("#c79a3e", "B", "metallic"), "c": Swatch("#f1ead8", "C", "pearl")}
COLOURS = (("a", 50), ("b", 30), ("c", 20))
SPEC = FloatsSpec(20 * FT, 15 * FT, COLOURS)

specs = st.builds(
    FloatsSpec,
    width_mm=st.integers(1, 25).map(lambda feet: feet * FT),
    depth_mm=st.integers(1, 25).map(lambda feet: feet * FT),
    colours=st.just(COLOURS),
    mix=st.sampled_from([((11, 100),), ((9, 60), (11, 40)), ((11, 90), (16, 10))]),
    per_hundred_ft2=st.integers(5, 130),
    tail_mm=st.sampled_from([Decimal(0), 3 * FT]),
    seed=st.integers(0, 50),
)


def laid_out(spec):
    try:
        return KIND.lay_out(spec)
    except SpecErrors:
        assume(False)


def line_of(spec, sort):
    return {line.sort: line for line in KIND.extras(spec, KIND.lay_out(spec), Site())}[sort]


@settings(max_examples=25, deadline=None)
@given(specs)
def test_what_is_drawn_is_counted_and_needed_and_asked_for(spec):
    layout = laid_out(spec)
    counts = layout.counts()
    listed = materials(layout, rules=MaterialRules(), outdoors=False, own=spec.own_figures())
    assert counts.total() == spec.number()
    assert Counter((disc.colour, disc.size) for disc in discs(layout)) == counts
    assert {(line.colour, line.size): line.needed for line in listed.lines if line.sort == "latex"} == counts
    assert svg(layout, PALETTE, title="It").count("<circle") == spec.number()
    assert [line.sort for line in listed.lines if line.sort != "latex"] == []


@settings(max_examples=25, deadline=None)
@given(specs)
@example(replace(SPEC, width_mm=19 * FT, depth_mm=6 * FT, mix=((11, 90), (16, 10)), per_hundred_ft2=114, seed=0))
@example(replace(SPEC, width_mm=10 * FT, depth_mm=12 * FT, mix=((11, 97), (36, 3)), per_hundred_ft2=88, seed=4))
def test_balloons_float_side_by_side_within_their_area(spec):
    balloons = laid_out(spec).balloons
    width, depth = float(spec.width_mm / FT) * 12, float(spec.depth_mm / FT) * 12
    soft = 0.01 if len(spec.mix) == 1 else 0.11 * max(b.diameter for b in balloons)
    for b in balloons:
        assert b.y == pytest.approx(b.diameter / 2 - b.z * SEEN_FROM_BELOW, abs=0.002)
        for place, side in ((b.x, width), (-b.z, depth)):
            assert side < b.diameter or b.diameter / 2 - 0.001 <= place <= side - b.diameter / 2 + 0.001
    for n, one in enumerate(balloons[:120]):
        for other in balloons[:n]:
            near = (one.diameter + other.diameter) / 2
            assert hypot(one.x - other.x, one.z - other.z) > near - soft


@settings(max_examples=25, deadline=None)
@given(specs.filter(lambda spec: spec.per_hundred_ft2 > 60))
@example(replace(SPEC, width_mm=22 * FT, depth_mm=10 * FT, mix=((9, 50), (36, 50)), per_hundred_ft2=36, seed=0))
def test_the_most_that_is_named_does_float(spec):
    try:
        KIND.lay_out(spec)
    except SpecErrors as refusal:
        most = int(re.findall(r"at most (\d+)", str(refusal))[0])
        assert most == 1 or KIND.lay_out(replace(spec, per_hundred_ft2=most)).counts()
        assert most < spec.per_hundred_ft2


def test_rows_do_not_line_up_into_columns():
    rows = Counter(round(b.x) for b in KIND.lay_out(SPEC).balloons)
    assert max(rows.values()) < 10


def test_helium_and_ribbon_are_counted():
    assert line_of(SPEC, "gas").needed == 3199
    assert (line_of(SPEC, "ribbon").needed, line_of(SPEC, "ribbon").spares) == (900, 45)
    assert KIND.tasks(SPEC, KIND.lay_out(SPEC)) == (Task("ribbon", 300),)


def test_without_tails_there_is_no_ribbon():
    spec = FloatsSpec(10 * FT, 10 * FT, COLOURS, tail_mm=Decimal(0), sealed=True)
    layout = KIND.lay_out(spec)
    assert [line.sort for line in KIND.extras(spec, layout, Site())] == ["gas"]
    assert KIND.tasks(spec, layout) == (Task("sealed", 100),)


def test_it_says_which_come_down_too_early_and_to_ask_about_the_ceiling():
    layout = KIND.lay_out(SPEC)
    assert "sprinklers" in KIND.advice(SPEC, layout, Site())[-1]
    assert "seal it inside" in KIND.advice(SPEC, layout, Site(hours_afloat=12))[0]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param(
            {"per_hundred_ft2": 150},
            "for balloons in mix of 11-inch to float side by side (got 150)",
            id="too many for their size",
        ),
        pytest.param(
            {"tail_mm": 9 * FT}, "tail_mm must be at most 79 in under that ceiling_mm", id="tails on the floor"
        ),
        pytest.param({"mix": ((5, 100),)}, "mix must be 9-inch or larger to float", id="too small to float"),
        pytest.param({"outdoors": True}, "outdoors must be off: floats need the ceiling", id="no ceiling"),
        pytest.param(
            {"width_mm": 100 * FT, "depth_mm": 100 * FT},
            "per_hundred_ft2 must be at most 30 for that width_mm and depth_mm",
            id="too many in all",
        ),
        pytest.param({"ceiling_mm": 3 * FT}, "ceiling_mm must be from 6 ft to 40 ft", id="a kennel"),
    ],
)
def test_what_cannot_be_made_is_refused_with_both_fields(changed, said):
    asked = {"width_mm": 20 * FT, "depth_mm": 15 * FT, "colours": COLOURS} | changed
    with pytest.raises(SpecErrors) as refused:
        KIND.lay_out(FloatsSpec(**asked))
    assert said in str(refused.value)


def test_the_most_that_is_offered_fits():
    with pytest.raises(SpecErrors) as refused:
        KIND.lay_out(FloatsSpec(20 * FT, 15 * FT, COLOURS, per_hundred_ft2=400))
    (error,) = refused.value
    most = int(error.rule.split("at most ")[1].split()[0])
    assert len(KIND.lay_out(FloatsSpec(20 * FT, 15 * FT, COLOURS, per_hundred_ft2=most)).balloons) == 3 * most


def test_spec_and_layout_are_the_same_after_a_trip_through_json():
    spec = FloatsSpec(10 * FT, 10 * FT, COLOURS, ((9, 50), (16, 50)), 60, doubled=(("a", "b"),), extras=(("3", 1),))
    assert FloatsSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec
    layout = KIND.lay_out(spec)
    assert Layout.from_json(json.loads(json.dumps(layout.to_json()))) == layout
    assert KIND.lay_out(spec) == layout
