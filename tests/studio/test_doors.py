"""Welcome, in, out; and guessing."""

import datetime as dt
import uuid

import pytest
from django.test import Client as Browser
from django.urls import reverse

from estimating.models import Rates
from stock.models import Colour
from studio import throttle
from studio.address import address_of
from studio.models import SignInAttempt, Studio, User
from tests.factories import NOON, UserFactory

PASSWORD = "three paper boats sail"


def answers(**changes: str) -> dict[str, str]:
    """What somebody types on the welcome page."""
    return {
        "form_key": str(uuid.uuid4()),
        "studio_name": "Tern & Tide Balloons",
        "currency": "eur",
        "measures": "metric",
        "time_zone": "lisbon",
        "with_colours": "on",
        "name": "Mara",
        "username": "mara",
        "password": PASSWORD,
        "password_again": PASSWORD,
    } | changes


@pytest.fixture
def mara(db) -> User:
    """An owner with a password."""
    person = UserFactory(username="mara", first_name="Mara")
    person.set_password(PASSWORD)
    person.save()
    return person


def test_with_no_account_signing_in_leads_to_setting_up(db, client):
    assert client.get(reverse("login")).headers["Location"] == reverse("welcome")


def test_setting_up_makes_the_studio_its_owner_its_rates_and_its_colours(db, client):
    answer = client.post(reverse("welcome"), answers())

    assert answer.headers["Location"] == reverse("week")
    studio = Studio.objects.get()
    assert (studio.name, studio.currency, studio.measures, studio.time_zone) == (
        "Tern & Tide Balloons",
        "EUR",
        "metric",
        "Europe/Lisbon",
    )
    owner = User.objects.get()
    assert (owner.username, owner.first_name, owner.role) == ("mara", "Mara", "owner")
    assert owner.check_password(PASSWORD)
    assert int(client.session["_auth_user_id"]) == owner.pk
    assert Rates.objects.count() == 1
    assert Colour.objects.count() == 12


def test_a_studio_can_start_without_colours(db, client):
    typed = answers()
    del typed["with_colours"]
    client.post(reverse("welcome"), typed)

    assert User.objects.count() == 1
    assert Colour.objects.count() == 0


def test_pressing_twice_sets_up_one_studio(db, client):
    typed = answers()
    first, second = client.post(reverse("welcome"), typed), client.post(reverse("welcome"), typed)

    assert first.headers["Location"] == second.headers["Location"] == reverse("week")
    assert User.objects.count() == 1


@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize("is_active", [pytest.param(True, id="open"), pytest.param(False, id="closed")])
def test_welcome_is_closed_once_there_is_an_account(db, client, method, is_active):
    UserFactory(is_active=is_active)

    assert getattr(client, method)(reverse("welcome"), answers()).status_code == 404
    assert User.objects.count() == 1


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        pytest.param("currency", "dollars", "(got “dollars”)", id="no-currency"),
        pytest.param("currency", "XAU", "(got “XAU”)", id="gold-is-not-spent"),
        pytest.param("time_zone", "Lisbo", "Europe/Lisbon (got “Lisbo”)", id="a-town-with-a-slip"),
        pytest.param("username", "a b", "User name may hold letters, digits", id="a-space-in-a-user-name"),
        pytest.param("username", "", "User name is needed.", id="no-user-name"),
        pytest.param("password", "short", "at least 12 characters", id="a-short-password"),
        pytest.param("password", "passwordpassword1", "two passwords are not the same", id="two-passwords"),
        pytest.param("studio_name", "x" * 121, "121", id="a-long-name"),
    ],
)
def test_a_wrong_answer_is_named_and_what_was_typed_is_kept(db, client, field, typed, sentence):
    changes = {field: typed}
    if (field, typed) == ("password", "short"):
        changes["password_again"] = typed
    answer = client.post(reverse("welcome"), answers(**changes))

    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert "Tern &amp; Tide Balloons" in answer.content.decode() or field == "studio_name"
    assert not User.objects.exists()


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        pytest.param("Europe/Lisbon", "Europe/Lisbon", id="in-full"),
        pytest.param("europe/lisbon", "Europe/Lisbon", id="in-small-letters"),
        pytest.param("New York", "America/New_York", id="a-town"),
        pytest.param("UTC", "UTC", id="utc"),
        pytest.param("EST5EDT", "EST5EDT", id="one-of-the-machines-own"),
    ],
)
def test_a_time_zone_is_found_by_its_name_or_its_town(db, client, typed, name):
    client.post(reverse("welcome"), answers(time_zone=typed))

    assert Studio.objects.get().time_zone == name


def test_signing_in_opens_a_new_session_and_the_page_asked_for(mara, client):
    client.get(reverse("login"))
    answer = client.post(
        reverse("login"), {"username": "mara", "password": PASSWORD, "next": reverse("settings-people")}
    )

    assert answer.headers["Location"] == reverse("settings-people")
    assert int(client.session["_auth_user_id"]) == mara.pk


@pytest.mark.parametrize(
    "elsewhere",
    [
        "https://elsewhere.example/",
        "//elsewhere.example/",
        "///elsewhere.example",
        "\\\\elsewhere.example",
        "http:///elsewhere.example",
        "javascript:alert(1)",
        " //elsewhere.example",
        "https:elsewhere.example",
        "data:text/html,x",
        "",
    ],
)
def test_signing_in_never_leads_to_another_site(mara, client, elsewhere):
    answer = client.post(reverse("login"), {"username": "mara", "password": PASSWORD, "next": elsewhere})

    assert answer.headers["Location"] == reverse("week")


