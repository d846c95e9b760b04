"""Every page there is, held to WCAG 2.2 AA by axe-core in Chromium: on a phone, at a desk, by day and by night."""

import re
from collections.abc import Iterator
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import URLPattern, URLResolver, get_resolver, resolve, reverse
from playwright.sync_api import Page, ViewportSize, expect

from tests.journeys.conftest import DESK, PHONE, Server, sign_in

pytestmark = pytest.mark.browser

WANTED = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# What a page does right is not told node by node: that took longer than finding it.
FAULTS_ALONE = ["violations"]
RULES: dict[str, object] = {"runOnly": {"type": "tag", "values": WANTED}, "resultTypes": FAULTS_ALONE}
CONTRAST: dict[str, object] = {
    "runOnly": {"type": "rule", "values": ["color-contrast"]},
    "resultTypes": FAULTS_ALONE,
}
LOOKS: dict[str, tuple[ViewportSize, Literal["light", "dark"], dict[str, object]]] = {
    "phone by day": (PHONE, "light", RULES),
    # Only the colours differ.
    "phone by night": (PHONE, "dark", CONTRAST),
    "desk by day": (DESK, "light", RULES),
}
NOT_PAGES = re.compile(
    r"\.(pdf|svg|csv|xlsx|ics|css|js|json|webmanifest)$|-picture$|-pdf$|-csv$|:photo(-small)?$|:workbook$|:table$"
)
ONLY_SIGNED_OUT = {"welcome", "login"}
# What no link leads to, and how one gets there all the same.
MET_WITHOUT_A_LINK = {
    "bookings:without-signal": "the phone keeps it, and shows it in place of a page that does not come",
    "bookings:client-ask": "the client's question comes back on it when something is wrong with it",
    "bookings:day-said": "a sentence, put into the enquiry's page when a day is chosen",
    "bookings:enquiry-kept": "a token, asked for by the script that sends what a phone kept",
}
PAGES_WITHOUT_A_LINK = ("bookings:without-signal", "bookings:client-ask")
# What leads on from one of these depends on which it is: only some items have lots, only some jobs were paid for.
DIFFERENT_EACH_TIME = {"stock:item", "bookings:detail"}
# A job that waits shows other things than one that is booked, and only some clients have a number.
EVERY_JOB = tuple(f"/bookings/{number}/" for number in (1, 2, 3, 4))
CLIENT_LINK = re.compile(r'value="https?://[^/"]+(/q/[^"]+)"')
LINK = re.compile(r'href="(/[^"#?]*)[^"]*"')


def addresses(patterns: list[URLPattern | URLResolver], token: str, space: str = "") -> Iterator[tuple[str, str]]:
    """The name of every address, and one it would answer at; `token` is a client's."""
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            yield from addresses(pattern.url_patterns, token, f"{pattern.namespace}:" if pattern.namespace else space)
        elif pattern.name:
            converters = pattern.pattern.converters
            words = {"token": token, "kind": "garland"}
            some = {name: words.get(name, 1) for name in converters}
            yield f"{space}{pattern.name}", reverse(f"{space}{pattern.name}", kwargs=some)


def send_a_spreadsheet(page: Page, server: Server) -> str:
    """Send a table of items in, as far as looking it over: its page is met no other way."""
    page.goto(f"{server.url}/stock/spreadsheets/")
    table = {"name": "shelf.csv", "mimeType": "text/csv", "buffer": b"sort,colour,size\nballoon,Black,11\n"}
    page.get_by_label("Spreadsheet").set_input_files(table)  # type: ignore[arg-type]
    page.get_by_role("button", name="Look it over").click()
    page.wait_for_url("**/stock/spreadsheets/*/")
    return page.url.removeprefix(server.url)


def take_kit_out(page: Page, server: Server) -> None:
    """Put a promised frame on the van: only what is out can come back."""
    page.goto(f"{server.url}/stock/kit/")
    page.get_by_role("region", name="Going out next").locator(".row-title").first.click()
    page.get_by_role("button", name="Take out").first.click()
    expect(page.get_by_role("link", name="Back from").first).to_be_visible()


