"""The studio's own table of inflated diameters: kept within what a bag allows, and in force wherever one lays out."""

import ast
from decimal import Decimal
from math import pi
from pathlib import Path

import pytest
from django.db import IntegrityError, transaction
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.actions import keep_inflated
from estimating.bags import HELIUM_INFLATED, Diameters, inflated_range
from estimating.gas import floating_range, helium_lines
from estimating.kinds import KINDS, FloatsSpec, GarlandSpec, LetteredSpec, PackedSpec, SpecErrors, StringArchSpec
from estimating.lines import Site
from estimating.load import van_load
from estimating.materials import MaterialRules, materials
from estimating.models import InflatedDiameter
from estimating.queries import inflated_in_force, laid_out
from estimating.specs import INFLATED, SIZES

INCH, FOOT = Decimal("25.4"), Decimal("304.8")
GARLAND = GarlandSpec(
    length_mm=20 * FOOT, width_mm=22 * INCH, colours=(("navy", 60), ("sand", 40)), mix=((5, 40), (11, 60)), seed=4
)
ROOT = Path(__file__).parents[2]


def own(**figures: str) -> dict[tuple[int, str], tuple[Decimal, str]]:
    """A table from fields such as air_11, in inches."""
    split = {(int(name.rpartition("_")[2]), name.rpartition("_")[0]): typed for name, typed in figures.items()}
    return {size: (Decimal(typed) * INCH, typed) for size, typed in split.items()}


@pytest.mark.django_db
def test_a_studio_that_says_nothing_blows_as_usual():
    assert inflated_in_force() == Diameters()
    assert dict(inflated_in_force()) == INFLATED
    assert inflated_in_force().helium == HELIUM_INFLATED


@pytest.mark.django_db
def test_a_table_is_kept_and_kept_anew():
    keep_inflated(own=own(air_11="9", air_5="4", helium_11="10.5"))
    keep_inflated(own=own(air_11="9.25", helium_36="34"))
    assert inflated_in_force() == Diameters({11: 9.25}, {36: 34.0})
    assert {(row.size, row.gas, row.typed) for row in InflatedDiameter.objects.all()} == {
        (11, "air", "9.25"),
        (36, "helium", "34"),
    }


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("table", "said"),
    [
        pytest.param(
            {"air_11": "11.01"}, "air must be from 6 in to 11 in for 11-inch balloons (got 11.01 in)", id="too full"
        ),
        pytest.param({"air_11": "5.9"}, "air must be from 6 in to 11 in", id="limp"),
        pytest.param({"helium_11": "6.9"}, "helium must be from 7 in to 11 in", id="it would not float"),
        pytest.param({"helium_5": "5"}, "helium must be for a size there is, with helium one that floats", id="small"),
        pytest.param({"air_7": "6"}, "air must be for a size there is", id="no such size"),
    ],
)
def test_what_no_bag_allows_is_refused_and_nothing_is_kept(table, said):
    with pytest.raises(SpecErrors) as refused:
        keep_inflated(own=own(air_12="10", **table))
    assert said in str(refused.value)
    assert not InflatedDiameter.objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("end", [0, 1], ids=["least", "most"])
def test_the_database_keeps_the_limits_of_every_size_too(size, end):
    limit = Decimal(str(inflated_range(size)[end])) * INCH
    InflatedDiameter.objects.create(size=size, gas="air", mm=limit, typed="as far as it goes")
    beyond = limit + (Decimal("0.01") if end else -Decimal("0.01"))
    with pytest.raises(IntegrityError), transaction.atomic():
        InflatedDiameter.objects.create(size=size, gas="helium", mm=beyond, typed="further")


@pytest.mark.django_db
@pytest.mark.parametrize(
    "wrong",
    [
        pytest.param({"size": 7, "mm": 6 * INCH}, id="a size there is not"),
        pytest.param({"gas": "argon"}, id="another gas"),
        pytest.param({}, id="the same size twice"),
    ],
)
def test_the_database_refuses_what_is_no_row_of_the_table(wrong):
    InflatedDiameter.objects.create(size=11, gas="air", mm=9 * INCH, typed="9")
    with pytest.raises(IntegrityError), transaction.atomic():
        InflatedDiameter.objects.create(**{"size": 11, "gas": "air", "mm": 9 * INCH, "typed": "9"} | wrong)


@pytest.mark.django_db
def test_a_garland_of_balloons_blown_smaller_takes_more_of_them_as_their_volume_says():
    usual = laid_out("garland", GARLAND)
    keep_inflated(own=own(air_5=f"{INFLATED[5] * 0.8}", air_11=f"{INFLATED[11] * 0.8}"))
    smaller = laid_out("garland", GARLAND)
    assert {b.size: b.diameter for b in smaller.balloons} == pytest.approx({5: 3.8, 11: 7.6})
    # The same garland filled with four fifths of the diameter: the cube of it in volume, within what settling gives.
    grown = len(smaller.balloons) / len(usual.balloons)
    assert grown == pytest.approx(1 / 0.8**3, rel=0.2)
    assert smaller.width == pytest.approx(22, rel=0.05)


