"""The studio's details, its rates, its people."""

import datetime as dt
import uuid
from decimal import Decimal

import pytest
from django.urls import reverse

from estimating.models import Rates
from studio import people
from studio.models import Studio, User
from studio.rates_form import RATE_GROUPS, RATE_WORDS, RatesForm
from tests.factories import NOON, QuoteFactory, UserFactory
from tests.opened import send_opened

PASSWORD = "three paper boats sail"


def key() -> dict[str, str]:
    """The key of a form just shown."""
    return {"form_key": str(uuid.uuid4())}


def typed_rates(currency: str = "USD", **changes: str) -> dict[str, str]:
    """The rates page as it is shown, with some fields typed over."""
    form = RatesForm(rates=Rates.objects.current(), currency=currency)
    shown = {name: str(form[name].value()) for name in form.fields}
    return key() | shown | changes


def typed_studio(**changes: str) -> dict[str, str]:
    """The studio page, filled in."""
    return (
        key()
        | {
            "name": "Tern & Tide Balloons",
            "email": "hello@ternandtide.example",
            "phone": "+1 555 0100",
            "address": "2 Quay Road, Port Alder",
            "currency": "USD",
            "measures": "imperial",
            "time_zone": "UTC",
            "quote_days": "14",
            "terms": "The deposit holds your date.",
        }
        | changes
    )


def test_the_owner_finds_every_setting(owner_client):
    page = owner_client.get(reverse("settings")).content.decode()

    settings = ["settings-studio", "settings-rates", "settings-inflated", "settings-people"]
    for name in [*settings, "stock:colours", "stock:suppliers"]:
        assert f'href="{reverse(name)}"' in page


def test_crew_find_their_own_password_and_nothing_else(crew_client):
    page = crew_client.get(reverse("settings")).content.decode()

    assert f'href="{reverse("settings-password")}"' in page
    for name in ["settings-studio", "settings-rates", "settings-inflated", "settings-people"]:
        assert reverse(name) not in page


def test_crew_get_to_their_own_settings_from_every_page(crew_client):
    assert f'href="{reverse("settings")}"' in crew_client.get(reverse("week")).content.decode()


def test_the_studio_is_saved(owner_client):
    answer = send_opened(owner_client, reverse("settings-studio"), typed_studio(quote_days="21", time_zone="auckland"))

    assert answer.status_code == 302
    studio = Studio.objects.get()
    assert (studio.quote_days, studio.time_zone) == (21, "Pacific/Auckland")
    assert studio.address == "2 Quay Road, Port Alder"


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        pytest.param("quote_days", "0", "Days a quote stays open must be a whole number from 1 to 365", id="no-days"),
        pytest.param("quote_days", "400", "(got “400”)", id="too-many-days"),
        pytest.param("quote_days", "a week", "(got “a week”)", id="days-in-words"),
        pytest.param("currency", "EURO", "(got “EURO”)", id="no-currency"),
        pytest.param("time_zone", "Atlantis", "(got “Atlantis”)", id="no-zone"),
        pytest.param("name", "", "Name of the studio is needed.", id="no-name"),
    ],
)
def test_a_wrong_detail_of_the_studio_is_named_and_nothing_is_saved(owner_client, field, typed, sentence):
    answer = send_opened(
        owner_client, reverse("settings-studio"), typed_studio(**{field: typed, "phone": "+1 555 0199"})
    )

    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert "+1 555 0199" in answer.content.decode()
    assert not Studio.objects.exists()


def test_the_currency_can_change_until_a_quote_has_gone_out(owner_client):
    send_opened(owner_client, reverse("settings-studio"), typed_studio(currency="EUR"))

    assert Studio.objects.get().currency == "EUR"


def test_the_currency_stays_once_a_quote_has_gone_out(owner_client):
    QuoteFactory()
    answer = send_opened(owner_client, reverse("settings-studio"), typed_studio(currency="EUR"))

    assert answer.status_code == 422
    assert "Currency stays USD" in answer.content.decode()
    assert not Studio.objects.exists()


def test_every_rate_is_on_the_page_with_a_sentence():
    rates = {field.name for field in Rates._meta.get_fields()} - {"id"}

    assert {name for group in RATE_GROUPS for name in group.names} == rates == set(RATE_WORDS)
    assert all(help_text.endswith(".") for _, help_text in RATE_WORDS.values())


