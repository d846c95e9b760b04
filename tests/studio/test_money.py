"""Amounts of money."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.money import (
    LARGEST,
    AmountError,
    from_minor,
    minor_units,
    parse,
    round_up_to_step,
    rounded,
    shares,
    show,
    tax,
    to_minor,
)

MINOR = st.integers(-LARGEST, LARGEST)
CODES = st.sampled_from(["USD", "JPY", "KWD", "CLF", "MGA", "EUR"])
LOCALES = st.sampled_from(["en_US", "en_GB", "fr_FR", "de_DE", "de_CH", "sv_SE", "en_IN", "pt_BR", "ja_JP"])
NOT_FINITE = [
    pytest.param(Decimal("NaN"), id="not a number"),
    pytest.param(Decimal("sNaN"), id="signalling not a number"),
    pytest.param(Decimal("Infinity"), id="infinity"),
    pytest.param(Decimal("-Infinity"), id="minus infinity"),
    pytest.param(Decimal(LARGEST) + 1, id="beyond reach"),
    pytest.param(Decimal("1e400"), id="far beyond reach"),
]


@pytest.mark.parametrize(
    ("amount", "code", "minor"),
    [
        pytest.param("1240.50", "USD", 124050, id="cents"),
        pytest.param("600", "USD", 60000, id="whole dollars"),
        pytest.param("12.3400", "USD", 1234, id="zeros beyond the cent"),
        pytest.param("-3.10", "USD", -310, id="below zero"),
        pytest.param("600", "JPY", 600, id="no decimals"),
        pytest.param("1.234", "KWD", 1234, id="thousandths"),
    ],
)
def test_an_amount_is_kept_as_whole_minor_units(amount, code, minor):
    assert to_minor(Decimal(amount), code) == minor


@pytest.mark.parametrize(
    ("amount", "code", "rule"),
    [
        pytest.param("12.345", "USD", "at most 2 decimals", id="a tenth of a cent"),
        pytest.param("0.5", "JPY", "no decimals", id="half a yen"),
        pytest.param("1e-30", "USD", "at most 2 decimals", id="almost nothing"),
    ],
)
def test_an_amount_that_is_not_rounded_is_refused_not_rounded(amount, code, rule):
    with pytest.raises(AmountError, match=rule) as refused:
        to_minor(Decimal(amount), code)
    assert refused.value.value == Decimal(amount)


@given(MINOR, CODES)
def test_minor_units_and_back_is_the_same(minor, code):
    assert to_minor(from_minor(minor, code), code) == minor


def test_an_amount_carries_its_currencys_decimals():
    assert str(from_minor(60000, "USD")) == "600.00"
    assert str(from_minor(600, "JPY")) == "600"


@pytest.mark.parametrize("amount", NOT_FINITE)
@pytest.mark.parametrize(
    "use",
    [
        pytest.param(lambda a: to_minor(a, "USD"), id="to minor units"),
        pytest.param(lambda a: tax(a, Decimal(5)), id="tax on it"),
        pytest.param(lambda a: tax(Decimal(5), a), id="as a rate"),
        pytest.param(lambda a: rounded(a), id="rounded"),
        pytest.param(lambda a: round_up_to_step(a, Decimal(5)), id="rounded up"),
        pytest.param(lambda a: round_up_to_step(Decimal(5), a), id="as a step"),
    ],
)
def test_what_is_not_a_finite_amount_within_reach_is_refused_everywhere(use, amount):
    with pytest.raises(AmountError):
        use(amount)


def test_a_float_is_refused():
    with pytest.raises(AmountError, match="decimal number"):
        to_minor(0.1, "USD")  # type: ignore[arg-type]
    with pytest.raises(AmountError, match="whole number"):
        from_minor(1.0, "USD")  # type: ignore[arg-type]
    with pytest.raises(AmountError, match="a whole number, a decimal or a fraction"):
        shares(3, [0.1, 0.2])  # type: ignore[list-item]


@pytest.mark.parametrize("code", ["ZZZ", "usd", "", "XXX", "XAU", "dollars"])
def test_a_code_nobody_is_paid_in_is_refused(code):
    with pytest.raises(AmountError, match="three-letter code"):
        minor_units(code)


@given(st.integers(0, 10**9), st.lists(st.integers(0, 1000), min_size=1, max_size=8).filter(any))
def test_shares_add_up_and_none_is_a_whole_away_from_exact(total, weights):
    parts = shares(total, weights)
    assert sum(parts) == total
    for part, weight in zip(parts, weights, strict=True):
        assert abs(part - Fraction(total * weight, sum(weights))) < 1


def test_a_tie_goes_to_the_earlier_share():
    assert shares(1, [1, 1, 1]) == [1, 0, 0]
    assert shares(5, [1, 1, 1]) == [2, 2, 1]


def test_a_weight_of_zero_gets_nothing():
    assert shares(7, [0, 1, 0]) == [0, 7, 0]


def test_decimal_shares_are_exact():
    """0.1 + 0.2 is 0.3 here, so ten parts split 1, 2, 7."""
    assert shares(10, [Decimal("0.1"), Decimal("0.2"), Decimal("0.7")]) == [1, 2, 7]


def test_nothing_is_shared_among_no_weights():
    assert shares(0, [0, 0]) == [0, 0]
    assert shares(0, []) == []


@pytest.mark.parametrize(
    ("total", "weights", "rule"),
    [
        pytest.param(-1, [1], "zero or more", id="less than nothing"),
        pytest.param(5, [], "At least one share", id="nobody to share with"),
        pytest.param(5, [0, 0], "At least one share", id="all weights zero"),
        pytest.param(5, [2, -1], "zero or more", id="a negative weight"),
        pytest.param(5, [Decimal("NaN")], "finite", id="a weight that is no number"),
    ],
)
def test_a_split_that_cannot_be_made_is_refused(total, weights, rule):
    with pytest.raises(AmountError, match=rule):
        shares(total, weights)


@given(
    st.decimals(-(10**12), 10**12, allow_nan=False, places=30),
    st.decimals(0, 100, allow_nan=False, places=30),
)
def test_tax_is_the_exact_product_rounded_once(amount, percent):
    exact = Fraction(amount) * Fraction(percent) / 100
    cents = abs(exact) * 100 + Fraction(1, 2)
    expected = (cents.numerator // cents.denominator) * (1 if exact >= 0 else -1)
    assert Fraction(tax(amount, percent)) == Fraction(expected, 100)


def test_tax_is_given_to_the_places_asked_for():
    assert str(tax(Decimal("1000"), Decimal("8.25"), places=0)) == "83"
    assert str(tax(Decimal("1.000"), Decimal("5"), places=3)) == "0.050"


def test_a_negative_tax_rate_is_refused():
    with pytest.raises(AmountError, match="zero per cent or more"):
        tax(Decimal(5), Decimal(-1))


@pytest.mark.parametrize(
    ("amount", "step", "result"),
    [
        pytest.param(Decimal("612.30"), Decimal(5), Decimal(615), id="up to the next five"),
        pytest.param(Decimal("615.00"), Decimal(5), Decimal(615), id="already on a step"),
        pytest.param(Decimal("615.01"), Decimal(5), Decimal(620), id="a cent over"),
        pytest.param(Decimal("9.99"), Decimal("0.05"), Decimal("10.00"), id="five cents"),
        pytest.param(Decimal("-12"), Decimal(5), Decimal(-10), id="below zero, still upwards"),
        pytest.param(61230, 500, 61500, id="in minor units"),
        pytest.param(0, 500, 0, id="nothing"),
    ],
)
def test_a_price_is_rounded_up_to_a_step(amount, step, result):
    assert round_up_to_step(amount, step) == result


@given(st.integers(-(10**12), 10**12), st.integers(1, 10**6))
def test_rounding_up_is_the_least_multiple_that_is_enough(amount, step):
    result = round_up_to_step(amount, step)
    assert result % step == 0
    assert result - step < amount <= result


@pytest.mark.parametrize("step", [0, -5])
def test_a_step_that_is_not_above_zero_is_refused(step):
    with pytest.raises(AmountError, match="above zero"):
        round_up_to_step(100, step)


@pytest.mark.parametrize(
    ("minor", "code", "locale", "text"),
    [
        pytest.param(124050, "USD", "en_US", "$1,240.50", id="dollars at home"),
        pytest.param(-124050, "USD", "en_US", "−$1,240.50", id="below zero, with a true minus"),
        pytest.param(-124050, "EUR", "de_DE", "−1.240,50\u00a0€", id="below zero elsewhere"),
        pytest.param(-1, "KWD", "en_US", "−KWD\u00a00.001", id="the least below zero"),
        pytest.param(60000, "USD", "en_US", "$600.00", id="whole dollars keep their cents"),
        pytest.param(124050, "EUR", "fr_FR", "1\u00a0240,50\u00a0€", id="no narrow space"),
        pytest.param(124050, "EUR", "de_DE", "1.240,50\u00a0€", id="comma and point the other way"),
        pytest.param(1240, "JPY", "en_US", "¥1,240", id="no decimals"),
        pytest.param(1234567, "KWD", "en_US", "KWD\u00a01,234.567", id="thousandths"),
        pytest.param(12345, "MGA", "en_US", "MGA\u00a0123.45", id="two decimals though written whole"),
        pytest.param(LARGEST, "JPY", "en_US", "¥9,007,199,254,740,992", id="the largest"),
    ],
)
def test_an_amount_is_shown_as_its_locale_writes_it(minor, code, locale, text):
    assert show(minor, code, locale) == text


@given(MINOR, CODES, LOCALES)
def test_what_is_shown_can_be_typed_back(minor, code, locale):
    assert parse(show(minor, code, locale), code, locale) == minor


@given(MINOR.filter(lambda minor: minor < 0), CODES, LOCALES)
def test_what_is_below_zero_is_shown_with_a_true_minus_and_no_hyphen(minor, code, locale):
    shown = show(minor, code, locale)
    assert (shown.count("−"), shown.count("-")) == (1, 0)


@pytest.mark.parametrize(
    ("typed", "minor"),
    [
        pytest.param("$1,240.50", 124050, id="in full"),
        pytest.param("600", 60000, id="whole"),
        pytest.param("1240", 124000, id="no comma"),
        pytest.param("1240.5", 124050, id="one decimal"),
        pytest.param(".5", 50, id="no whole part"),
        pytest.param("5.", 500, id="a point and nothing after"),
        pytest.param("  $ 12 ", 1200, id="spaces"),
        pytest.param("USD 12", 1200, id="the code first"),
        pytest.param("12 usd", 1200, id="the code last"),
        pytest.param("US$12", 1200, id="as seen from abroad"),
        pytest.param("-5", -500, id="below zero"),
        pytest.param("-$5", -500, id="sign then currency"),
        pytest.param("$-5", -500, id="currency then sign"),
        pytest.param("−5", -500, id="a true minus sign"),
    ],
)
def test_a_typed_amount_is_understood(typed, minor):
    assert parse(typed, "USD", "en_US") == minor


@pytest.mark.parametrize(
    ("typed", "code", "locale", "minor"),
    [
        pytest.param("1 240,50", "EUR", "fr_FR", 124050, id="a plain space groups"),
        pytest.param("1'240.50", "CHF", "de_CH", 124050, id="a plain apostrophe groups"),
        pytest.param("1,24,000", "INR", "en_IN", 12400000, id="lakhs"),
        pytest.param("$5", "CAD", "en_US", 500, id="a dollar sign for another dollar"),
    ],
)
def test_each_locale_types_its_own_separators(typed, code, locale, minor):
    assert parse(typed, code, locale) == minor


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param("", id="empty"),
        pytest.param("   ", id="only spaces"),
        pytest.param("$", id="only the currency"),
        pytest.param(".", id="only a point"),
        pytest.param("around 600", id="about"),
        pytest.param("600ish", id="about, briefly"),
        pytest.param("1,5", id="a comma for the point"),
        pytest.param("12,40.5", id="groups of the wrong size"),
        pytest.param("1,2400", id="a group of four"),
        pytest.param("1.2.3", id="two points"),
        pytest.param("12.345", id="a tenth of a cent"),
        pytest.param("1e5", id="an exponent"),
        pytest.param("NaN", id="not a number"),
        pytest.param("Infinity", id="infinity"),
        pytest.param("--5", id="two signs"),
        pytest.param("$$5", id="two currencies"),
        pytest.param("€5", id="another currency"),
        pytest.param("5 + 5", id="a sum"),
        pytest.param("٣٤", id="other digits"),
        pytest.param("9" * 30, id="beyond reach"),
        pytest.param("9" * 5000, id="very long"),
    ],
)
def test_what_is_not_an_amount_is_refused_with_the_rule_and_the_value(typed):
    with pytest.raises(AmountError) as refused:
        parse(typed, "USD", "en_US")
    assert refused.value.value == typed
    assert refused.value.rule.endswith(".")
    assert len(str(refused.value)) < 150


def test_a_refusal_reads_as_two_sentences():
    with pytest.raises(AmountError) as refused:
        parse("around 600", "USD", "en_US")
    assert str(refused.value) == "An amount is written like $1,240.50. Given: around 600."
