import json
from collections import Counter
from decimal import Decimal
from xml.etree import ElementTree

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating.drawing import Swatch, discs, svg, svg_for_paper
from estimating.kinds import KINDS, LetteredSpec, SpecErrors
from estimating.layout import Layout
from estimating.lines import Line, Site, Task
from estimating.materials import MaterialRules, materials

INCH = Decimal("25.4")
KIND = KINDS["lettered"]
PALETTE = {"a": Swatch("#203050", "A"), "b": Swatch("#f1ead8", "B", "clear")}
TEXT = "{http://www.w3.org/2000/svg}text"
SPEC = LetteredSpec("a", "Ida & Noor")
WIDE = LetteredSpec("a", "Happy Birthday Ida", decal_width_mm=70 * INCH, decal_height_mm=5 * INCH)

specs = st.builds(
    LetteredSpec,
    colour=st.sampled_from(["a", "b"]),
    text=st.sampled_from(["", "Love", "Happy Birthday Ida", "Seventy & Splendid"]),
    size=st.sampled_from([24, 30, 36]),
    decal_width_mm=st.integers(2, 60).map(lambda inches: inches * INCH),
    decal_height_mm=st.integers(1, 8).map(lambda inches: inches * INCH),
    surplus_percent=st.sampled_from([Decimal(2), Decimal(5)]),
    trim=st.sampled_from(["none", "tassel", "greenery"]),
    helium=st.booleans(),
    inner=st.sampled_from([None, "b"]),
)


def lines_of(spec):
    return {line.sort: line for line in KIND.extras(spec, KIND.lay_out(spec), Site())}


def texts(picture):
    return [element.text for element in ElementTree.fromstring(picture).iter(TEXT)]


@settings(max_examples=40, deadline=None)
@given(specs)
def test_what_is_drawn_is_counted_and_needed(spec):
    try:
        layout = KIND.lay_out(spec)
    except SpecErrors:
        assume(False)
    drawn = Counter((disc.colour, disc.size) for disc in discs(layout))
    drawn.update((disc.inner, disc.size) for disc in discs(layout) if disc.inner)
    listed = materials(layout, rules=MaterialRules(), outdoors=False, own=spec.own_figures())
    assert drawn == layout.counts()
    assert {(line.colour, line.size): line.needed for line in listed.lines if line.sort == "latex"} == drawn
    assert svg(layout, PALETTE, title="It").count("<circle") == len(layout.balloons)
    assert "".join(texts(svg(layout, PALETTE, title="It"))).replace(" ", "") == spec.text.replace(" ", "")


def test_a_decal_too_large_for_one_balloon_is_halved_over_two_and_both_are_counted():
    layout = KIND.lay_out(WIDE)
    assert layout.counts() == {("a", 36): 2}
    assert [words.text for words in layout.setting.words] == ["Happy", "Birthday Ida"]
    assert lines_of(WIDE)["decal"] == Line("decal", None, None, 2, 0)
    assert "halve it over two" in KIND.advice(WIDE, layout, Site())[0]


@pytest.mark.parametrize(
    ("width", "height", "said"),
    [
        pytest.param(8, 4, "lies on the balloon as it is: its rim is 1.1 % too long", id="whole"),
        pytest.param(
            20, 5, "To lie flat on a 36-inch, cut it into 2 pieces side by side. No balloon carries it", id="cut"
        ),
    ],
)
def test_it_says_how_the_lettering_goes_on(width, height, said):
    spec = LetteredSpec("a", "Love", decal_width_mm=width * INCH, decal_height_mm=height * INCH)
    assert said in KIND.advice(spec, KIND.lay_out(spec), Site())[0]


def test_it_says_which_larger_balloon_carries_the_lettering_whole():
    spec = LetteredSpec("a", "Love", size=24, decal_width_mm=9 * INCH, decal_height_mm=3 * INCH)
    assert "A 30-inch carries it whole." in KIND.advice(spec, KIND.lay_out(spec), Site())[0]