def test_rates_shown_and_sent_back_unchanged_stay_the_same(owner_client):
    before = Rates.objects.current()
    assert send_opened(owner_client, reverse("settings-rates"), typed_rates()).status_code == 302

    saved = Rates.objects.get()
    for name in RATE_WORDS:
        kept, was = getattr(saved, name), getattr(before, name)
        assert kept == was if name == "tax_each" else Decimal(kept) == Decimal(was), name


@pytest.mark.parametrize(
    ("field", "typed", "kept"),
    [
        pytest.param("hourly_minor", "$31.50", 3150, id="an-amount-with-its-sign"),
        pytest.param("hourly_minor", "31.5", 3150, id="an-amount"),
        pytest.param("minimum_minor", "1,250", 125000, id="thousands"),
        pytest.param("margin_percent", "32.5 %", Decimal("32.5"), id="a-share-with-its-sign"),
        pytest.param("tax_percent", "8.625", Decimal("8.625"), id="three-decimals"),
        pytest.param("seconds_small", "9", 9, id="seconds"),
        pytest.param("crew_exponent", "0.8", Decimal("0.8"), id="crew-speed"),
    ],
)
def test_a_rate_is_kept_as_typed(owner_client, field, typed, kept):
    answer = send_opened(owner_client, reverse("settings-rates"), typed_rates(**{field: typed}))

    assert answer.status_code == 302
    assert getattr(Rates.objects.get(), field) == kept


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        pytest.param("hourly_minor", "lots", "An hour of work costs must be an amount.", id="no-amount"),
        pytest.param("hourly_minor", "-5", "must be $0.00 or more (got “-5”)", id="less-than-nothing"),
        pytest.param("hourly_minor", "1,5", "(got “1,5”)", id="a-comma-for-a-point"),
        pytest.param("rounding_minor", "0", "must be $0.01 or more", id="no-step"),
        pytest.param("margin_percent", "96", "from 0 to 95, with at most 3 decimals (got “96”)", id="all-margin"),
        pytest.param("margin_percent", "NaN", "(got “NaN”)", id="not-a-number"),
        pytest.param("tax_percent", "8.6255", "(got “8.6255”)", id="four-decimals"),
        pytest.param("seconds_small", "9.5", "(got “9.5”)", id="half-a-second"),
        pytest.param("seconds_small", "99999999999", "from 0 to 86400", id="for-ever"),
        pytest.param("deposit_percent", "", "Deposit in % is needed.", id="nothing"),
    ],
)
def test_a_wrong_rate_is_named_and_nothing_is_saved(owner_client, field, typed, sentence):
    answer = send_opened(owner_client, reverse("settings-rates"), typed_rates(**{field: typed, "setup_minutes": "47"}))

    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert 'value="47"' in answer.content.decode()
    assert not Rates.objects.exists()


def test_rates_are_typed_in_the_studios_currency(owner_client):
    Studio.objects.create(pk=1, currency="JPY")
    assert "¥2,500" in owner_client.get(reverse("settings-rates")).content.decode()

    send_opened(owner_client, reverse("settings-rates"), typed_rates("JPY", hourly_minor="¥3,200"))
    assert Rates.objects.get().hourly_minor == 3200


def new_person(**changes: str) -> dict[str, str]:
    """Somebody to add."""
    typed = {"name": "Bo", "role": "crew", "username": "bo", "password": PASSWORD, "password_again": PASSWORD}
    return key() | typed | changes


def test_somebody_added_can_sign_in(owner_client, client):
    assert owner_client.post(reverse("settings-person-new"), new_person()).status_code == 302
    assert User.objects.get(username="bo").role == "crew"

    answer = client.post(reverse("login"), {"username": "bo", "password": PASSWORD})
    assert answer.status_code == 302


@pytest.mark.parametrize("taken", ["ana", "Ana"])
def test_a_user_name_is_given_once(owner_client, taken):
    answer = owner_client.post(reverse("settings-person-new"), new_person(username=taken))

    assert answer.status_code == 422
    assert f"Somebody signs in as “{taken}” already." in answer.content.decode()
    assert User.objects.count() == 1


def test_a_role_is_owner_or_crew(owner_client):
    assert owner_client.post(reverse("settings-person-new"), new_person(role="admin")).status_code == 422


def test_a_person_gets_only_what_the_form_asks_for(owner_client):
    owner_client.post(reverse("settings-person-new"), new_person(is_staff="1", is_superuser="1", is_active="0"))

    person = User.objects.get(username="bo")
    assert (person.is_staff, person.is_superuser, person.is_active) == (False, False, True)