def test_a_page_named_like_an_address_of_ours_is_not_looked_up(mara, client):
    answer = client.post(reverse("login"), {"username": "mara", "password": PASSWORD, "next": "settings-rates"})

    assert answer.headers["Location"] == "settings-rates"


def test_signing_out_ends_the_session_and_drops_kept_pages(owner_client):
    answer = owner_client.post(reverse("logout"))

    assert answer.headers["Location"] == reverse("login")
    assert answer.headers["Clear-Site-Data"] == '"cache"'
    assert "_auth_user_id" not in owner_client.session
    assert owner_client.get(reverse("settings")).status_code == 302


def test_signing_out_takes_a_press_of_the_button(owner_client):
    assert owner_client.get(reverse("logout")).status_code == 405
    assert "_auth_user_id" in owner_client.session


def test_a_wrong_password_and_an_unknown_name_are_told_the_same(mara, client):
    def told(username: str) -> str:
        answer = client.post(reverse("login"), {"username": username, "password": "wrong"})
        assert answer.status_code == 422
        return answer.content.decode().split("error-summary")[1].split("</div>")[0]

    assert "do not match" in told("mara")
    assert told("mara") == told("nobody")


def test_a_closed_account_is_told_no_more_than_a_wrong_password(mara, client):
    User.objects.filter(pk=mara.pk).update(is_active=False)
    answer = client.post(reverse("login"), {"username": "mara", "password": PASSWORD})

    assert "do not match" in answer.content.decode()


def guess(browser: Browser, times: int, address: str = "203.0.113.9", username: str = "mara") -> list[int]:
    """The status of each of so many wrong guesses."""
    return [
        browser.post(
            reverse("login"), {"username": username, "password": f"wrong {n}"}, REMOTE_ADDR=address
        ).status_code
        for n in range(times)
    ]


def test_the_eleventh_guess_in_a_quarter_of_an_hour_waits(mara, client):
    assert guess(client, 11) == [422] * 10 + [429]

    answer = client.post(reverse("login"), {"username": "mara", "password": PASSWORD}, REMOTE_ADDR="203.0.113.9")
    assert answer.status_code == 429
    assert int(answer.headers["Retry-After"]) in range(60, 15 * 60 + 1, 60)
    assert "Try again in 15 minutes" in answer.content.decode()
    assert "_auth_user_id" not in client.session


def test_upper_and_lower_case_are_one_name_to_the_counting(mara, client):
    assert guess(client, 10) == [422] * 10
    assert guess(client, 1, username="MARA ") == [429]


def test_the_owner_still_gets_in_from_another_address(mara, client):
    guess(client, 11)
    answer = client.post(reverse("login"), {"username": "mara", "password": PASSWORD}, REMOTE_ADDR="198.51.100.4")

    assert answer.status_code == 302
    assert "_auth_user_id" in client.session


def test_getting_in_forgets_earlier_slips(mara, client):
    guess(client, 9)
    client.post(reverse("login"), {"username": "mara", "password": PASSWORD}, REMOTE_ADDR="203.0.113.9")

    assert SignInAttempt.objects.count() == 0
    assert guess(Browser(), 10) == [422] * 10


def test_an_empty_password_is_no_guess(mara, client):
    for _ in range(12):
        assert client.post(reverse("login"), {"username": "mara", "password": ""}).status_code == 422
    assert SignInAttempt.objects.count() == 0


def test_a_try_counts_again_after_a_quarter_of_an_hour(db):
    key = throttle.key_for("mara", "203.0.113.9")
    for n in range(10):
        throttle.count_try(key=key, at=NOON + dt.timedelta(seconds=n))

    with pytest.raises(throttle.TooManyTries) as refused:
        throttle.count_try(key=key, at=NOON + dt.timedelta(minutes=5))
    assert refused.value.minutes == 10
    throttle.count_try(key=key, at=NOON + dt.timedelta(minutes=15))
    with pytest.raises(throttle.TooManyTries):
        throttle.count_try(key=key, at=NOON + dt.timedelta(minutes=15))


def test_tries_are_kept_no_longer_than_they_count(db):
    throttle.count_try(key=throttle.key_for("a", "x"), at=NOON)
    throttle.count_try(key=throttle.key_for("b", "x"), at=NOON + dt.timedelta(minutes=16))

    assert SignInAttempt.objects.count() == 1


def test_what_is_kept_of_a_try_names_nobody(db):
    throttle.count_try(key=throttle.key_for("mara", "203.0.113.9"), at=NOON)

    assert "mara" not in SignInAttempt.objects.get().key


@pytest.mark.parametrize(
    ("behind_proxy", "address"),
    [
        pytest.param(None, "203.0.113.9", id="a-claim-is-not-believed"),
        pytest.param(("HTTP_X_FORWARDED_PROTO", "https"), "198.51.100.7", id="the-proxys-word-is-the-last"),
    ],
)
def test_the_address_is_the_connections_or_the_proxys(rf, settings, behind_proxy, address):
    settings.SECURE_PROXY_SSL_HEADER = behind_proxy
    request = rf.get("/", REMOTE_ADDR="203.0.113.9", HTTP_X_FORWARDED_FOR="192.0.2.1, 198.51.100.7")

    assert address_of(request) == address


def test_a_new_password_ends_the_other_sessions(mara, client):
    client.force_login(mara)
    mara.set_password("four quiet paper lamps")
    mara.save()

    assert client.get(reverse("settings")).status_code == 302
