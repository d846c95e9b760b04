"""The headers that keep a page from being framed, sniffed, scripted or kept."""

import os
import subprocess
import sys
from http.cookies import SimpleCookie
from pathlib import Path
from typing import Any

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client as Browser
from django.test import override_settings
from django.urls import include, path, reverse

from studio.access import Access, anyone
from tests.every_route import EVERY_ROUTE, Route, named_routes

pytestmark = pytest.mark.django_db

ROOT = Path(__file__).resolve().parent.parent.parent


@anyone
def broken(request: HttpRequest) -> HttpResponse:
    """A view with a mistake in it."""
    raise RuntimeError("A mistake in the program.")


urlpatterns = [path("broken/", broken), path("", include("studio.urls"))]


def directives(answer: Any) -> dict[str, str]:
    """The content security policy, taken apart."""
    parts = (part.strip().partition(" ") for part in answer.headers["Content-Security-Policy"].split(";"))
    return {name: value for name, _, value in parts}


def check_headers(answer: Any) -> None:
    """What every answer carries."""
    policy = directives(answer)
    assert "unsafe" not in answer.headers["Content-Security-Policy"]
    assert policy["default-src"] == "'none'"
    for name, kept_to in policy.items():
        assert kept_to in ("'none'", "'self'", "'self' data:", "data:"), name
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["X-Frame-Options"] == "DENY"
    assert answer.headers["Referrer-Policy"] in ("same-origin", "no-referrer")
    assert answer.headers["Cross-Origin-Opener-Policy"] == "same-origin"


@pytest.mark.once
@pytest.mark.parametrize("role", ["owner", "crew", "stranger"])
@pytest.mark.parametrize("route", EVERY_ROUTE)
def test_every_answer_carries_them(things, route: Route, role):
    browser = Browser()
    if role != "stranger":
        browser.force_login(getattr(things, role))
    answer = browser.get(route.addresses(things)[0])

    check_headers(answer)
    if role != "stranger":
        assert "no-store" in answer.headers["Cache-Control"]


# What a browser that nobody is signed in on may keep, and how: a colour's address says all there is in it, and a
# calendar asks each time whether what it has is still so.
MAY_BE_KEPT = {"bookings:accent": "public, max-age=31536000, immutable", "bookings:calendar-feed": "private, no-cache"}


@pytest.mark.parametrize("route", named_routes(Access.ANYONE))
def test_a_strangers_browser_keeps_only_what_says_nothing_of_anybody(things, route: Route):
    for address in route.addresses(things):
        answer = Browser().get(address)
        if answer.status_code == 200:
            kept = answer.headers.get("Cache-Control", "")
            assert kept == MAY_BE_KEPT[route.name] if route.name in MAY_BE_KEPT else "no-store" in kept, address


def test_a_page_of_ours_may_run_our_own_files_and_be_framed_by_nobody(owner_client):
    policy = directives(owner_client.get(reverse("settings")))

    assert policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
    assert policy["base-uri"] == policy["object-src"] == policy["frame-ancestors"] == "'none'"


@pytest.mark.parametrize(
    ("address", "headers", "status"),
    [
        pytest.param("/settings/", {"host": "elsewhere.example"}, 400, id="a-host-that-is-not-ours"),
        pytest.param("/settings/rates/", {}, 403, id="an-owners-page"),
        pytest.param("/no/such/page/", {}, 404, id="no-page"),
        pytest.param("/broken/", {}, 500, id="a-mistake-in-the-program"),
    ],
)
@override_settings(ROOT_URLCONF=__name__)
def test_an_error_carries_them_too(crew, address, headers, status):
    browser = Browser(raise_request_exception=False)
    browser.force_login(crew)
    answer = browser.get(address, headers=headers)

    assert answer.status_code == status
    check_headers(answer)
    assert "Traceback" not in answer.content.decode()


def test_a_form_without_its_token_is_refused_with_them(owner):
    browser = Browser(enforce_csrf_checks=True)
    browser.force_login(owner)
    answer = browser.post(reverse("settings-rates"))

    assert answer.status_code == 403
    check_headers(answer)
    assert "The form had been open too long" in answer.content.decode()


ASK = """
import django
django.setup()
from django.test import Client
from studio.models import User
User.objects.create_user("ana", password="three paper boats sail", role="owner")
browser = Client()
browser.get("/sign-in/", secure=True)
browser.post("/sign-in/", {"username": "ana", "password": "three paper boats sail"}, secure=True)
print(browser.cookies.output())
answer = browser.get("/sign-in/")
print(answer.status_code, answer.headers["Location"])
print(browser.get("/settings/", secure=True).headers["Strict-Transport-Security"])
"""


def ran(tmp_path: Path, *command: str) -> subprocess.CompletedProcess[str]:
    """A command with the settings of a studio that is served over HTTPS."""
    ours = {"DJANGO_SETTINGS_MODULE": "studio.settings", "GARLANDRY_DATA": str(tmp_path), "GARLANDRY_HTTPS": "1"}
    ours |= {"GARLANDRY_HOSTS": "garlandry.example,testserver", "GARLANDRY_DEBUG": "0", "GARLANDRY_DEMO": "0"}
    ours |= {"DATABASE_URL": ""}
    # What pytest itself needs is no part of a deployment.
    theirs = {name: value for name, value in os.environ.items() if name != "DJANGO_ALLOW_ASYNC_UNSAFE"}
    return subprocess.run(
        [sys.executable, *command], cwd=ROOT, env=theirs | ours, capture_output=True, text=True, timeout=120
    )


def test_over_https_cookies_are_bound_to_the_host_and_plain_http_is_left(tmp_path, migrated):
    migrated.copied_to(tmp_path)
    answer = ran(tmp_path, "-c", ASK)
    assert answer.returncode == 0, answer.stderr
    *cookies, redirected, strict = answer.stdout.strip().splitlines()

    jar = SimpleCookie()
    for line in cookies:
        jar.load(line.removeprefix("Set-Cookie: "))
    assert set(jar) == {"__Host-garlandry", "__Host-csrf"}
    for cookie in jar.values():
        assert (cookie["secure"], cookie["httponly"], cookie["samesite"]) == (True, True, "Lax")
        assert (cookie["path"], cookie["domain"]) == ("/", "")
    assert redirected == "301 https://testserver/sign-in/"
    assert strict == "max-age=31536000; includeSubDomains; preload"


def test_the_deployment_check_has_nothing_to_say(tmp_path):
    answer = ran(tmp_path, "manage.py", "check", "--deploy", "--database", "default", "--fail-level", "INFO")

    assert answer.returncode == 0, answer.stderr
    assert "System check identified no issues (0 silenced)." in answer.stdout
