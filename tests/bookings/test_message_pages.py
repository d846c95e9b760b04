"""A message pasted into the form of an enquiry."""

import datetime as dt

import pytest
from django.urls import reverse

from bookings.models import Booking
from studio.models import Studio
from tests.factories import ColourFactory

pytestmark = pytest.mark.django_db

MESSAGE = "24 ft garland in navy and sand, at our barn, 12 December at 2pm. About $300. Thanks, Ines"


@pytest.fixture(autouse=True)
def palette() -> None:
    """A studio in America with two colours."""
    Studio.objects.create(pk=1, time_zone="America/New_York", email="hello@ternandtide.example")
    ColourFactory(name="Navy", swatch="#1f2c4d")
    ColourFactory(name="Sand", swatch="#d8c29d")


def read(browser, htmx: bool = True, **typed: str):
    """Have a message read."""
    return browser.post(reverse("bookings:enquiry-read"), typed, headers={"HX-Request": "true"} if htmx else {})


def test_each_suggestion_stands_beside_its_field_with_the_words_it_came_from(owner_client):
    said = read(owner_client, wants=MESSAGE).content.decode()
    for field in ("name", "event_on", "ready_by", "place", "budget"):
        assert f'data-use="{field}"' in said
    assert "12 Dec" in said
    assert "from “<bdi>12 December</bdi>”" in said
    assert said.index('id="says-name"') < said.index("<bdi>Ines</bdi>")


def test_nothing_is_written_by_reading(owner_client):
    read(owner_client, wants=MESSAGE)
    read(owner_client, htmx=False, wants=MESSAGE, use="name=Ines")
    assert not Booking.objects.exists()


def test_what_is_typed_already_is_not_offered_again(owner_client):
    assert 'data-use="name"' not in read(owner_client, wants=MESSAGE, name="ines").content.decode()


def test_without_scripts_the_form_comes_back_with_what_was_typed(owner_client):
    answer = read(owner_client, htmx=False, wants=MESSAGE, phone="555-0142")
    assert answer.context["form"]["phone"].value() == "555-0142"
    assert answer.context["form"]["name"].value() == ""
    assert 'name="use" value="name=Ines"' in answer.content.decode()


def test_without_scripts_a_suggestion_that_is_taken_is_in_its_field(owner_client):
    answer = read(owner_client, htmx=False, wants=MESSAGE, name="typed", use="event_on=2026-12-12")
    assert answer.context["form"]["event_on"].value() == "2026-12-12"
    assert answer.context["form"]["name"].value() == "typed"


def test_a_colour_that_is_taken_is_written_under_the_message(owner_client):
    answer = read(owner_client, htmx=False, wants=MESSAGE, use="colour=Navy")
    assert answer.context["form"]["wants"].value() == f"{MESSAGE}\nColour: Navy"


def test_the_whole_message_is_kept_as_it_was_said(owner_client):
    page = owner_client.get(reverse("bookings:enquiry"))
    key = page.content.decode().split('name="form_key" value="')[1].split('"')[0]
    owner_client.post(
        reverse("bookings:enquiry"), {"form_key": key, "name": "Ines", "wants": MESSAGE, "ready_by": "14:00"}
    )
    booking = Booking.objects.get()
    assert booking.wants == MESSAGE
    assert booking.ready_by == dt.time(14)


@pytest.mark.parametrize("htmx", [True, False], ids=["with scripts", "without"])
def test_two_megabytes_are_refused_in_a_sentence(owner_client, htmx):
    answer = read(owner_client, htmx=htmx, wants="garland " * 250_000)
    assert answer.status_code == 422
    assert "read up to 20,000 characters; this one has 2,000,000" in answer.content.decode()


def test_a_browser_does_not_cut_a_pasted_message_off(owner_client):
    page = owner_client.get(reverse("bookings:enquiry")).content.decode()
    field = page[page.index("<textarea") : page.index("</textarea>")]
    assert "maxlength" not in field


def test_a_message_with_markup_in_it_is_shown_as_text(owner_client):
    said = read(owner_client, wants="My name is <b>Ines</b>. At <script>alert(1)</script> Hall").content.decode()
    assert "<script>" not in said
    assert "<b>" not in said
