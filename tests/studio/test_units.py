"""Lengths as people type and read them."""

import time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.units import LONGEST_MM, LengthError, from_inches, inches, parse_length, show_length

LENGTHS = st.decimals("0.0001", LONGEST_MM, places=4)


def mm_of(typed, plain_number_is=None):
    return parse_length(typed, plain_number_is=plain_number_is).mm


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        pytest.param("20 ft", "6096", id="feet"),
        pytest.param("20'", "6096", id="a foot mark"),
        pytest.param("20ft.", "6096", id="no space, and a full stop"),
        pytest.param("8-foot", "2438.4", id="a hyphen before the unit"),
        pytest.param("8' 6\"", "2590.8", id="foot and inch marks"),
        pytest.param("8'6\"", "2590.8", id="marks without a space"),
        pytest.param("8'-6\"", "2590.8", id="as on a drawing"),
        pytest.param("8′ 6″", "2590.8", id="true primes"),
        pytest.param("8’ 6”", "2590.8", id="curled by a phone"),
        pytest.param("8' 6''", "2590.8", id="two apostrophes"),
        pytest.param("8 ft 6 in", "2590.8", id="feet and inches"),
        pytest.param("8 feet and 6 inches", "2590.8", id="in words"),
        pytest.param("8 FT, 6 IN", "2590.8", id="capitals and a comma"),
        pytest.param("8'6", "2590.8", id="inches unsaid"),
        pytest.param("8' 6 1/2\"", "2603.5", id="a fraction of an inch"),
        pytest.param("8' 6½\"", "2603.5", id="a fraction in one sign"),
        pytest.param("8' 6-1/2\"", "2603.5", id="a fraction after a hyphen"),
        pytest.param("0 ft 6 in", "152.4", id="no feet"),
        pytest.param("22 in", "558.8", id="inches"),
        pytest.param('22"', "558.8", id="an inch mark"),
        pytest.param("22 1/2 in", "571.5", id="a mixed number"),
        pytest.param("½ in", "12.7", id="a fraction alone"),
        pytest.param("22.5 inch", "571.5", id="a decimal of inches"),
        pytest.param("7 yd", "6400.8", id="yards"),
        pytest.param("2 yards 1 foot 3 inches", "2209.8", id="three units"),
        pytest.param("6 m", "6000", id="metres"),
        pytest.param("2.4m", "2400", id="a decimal point"),
        pytest.param("2,4 m", "2400", id="a decimal comma"),
        pytest.param("0,500 m", "500", id="a decimal comma and three decimals"),
        pytest.param(".5 m", "500", id="nothing before the point"),
        pytest.param("3 Metres", "3000", id="metres in words"),
        pytest.param("1 meter", "1000", id="the other spelling"),
        pytest.param("1.5 M", "1500", id="a capital metre"),
        pytest.param("150 cm", "1500", id="centimetres"),
        pytest.param("1500 mm", "1500", id="millimetres"),
        pytest.param("1 m 20 cm", "1200", id="metres and centimetres"),
        pytest.param("1 m 20", "1200", id="centimetres unsaid"),
        pytest.param("1/16 in", "1.5875", id="a sixteenth of an inch"),
        pytest.param("1 cm", "10", id="a centimetre"),
        pytest.param("10000 m", "10000000", id="the longest"),
        pytest.param(" 6\u00a0m ", "6000", id="spaces round and between"),
    ],
)
def test_a_typed_length_is_understood_exactly(typed, mm):
    assert mm_of(typed) == Decimal(mm)


def test_what_was_typed_is_kept_beside_the_length():
    assert parse_length(" 8' 6½\" ", plain_number_is=None).typed == "8' 6½\""


@pytest.mark.parametrize(("unit", "mm"), [("ft", "6248.4"), ("in", "520.7"), ("m", "20500"), ("cm", "205")])
def test_a_number_alone_is_in_the_unit_of_its_field(unit, mm):
    assert mm_of("20.5", unit) == Decimal(mm)


