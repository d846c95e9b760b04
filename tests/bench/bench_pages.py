"""How long pages take beside the plainest page there could be.

The plain page is Django's own: fifty rows of the database in a table, a session, somebody signed in, a form with its
token, and none of what is ours. Both are asked in turn, through the same door, in time of the processor.

Run by name; not part of the tests: python -m pytest tests/bench/bench_pages.py -s
"""

import contextlib
import os
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from statistics import median
from time import perf_counter, process_time
from types import ModuleType
from typing import Any

import pytest
from django.conf import settings as django_settings
from django.contrib.auth.decorators import login_required
from django.core.handlers.wsgi import WSGIHandler
from django.db import connection, transaction
from django.http import HttpRequest, HttpResponse
from django.template import Template
from django.template.backends.django import DjangoTemplates
from django.test import Client as Browser
from django.test import RequestFactory, override_settings
from django.test.utils import CaptureQueriesContext
from django.urls import path, reverse

from bookings.models import Booking
from studio import urls as our_urls
from studio.models import User
from tests.bench.bench_quote_pdf import garland, printed
from tests.databases import Migrated, fresh_database
from tests.every_route import Things, furnished
from tests.factories import QuoteFactory, token_of
from tests.more_rows import fill_lists

FEW, MANY = 40, 400
A_PAGE = 50
"""Rows the plain page shows, as many as ours show of a long list: there are a few beside the forty."""
REPEATS, ROUNDS, EACH = 3, 7, 4
"""A bound is broken where it is in two of three repeats; in each, so many rounds of so many askings in turn."""

PLAIN = [
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
]
ENGINE = DjangoTemplates(
    {
        "NAME": "plain",
        "DIRS": [],
        "APP_DIRS": False,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ]
        },
    }
)
TABLE = ENGINE.from_string(
    """<!doctype html><html lang="en"><head><title>{{ user }}</title></head><body><h1>Jobs of {{ user.username }}</h1>
<form method="post">{% csrf_token %}<input name="q"><select name="stage">
{% for one in stages %}<option>{{ one }}</option>{% endfor %}</select><button>Find</button></form>
<table>{% for job in jobs %}<tr><td><a href="/jobs/{{ job.pk }}/">
{{ job.title }}</a></td><td>{{ job.client.name }}</td><td>{{ job.stage }}</td><td>{{ job.event_on|date:"j M Y" }}</td>
<td>{% if job.place %}{{ job.place }}{% else %}no place{% endif %}</td></tr>{% endfor %}</table></body></html>"""
)

LISTS = (
    "bookings:list",
    "bookings:clients",
    "bookings:money",
    "bookings:invoices",
    "bookings:calendar",
    "bookings:mail",
    "stock:shelf",
    "stock:kit",
    "stock:colours",
    "stock:suppliers",
    "stock:orders",
)


@login_required
def plain_page(request: HttpRequest) -> HttpResponse:
    """Fifty rows and a form."""
    jobs = Booking.objects.select_related("client").order_by("event_on", "pk")[:A_PAGE]
    return HttpResponse(TABLE.render({"jobs": jobs, "stages": Booking.Stage.values}, request))


def the_urls() -> ModuleType:
    """Ours, and the plain page."""
    module = ModuleType("the_urls")
    module.urlpatterns = [*our_urls.urlpatterns, path("plain/", plain_page)]  # type: ignore[attr-defined]
    return module


@dataclass
class Door:
    """A way in, with somebody's session."""

    handler: WSGIHandler
    session: str = ""

    def ask(self, address: str, *, htmx: bool = False) -> bytes:
        """A page's body, the whole answer read and closed as a server does; anything but 200 fails."""
        headers = {"cookie": f"{django_settings.SESSION_COOKIE_NAME}={self.session}"} if self.session else {}
        headers |= {"hx-request": "true"} if htmx else {}
        said: list[str] = []
        environ = RequestFactory(headers=headers).get(address).environ

        def begin(status: str, _headers: Any, _fault: Any = None, /) -> Any:
            said.append(status)

        answer: Any = self.handler(environ, begin)
        body = b"".join(answer)
        answer.close()
        assert said == ["200 OK"], (address, said)
        return body


