"""What is typed about the shelf, checked."""

import datetime as dt

import pytest
from django import forms
from hypothesis import given
from hypothesis import strategies as st

from stock.actions.ledger import MOST
from stock.forms import MoveForm, PlaceForm, ReceiveForm
from stock.forms.fields import MOST_PRICE_MINOR, Day, Price, WholeNumber, Words, shown
from stock.models import Colour, Item, OrderLine
from studio import money
from tests.factories import TODAY


def refusal(field: forms.Field, typed: str) -> str:
    with pytest.raises(forms.ValidationError) as refused:
        field.clean(typed)
    (sentence,) = refused.value.messages
    return sentence


def line(pk: int, packs: int, received: int = 0) -> OrderLine:
    item = Item(colour=Colour(name="Ink"), size=11)
    return OrderLine(pk=pk, item=item, packs=packs, pack_size=100, received=received)


@given(st.integers(0, MOST))
def test_every_whole_number_in_reach_is_read(number):
    assert WholeNumber(label="Packs").clean(str(number)) == number


@given(st.text(max_size=30))
def test_whatever_is_typed_for_a_number_is_read_in_reach_or_refused_by_name(typed):
    field = WholeNumber(label="Packs", least=1, most=50)
    try:
        assert field.clean(typed) in range(1, 51)
    except forms.ValidationError as error:
        assert error.messages[0].startswith("Packs ")


@given(st.integers(0, MOST_PRICE_MINOR), st.sampled_from(["USD", "EUR", "JPY", "KWD"]))
def test_a_price_shown_and_typed_back_is_the_same_price(minor, currency):
    field = Price(label="Price")
    field.currency = currency
    assert field.clean(money.show(minor, currency)) == minor


@given(st.text(max_size=60))
def test_whatever_is_typed_for_a_price_is_read_in_reach_or_refused_by_name(typed):
    try:
        assert Price(label="Price").clean(typed) in range(MOST_PRICE_MINOR + 1)
    except forms.ValidationError as error:
        assert error.messages[0].startswith("Price ")


@given(st.text(max_size=30))
def test_whatever_is_typed_for_a_day_is_read_or_refused_by_name(typed):
    try:
        assert isinstance(Day(label="Expected on").clean(typed), dt.date)
    except forms.ValidationError as error:
        assert error.messages[0].startswith("Expected on ")


@pytest.mark.parametrize(
    ("typed", "currency"),
    [
        pytest.param("12.345", "USD", id="three decimals of a dollar"),
        pytest.param("12.5", "JPY", id="half a yen"),
        pytest.param("1.2345", "KWD", id="four decimals of a dinar"),
    ],
)
def test_a_price_finer_than_its_currency_is_refused(typed, currency):
    field = Price(label="Price")
    field.currency = currency
    assert "decimal" in refusal(field, typed)


def test_a_name_may_be_as_long_as_there_is_room():
    assert Words(label="Name", most=40).clean("n" * 40) == "n" * 40


def test_a_longer_name_is_refused_with_both_lengths():
    assert refusal(Words(label="Name", most=40), "n" * 41).startswith("Name must be at most 40 characters long, not 41")


@pytest.mark.parametrize(
    ("value", "words"),
    [
        pytest.param("", "nothing", id="nothing"),
        pytest.param("Ink", "“Ink”", id="short"),
        pytest.param("a\n b", "“a b”", id="lines"),
        pytest.param("x" * 30, "“" + "x" * 24 + "…”", id="long"),
    ],
)
def test_what_was_typed_is_repeated_in_a_few_words(value, words):
    assert shown(value) == words


@pytest.mark.parametrize(
    ("kind", "label"),
    [("counted", "Counted"), ("received", "Received"), ("used", "Used"), ("written_off", "Written off")],
)
def test_a_movement_is_asked_for_by_its_own_name(kind, label):
    assert MoveForm(kind=kind, today=TODAY)["quantity"].label == label


def test_nothing_may_be_counted_but_not_used():
    assert MoveForm({"kind": "counted", "quantity": "0"}, kind="counted", today=TODAY).is_valid()
    assert not MoveForm({"kind": "used", "quantity": "0"}, kind="used", today=TODAY).is_valid()


def test_four_forms_on_one_page_share_no_id():
    ids = [
        MoveForm(kind=kind, today=TODAY)["quantity"].id_for_label
        for kind in ("counted", "received", "used", "written_off")
    ]
    assert len(set(ids)) == 4


@pytest.mark.parametrize("days", [0, 1, 730], ids=["the same day", "the next", "in two years"])
def test_an_order_may_come_from_the_day_it_is_placed(today, days):
    day = today + dt.timedelta(days=days)
    assert PlaceForm({"expected_on": str(day)}, not_before=today).is_valid()


@pytest.mark.parametrize("days", [-1, 731], ids=["the day before", "after two years"])
def test_an_order_comes_neither_before_nor_never(today, days):
    day = today + dt.timedelta(days=days)
    assert not PlaceForm({"expected_on": str(day)}, not_before=today).is_valid()


def test_only_lines_with_something_to_come_are_asked_for():
    form = ReceiveForm(
        lines=[line(1, packs=1), line(2, packs=1, received=100), line(3, packs=2, received=150)], today=TODAY
    )
    assert {field.name: field.initial for _, field, *_ in form.rows()} == {"line_1": 100, "line_3": 50}


def test_lines_of_which_nothing_came_are_left_out():
    form = ReceiveForm(
        {"line_1": "40", "line_2": "0", "line_3": ""}, lines=[line(n, packs=1) for n in (1, 2, 3)], today=TODAY
    )
    assert form.is_valid()
    assert form.quantities == {1: 40}


def test_a_delivery_of_nothing_is_refused():
    form = ReceiveForm({"line_1": "0"}, lines=[line(1, packs=1)], today=TODAY)
    assert not form.is_valid()
    assert form.non_field_errors() == ["Nothing was received yet: type how many came of at least one line."]
