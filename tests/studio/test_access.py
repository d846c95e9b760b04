"""Who may open what; that crew see no money anywhere; that looking changes nothing."""

import contextlib
import hashlib
import io
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse
from pypdf import PdfReader
from pypdf.errors import PdfReadError

from studio import pdf
from studio.access import Access
from studio.models import User
from tests.blank_paper import BlankPress
from tests.every_route import CANARY_WRITTEN, EVERY_ROUTE, Route, Things, named_routes, routes

pytestmark = [pytest.mark.django_db, pytest.mark.paper]

ROOT = Path(__file__).resolve().parent.parent.parent
# Looking at these is itself something that happened: a session is used, a client opened their quote, a link was
# tried that is none.
WRITTEN_BY_LOOKING = {"django_session", "bookings_quoteopening"}
WRITING = re.compile(
    r'\s*(?:INSERT(?: OR \w+)? INTO|REPLACE INTO|UPDATE(?: OR \w+)?|DELETE FROM)\s+"?(\w+)', re.IGNORECASE
)


def signed_in(person: User | None) -> Browser:
    """A browser in which somebody is signed in; nobody is, for None. Errors come back as pages."""
    browser = Browser(raise_request_exception=True)
    if person is not None:
        browser.force_login(person)
    return browser


@dataclass(frozen=True)
class Shown:
    """An answer as it was read."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def text(self) -> str:
        """Everything in it that could be read: the body, the headers."""
        body = self.body
        if self.headers.get("Content-Type") == "application/pdf" and body.startswith(b"%PDF"):
            # Packed, a paper's bytes may spell anything: what counts is what is written on it.
            with contextlib.suppress(PdfReadError):
                body = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(body)).pages).encode()
        return body.decode(errors="replace") + "\n".join(f"{name}: {value}" for name, value in self.headers.items())


def read(answer: Any) -> Shown:
    """All of an answer."""
    body = b"".join(answer.streaming_content) if answer.streaming else answer.content
    return Shown(answer.status_code, dict(answer.items()), body)


@pytest.fixture(scope="module")
def to_the_owner(things: Things) -> Callable[[str], Shown]:
    """What the owner is shown at an address: asked for once, and looked at by several tests."""
    browser, found = signed_in(things.owner), dict[str, Shown]()

    def shown(address: str) -> Shown:
        if address not in found:
            found[address] = read(browser.get(address))
        return found[address]

    return shown


def test_there_is_an_address_for_every_part():
    names = {route.name for route in routes()}

    assert {"week", "login", "settings-rates", "stock:cover", "bookings:list", "bookings:client"} <= names


@pytest.mark.parametrize("route", EVERY_ROUTE)
def test_every_route_names_a_policy(route: Route):
    assert route.access is not None, f"Mark {route.view} with @owner_only, @owner_and_crew or @anyone."


OPEN_TO_ANYONE = {"welcome", "login", "logout", "bookings:client", "bookings:client-accept", "bookings:client-pdf"}
OPEN_TO_ANYONE |= {"bookings:calendar-feed", "bookings:client-hold", "bookings:client-calendar"}
OPEN_TO_ANYONE |= {"bookings:client-ask", "bookings:client-picture"}
# The same for everybody, with nothing of the studio in it: a colour's tones, a form for without signal, its script.
OPEN_TO_ANYONE |= {"bookings:accent", "bookings:without-signal", "bookings:worker"}


def test_nothing_is_open_to_anyone_but_the_doors_and_a_clients_link():
    assert {route.name for route in routes() if route.access is Access.ANYONE} - OPEN_TO_ANYONE == set()


@pytest.mark.once
@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize("route", named_routes(Access.OWNER, Access.CREW))
def test_a_stranger_is_sent_to_sign_in(things, route: Route, method):
    address = route.addresses(things)[0]
    answer = getattr(signed_in(None), method)(address)

    assert answer.status_code == 302
    assert answer.headers["Location"] == f"{reverse('login')}?next={address}"


def test_a_stranger_at_an_unknown_address_learns_nothing(db):
    assert signed_in(None).get("/no/such/page/").status_code == 404


@pytest.mark.once
@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize("route", named_routes(Access.OWNER))
def test_crew_are_refused_the_owners_pages(things, route: Route, method):
    browser = signed_in(things.crew)
    for address in route.addresses(things):
        assert getattr(browser, method)(address).status_code == 403


# A client's own link shows its price to whoever holds it; crew are never given one.
@pytest.mark.parametrize("route", named_routes(Access.CREW))
@pytest.mark.parametrize("htmx", [pytest.param({}, id="page"), pytest.param({"HX-Request": "true"}, id="part")])
def test_crew_see_no_money(things, route: Route, htmx):
    browser = signed_in(things.crew)
    for address in route.addresses(things):
        answer = read(browser.get(address, headers=htmx))
        assert answer.status < 500
        shown = answer.text
        assert [written for written in CANARY_WRITTEN if written in shown] == [], address
        assert re.findall(r"[$€£¥]\s?\d", shown) == [], address
        assert things.sets[0]["token"] not in shown, address


@pytest.mark.once
def test_the_owner_does_see_the_money_that_crew_do_not(things, to_the_owner):
    """The canaries are where they would be seen: otherwise the test above could not fail."""
    seen = [address for route in routes() for address in route.addresses(things) if route.access is not Access.ANYONE]
    shown = "".join(to_the_owner(address).text for address in seen)

    assert shown.count("7,919.37") > 20


def rows_of_every_table() -> dict[str, str]:
    """A digest of each table, but for what looking itself writes."""
    digests = {}
    with connection.cursor() as cursor:
        for model in apps.get_models(include_auto_created=True):
            table = model._meta.db_table
            if table in WRITTEN_BY_LOOKING:
                continue
            columns = [str(field.column) for field in model._meta.local_concrete_fields if field.name != "last_login"]
            names = ", ".join(connection.ops.quote_name(column) for column in columns)
            cursor.execute(f"SELECT {names} FROM {connection.ops.quote_name(table)} ORDER BY 1")
            digests[table] = hashlib.sha256(repr(cursor.fetchall()).encode()).hexdigest()
    return digests


@contextlib.contextmanager
def tables_written() -> Iterator[set[str]]:
    """The tables that statements of this block write to, but for those looking itself writes to."""
    found: set[str] = set()

    def watch(execute: Callable[..., Any], sql: str, *rest: Any) -> Any:
        found.update(set(WRITING.findall(sql)) - WRITTEN_BY_LOOKING)
        return execute(sql, *rest)

    with connection.execute_wrapper(watch):
        yield found


@pytest.mark.once
@pytest.mark.parametrize("role", ["owner", "crew", "stranger"])
def test_looking_changes_nothing(things, role, monkeypatch):
    """No page asks the database to write; and what cannot be told from a statement is found in the rows."""
    monkeypatch.setattr(pdf, "PRESS", BlankPress())
    browser = signed_in({"owner": things.owner, "crew": things.crew, "stranger": None}[role])
    before = rows_of_every_table()
    with tables_written() as written:
        for route in routes():
            for address in route.addresses(things):
                browser.get(address)
                assert written == set(), address
            browser.head(route.addresses(things)[0])
            assert written == set(), route
    assert rows_of_every_table() == before


def test_what_writes_is_noticed(things):
    before = rows_of_every_table()
    with tables_written() as written:
        User.objects.filter(pk=things.crew.pk).update(first_name="Pam")
    assert written == {"studio_user"}
    assert rows_of_every_table() != before


@pytest.mark.parametrize("route", EVERY_ROUTE)
def test_every_page_opens_for_the_owner(things, to_the_owner, route: Route):
    for address in route.addresses(things):
        assert to_the_owner(address).status in (200, 302, 404, 405, 410), address


@pytest.mark.once
@pytest.mark.parametrize("route", EVERY_ROUTE)
def test_a_form_from_another_site_is_refused(things, route: Route):
    """Neither a missing token nor a foreign origin gets a POST in, whoever is signed in."""
    for headers in ({}, {"origin": "https://elsewhere.example"}, {"HX-Request": "true"}):
        browser = Browser(enforce_csrf_checks=True)
        browser.force_login(things.owner)
        assert browser.post(route.addresses(things)[0], {"x": "y"}, headers=headers).status_code in (403, 405)


# Where markup is made by hand, and why it is safe.
MADE_BY_HAND = re.compile(r"mark_safe|\|\s*safe\b|autoescape\s+off|SafeString\(|__html__")
ALLOWED_BY_HAND: dict[str, str] = {
    "bookings/queries/pictured.py": "a picture drawn by estimating.drawing, which escapes every name it writes",
    "studio/marks.py": "parts that format_html has escaped, joined",
}


def test_markup_is_escaped_everywhere_but_where_it_is_ours():
    sources = [
        path
        for folder in ["studio", "stock", "estimating", "bookings", "templates"]
        for path in (ROOT / folder).rglob("*")
        if path.suffix in {".py", ".html", ".svg", ".txt"}
    ]
    by_hand = {str(path.relative_to(ROOT)) for path in sources if MADE_BY_HAND.search(path.read_text())}

    assert len(sources) > 50
    assert by_hand - set(ALLOWED_BY_HAND) == set()


INLINE = re.compile(r"<style|\sstyle=|\son[a-z]+\s*=|javascript:|<script(?![^>]*\ssrc=)", re.IGNORECASE)


@pytest.mark.once
@pytest.mark.parametrize("route", EVERY_ROUTE)
def test_no_page_runs_or_styles_anything_of_its_own(things, to_the_owner, route: Route):
    for address in route.addresses(things):
        answer = to_the_owner(address)
        if "html" in answer.headers.get("Content-Type", ""):
            assert INLINE.findall(answer.body.decode()) == [], address