def test_a_number_alone_is_refused_where_no_unit_is_understood():
    with pytest.raises(LengthError, match=r"Say the unit: ft, in, yd, m, cm or mm\. Given: 20\."):
        mm_of("20")


@pytest.mark.parametrize(
    ("typed", "rule"),
    [
        pytest.param("", "is written like", id="empty"),
        pytest.param("   ", "is written like", id="only spaces"),
        pytest.param("long", "is written like", id="a word"),
        pytest.param("ft", "is written like", id="a unit alone"),
        pytest.param("0", "above zero", id="zero"),
        pytest.param("0 ft 0 in", "above zero", id="zero in two units"),
        pytest.param("0.00001 mm", "above zero", id="too small to keep"),
        pytest.param("-3 ft", "above zero", id="negative"),
        pytest.param("−3 ft", "above zero", id="negative, with a true minus"),
        pytest.param("9**9**9 m", "is written like", id="a sum that never ends"),
        pytest.param("2+2 ft", "is written like", id="a sum"),
        pytest.param("1e309", "ft, in, yd, m, cm or mm", id="beyond a float"),
        pytest.param("1e5 m", "ft, in, yd, m, cm or mm", id="an exponent"),
        pytest.param("20 furlongs", "ft, in, yd, m, cm or mm", id="an unknown unit"),
        pytest.param("20 mft", "ft, in, yd, m, cm or mm", id="a unit run into another"),
        pytest.param("11 km", "ft, in, yd, m, cm or mm", id="kilometres"),
        pytest.param("20000 m", "at most 10 km", id="further than 10 km"),
        pytest.param("9" * 50 + " m", "at most 10 km", id="many digits"),
        pytest.param("9" * 5000, "at most 60 characters", id="5,000 characters"),
        pytest.param("NaN", "is written like", id="not a number"),
        pytest.param("nan m", "is written like", id="not a number of metres"),
        pytest.param("infinity", "is written like", id="infinity"),
        pytest.param("٣ m", "is written like", id="other digits"),
        pytest.param("8' 14\"", "With ft given, in must be below 12", id="fourteen inches"),
        pytest.param("1 m 100 cm", "With m given, cm must be below 100", id="a hundred centimetres"),
        pytest.param("8.5 ft 6 in", "Only the last number", id="a fraction of feet, then inches"),
        pytest.param("6 in 8 ft", "larger to the smaller", id="the wrong way round"),
        pytest.param("8 ft 6 ft", "larger to the smaller", id="feet twice"),
        pytest.param("8 ft 20 cm", "all feet or all metres", id="two systems"),
        pytest.param("8-10 ft", "is written like", id="a range"),
        pytest.param("20 ft x 8 ft", "is written like", id="two lengths"),
        pytest.param("8 ft 6 in 3", "Say the unit", id="a number left over"),
        pytest.param("8 ft,", "is written like", id="a comma left over"),
        pytest.param("8 ft and", "is written like", id="a word left over"),
        pytest.param("1 000 m", "is written like", id="a space of thousands"),
        pytest.param("1,500 mm", "comma of thousands", id="a comma of thousands"),
        pytest.param("1..5 m", "is written like", id="two points"),
        pytest.param("1/0 in", "over zero", id="over zero"),
        pytest.param("8 3/2 in", "less than one", id="a fraction of more than one"),
    ],
)
def test_what_is_not_a_length_is_refused_with_the_rule_and_the_value(typed, rule):
    with pytest.raises(LengthError, match=rule) as refused:
        mm_of(typed, "ft")
    assert refused.value.value == typed
    assert len(str(refused.value)) < 200


@given(st.text("0123456789.,/ '\"-½ftincmyd*e", max_size=60))
def test_anything_typed_is_a_length_or_a_refusal_and_nothing_else(typed):
    try:
        mm = mm_of(typed, "ft")
    except LengthError:
        return
    assert 0 < mm <= LONGEST_MM


