"""The van, the points and the weather on the rates page, typed with their units."""

import uuid
from decimal import Decimal

import pytest
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.models import Rates
from studio.form_fields import ReadingField
from studio.models import Studio
from studio.rates_form import MEASURED, RatesForm, rate_field
from studio.units import System
from tests.opened import send_opened

RATES = reverse("settings-rates")


def form_of(measures: System = "imperial", **changes: str) -> RatesForm:
    """The rates as the page shows them, some typed over."""
    blank = RatesForm(rates=Rates.objects.current(), currency="USD", measures=measures)
    typed = {name: str(blank[name].value()) for name in blank.fields} | changes
    return RatesForm(typed, rates=Rates.objects.current(), currency="USD", measures=measures)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("measures", "shown"),
    [
        pytest.param("imperial", ["250 ft³", "1 lb", "24 in", "23.6 mph"], id="imperial"),
        pytest.param("metric", ["7.079 m³", "453.6 g", "61 cm", "38 km/h"], id="metric"),
    ],
)
def test_the_figures_to_begin_with_are_shown_in_the_studios_measures(measures, shown):
    form = RatesForm(rates=Rates.objects.current(), currency="USD", measures=measures)
    assert [form[name].value() for name in MEASURED] == shown


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("measures", "field", "typed", "kept"),
    [
        pytest.param("imperial", "van_cubic_feet", "320", Decimal("320.0"), id="cubic feet alone"),
        pytest.param("metric", "van_cubic_feet", "11 m3", Decimal("388.5"), id="cubic metres with a plain 3"),
        pytest.param("imperial", "hook_grams", "0.5", Decimal("226.8"), id="half a pound"),
        pytest.param("imperial", "hook_grams", "450 g", Decimal("450.0"), id="grams said"),
        pytest.param("imperial", "base_mm", "30", Decimal("762.0000"), id="inches alone"),
        pytest.param("imperial", "wind_limit_mph", "30 km/h", Decimal("18.6"), id="kilometres an hour said"),
        pytest.param("imperial", "evidence_hours", "1", 1, id="hardly sure"),
    ],
)
def test_what_is_typed_is_understood(measures, field, typed, kept):
    form = form_of(measures, **{field: typed})
    assert form.is_valid(), form.errors
    assert form.cleaned_data[field] == kept


@settings(max_examples=150, deadline=None)
@given(
    name=st.sampled_from(["van_cubic_feet", "hook_grams", "wind_limit_mph"]),
    measures=st.sampled_from(["imperial", "metric"]),
    tenths=st.integers(20, 500),
)
def test_what_is_shown_is_read_back_as_it_was_kept(name, measures, tenths):
    field = rate_field(name)
    assert isinstance(field, ReadingField)
    field.measures = measures
    kept = Decimal(tenths) / 10

    assert field.clean(field.prepare_value(kept)) == kept


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        pytest.param("van_cubic_feet", "0", "Room in your van must be from 1 ft³ to 9000 ft³ (got “0”)", id="no van"),
        pytest.param("van_cubic_feet", "1,500", "must be a number, with ft³ or m³ behind it", id="a thousand or 1.5"),
        pytest.param("van_cubic_feet", "", "Room in your van is needed.", id="empty"),
        pytest.param("hook_grams", "-3 lb", "What a hook or point holds must be from", id="below nothing"),
        pytest.param("base_mm", "1 in", "Width of a base must be from 3 in to 20 ft; 1 in is less", id="a pin"),
        pytest.param("wind_limit_mph", "200 mph", "must be from 1 mph to 60 mph (got “200 mph”)", id="a hurricane"),
        pytest.param("evidence_balloons", "0", "whole number from 1 to 1000000", id="worth nothing"),
    ],
)
def test_what_cannot_be_is_refused_with_the_rule(field, typed, said):
    form = form_of(**{field: typed})
    assert not form.is_valid()
    assert said in form.errors[field][0]


def test_the_owner_changes_them(owner_client):
    Studio.objects.update_or_create(pk=1, defaults={"name": "Tern & Tide", "measures": "metric"})
    typed = form_of("metric", van_cubic_feet="11 m3", wind_limit_mph="30").data
    answer = send_opened(owner_client, RATES, {"form_key": str(uuid.uuid4()), **typed})

    assert answer.status_code == 302
    rates = Rates.objects.get()
    assert (rates.van_cubic_feet, rates.wind_limit_mph) == (Decimal("388.5"), Decimal("18.6"))
    assert 'value="11.001 m³"' in owner_client.get(RATES).content.decode()
