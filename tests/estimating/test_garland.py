import json
import subprocess
import sys
from collections import Counter
from decimal import Decimal
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating.kinds import KINDS, GarlandSpec, SpecErrors
from estimating.kinds.garland import TOUCHING, lay_out, parts_of, whole_counts
from estimating.specs import INFLATED
from estimating.spines import SHAPES
from studio.money import shares

MIX = ((5, 30), (11, 62), (16, 8))
COLOURS = (("navy", 40), ("sand", 30), ("coral", 20), ("white", 10))


def a_spec(feet=20, inches=22, **changed):
    wanted = {"mix": MIX, "colours": COLOURS, "shape": "doorway", **changed}
    return GarlandSpec(
        length_mm=changed.pop("length_mm", Decimal(str(feet)) * Decimal("304.8")),
        width_mm=changed.pop("width_mm", Decimal(str(inches)) * Decimal("25.4")),
        **{name: value for name, value in wanted.items() if name not in ("length_mm", "width_mm")},
    )


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param({"feet": 0}, "length_mm must be from 1 ft to 200 ft (got 0.0 mm)", id="no length"),
        pytest.param({"feet": 201}, "length_mm must be from 1 ft to 200 ft", id="too long"),
        pytest.param(
            {"length_mm": Decimal("NaN")}, "length_mm must be from 1 ft to 200 ft (got NaN mm)", id="no number"
        ),
        pytest.param({"inches": 3.9}, "width_mm must be from 4 in to 8 ft (got 99.06 mm)", id="too thin"),
        pytest.param({"inches": 97}, "width_mm must be from 4 in to 8 ft", id="too wide"),
        pytest.param({"mix": ()}, "mix must name from 1 to 6 (got 0)", id="no sizes"),
        pytest.param({"mix": ((7, 100),)}, "mix must be one of 3, 5, 6, 9", id="no such size"),
        pytest.param({"mix": ((5, 30), (11, 60))}, "mix must add up to 100 percent (got 90 percent)", id="90 percent"),
        pytest.param({"mix": ((5, 50), (5, 50))}, "mix must name each only once (got 5, 5)", id="a size twice"),
        pytest.param({"mix": ((5, 0), (11, 100))}, "mix must be a whole number from 1 to 100 (got 0)", id="zero share"),
        pytest.param({"colours": ()}, "colours must name from 1 to 8 (got 0)", id="no colours"),
        pytest.param({"colours": (("", 100),)}, "colours must be the key of a colour (got '')", id="empty key"),
        pytest.param(
            {"shape": "knot"}, "shape must be one of straight, swag, doorway, sketched (got knot)", id="no such shape"
        ),
        pytest.param({"outdoors": "yes"}, "outdoors must be true or false (got yes)", id="neither yes nor no"),
        pytest.param({"seed": -1}, "seed must be a whole number from 0 to", id="negative seed"),
    ],
)
def test_a_garland_that_cannot_be_is_refused_with_field_rule_and_value(changed, said):
    with pytest.raises(SpecErrors) as refused:
        a_spec(**changed)
    assert said in str(refused.value)
    assert len(refused.value) == 1


def test_everything_wrong_is_said_at_once():
    with pytest.raises(SpecErrors) as refused:
        a_spec(feet=0, inches=0, mix=(), colours=(), shape="")
    assert [error.field for error in refused.value] == ["length_mm", "width_mm", "mix", "colours", "shape"]


@pytest.mark.parametrize(("feet", "inches"), [pytest.param(1, 16, id="shortest"), pytest.param(200, 16, id="longest")])
def test_the_limits_themselves_are_accepted(feet, inches):
    assert len(lay_out(a_spec(feet, inches, shape="straight")).balloons) >= 4


def test_a_spec_is_the_same_after_a_trip_through_json():
    spec = a_spec(length_mm=Decimal("9144.0625"), outdoors=True, seed=7)
    assert GarlandSpec.from_json(json.loads(json.dumps(spec.to_json()))) == spec


def test_a_length_kept_as_nonsense_is_refused():
    data = {**a_spec().to_json(), "length_mm": "long"}
    with pytest.raises(SpecErrors, match="length_mm must be a number of millimetres"):
        GarlandSpec.from_json(data)


@pytest.mark.parametrize(
    ("mix", "parts"),
    [
        pytest.param(MIX, {5: "filler", 11: "base", 16: "accent"}, id="the usual three"),
        pytest.param(((11, 100),), {11: "base"}, id="one size"),
        pytest.param(((5, 100),), {5: "base"}, id="only small ones"),
        pytest.param(((36, 100),), {36: "base"}, id="only giants"),
        pytest.param(((5, 90), (24, 10)), {5: "base", 24: "accent"}, id="mostly small ones"),
        pytest.param(((9, 70), (16, 30)), {9: "base", 16: "accent"}, id="sixteens stand out"),
        pytest.param(((9, 80), (14, 20)), {9: "base", 14: "accent"}, id="half as big again stands out"),
        pytest.param(((11, 80), (12, 20)), {11: "base", 12: "base"}, id="nearly equal"),
        pytest.param(((5, 40), (18, 40), (36, 20)), {5: "filler", 18: "base", 36: "accent"}, id="no middling size"),
    ],
)
def test_each_size_has_its_part(mix, parts):
    assert parts_of(mix) == parts


