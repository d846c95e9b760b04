"""Two owners with the same settings open: the second is told, and nothing of either is lost."""

import uuid
from typing import Any

import pytest
from django.urls import reverse

from estimating.models import InflatedDiameter, Rates
from studio.models import Studio, User
from studio.rates_form import RatesForm
from tests.factories import UserFactory
from tests.opened import edition_in

pytestmark = pytest.mark.django_db

STUDIO = {
    "name": "Tern & Tide",
    "email": "hello@tern-and-tide.example",
    "currency": "USD",
    "measures": "imperial",
    "time_zone": "UTC",
    "terms": "The deposit holds your date.",
    "quote_days": "14",
}
DAY = {"jobs": "2", "people": "3", "hours": "10", "vans": "1", "job_hours": "8", "install_minutes": "120"}
DAY |= {"strike_minutes": "60", "hold_days": "7", "week_start": "0"}
THINGS = {"lines": "1", "when_0": "always", "above_0": ""}


def rates() -> dict[str, str]:
    """The rates page as it is shown."""
    form = RatesForm(rates=Rates.objects.current(), currency="USD")
    return {name: str(form[name].value()) for name in form.fields}


def person() -> User:
    """Somebody of the crew, made once."""
    found: User = User.objects.filter(username="cleo").first() or UserFactory(username="cleo", role="crew")
    return found


PAGES = [
    pytest.param("settings-studio", STUDIO, "phone", "555-0101", "555-0102", id="the studio"),
    pytest.param("settings-rates", rates, "setup_minutes", "41", "42", id="the rates"),
    pytest.param("settings-inflated", {}, "air-11", "9 in", "9½ in", id="inflated diameters"),
    pytest.param("settings-person", {"role": "crew"}, "name", "Cleo", "Clea", id="a person"),
    pytest.param("bookings:day-limits", DAY, "people", "4", "5", id="what a day takes"),
    pytest.param("bookings:money-terms", {"pay_to": ""}, "balance_days", "8", "9", id="the money terms"),
    pytest.param("bookings:mail-settings", {}, "remind_days", "3", "4", id="which letters go"),
    pytest.param("bookings:mail-words", {"text": "{link}"}, "subject", "Yours", "Ours", id="words of a letter"),
    pytest.param("bookings:packing", THINGS, "thing_0", "Rope", "String", id="what goes along"),
]


@pytest.fixture(autouse=True)
def studio() -> Studio:
    """Anybody's settings are a studio's."""
    made: Studio = Studio.objects.create(pk=1, **(STUDIO | {"quote_days": 14}))
    return made


def address_of(page: str) -> str:
    if page == "settings-person":
        return reverse(page, args=[person().pk])
    return reverse(page, args=["quote"] if page == "bookings:mail-words" else [])


def as_shown(answer: Any, field: str) -> str:
    """What stands in a field of the form that came back."""
    return str(answer.context["form"][field].value())


@pytest.mark.parametrize(("page", "usual", "field", "theirs", "mine"), PAGES)
def test_who_saves_second_is_told_and_may_save_once_they_have_looked(owner_client, page, usual, field, theirs, mine):
    address = address_of(page)
    typed = (usual() if callable(usual) else usual) | {"form_key": str(uuid.uuid4())}
    seen = edition_in(owner_client.get(address))
    assert owner_client.post(address, typed | {"seen": seen, field: theirs}).status_code == 302

    sent = typed | {"form_key": str(uuid.uuid4()), field: mine}
    refused = owner_client.post(address, sent | {"seen": seen})
    assert refused.status_code == 422
    assert "was changed by somebody else since you opened it" in refused.content.decode()
    assert as_shown(refused, field) == mine
    assert as_shown(owner_client.get(address), field) == theirs
    assert f"is “{theirs}” now." in refused.content.decode(), "it says what is saved by now"
    assert set(refused.context["form"].errors) == {"__all__", field}

    assert owner_client.post(address, sent | {"seen": edition_in(refused)}).status_code == 302
    assert as_shown(owner_client.get(address), field) == mine


@pytest.mark.parametrize(("page", "usual", "field", "theirs", "mine"), PAGES)
def test_a_form_without_its_edition_is_shown_again_with_what_was_typed(owner_client, page, usual, field, theirs, mine):
    address = address_of(page)
    typed = (usual() if callable(usual) else usual) | {"form_key": str(uuid.uuid4()), field: mine}
    before = as_shown(owner_client.get(address), field)
    answer = owner_client.post(address, typed)
    assert answer.status_code == 422
    assert "this form is from before" in answer.content.decode()
    assert as_shown(answer, field) == mine
    assert as_shown(owner_client.get(address), field) == before
    assert owner_client.post(address, typed | {"seen": edition_in(answer)}).status_code == 302


def test_a_slip_does_not_give_a_form_the_edition_it_came_without(owner_client):
    address = reverse("settings-rates")
    typed = rates() | {"form_key": str(uuid.uuid4()), "setup_minutes": "soon"}
    slipped = owner_client.post(address, typed)
    assert edition_in(slipped) == ""
    answer = owner_client.post(address, typed | {"setup_minutes": "42", "seen": ""})
    assert "this form is from before" in answer.content.decode()


def test_one_diameter_more_is_another_edition(owner_client):
    address = reverse("settings-inflated")
    first = edition_in(owner_client.get(address))
    InflatedDiameter.objects.create(size=11, gas="air", mm=230)
    assert edition_in(owner_client.get(address)) != first
