"""What every page asks the database: as much for many rows as for a few, and nothing over and over."""

import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from django.db import connection, transaction
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext, override_settings
from django.utils import timezone

from studio import pdf
from studio.access import Access
from tests.blank_paper import BlankPress
from tests.every_route import EVERY_ROUTE, Route, Things, furnished, routes
from tests.factories import TODAY
from tests.more_rows import add_rows

# How many statements there are is settled before a database is asked.
pytestmark = [pytest.mark.django_db, pytest.mark.once]

FEW, MORE = 2, 3
"""How many of everything are added to the furnished studio before it is asked, and how many then on top."""
OF_EVERY_REQUEST = 3
"""The studio, the session and whose it is are asked for before any page is."""
MOST_ALIKE = 2
"""How often a page may ask one and the same statement, whatever the values in it."""

MOST = 12
"""How many statements a page asks at the most, with something of everything on it."""
MORE_THAN_MOST = {
    "bookings:detail": 28,
    "bookings:run-sheet": 28,
    "bookings:run-sheet-pdf": 28,
    "week": 25,
    "bookings:job-plan": 19,
    "bookings:my-days": 18,
    "bookings:plan": 18,
    "stock:workbook": 18,
    "bookings:quote-issue": 17,
    "bookings:piece": 15,
    "bookings:piece-new": 15,
    "bookings:strike": 15,
    "bookings:wrap-up": 14,
    "bookings:client-export": 14,
    "bookings:statement-pdf": 14,
    "bookings:options": 13,
    "bookings:pull-list": 13,
    "bookings:pull-list-pdf": 13,
    "bookings:client-money": 13,
}
"""Those that ask more. Whatever estimates a job reads the rates, what jobs have taught, the colours and the shelf: five
of it. The weekly check is six, and the plan beside it the jobs, their pieces and everybody's hours. A run sheet is a
plan, an estimate, a check and a strike; the page of a job is a dozen cards, the week eleven lists and the workbook
fifteen tables. Here a job has something in every one of them."""

Asked = dict[str, dict[str, list[str]]]
"""By the name of a route and the address that was asked: the statements, without their values."""


def without_values(sql: str) -> str:
    """The statement without its values and without how many of them it lists."""
    sql = re.sub(r"'(?:[^']|'')*'|\b\d+\b", "?", sql)
    return re.sub(r"\(\?(?:, \?)*\)", "(?)", sql)


def look_everywhere(things: Things) -> Asked:
    """Every page there is at a job that is quoted and at one that is booked: what each of them asks."""
    owner, stranger = Browser(), Browser()
    owner.force_login(things.owner)
    found: Asked = {}
    shown = Things(things.owner, things.crew, things.sets[1:3])
    for route in routes():
        browser = stranger if route.access is Access.ANYONE else owner
        for address in route.addresses(shown):
            with CaptureQueriesContext(connection) as captured:
                answer = browser.get(address)
            if answer.status_code == 200:
                asked = [without_values(query["sql"]) for query in captured.captured_queries]
                found.setdefault(route.name, {})[address] = asked
    return found


@pytest.fixture(scope="module")
def looked(django_db_setup: None, django_db_blocker: Any) -> Iterator[tuple[Asked, Asked]]:
    """What every page asks with a few of everything, and with more."""
    with (
        django_db_blocker.unblock(),
        pytest.MonkeyPatch.context() as patch,
        override_settings(SECURE_SSL_REDIRECT=False),
        transaction.atomic(),
    ):
        patch.setattr(pdf, "PRESS", BlankPress())
        patch.setattr(timezone, "localdate", lambda *_: TODAY)
        things = furnished()
        add_rows(things, times=FEW)
        # What is kept between requests is kept after the first time.
        look_everywhere(things)
        few = look_everywhere(things)
        add_rows(things, times=MORE)
        yield few, look_everywhere(things)
        transaction.set_rollback(True)


def test_most_routes_are_looked_at(looked):
    few, many = looked
    assert few.keys() == many.keys()
    assert len(few) > len(routes()) / 2


@pytest.mark.parametrize("route", EVERY_ROUTE)
def test_a_page_asks_no_more_for_more_rows(looked, route: Route):
    few, many = (pages.get(route.name, {}) for pages in looked)
    for address, asked in many.items():
        more = Counter(asked) - Counter(few[address])
        assert len(asked) <= len(few[address]), f"{address} asks more: {more}"


@pytest.mark.parametrize("route", EVERY_ROUTE)
def test_a_page_asks_few_things(looked, route: Route):
    for address, asked in looked[1].get(route.name, {}).items():
        assert len(asked) <= MORE_THAN_MOST.get(route.name, MOST), address


@pytest.mark.parametrize("route", EVERY_ROUTE)
def test_a_page_asks_nothing_over_and_over(looked, route: Route):
    for address, asked in looked[1].get(route.name, {}).items():
        often = {sql: times for sql, times in Counter(asked[OF_EVERY_REQUEST:]).items() if times > MOST_ALIKE}
        assert often == {}, address