@given(st.integers(4, 3000), st.permutations([(5, 30), (11, 50), (12, 12), (16, 8)]))
def test_the_base_comes_in_quads_and_fillers_in_pairs(number, mix):
    counts = whole_counts(number, mix, parts_of(mix))
    assert (counts[11] + counts[12]) % 4 == 0
    assert counts[5] % 2 == 0
    assert number <= sum(counts.values()) <= number + 4


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize(
    ("feet", "inches", "mix"),
    [
        pytest.param(8, 18, MIX, id="short"),
        pytest.param(30, 14, MIX, id="thin"),
        pytest.param(30, 22, MIX, id="usual"),
        pytest.param(20, 40, MIX, id="fat"),
        pytest.param(60, 22, MIX, id="long"),
        pytest.param(20, 12, ((5, 40), (9, 60)), id="small sizes"),
        pytest.param(20, 10, ((5, 100),), id="one small size"),
        pytest.param(25, 30, ((5, 20), (11, 55), (18, 20), (36, 5)), id="with giants"),
    ],
)
def test_the_silhouette_measures_what_was_asked_within_five_percent(shape, feet, inches, mix):
    layout = lay_out(a_spec(feet, inches, mix=mix, shape=shape))
    assert layout.width == pytest.approx(inches, rel=0.05)
    assert layout.length == pytest.approx(feet * 12)


@pytest.mark.parametrize(
    ("inches", "mix", "said"),
    [
        pytest.param(
            6,
            MIX,
            "width_mm must be at least 10 in to hold 11-inch balloons (got 6 in); "
            "mix must hold smaller balloons for a width of 6 in (got 11-inch)",
            id="a base balloon is wider",
        ),
        pytest.param(
            10,
            ((36, 100),),
            "width_mm must be at least 34 in to hold 36-inch balloons (got 10 in); "
            "mix must hold smaller balloons for a width of 10 in (got 36-inch)",
            id="only giants",
        ),
        pytest.param(
            10,
            ((11, 90), (36, 10)),
            "width_mm must be at least 17 in to hold 36-inch balloons (got 10 in); "
            "mix must hold smaller balloons for a width of 10 in (got 36-inch)",
            id="a giant that would hide it",
        ),
        pytest.param(
            60,
            MIX,
            "width_mm must be at most 47 in round a base of 11-inch balloons (got 60 in); "
            "mix must have a base of at least 14-inch balloons for a width of 60 in (got 11-inch)",
            id="too fat",
        ),
    ],
)
def test_a_width_these_sizes_cannot_make_is_refused_with_what_would_work(inches, mix, said):
    with pytest.raises(SpecErrors) as refused:
        lay_out(a_spec(20, inches, mix=mix))
    assert str(refused.value) == said


def test_a_piece_too_short_for_its_balloons_says_how_wide_it_would_come_out():
    with pytest.raises(SpecErrors, match=r"width_mm must be nearer 1\d in for these sizes at this length"):
        lay_out(a_spec(1, 10, mix=((11, 100),), shape="straight"))


def test_giants_on_a_short_thin_line_are_refused_rather_than_drawn_wrong():
    with pytest.raises(SpecErrors, match="width_mm must be nearer"):
        lay_out(a_spec(3, 18, mix=((9, 60), (12, 30), (36, 10)), shape="straight", seed=30))


def test_a_longer_or_wider_garland_of_one_seed_takes_more_balloons():
    counts = [len(lay_out(a_spec(feet, inches)).balloons) for feet, inches in [(20, 18), (20, 22), (24, 22), (24, 28)]]
    assert counts == sorted(set(counts))


def test_the_same_spec_gives_the_same_layout():
    assert lay_out(a_spec()) == lay_out(a_spec())


def test_another_process_gives_the_same_layout():
    asked = json.dumps(a_spec(12, 20).to_json())
    code = (
        "import json, sys; from estimating.kinds import KINDS, GarlandSpec; "
        "print(json.dumps(KINDS['garland'].lay_out(GarlandSpec.from_json(json.loads(sys.argv[1]))).to_json()))"
    )
    answer = subprocess.run([sys.executable, "-c", code, asked], capture_output=True, text=True, check=True)
    assert json.loads(answer.stdout) == lay_out(a_spec(12, 20)).to_json()


def test_another_seed_gives_another_layout_of_the_same_balloons():
    one, other = lay_out(a_spec(seed=1)), lay_out(a_spec(seed=2))
    assert one.balloons != other.balloons
    assert one.counts() == other.counts()


