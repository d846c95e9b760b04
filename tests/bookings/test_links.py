"""The links themselves: hard to guess, quick to die, and leaving no trace."""

import datetime as dt
import math

import pytest
from django.apps import apps
from django.conf import settings
from django.core.cache import cache
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.guessing import MOST_MISSES, count_miss, has_missed_too_often
from bookings.links import hash_of, new_salt, token_for
from bookings.models import Quote
from tests.factories import NOON, QuoteFactory, QuotePieceFactory, token_of

PRIVATE = {
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow",
    "Cache-Control": "private, no-store",
}
NAMES = ("client", "client-pdf", "client-accept")


@pytest.fixture
def quote(db):
    made = QuoteFactory(valid_until=timezone.localdate() + dt.timedelta(days=14))
    QuotePieceFactory(quote=made, position=0)
    return made


def paths_of(token):
    return [
        *(reverse(f"bookings:{name}", args=[token]) for name in NAMES),
        reverse("bookings:client-picture", args=[token, 0]),
    ]


def test_a_token_has_192_bits_in_characters_that_survive_a_message():
    tokens = {token_for(new_salt(), key="k" * 43) for _ in range(500)}
    assert len(tokens) == 500
    assert all(len(token) == 32 for token in tokens)
    assert len(tokens.pop()) * math.log2(64) == 192


def test_a_token_depends_on_the_salt_and_on_the_key():
    assert token_for("a", key="one") == token_for("a", key="one")
    assert len({token_for("a", key="one"), token_for("b", key="one"), token_for("a", key="two")}) == 3


def test_any_text_has_a_hash():
    assert len({hash_of(text) for text in ("", "a", "\x00", "🎈", "\ud800", "a" * 10_000)}) == 6


def test_the_database_holds_no_token(quote, client):
    client.post(
        reverse("bookings:client-accept", args=[token_of(quote)]),
        {"name": "Ines", "agreed": "on", "form_key": "7c9e6679-7425-40de-944b-e07fc1f90ae7"},
    )
    rows = [row for model in apps.get_models() for row in model._default_manager.values_list()]
    assert Quote.objects.get(acceptance__name="Ines") == quote
    assert token_of(quote) not in repr(rows)


UNKNOWN = [
    pytest.param("A" * 32, id="never was one"),
    pytest.param("x", id="too short"),
    pytest.param("x" * 5_000, id="too long"),
    pytest.param("🎈", id="no letters"),
    pytest.param("a\x00b", id="a null"),
    pytest.param("' OR 1=1 --", id="a trick"),
    pytest.param("..", id="dots"),
]


@pytest.mark.parametrize("token", UNKNOWN)
def test_every_link_that_leads_nowhere_answers_alike(client, quote, token, django_assert_num_queries):
    client.get(paths_of("B" * 32)[0])
    plain = client.get(paths_of("B" * 32)[0])
    for path in paths_of(token):
        with django_assert_num_queries(2):
            answer = client.get(path)
        assert answer.status_code == 404
        assert answer.content == plain.content
    assert token not in plain.content.decode() or token in ("x", "..")


def test_a_link_is_exactly_its_token(client, quote):
    token = token_of(quote)
    for near in (token[:-1], token + "A", token.swapcase(), quote.link_hash, quote.link_salt):
        assert client.get(paths_of(near)[0]).status_code == 404


def test_a_new_link_kills_the_old_one_at_once(client, quote, owner):
    old = token_of(quote)
    actions.renew_link(quote=quote, by=owner, at=NOON)
    assert client.get(paths_of(old)[0]).status_code == 404
    assert client.get(paths_of(token_of(quote))[0]).status_code == 200


@pytest.mark.parametrize("state", ["open", "gone", "unknown", "refused method"])
def test_every_answer_stays_between_the_client_and_the_studio(client, quote, state):
    token = "A" * 32 if state == "unknown" else token_of(quote)
    if state == "gone":
        Quote.objects.update(withdrawn_at=NOON)
    paths = paths_of(token)
    for path in paths:
        answer = client.delete(path) if state == "refused method" else client.get(path)
        assert {name: answer.headers.get(name) for name in PRIVATE} == PRIVATE
        if state == "refused method":
            assert answer.status_code == 405


def test_a_refused_form_stays_between_them_too(quote):
    strict = Browser(enforce_csrf_checks=True)
    answer = strict.post(reverse("bookings:client-accept", args=[token_of(quote)]), {"name": "Ines"})
    assert answer.status_code == 403
    assert {name: answer.headers.get(name) for name in PRIVATE} == PRIVATE


def test_the_thirty_first_miss_in_a_minute_is_told_to_wait(client, quote, monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: NOON)
    for n in range(MOST_MISSES):
        assert client.get(paths_of(f"guess-{n}")[n % 4]).status_code == 404
    answer = client.get(paths_of("guess")[0])
    assert answer.status_code == 429
    assert answer.headers["Retry-After"] == "60"
    assert {name: answer.headers.get(name) for name in PRIVATE} == PRIVATE


def test_a_right_guess_after_thirty_misses_is_told_to_wait_as_well(client, quote, monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: NOON)
    for n in range(MOST_MISSES):
        client.get(paths_of(f"guess-{n}")[0])
    assert client.get(paths_of(token_of(quote))[0]).status_code == 429


def test_another_address_is_not_made_to_wait(client, quote, monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: NOON)
    for n in range(MOST_MISSES):
        client.get(paths_of(f"guess-{n}")[0], REMOTE_ADDR="203.0.113.5")
    assert client.get(paths_of("guess")[0], REMOTE_ADDR="203.0.113.5").status_code == 429
    assert client.get(paths_of("guess")[0], REMOTE_ADDR="203.0.113.6").status_code == 404


def test_the_next_minute_counts_anew():
    for _ in range(MOST_MISSES):
        count_miss("203.0.113.5", at=NOON)
    assert has_missed_too_often("203.0.113.5", at=NOON)
    assert not has_missed_too_often("203.0.113.5", at=NOON + dt.timedelta(minutes=1))


def test_opening_a_good_link_is_no_miss(client, quote, monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: NOON)
    for _ in range(MOST_MISSES + 5):
        assert client.get(paths_of(token_of(quote))[0]).status_code == 200


def test_a_counter_thrown_out_of_the_cache_starts_again(monkeypatch):
    def gone(key: str) -> int:
        raise ValueError(key)

    monkeypatch.setattr(cache, "incr", gone)
    count_miss("203.0.113.5", at=NOON)
    assert not has_missed_too_often("203.0.113.5", at=NOON)
    assert cache.get("quote-link-misses:203.0.113.5:202606011200") == 1


def test_the_key_that_makes_tokens_is_not_the_one_that_signs_cookies():
    assert settings.LINK_KEY != settings.SECRET_KEY
