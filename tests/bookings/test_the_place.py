"""What is typed about the place of a job: its heights, its weather, how long it must last."""

from decimal import Decimal

import pytest
from django.urls import reverse

from bookings.forms import BookingForm
from bookings.models import Booking
from studio.units import System
from tests.factories import TODAY, BookingFactory
from tests.opened import send_opened

KEY = "5b0c7c70-9f0a-4a0e-8f50-0d1c3c1f3a11"
PLACE = ("hang_height_mm", "altitude_mm", "celsius", "gusts_mph", "hours_afloat")


def filled(measures: System = "imperial", **typed: str) -> BookingForm:
    """The details of a job with these typed about its place."""
    sent = {"name": "Ines", "distance": "0", "travel_minutes": "0", "crew": "1"} | typed
    return BookingForm(sent, instance=BookingFactory.build(pk=None), today=TODAY, measures=measures)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("measures", "field", "typed", "kept"),
    [
        pytest.param("imperial", "hang_height_mm", "10 ft 6 in", Decimal("3200.4"), id="feet and inches"),
        pytest.param("metric", "hang_height_mm", "3,2", Decimal(3200), id="metres alone"),
        pytest.param("imperial", "altitude_mm", "0", Decimal(0), id="by the sea"),
        pytest.param("imperial", "altitude_mm", "5280", Decimal("1609344.0"), id="feet above the sea"),
        pytest.param("imperial", "celsius", "72", Decimal("22.2"), id="fahrenheit alone"),
        pytest.param("imperial", "celsius", "22 °C", Decimal("22.0"), id="celsius said"),
        pytest.param("metric", "celsius", "−5", Decimal("-5.0"), id="frost, with a true minus"),
        pytest.param("metric", "celsius", "95F", Decimal("35.0"), id="fahrenheit said"),
        pytest.param("imperial", "gusts_mph", "20", Decimal("20.0"), id="miles an hour alone"),
        pytest.param("metric", "gusts_mph", "38", Decimal("23.6"), id="kilometres an hour alone"),
        pytest.param("imperial", "gusts_mph", "8.5 m/s", Decimal("19.0"), id="metres a second"),
        pytest.param("imperial", "gusts_mph", "20 knots", Decimal("23.0"), id="knots"),
        pytest.param("imperial", "gusts_mph", "200 mph", Decimal("200.0"), id="a hurricane is kept"),
        pytest.param("imperial", "hours_afloat", "8", 8, id="hours"),
        pytest.param("imperial", "gusts_mph", "", None, id="not known"),
    ],
)
def test_what_is_typed_is_understood(measures, field, typed, kept):
    form = filled(measures, **{field: typed})
    assert form.is_valid(), form.errors
    assert form.job[field] == kept


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        pytest.param("hang_height_mm", "0", "Hanging height must be from 1 ft to 100 ft", id="no height"),
        pytest.param("hang_height_mm", "up high", "Hanging height “up high” is not understood", id="no number"),
        pytest.param("hang_height_mm", "120 ft", "120 ft is more", id="higher than any hall"),
        pytest.param("altitude_mm", "30000 ft", "Height above the sea must be from 0 ft to 15000 ft", id="in the air"),
        pytest.param("celsius", "200 F", "Temperature there must be from -40 °F to 140 °F (got “200 F”)", id="an oven"),
        pytest.param("gusts_mph", "-5 mph", "Gusts expected must be from 0 mph to 250 mph (got “-5 mph”)", id="low"),
        pytest.param("gusts_mph", "999 km/h", "must be from 0 km/h to 402.3 km/h (got “999 km/h”)", id="no such wind"),
        pytest.param(
            "gusts_mph", "breezy", "must be a number, with mph or km/h or m/s or knots behind it", id="words"
        ),
        pytest.param("gusts_mph", "5 furlongs", "(got “5 furlongs”)", id="no such unit"),
        pytest.param("hours_afloat", "0", "greater than or equal to 1", id="no hours"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_the_rule(field, typed, said):
    form = filled(**{field: typed})
    assert not form.is_valid()
    assert said in form.errors[field][0]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("measures", "words"),
    [
        pytest.param("imperial", ["10 ft", "5280 ft", "72 °F", "23.6 mph"], id="imperial"),
        pytest.param("metric", ["3.05 m", "1609.34 m", "22.2 °C", "38 km/h"], id="metric"),
    ],
)
def test_what_is_kept_is_shown_in_the_studios_measures(measures, words):
    booking = BookingFactory(
        hang_height_mm=Decimal("3048"),
        altitude_mm=Decimal("1609344"),
        celsius=Decimal("22.2"),
        gusts_mph=Decimal("23.6"),
    )
    form = BookingForm(instance=booking, today=TODAY, measures=measures)
    assert [form[name].value() for name in PLACE[:4]] == words


def test_the_owner_writes_down_the_place(owner_client):
    booking = BookingFactory()
    address = reverse("bookings:edit", args=[booking.pk])
    sent = {"form_key": KEY, "name": "Ines", "distance": "3", "travel_minutes": "10", "crew": "2"}
    sent |= {"hang_height_mm": "9' 6\"", "celsius": "68", "gusts_mph": "12", "hours_afloat": "5", "altitude_mm": ""}

    assert send_opened(owner_client, address, sent).status_code == 302
    kept = Booking.objects.get()
    assert [getattr(kept, name) for name in PLACE] == [Decimal("2895.6"), None, Decimal(20), Decimal(12), 5]


def test_what_was_typed_wrongly_is_still_there(owner_client):
    booking = BookingFactory()
    sent = {
        "form_key": KEY,
        "name": "Ines",
        "distance": "3",
        "travel_minutes": "10",
        "crew": "2",
        "gusts_mph": "breezy",
    }
    answer = send_opened(owner_client, reverse("bookings:edit", args=[booking.pk]), sent)

    assert answer.status_code == 422
    assert 'value="breezy"' in answer.content.decode()