@dataclass
class Doors:
    """Both ways into one studio, ours signed in and not, and what there is in it."""

    ours: Door
    stranger: Door
    plain: Door
    owner: User
    things: Things

    @property
    def named(self) -> dict[str, Any]:
        """What the addresses of a booked job name."""
        return self.things.sets[2]

    def quote(self, state: str) -> str:
        """The address of a client's page: of a job that is quoted, or of one that is booked."""
        return reverse("bookings:client", args=[self.things.sets[1 if state == "open" else 2]["token"]])

    def reference(self) -> bytes:
        """The plain page."""
        return self.plain.ask("/plain/")

    def page(self, name: str, **kwargs: Any) -> Callable[[], bytes]:
        """Asks for one of our pages."""
        address = reverse(name, kwargs={key: self.named[key] for key in kwargs.get("named", ())})
        address += kwargs.get("query", "")
        return lambda: self.ours.ask(address, htmx=kwargs.get("htmx", False))


@contextlib.contextmanager
def open_doors(rows: int) -> Iterator[Doors]:
    """A studio with one of everything and so many rows in every list, behind both doors."""
    with override_settings(ROOT_URLCONF=the_urls(), SECURE_SSL_REDIRECT=False), pytest.MonkeyPatch.context() as patch:
        # A server tells nobody of every template it renders; tests do, and pages of many parts would look slow.
        patch.setattr(Template, "_render", lambda template, context: template.nodelist.render(context))
        with transaction.atomic():
            things = furnished()
            fill_lists(rows, by=things.owner)
        browser = Browser()
        browser.force_login(things.owner)
        session = browser.cookies[django_settings.SESSION_COOKIE_NAME].value
        ours = WSGIHandler()
        with override_settings(MIDDLEWARE=PLAIN):
            plain = WSGIHandler()
        yield Doors(Door(ours, session), Door(ours), Door(plain, session), things.owner, things)


@pytest.fixture(scope="module")
def doors(tmp_path_factory: pytest.TempPathFactory, migrated: Migrated, django_db_blocker: Any) -> Iterator[Doors]:
    """A studio with forty rows in every list."""
    with fresh_database(tmp_path_factory.mktemp("studio"), migrated, django_db_blocker), open_doors(FEW) as found:
        yield found


@dataclass(frozen=True)
class Taken:
    """Milliseconds of the processor of many askings."""

    times: list[float]

    @property
    def usual(self) -> float:
        """Half of them took no longer."""
        return median(self.times)

    @property
    def slow(self) -> float:
        """Nineteen of twenty took no longer."""
        return sorted(self.times)[int(0.95 * len(self.times))]


def in_turn(*acts: Callable[[], Any]) -> list[Taken]:
    """Each asked as often as the others, in turn, once what is kept between requests is kept.

    In a thread of their own, as a server has one: beneath all the calls of a test the very same page takes up to twice
    as long, for Python gives and takes back a piece of its stack with every call that crosses the end of one.
    """
    with ThreadPoolExecutor(1) as own:
        return own.submit(_in_turn, acts).result()


def _in_turn(acts: Sequence[Callable[[], Any]]) -> list[Taken]:
    times: list[list[float]] = [[] for _ in acts]
    for act in acts:
        act()
    for _ in range(ROUNDS):
        for act, kept in zip(acts, times, strict=True):
            for _ in range(EACH):
                begun = process_time()
                act()
                kept.append((process_time() - begun) * 1000)
    connection.close()
    return [Taken(kept) for kept in times]


def told(what: str, plain: Taken, ours: Taken) -> tuple[float, float, float]:
    """How many times as long as the plain page: usually, and at its slowest; and its slowest in milliseconds."""
    usual, slow = ours.usual / plain.usual, ours.slow / plain.slow
    print(f"\n{what}: {ours.usual:.1f} ms, plain {plain.usual:.1f} ms; {usual:.2f} and {slow:.2f} times", end="")
    return usual, slow, ours.slow


def compared(what: str, doors: Doors, ask: Callable[[], bytes]) -> tuple[float, ...]:
    """The same of three repeats, the middle of each figure."""
    repeats = [told(what, *in_turn(doors.reference, ask)) for _ in range(REPEATS)]
    return tuple(median(figures) for figures in zip(*repeats, strict=True))


@pytest.mark.parametrize("name", LISTS)
def test_a_list_takes_little_longer_than_a_plain_page(doors, name):
    usual, slow, milliseconds = compared(name, doors, doors.page(name))
    assert usual <= 2.5
    assert slow <= 3
    assert milliseconds <= 20