def walk(page: Page, server: Server) -> dict[str, str]:
    """Follow every link from the week's page: the name of each kind of page, and the first address it was met at."""
    found: dict[str, str] = {}
    take_kit_out(page, server)
    waiting = ["/", "/stock/colours/", "/settings/people/", send_a_spreadsheet(page, server)]
    tried: set[str] = set()
    while waiting:
        path = waiting.pop(0)
        name = resolve(path).view_name
        if (
            path in tried
            or (name in found and name not in DIFFERENT_EACH_TIME)
            or NOT_PAGES.search(path)
            or NOT_PAGES.search(name)
        ):
            continue
        tried.add(path)
        answer = page.request.get(f"{server.url}{path}")
        if answer.status == 405:
            continue
        assert answer.status == 200, (path, answer.status)
        found.setdefault(name, path)
        waiting += [link for link in LINK.findall(answer.text()) if not link.startswith(("/static/", "/q/"))]
        waiting += CLIENT_LINK.findall(answer.text())
    return found


def faults(page: Page, rules: dict[str, object] = RULES) -> list[str]:
    """What axe finds wrong with the page, a line each."""
    result = Axe().run(page, options=rules)
    return [
        f"{fault['id']}: {node['target']} {node['failureSummary']}"
        for fault in result.response["violations"]
        for node in fault["nodes"]
    ]


@pytest.fixture(scope="module")
def pages(demo_studio, chromium) -> dict[str, str]:
    context = chromium.new_context()
    page = context.new_page()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    found = walk(page, demo_studio)
    context.close()
    token = found["bookings:client"].split("/")[2]
    every = dict(addresses(get_resolver().url_patterns, token))
    return found | {name: every[name] for name in PAGES_WITHOUT_A_LINK}


def test_every_page_is_met_by_following_links(pages, demo_studio, chromium):
    """A page nobody can reach is no page; what only takes a form sends one elsewhere and is none either."""
    context = chromium.new_context()
    page = context.new_page()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    token = pages["bookings:client"].split("/")[2]
    unmet = [
        name
        for name, path in addresses(get_resolver().url_patterns, token)
        if name not in pages
        and name not in ONLY_SIGNED_OUT
        and name not in MET_WITHOUT_A_LINK
        and not NOT_PAGES.search(name)
        and not NOT_PAGES.search(path)
        and page.request.get(f"{demo_studio.url}{path}", max_redirects=0).status not in (302, 405)
    ]
    context.close()
    assert unmet == []


def test_no_page_breaks_an_accessibility_rule(pages, demo_studio, open_phone):
    """Each page is opened once and looked at in turn: no script of ours asks how large a page is while it opens."""
    page = open_phone()
    # A colour on its way to another would be measured half-way.
    page.emulate_media(reduced_motion="reduce")
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    found: list[str] = []
    for path in dict.fromkeys((*pages.values(), *EVERY_JOB)):
        answer = page.goto(f"{demo_studio.url}{path}")
        if answer is None or not answer.ok or page.url != f"{demo_studio.url}{path}":
            found.append(f"{path} came as {page.url}, {answer and answer.status}")
        for look, (viewport, scheme, rules) in LOOKS.items():
            page.set_viewport_size(viewport)
            page.emulate_media(color_scheme=scheme)
            found += [f"{path} on a {look}: {fault}" for fault in faults(page, rules)]
            wide = page.evaluate("() => document.documentElement.scrollWidth")
            if wide > viewport["width"]:
                found.append(f"{path} on a {look} is {wide} wide")
    assert found == []


def test_the_doors_break_no_accessibility_rule(empty_studio, open_phone):
    page = open_phone()
    page.goto(empty_studio.url)
    page.wait_for_url("**/welcome/")
    assert faults(page) == []


def test_the_week_is_read_at_the_narrowest(demo_studio, open_phone):
    page = open_phone(viewport={"width": 360, "height": 740})
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    expect(page.get_by_text("Black 11-inch runs short by 56")).to_be_visible()
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 360
