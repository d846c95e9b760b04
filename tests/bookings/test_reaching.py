"""When two spellings are one number, one address, one name."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookings.reaching import country_of, digits_of, mail_key, name_key, phone_key


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param("020 7946 0018", id="as-at-home"),
        pytest.param("(020) 7946-0018", id="with-brackets"),
        pytest.param("+44 20 7946 0018", id="with-its-country"),
        pytest.param("0044 20 79460018", id="with-noughts-for-the-plus"),
        pytest.param("+44 (0)20 7946 0018", id="with-the-nought-in-brackets"),
        pytest.param(" 02079460018 ", id="with-blanks-around"),
        pytest.param("tel:+44-20-7946-0018", id="as-a-link"),
        pytest.param("٠٢٠٧٩٤٦٠٠١٨", id="in-arabic-digits"),
    ],
)
def test_a_number_is_the_same_in_any_spelling(typed):
    assert phone_key(typed, "GB") == "+442079460018"


def test_a_number_of_another_country_is_another_number():
    assert phone_key("020 7946 0018", "GB") != phone_key("020 7946 0018", "NL")


def test_an_extension_is_another_desk():
    assert phone_key("+44 20 7946 0018 ext. 3", "") == "+442079460018x3"


@pytest.mark.parametrize("typed", ["", "call me", "ext 12", "12", "-"])
def test_what_is_no_number_is_compared_with_nothing(typed):
    assert phone_key(typed, "US") == ""


def test_a_number_of_no_known_country_is_compared_by_its_digits():
    assert phone_key("555-0163", "") == phone_key("5550 163", "") == "5550163"


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=40))
def test_anything_typed_has_keys_that_fit_their_columns(typed):
    assert len(phone_key(typed, "US")) <= 40
    assert len(digits_of(typed)) <= 40
    assert len(name_key(typed)) <= 240


@settings(max_examples=60, deadline=None)
@given(
    st.from_regex(r"\A[2-9][0-9]{2}[2-9][0-9]{6}\Z"),
    st.sampled_from(["{}-{}-{}", "({}) {} {}", "+1 {}.{}.{}", "1{}{}{}"]),
)
def test_how_an_american_number_is_broken_up_does_not_matter(digits, pattern):
    assert phone_key(pattern.format(digits[:3], digits[3:6], digits[6:]), "US") == f"+1{digits}"


@pytest.mark.parametrize(
    ("phone", "zone", "country"),
    [
        pytest.param("+351 21 000 0000", "America/New_York", "PT", id="its-own-number-first"),
        pytest.param("555 0142", "America/New_York", "US", id="else-its-time-zone"),
        pytest.param("", "Europe/Lisbon", "PT", id="no-number"),
        pytest.param("", "UTC", "", id="nothing-says-where"),
        pytest.param("+999 1 23456", "UTC", "", id="a-country-there-is-not"),
    ],
)
def test_a_studio_is_of_the_country_of_its_number_or_its_zone(phone, zone, country):
    assert country_of(phone=phone, time_zone=zone) == country


def test_an_address_is_the_same_in_capitals_and_with_blanks_around():
    assert mail_key(" Ines@Example.ORG ") == "ines@example.org"


def test_a_name_is_found_without_its_accents():
    assert name_key("  Inés   VARÉLA ") == "ines varela"