@pytest.mark.django_db
def test_a_packed_garland_of_balloons_blown_smaller_takes_as_many_more_as_its_pitch_is_shorter():
    spec = PackedSpec("garland", (("navy", 100),), size=11, length_mm=100 * FOOT, shape="straight")
    usual = len(laid_out("packed", spec).balloons)
    keep_inflated(own=own(air_11="7.6"))
    assert len(laid_out("packed", spec).balloons) == pytest.approx(usual * 9.5 / 7.6, abs=4)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("kind", "spec"),
    [
        pytest.param("packed", PackedSpec("arch", (("navy", 100),), size=11, span_mm=10 * FOOT, length_mm=25 * FOOT,
                                          helium=True), id="packed arch"),
        pytest.param("string_arch", StringArchSpec((("navy", 1),), span_mm=8 * FOOT, rise_mm=7 * FOOT, size=11,
                                                   helium=True), id="arch of singles"),
        pytest.param("floats", FloatsSpec(width_mm=10 * FOOT, depth_mm=10 * FOOT, colours=(("navy", 100),),
                                          mix=((11, 100),), per_hundred_ft2=40), id="ceiling floats"),
    ],
)  # fmt: skip
def test_helium_is_counted_at_the_diameter_the_studio_fills_to(kind, spec):
    keep_inflated(own=own(helium_11="9", air_11="8"))
    layout = laid_out(kind, spec)
    floating = [b for b in layout.balloons if b.gas == "helium"]
    assert floating
    assert {b.diameter for b in floating} == {9.0}
    litres = len(floating) * pi / 6 * 9**3 * 0.016387064
    assert helium_lines(layout.balloons, Site())[0].needed == pytest.approx(litres, rel=0.02)


@pytest.mark.django_db
def test_a_van_holds_more_balloons_that_are_blown_smaller():
    usual = van_load([laid_out("counted", KINDS["counted"].spec(lines=(("navy", 11, 60),)))], van_cubic_feet=250)
    keep_inflated(own=own(air_11="7.6"))
    smaller = van_load([laid_out("counted", KINDS["counted"].spec(lines=(("navy", 11, 60),)))], van_cubic_feet=250)
    assert smaller.room == pytest.approx(usual.room * 0.8**3, rel=1e-6)


def test_the_smallest_balloon_that_carries_a_decal_goes_by_how_far_it_is_blown():
    spec = LetteredSpec(
        size=24,
        colour="white",
        text="Congratulations",
        decal_width_mm=9 * INCH,
        decal_height_mm=3 * INCH,
        helium=False,
    )
    said = [
        next(
            sentence
            for sentence in KINDS["lettered"].advice(spec, layout, Site(), inflated=table)
            if "whole" in sentence
        )
        for table in (Diameters(), Diameters({30: 20.0}))
        for layout in [KINDS["lettered"].lay_out(spec, inflated=table)]
    ]
    assert "A 30-inch carries it whole." in said[0]
    assert "A 36-inch carries it whole." in said[1]


def allowed_tables() -> st.SearchStrategy[Diameters]:
    """Any table a studio may keep: every size somewhere between its least and its most."""

    def within(ranges: dict[int, tuple[float, float]]) -> st.SearchStrategy[dict[int, float]]:
        return st.fixed_dictionaries({size: st.floats(low, high) for size, (low, high) in ranges.items()})

    return st.builds(
        Diameters,
        within({size: inflated_range(size) for size in (5, 9, 11, 16)}),
        within({size: floating_range(size) for size in (11, 16)}),
    )


@settings(max_examples=15, deadline=None)
@given(table=allowed_tables(), width=st.integers(14, 40), seed=st.integers(0, 99))
def test_with_any_table_a_garland_draws_what_it_counts_and_is_as_wide_as_asked(table, width, seed):
    spec = GarlandSpec(
        length_mm=6 * FOOT,
        width_mm=width * INCH,
        colours=(("navy", 60), ("sand", 40)),
        mix=((5, 40), (11, 60)),
        seed=seed,
    )
    try:
        layout = KINDS["garland"].lay_out(spec, inflated=table)
    except SpecErrors as refused:
        # Some tables cannot make some widths; then the piece says so, of its width or its balloons.
        assert {error.field for error in refused} <= {"width_mm", "length_mm", "mix"}
        return
    assert {b.diameter for b in layout.balloons} <= {round(table[5], 3), round(table[11], 3)}
    taken = materials(layout, rules=MaterialRules(), outdoors=False)
    assert taken.balloons() == len(layout.balloons) == layout.counts().total()
    assert layout.width == pytest.approx(width, rel=0.05)


def test_nobody_above_lays_out_but_through_the_table_in_force():
    """Whoever calls a kind's `lay_out` itself hands it the table; everybody else asks `estimating.queries`."""
    found = []
    for app in ("bookings", "studio", "estimating/queries", "estimating/forms"):
        for path in (ROOT / app).rglob("*.py"):
            for node in ast.walk(ast.parse(path.read_text())):
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "lay_out":
                    handed = any(word.arg == "inflated" for word in node.keywords)
                    found.append((path.relative_to(ROOT).as_posix(), handed))
    assert [path for path, handed in found if not handed] == ["bookings/views/favourites.py"]  # A card that cannot be.
    assert {path for path, _ in found} == {"bookings/views/favourites.py", "estimating/queries/inflated.py"}