def test_rows_found_while_somebody_types_take_no_longer_than_a_plain_page(doors):
    ask = doors.page("bookings:list", query="?q=gala", htmx=True)
    usual, _slow, milliseconds = compared("jobs found", doors, ask)
    assert usual <= 1
    assert milliseconds <= 10


@pytest.mark.parametrize(
    ("name", "named", "query"),
    [
        pytest.param("stock:cover-item", ["item_id"], "", id="an item day by day"),
        pytest.param("bookings:pull-list", ["booking_id"], "?along=1", id="what goes along, once a thing is ticked"),
    ],
)
def test_a_part_that_is_reckoned_anew_takes_no_longer_than_a_list(doors, name, named, query):
    """It is small, but what it says follows from as many tables as the page around it."""
    usual, slow, milliseconds = compared(name, doors, doors.page(name, named=named, query=query, htmx=True))
    assert usual <= 2.5
    assert slow <= 3
    assert milliseconds <= 20


@pytest.mark.parametrize("state", ["open", "accepted"])
def test_a_client_reads_their_quote_in_few_statements(doors, state):
    """Written down as an opening the first time, and a choice to make: there is no page of it that asks more."""
    address = doors.quote(state)
    with CaptureQueriesContext(connection) as captured:
        doors.stranger.ask(address)
    usual, _slow, milliseconds = compared(f"a client's {state} quote", doors, lambda: doors.stranger.ask(address))
    assert len(captured.captured_queries) <= 6
    assert usual <= 1.5
    assert milliseconds <= 15


def test_ten_times_the_rows_take_hardly_longer(tmp_path, migrated, django_db_blocker):
    with fresh_database(tmp_path, migrated, django_db_blocker), open_doors(FEW) as found:
        pages = {name: found.page(name) for name in LISTS}

        def beside_the_plain() -> dict[str, float]:
            return {name: compared(name, found, page)[0] for name, page in pages.items()}

        few = beside_the_plain()
        fill_lists(MANY - FEW, by=found.owner, start=FEW)
        many = beside_the_plain()
    grows = {name: round(many[name] / few[name], 2) for name in LISTS}
    print(f"\n{MANY} rows beside {FEW}: {grows}")
    assert {name: by for name, by in grows.items() if by > 1.5} == {}


def test_a_paper_asked_for_again_is_nearly_a_file(doors, tmp_path):
    """Beside it a file as long, handed out as ours are; the paper is looked up by its link first."""
    pdf = b"%PDF-1.7" + os.urandom(60_000)
    quote = QuoteFactory(pdf=pdf, issued_by=doors.owner)
    (tmp_path / "paper.pdf").write_bytes(pdf)
    with override_settings(STATIC_ROOT=tmp_path):
        files = Door(WSGIHandler())
    ask = partial(doors.stranger.ask, reverse("bookings:client-pdf", args=[token_of(quote)]))
    assert ask() == files.ask("/static/paper.pdf") == pdf
    repeats = [in_turn(partial(files.ask, "/static/paper.pdf"), ask) for _ in range(REPEATS)]
    times = median(ours.usual / file.usual for file, ours in repeats)
    print(f"\na paper again: {repeats[0][1].usual:.2f} ms, a file {repeats[0][0].usual:.2f} ms; {times:.2f} times")
    assert times <= 3
    assert median(ours.slow for _, ours in repeats) <= 10


def test_a_paper_being_set_does_not_hold_up_the_pages(doors):
    """On the clock, for it is about what else the machine is busy with: the paper's program is nicer than the pages."""
    stop = threading.Event()

    def set_papers() -> None:
        while not stop.is_set():
            printed(garland(33))

    def slowest() -> float:
        taken = []
        for _ in range(40):
            begun = perf_counter()
            page()
            taken.append((perf_counter() - begun) * 1000)
        return sorted(taken)[int(0.95 * len(taken))]

    page = doors.page("bookings:list")
    page(), printed(garland(33))
    quiet = [slowest() for _ in range(REPEATS)]
    setting = threading.Thread(target=set_papers)
    setting.start()
    try:
        busy = [slowest() for _ in range(REPEATS)]
    finally:
        stop.set()
        setting.join()
    print(f"\nwith a paper being set {median(busy):.1f} ms, without {median(quiet):.1f} ms, nineteen of twenty pages")
    assert median(busy) <= 2 * median(quiet)