def test_the_studios_own_inflated_diameters_are_used():
    layout = lay_out(a_spec(), inflated={11: 8.0})
    assert {b.diameter for b in layout.balloons if b.size == 11} == {8.0}
    assert {b.diameter for b in layout.balloons if b.size == 5} == {INFLATED[5]}


def test_each_size_is_shared_among_the_colours_by_largest_remainder():
    layout = lay_out(a_spec(30))
    for size, number in Counter(b.size for b in layout.balloons).items():
        counts = layout.counts()
        expected = shares(number, [percent for _, percent in COLOURS])
        assert [counts[colour, size] for colour, _ in COLOURS] == expected


def test_accents_stand_out_and_fillers_are_seen():
    layout = lay_out(a_spec(30, shape="straight"))
    edge = {part: [abs(b.y) + b.diameter / 2 for b in layout.balloons if b.part == part] for part in ("base", "accent")}
    assert sum(edge["accent"]) / len(edge["accent"]) > sum(edge["base"]) / len(edge["base"])
    fillers = [b.z for b in layout.balloons if b.part == "filler"]
    assert sum(z > 0 for z in fillers) > 0.9 * len(fillers)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_fillers_lie_in_gaps_against_several_larger_balloons(seed):
    layout = lay_out(a_spec(20, shape="straight", seed=seed))
    larger = [b for b in layout.balloons if b.part != "filler"]
    beside = [
        sum(
            ((a.x - b.x) ** 2 + (a.y - b.y) ** 2 + (a.z - b.z) ** 2) ** 0.5 < (a.diameter + b.diameter) / 2 + TOUCHING
            for b in larger
        )
        for a in layout.balloons
        if a.part == "filler"
    ]
    assert sum(beside) / len(beside) > 2.0
    assert sum(n >= 1 for n in beside) > 0.9 * len(beside)


def touching(layout):
    """Couples of balloons, by place, whose skins are nearer than TOUCHING."""
    some = list(enumerate(layout.balloons))
    for n, a in some:
        for m, b in some[:n]:
            gap = ((a.x - b.x) ** 2 + (a.y - b.y) ** 2 + (a.z - b.z) ** 2) ** 0.5
            if gap < (a.diameter + b.diameter) / 2 + TOUCHING:
                yield n, m


@pytest.mark.parametrize("seed", [1, 2, 3, 4, 5])
def test_equal_colours_touch_less_often_than_shuffled_ones(seed):
    """Join counts against 200 shuffles within each size: below every one of them, and by a third at least."""
    layout = lay_out(a_spec(15, seed=seed))
    couples = list(touching(layout))
    colours = [b.colour for b in layout.balloons]
    joins = sum(colours[n] == colours[m] for n, m in couples)
    rng, shuffled_joins = Random(seed), []
    by_size = {size: [n for n, b in enumerate(layout.balloons) if b.size == size] for size in (5, 11, 16)}
    for _ in range(200):
        shuffled = list(colours)
        for places in by_size.values():
            values = [colours[n] for n in places]
            rng.shuffle(values)
            for place, value in zip(places, values, strict=True):
                shuffled[place] = value
        shuffled_joins.append(sum(shuffled[n] == shuffled[m] for n, m in couples))
    assert joins < min(shuffled_joins)
    assert joins < 0.67 * sum(shuffled_joins) / 200


@st.composite
def garlands(draw):
    """Specs over sensible sizes, widths, lengths, shapes and colours."""
    sizes = draw(st.lists(st.sampled_from([5, 6, 9, 10, 11, 12, 14, 16, 18]), min_size=1, max_size=4, unique=True))
    percents = shares(100 - len(sizes), draw(st.lists(st.integers(1, 9), min_size=len(sizes), max_size=len(sizes))))
    colours = draw(st.integers(1, 8))
    tints = shares(100 - colours, draw(st.lists(st.integers(1, 9), min_size=colours, max_size=colours)))
    return a_spec(
        draw(st.integers(4, 40)),
        draw(st.integers(8, 40)),
        mix=tuple((size, percent + 1) for size, percent in zip(sizes, percents, strict=True)),
        colours=tuple((f"c{n}", percent + 1) for n, percent in enumerate(tints)),
        shape=draw(st.sampled_from(SHAPES)),
        seed=draw(st.integers(0, 1000)),
    )


@settings(max_examples=25, deadline=None)
@given(garlands())
def test_whatever_is_laid_out_has_the_width_and_the_parts_it_should(spec):
    try:
        layout = KINDS["garland"].lay_out(spec)
    except SpecErrors as refused:
        assert {error.field for error in refused} <= {"width_mm", "length_mm", "mix"}
        assume(False)
    assert layout.width == pytest.approx(float(spec.width_mm / Decimal("25.4")), rel=0.05)
    parts = Counter(b.part for b in layout.balloons)
    assert parts["base"] % 4 == 0
    assert parts["filler"] % 2 == 0