def test_a_name_and_a_role_can_change(owner_client, crew):
    send_opened(owner_client, reverse("settings-person", args=[crew.pk]), key() | {"name": "Bodil", "role": "owner"})

    crew.refresh_from_db()
    assert (crew.first_name, crew.role) == ("Bodil", "owner")


def test_the_last_owner_stays_an_owner(owner_client, owner):
    answer = send_opened(
        owner_client, reverse("settings-person", args=[owner.pk]), key() | {"name": "Ana", "role": "crew"}
    )

    assert answer.status_code == 422
    assert "Ana is the only owner" in answer.content.decode()
    owner.refresh_from_db()
    assert owner.role == "owner"


def test_the_last_owners_account_stays_open(owner_client, owner, crew):
    UserFactory(role="owner", is_active=False)
    answer = owner_client.post(reverse("settings-person-close", args=[owner.pk]), key())

    assert answer.status_code == 422
    assert "Ana is the only owner" in answer.content.decode()
    owner.refresh_from_db()
    assert owner.is_active


def test_with_a_second_owner_the_first_may_go(owner, db):
    second = UserFactory(role="owner")
    people.close_account(person=owner, by=second, at=NOON)

    owner.refresh_from_db()
    assert not owner.is_active


def test_a_closed_account_is_out_at_once(owner_client, crew, crew_client):
    assert crew_client.get(reverse("settings")).status_code == 200
    owner_client.post(reverse("settings-person-close", args=[crew.pk]), key())

    assert crew_client.get(reverse("settings")).status_code == 302


def test_a_closed_account_can_be_opened_again(owner_client, crew):
    people.close_account(person=crew, by=crew, at=NOON)
    owner_client.post(reverse("settings-person-open", args=[crew.pk]), key())

    crew.refresh_from_db()
    assert crew.is_active


def test_an_owner_sets_a_forgotten_password(owner_client, crew, crew_client, client):
    typed = key() | {"password": PASSWORD, "password_again": PASSWORD}
    assert owner_client.post(reverse("settings-person-password", args=[crew.pk]), typed).status_code == 302

    assert crew_client.get(reverse("settings")).status_code == 302
    assert client.post(reverse("login"), {"username": "bo", "password": PASSWORD}).status_code == 302


def test_crew_change_their_own_password_and_stay_signed_in(crew, crew_client):
    crew.set_password("until now it was this")
    crew.save()
    crew_client.force_login(crew)
    typed = {"old_password": "until now it was this", "password": PASSWORD, "password_again": PASSWORD}
    assert crew_client.post(reverse("settings-password"), key() | typed).status_code == 302

    assert crew_client.get(reverse("settings")).status_code == 200
    crew.refresh_from_db()
    assert crew.check_password(PASSWORD)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        pytest.param({"old_password": "a guess"}, "not the password you sign in with", id="a-wrong-old-one"),
        pytest.param({"password_again": "something else"}, "two passwords are not the same", id="a-slip"),
        pytest.param({"password": "password1234", "password_again": "password1234"}, "too common", id="a-common-one"),
    ],
)
def test_a_password_that_will_not_do_is_refused(crew, crew_client, changes, sentence):
    crew.set_password("until now it was this")
    crew.save()
    crew_client.force_login(crew)
    typed = {"old_password": "until now it was this", "password": PASSWORD, "password_again": PASSWORD} | changes
    answer = crew_client.post(reverse("settings-password"), key() | typed)

    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    crew.refresh_from_db()
    assert crew.check_password("until now it was this")


def test_people_are_listed_in_pages_with_as_many_queries(owner_client, django_assert_max_num_queries):
    UserFactory.create_batch(40, last_login=NOON - dt.timedelta(days=1))
    with django_assert_max_num_queries(12) as few:
        owner_client.get(reverse("settings-people"))
    UserFactory.create_batch(360)
    with django_assert_max_num_queries(12) as many:
        page = owner_client.get(reverse("settings-people")).content.decode()

    assert len(few) == len(many)
    assert "Page 1 of 9" in page


def test_a_long_name_in_any_script_is_shown_whole(owner_client):
    name = "אלכסנדרה־ג׳וזפין 🎈 " + "x" * 60
    UserFactory(first_name=name)

    assert f"<bdi>{name}</bdi>" in owner_client.get(reverse("settings-people")).content.decode()