@pytest.mark.parametrize("piece", ["1 ", "1 ft ", "1'", "1/", "1-", "½", ", "])
def test_repetition_does_not_slow_the_reading(piece):
    def seconds(typed: str) -> float:
        started = time.process_time()
        with pytest.raises(LengthError):
            mm_of(typed, "ft")
        return time.process_time() - started

    for length in (60, 58):
        assert min(seconds((piece * 60)[:length] + "!") for _ in range(3)) < 0.1


@pytest.mark.parametrize(
    ("mm", "imperial", "metric"),
    [
        pytest.param("9372.6", "30 ft 9 in", "9.37 m", id="thirty feet nine"),
        pytest.param("558.8", "22 in", "55.9 cm", id="22 inches"),
        pytest.param("571.5", "22½ in", "57.2 cm", id="a half"),
        pytest.param("577.85", "22¾ in", "57.8 cm", id="three quarters"),
        pytest.param("6500", "21 ft 3 7/8 in", "6.5 m", id="six and a half metres"),
        pytest.param("550", "21 5/8 in", "55 cm", id="55 centimetres"),
        pytest.param("6096", "20 ft", "6.1 m", id="whole feet"),
        pytest.param("10000", "32 ft 9 11/16 in", "10 m", id="ten metres"),
        pytest.param("914.4", "36 in", "91.4 cm", id="as long as inches are used alone"),
        pytest.param("915.9875", "3 ft 1/16 in", "91.6 cm", id="just longer"),
        pytest.param("999.5", "3 ft 3 3/8 in", "1 m", id="rounds up into metres"),
        pytest.param("12.7", "½ in", "1.3 cm", id="a half inch"),
        pytest.param("1.5875", "1/16 in", "0.2 cm", id="a sixteenth"),
        pytest.param("0.1", "under 1/16 in", "under 1 mm", id="hardly anything"),
        pytest.param("0", "0 in", "0 cm", id="nothing"),
    ],
)
def test_a_length_is_shown_as_people_say_it(mm, imperial, metric):
    assert show_length(Decimal(mm), "imperial") == imperial
    assert show_length(Decimal(mm), "metric") == metric


# The last millimetre before 10 km would be shown rounded past it.
@given(LENGTHS.filter(lambda mm: 2 < mm < LONGEST_MM - 1))
def test_what_is_shown_in_feet_and_inches_reads_back_to_a_thirty_second(mm):
    assert abs(mm_of(show_length(mm, "imperial")) - mm) <= Decimal("25.4") / 32


@given(LENGTHS.filter(lambda mm: mm > 2))
def test_what_is_shown_in_metres_reads_back_to_half_a_centimetre(mm):
    near = Decimal("0.5") if mm < Decimal("999.5") else Decimal(5)
    assert abs(mm_of(show_length(mm, "metric")) - mm) <= near


@given(st.integers(1, 16 * 12 * 100))
def test_every_sixteenth_of_an_inch_survives_showing_and_typing(sixteenths):
    mm = Decimal(sixteenths) * Decimal("1.5875")
    assert mm_of(show_length(mm)) == mm


@given(st.integers(1, 100_000))
def test_every_centimetre_survives_showing_and_typing(centimetres):
    mm = Decimal(centimetres * 10)
    assert mm_of(show_length(mm, "metric")) == mm


@pytest.mark.parametrize("mm", ["-1", "NaN", "Infinity", "10000001"])
def test_a_length_nobody_could_have_typed_is_not_shown(mm):
    with pytest.raises(LengthError, match="from nothing to 10 km"):
        show_length(Decimal(mm))


@given(LENGTHS)
def test_millimetres_survive_being_laid_out_in_inches(mm):
    assert from_inches(inches(mm)) == mm


@pytest.mark.parametrize("length", [float("nan"), float("inf"), 1e300, Decimal("NaN")])
def test_inches_that_are_no_length_are_refused(length):
    with pytest.raises(LengthError, match=r"at most 10 km|a finite number"):
        from_inches(length)
