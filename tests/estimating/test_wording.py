"""What layouts say, in the studio's measures."""

from decimal import Decimal
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.kinds import (
    KINDS,
    BouquetSpec,
    CountedSpec,
    FloatsSpec,
    GarlandSpec,
    GlyphsSpec,
    LetteredSpec,
    PackedSpec,
    StringArchSpec,
    WallSpec,
)
from estimating.kinds.packed import Topper
from estimating.lines import Said
from estimating.wording import in_measures, measured
from studio.units import System, from_inches, parse_length, show_length

FOOT = Decimal("304.8")
ONE, TWO = (("a", 100),), (("a", 50), ("b", 50))


@pytest.mark.parametrize(
    ("sentence", "imperial", "metric"),
    [
        pytest.param(
            "26 whole layers make 242.1 in; 240.0 in was asked for.",
            "26 whole layers make 20 ft 2 in; 20 ft was asked for.",
            "26 whole layers make 6.15 m; 6.1 m was asked for.",
            id="long ones",
        ),
        pytest.param(
            "10 balloons are evened out to one every 16.8 in.",
            "10 balloons are evened out to one every 16¾ in.",
            "10 balloons are evened out to one every 42.7 cm.",
            id="a short one",
        ),
        pytest.param(
            "With its topper it stands 7 ft 10 in (2.39 m) tall.",
            "With its topper it stands 7 ft 10 in tall.",
            "With its topper it stands 2.39 m tall.",
            id="kept in both measures",
        ),
        pytest.param(
            "9 layers make 12 in (0.30 m); 1 ft (0.30 m) was asked for.",
            "9 layers make 11¾ in; 11¾ in was asked for.",
            "9 layers make 30 cm; 30 cm was asked for.",
            id="short ones kept in both",
        ),
        pytest.param(
            "An 11-inch floats 8 to 20 hours.", *["An 11-inch floats 8 to 20 hours."] * 2, id="a nominal size stays"
        ),
    ],
)
def test_a_note_is_said_in_the_studios_measures_alone(sentence, imperial, metric):
    assert (in_measures(sentence, "imperial"), in_measures(sentence, "metric")) == (imperial, metric)


@given(st.integers(1, 40_000))
def test_a_length_somebody_typed_is_said_exactly(sixteenths):
    inches = sixteenths / 16
    assert measured(inches, "imperial") == show_length(from_inches(inches))


@given(st.floats(0.05, 2400), st.sampled_from(["imperial", "metric"]))
def test_a_reckoned_length_is_said_to_half_an_inch_or_half_a_centimetre(inches, measures):
    said = measured(inches, measures)
    if "under" in said:
        return
    mm = parse_length(said, plain_number_is=None).mm
    assert abs(float(mm) - inches * 25.4) <= (12.71 if measures == "imperial" else 5.01)


SAID = [
    pytest.param(
        "garland",
        GarlandSpec(10 * FOOT, FOOT * 3 / 2, ((11, 100),), ONE, shape="straight"),
        Said("Garland", "10 ft × 18 in"),
        Said("Garland", "3.05 m × 45.7 cm"),
        id="garland",
    ),
    pytest.param(
        "packed",
        PackedSpec("arch", TWO, size=11, span_mm=10 * FOOT, rise_mm=8 * FOOT),
        Said("Packed arch", "8 ft high, 10 ft wide"),
        Said("Packed arch", "2.44 m high, 3.05 m wide"),
        id="arch",
    ),
    pytest.param(
        "packed",
        PackedSpec("column", TWO, size=11, height_mm=6 * FOOT, topper=Topper(36, "a", "star")),
        Said("Column with a topper", "8 ft 4 in high, 23 in wide"),
        Said("Column with a topper", "2.53 m high, 58.3 cm wide"),
        id="column",
    ),
    pytest.param(
        "string_arch",
        StringArchSpec(ONE, size=11, span_mm=16 * FOOT, rise_mm=9 * FOOT),
        Said("Arch of single balloons on a line", "9 ft high, 16 ft wide"),
        Said("Arch of single balloons on a line", "2.74 m high, 4.88 m wide"),
        id="arch on a line",
    ),
    pytest.param(
        "bouquet",
        BouquetSpec(latex=(("a", 11, 5),), alike=3),
        Said("3 bouquets alike", "each 6 ft high"),
        Said("3 bouquets alike", "each 1.83 m high"),
        id="bouquets",
    ),
    pytest.param(
        "bouquet",
        BouquetSpec(latex=(("a", 5, 5),), height_mm=FOOT * 2, helium=False),
        Said("Centrepiece", "24 in high"),
        Said("Centrepiece", "61 cm high"),
        id="centrepiece",
    ),
    pytest.param(
        "floats",
        FloatsSpec(10 * FOOT, 12 * FOOT, ONE, ceiling_mm=9 * FOOT),
        Said("Ceiling floats", "over 10 ft × 12 ft, under a ceiling of 9 ft"),
        Said("Ceiling floats", "over 3.05 m × 3.66 m, under a ceiling of 2.74 m"),
        id="floats",
    ),
    pytest.param(
        "lettered",
        LetteredSpec("a", text="Mia 30 in"),
        Said("Large balloon lettered “\u2068Mia 30 in\u2069” with a tassel", "7 ft high"),
        Said("Large balloon lettered “\u2068Mia 30 in\u2069” with a tassel", "2.13 m high"),
        id="lettered",
    ),
    pytest.param(
        "wall",
        WallSpec(8 * FOOT, 6 * FOOT, ((11, 100),), ONE, style="grid"),
        Said("Grid wall panel", "8 ft wide, 6 ft high"),
        Said("Grid wall panel", "2.44 m wide, 1.83 m high"),
        id="wall",
    ),
    pytest.param(
        "glyphs",
        GlyphsSpec("30", 4 * FOOT, ((5, 100),), ONE),
        Said("“\u206830\u2069” filled with balloons", "4 ft high"),
        Said("“\u206830\u2069” filled with balloons", "1.22 m high"),
        id="numerals",
    ),
    pytest.param(
        "counted",
        CountedSpec(lines=(("a", 11, 5),)),
        Said("Hand-counted piece", ""),
        Said("Hand-counted piece", ""),
        id="counted",
    ),
]


def test_every_kind_is_said_in_some_case():
    assert {case.values[0] for case in SAID} == set(KINDS)


@pytest.mark.parametrize(("kind", "spec", "imperial", "metric"), SAID)
def test_a_piece_is_said_with_its_size_in_the_studios_measures(kind, spec, imperial, metric):
    layout = KINDS[kind].lay_out(spec)
    both: list[tuple[System, Said]] = [("imperial", imperial), ("metric", metric)]
    for measures, said in both:
        assert KINDS[kind].said(spec, layout, partial(measured, measures=measures)) == said
