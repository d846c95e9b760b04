"""An enquiry typed without signal is kept on the phone and arrives once."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from tests.journeys.conftest import PHONE, Server, go_in, sign_in

pytestmark = pytest.mark.browser

KEPT = "**/enquiries/kept/"


# Whether every enquiry that was typed on this phone has arrived, or was thrown away.
NOTHING_WAITS = """() => new Promise((done) => { const asked = indexedDB.open("garlandry", 1);
    asked.onsuccess = () => { const kept = asked.result;
      if (!kept.objectStoreNames.length) { kept.close(); done(false); return; }
      kept.transaction("enquiries").objectStore("enquiries").count().onsuccess = ({ target }) => {
        kept.close(); done(target.result === 0); }; }; })"""


@pytest.fixture
def phone(chromium: Browser, demo_studio: Server) -> Iterator[BrowserContext]:
    """A phone in which the owner is signed in, with the worker in charge of its pages."""
    context = chromium.new_context(viewport=PHONE, has_touch=True, accept_downloads=True)
    page = context.new_page()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.close()
    yield context
    context.close()


@pytest.fixture
def page(phone: BrowserContext, demo_studio: Server) -> Page:
    """The form, open on that phone."""
    opened = phone.new_page()
    opened.goto(f"{demo_studio.url}/enquiries/new/")
    opened.wait_for_function("() => navigator.serviceWorker.controller !== null")
    return opened


@pytest.fixture
def alone(chromium: Browser, demo_studio: Server) -> Iterator[Page]:
    """The form on a phone without the worker, which may let a request go round what a test would answer it with."""
    context = chromium.new_context(viewport=PHONE, has_touch=True, service_workers="block")
    opened = context.new_page()
    sign_in(opened, demo_studio, "mo", "tern-and-tide")
    opened.goto(f"{demo_studio.url}/enquiries/new/")
    yield opened
    opened.unroute_all(behavior="wait")
    context.close()


def write(page: Page, name: str, **more: str) -> None:
    """Type an enquiry and keep it."""
    page.get_by_label("Name").fill(name)
    for label, value in more.items():
        page.get_by_label(label.capitalize()).fill(value)
    page.get_by_role("button", name="Keep the enquiry").tap()


def waits(page: Page) -> Any:
    """What the page says of enquiries that wait."""
    return page.get_by_role("region", name="Not sent yet")


def arrived(page: Page, server: Server, name: str) -> int:
    """How many bookings of that name the studio has, once nothing waits on this phone any more."""
    page.goto(f"{server.url}/bookings/?q={name.replace(' ', '+')}")
    page.wait_for_function(NOTHING_WAITS)
    page.reload()
    return page.get_by_role("link", name=name, exact=True).count()


def send_now(page: Page) -> None:
    """Press the button, which goes at once where the phone has just tried again by itself."""
    page.evaluate(
        "() => [...document.querySelectorAll('#outbox button')].find((one) => one.textContent === 'Send now').click()"
    )
    expect(waits(page)).to_be_hidden()


def test_with_signal_it_is_there_at_once(page, demo_studio):
    write(page, "Aud Aldersea")
    expect(page.get_by_role("heading", name="Aud Aldersea")).to_be_visible()
    expect(waits(page)).to_be_hidden()


def test_without_signal_it_is_kept_through_a_reload_and_arrives_once(page, phone, demo_studio):
    phone.set_offline(True)
    write(page, "Bente Offshore", budget="about 300")
    expect(page.get_by_text("Saved on this phone. It is sent when there is signal.")).to_be_visible()
    expect(page.get_by_label("Name")).to_have_value("")

    page.reload()
    expect(page.get_by_text("does not answer")).to_be_visible()
    expect(waits(page)).to_contain_text("1 enquiry is waiting on this phone")
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390

    write(page, "Carl Offshore")
    expect(waits(page)).to_contain_text("2 enquiries are waiting on this phone")

    phone.set_offline(False)
    page.goto(demo_studio.url)
    expect(waits(page)).to_be_hidden()
    assert arrived(page, demo_studio, "Bente Offshore") == 1
    assert arrived(page, demo_studio, "Carl Offshore") == 1


@pytest.mark.parametrize("fault", ["500", "lost on the way there", "lost on the way back"])
def test_a_fault_of_the_network_loses_and_doubles_nothing(alone, demo_studio, fault):
    name = f"Dag {fault.title()}"

    def answer(route: Route) -> None:
        if route.request.method != "POST":
            route.continue_()
        elif fault == "500":
            route.fulfill(status=500, body="down")
        elif fault == "lost on the way there":
            route.abort()
        else:
            assert route.fetch().status == 200
            route.abort()

    alone.route(KEPT, answer)
    write(alone, name)
    expect(alone.get_by_text("Saved on this phone")).to_be_visible()
    alone.unroute(KEPT)
    send_now(alone)
    assert arrived(alone, demo_studio, name) == 1


def test_an_answer_that_names_another_key_lets_nothing_go(alone, demo_studio):
    alone.route(KEPT, lambda route: route.fulfill(json={"token": "x", "key": "another", "url": "/"}))
    write(alone, "Eira Kept")
    expect(waits(alone)).to_contain_text("1 enquiry is waiting")
    alone.unroute(KEPT)
    send_now(alone)
    assert arrived(alone, demo_studio, "Eira Kept") == 1


def test_signed_out_it_is_kept_until_somebody_signs_in(page, phone, demo_studio):
    phone.clear_cookies()
    write(page, "Frode Signed Out")
    expect(page.get_by_text("Saved on this phone. Sign in to send it.")).to_be_visible()
    page.get_by_role("link", name="Sign in").tap()
    expect(waits(page)).to_contain_text("1 enquiry is waiting on this phone")
    go_in(page, demo_studio, "mo", "tern-and-tide")
    expect(waits(page)).to_be_hidden()
    assert arrived(page, demo_studio, "Frode Signed Out") == 1


def test_two_tabs_send_it_once(page, phone, demo_studio):
    phone.set_offline(True)
    write(page, "Gro Two Tabs")
    expect(waits(page)).to_contain_text("1 enquiry is waiting")
    second = phone.new_page()
    second.goto(f"{demo_studio.url}/")
    expect(waits(second)).to_contain_text("1 enquiry is waiting")
    posted: list[str] = []
    phone.on("request", lambda asked: posted.append(asked.url) if asked.method == "POST" else None)
    phone.set_offline(False)
    for tab in (page, second):
        tab.evaluate("() => window.dispatchEvent(new Event('online'))")
    expect(waits(page)).to_be_hidden()
    expect(waits(second)).to_be_hidden()
    assert len([url for url in posted if url.endswith("/kept/")]) == 1
    assert arrived(page, demo_studio, "Gro Two Tabs") == 1


def test_what_is_refused_is_mended_in_the_form(page, demo_studio):
    page.get_by_label("Event day").fill("2020-05-03")
    write(page, "Hild Mistaken")
    expect(page.get_by_role("alert").first).to_contain_text("has gone by")
    expect(waits(page)).to_contain_text("1 to mend")

    page.goto(f"{demo_studio.url}/bookings/")
    waits(page).get_by_role("link", name="Mend it").tap()
    expect(page.get_by_label("Name")).to_have_value("Hild Mistaken")
    expect(page.get_by_role("alert").first).to_contain_text("has gone by")
    page.get_by_label("Event day").fill("")
    page.get_by_role("button", name="Keep the enquiry").tap()
    expect(page.get_by_role("heading", name="Hild Mistaken")).to_be_visible()
    assert arrived(page, demo_studio, "Hild Mistaken") == 1


def test_signing_out_asks_while_something_waits(alone, demo_studio):
    alone.route(KEPT, lambda route: route.abort())
    write(alone, "Iver Waiting")
    expect(waits(alone)).to_contain_text("1 enquiry is waiting")
    asked: list[str] = []

    def stay(dialog):
        asked.append(dialog.message)
        dialog.dismiss()

    alone.on("dialog", stay)
    alone.get_by_label(re.compile("^Signed in as")).tap()
    alone.get_by_role("button", name="Sign out").tap()
    expect(waits(alone)).to_be_visible()
    assert len(asked) == 1
    assert asked[0].startswith("1 of your enquiries did not reach the studio yet.")
    assert alone.url.endswith("/enquiries/new/")


def test_after_a_day_it_warns_and_gives_itself_as_text(page, phone, demo_studio):
    phone.set_offline(True)
    write(page, "Jorun Old", budget="about 450")
    expect(waits(page)).to_contain_text("1 enquiry is waiting")
    page.evaluate(
        """() => new Promise((done) => { const asked = indexedDB.open("garlandry", 1);
        asked.onsuccess = () => {
        const store = asked.result.transaction("enquiries", "readwrite").objectStore("enquiries");
        store.openCursor().onsuccess = ({ target }) => { const at = target.result;
          const typedAt = new Date(Date.now() - 30 * 3600e3).toISOString();
          at.update({ ...at.value, typedAt }).onsuccess = () => done(); }; }; })"""
    )
    page.reload()
    expect(waits(page)).to_contain_text("30 hours")
    expect(waits(page)).to_contain_text("more than a day old")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as text").tap()
    text = download.value.path().read_text()
    assert "name: Jorun Old" in text
    assert "budget: about 450" in text


def test_the_phone_keeps_no_page_of_somebody_signed_in(page, phone, demo_studio):
    page.goto(f"{demo_studio.url}/bookings/")
    kept = page.evaluate(
        """async () => { const found = [];
        for (const name of await caches.keys()) { const cache = await caches.open(name);
        for (const asked of await cache.keys()) { const text = await (await cache.match(asked)).clone().text();
          found.push([new URL(asked.url).pathname, text.length, text]); } } return found; }"""
    )
    pages = [path for path, _, _ in kept if not path.startswith("/static/")]
    assert pages == ["/enquiries/without-signal/"]
    assert sum(size for _, size, _ in kept) <= 150_000
    shell = next(text for path, _, text in kept if path == pages[0])
    assert not re.search(r"Mo Tern|Tern|csrf", shell)