def test_fine_lettering_takes_a_decal_to_spare():
    assert lines_of(LetteredSpec("a", "Ida", script=True))["decal"].total == 2
    assert lines_of(LetteredSpec("a", "Ida"))["decal"].total == 1
    assert "decal" not in lines_of(LetteredSpec("a"))


def test_a_floating_one_takes_helium_weights_and_the_ribbon_of_its_tail_and_tassel():
    lines = lines_of(SPEC)
    assert (lines["weight"].needed, lines["gas"].needed) == (3, 369)
    assert lines["ribbon"].needed == 46
    assert lines_of(LetteredSpec("a", trim="none"))["ribbon"].needed == 4


def test_one_on_a_stand_takes_air_and_says_to_choose_its_stand():
    spec = LetteredSpec("a", "Ida", helium=False, trim="none")
    layout = KIND.lay_out(spec)
    assert [line.sort for line in KIND.extras(spec, layout, Site())] == ["decal"]
    assert "Choose the stand" in KIND.advice(spec, layout, Site())[-1]
    chosen = LetteredSpec("a", "Ida", helium=False, trim="none", extras=(("4", 1),))
    assert not any("Choose" in said for said in KIND.advice(chosen, layout, Site()))


def test_letters_and_ribbons_take_their_time():
    assert KIND.tasks(SPEC, KIND.lay_out(SPEC)) == (Task("letter", 8), Task("ribbon", 15))


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param({"size": 11}, "size must be a whole number from 24 to 36", id="a small balloon"),
        pytest.param({"size": 25}, "size must be one of 24, 30, 36", id="between sizes"),
        pytest.param({"text": "x" * 61}, "text must be at most 60 letters (got 61)", id="a novel"),
        pytest.param({"trim": "bells"}, "trim must be one of none, tassel, greenery (got bells)", id="another trim"),
        pytest.param(
            {"height_mm": 60 * INCH},
            "height_mm must be at least 74 in for size 36 with trim tassel (got 60 in)",
            id="a tassel on the floor",
        ),
        pytest.param(
            {"decal_height_mm": 15 * INCH}, "decal_height_mm must be under 12.0 in on a balloon 35 in", id="too high"
        ),
        pytest.param({"decal_width_mm": 150 * INCH}, "decal_width_mm must be at most 110 in over two", id="too wide"),
        pytest.param({"surplus_percent": Decimal(6)}, "surplus_percent must be from 0.1 to 5 (got 6)", id="pleats"),
    ],
)
def test_what_cannot_be_made_is_refused_with_both_fields(changed, said):
    with pytest.raises(SpecErrors) as refused:
        KIND.lay_out(LetteredSpec(**{"colour": "a", "text": "Love"} | changed))
    assert said in str(refused.value)


def test_lettering_reads_on_light_and_dark():
    inks = set()
    for colour in "ab":
        root = ElementTree.fromstring(svg(KIND.lay_out(LetteredSpec(colour, "Ida")), PALETTE, title="It"))
        inks |= {element.attrib["fill"] for element in root.iter(TEXT)}
    assert inks == {"#2a1f2d", "#fffdf7"}


@pytest.mark.parametrize("draw", [svg, svg_for_paper])
def test_lettering_is_text_and_nothing_else(draw):
    spec = LetteredSpec("a", '</text><script>"&')
    assert texts(draw(KIND.lay_out(spec), PALETTE, title="It")) == ['</text><script>"&']


@pytest.mark.parametrize("spec", [SPEC, WIDE, LetteredSpec("b", trim="greenery", inner="a", extras=(("9", 3),))])
def test_spec_and_layout_are_the_same_after_a_trip_through_json(spec):
    assert LetteredSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec
    layout = KIND.lay_out(spec)
    assert Layout.from_json(json.loads(json.dumps(layout.to_json()))) == layout
    assert KIND.lay_out(spec) == layout
