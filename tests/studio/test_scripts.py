"""The small scripts, run in a browser on bare pages."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.conftest import chromium

__all__ = ["chromium"]
pytestmark = pytest.mark.browser

SCRIPTS = Path(__file__).resolve().parents[2] / "studio" / "static" / "js"
HOST = "http://studio.test/"


@pytest.fixture
def page(chromium) -> Iterator[Page]:
    context = chromium.new_context()
    yield context.new_page()
    context.close()


def opened(page: Page, script: str, body: str) -> list[str]:
    """The page with `body` and one script; returns the list that what it posts will be added to."""
    posted: list[str] = []

    def answer(route):
        if route.request.method == "POST":
            posted.append(route.request.post_data or "")
            route.fulfill(status=204)  # Nothing to show: the page stays as it is.
            return
        route.fulfill(content_type="text/html", body=f"<!doctype html><meta charset=utf-8><body>{body}")

    page.route(f"{HOST}**", answer)
    page.goto(HOST)
    page.add_script_tag(path=SCRIPTS / f"{script}.js")
    return posted


def test_a_form_is_sent_once_and_its_button_says_so(page):
    posted = opened(page, "once", "<form method=post><button name=do value=keep>Keep</button></form>")
    with page.expect_response(HOST):
        page.evaluate("() => { const b = document.querySelector('button'); b.click(); b.click(); }")
    expect(page.get_by_role("button")).to_have_text("Saving…")
    expect(page.get_by_role("button")).to_be_disabled()
    assert posted == ["do=keep"]


def test_coming_back_to_a_page_wakes_its_button(page):
    opened(page, "once", "<form method=post><button>Keep</button></form>")
    page.evaluate("document.querySelector('button').click()")
    expect(page.get_by_role("button")).to_be_disabled()
    page.evaluate("window.dispatchEvent(new PageTransitionEvent('pageshow', {persisted: true}))")
    expect(page.get_by_role("button")).to_have_text("Keep")
    expect(page.get_by_role("button")).to_be_enabled()


def test_a_slider_says_its_number_while_it_moves(page):
    opened(
        page,
        "sliders",
        "<div class=slider><input type=range id=five value=30 aria-label=share><output for=five>30 %</output></div>",
    )
    page.get_by_role("slider").press("ArrowRight")
    expect(page.locator("output")).to_have_text("31 %")
    expect(page.get_by_role("slider")).to_have_attribute("aria-valuetext", "31 %")


def test_without_a_share_sheet_the_link_can_be_copied_or_mailed(page):
    opened(
        page,
        "share",
        "<div><button data-share-url='/q/abc/' data-share-title='Winter gala' data-share-text='Your quote'>"
        "Share</button></div>",
    )
    page.evaluate("Object.defineProperty(navigator, 'share', {value: undefined})")
    page.evaluate(
        "Object.defineProperty(navigator, 'clipboard', {value: {writeText: async (text) => { window.copied = text; }}})"
    )
    page.get_by_role("button", name="Share").click()
    mail = page.get_by_role("link", name="Send by mail").get_attribute("href")
    assert mail == "mailto:?subject=Winter%20gala&body=Your%20quote%0A%0Ahttp%3A%2F%2Fstudio.test%2Fq%2Fabc%2F"
    page.get_by_role("button", name="Copy the link").click()
    expect(page.get_by_role("status")).to_have_text("Link copied")
    assert page.evaluate("window.copied") == "http://studio.test/q/abc/"


def test_where_nothing_may_be_copied_the_link_stands_in_a_box(page):
    opened(page, "share", "<div><button data-share-url='/q/abc/'>Share</button></div>")
    page.evaluate("Object.defineProperty(navigator, 'share', {value: undefined})")
    page.evaluate("document.execCommand = () => false")
    page.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    page.get_by_role("button", name="Share").click()
    page.get_by_role("button", name="Copy the link").click()
    expect(page.get_by_label("The link")).to_have_value("http://studio.test/q/abc/")
    expect(page.get_by_role("status")).to_have_text("Copy the link from the box")


def test_a_share_sheet_is_given_the_whole_address(page):
    opened(page, "share", "<div><button data-share-url='/q/abc/' data-share-title='Gala'>Share</button></div>")
    page.evaluate("Object.defineProperty(navigator, 'share', {value: async (data) => { window.shared = data; }})")
    page.get_by_role("button").click()
    shared = page.wait_for_function("window.shared").json_value()
    assert shared == {"url": "http://studio.test/q/abc/", "title": "Gala", "text": ""}


@pytest.mark.parametrize(
    ("typed", "asked"), [pytest.param("navy", True, id="changed"), pytest.param("", False, id="untouched")]
)
def test_leaving_typed_words_behind_asks_first(page, typed, asked):
    opened(page, "unsaved", "<form data-unsaved><input aria-label=note></form>")
    questions: list[str] = []

    def answer(dialog):
        questions.append(dialog.type)
        dialog.accept()

    page.on("dialog", answer)
    page.get_by_label("note").press_sequentially(typed)
    page.goto(f"{HOST}elsewhere")
    assert questions == (["beforeunload"] if asked else [])
