"""What a page says when a request of a part of it fails, and that no press is lost on the way."""

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.journeys.conftest import PHONE, Server, follow, sign_in

pytestmark = pytest.mark.browser

NO_ANSWER = re.compile("^No answer came")


@pytest.fixture
def owner(demo_studio: Server, chromium: Browser) -> Iterator[Page]:
    """The owner at a phone; a request that fails is meant to, and the console may say so.

    Without the worker that keeps the enquiry's page: while it takes the page over, a request can go round `posts`.
    """
    context = chromium.new_context(viewport=PHONE, has_touch=True, service_workers="block")
    page = context.new_page()
    page.on("dialog", lambda dialog: dialog.accept())
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    yield page
    page.unroute_all(behavior="wait")
    context.close()


@pytest.fixture
def editor(owner: Page, demo_studio: Server) -> Page:
    """The gala's garland, open for changing."""
    owner.goto(f"{demo_studio.url}/bookings/2/")
    follow(owner.get_by_role("link", name="Garland over the doorway"))
    owner.locator("#picture svg").wait_for()
    return owner


def failing(status: int) -> Callable[[Route], None]:
    """Answer with this status, or with nothing at all for 0."""
    return lambda route: route.abort("internetdisconnected") if status == 0 else route.fulfill(status=status, body="-")


def posts(page: Page, act: Callable[[Route], None]) -> None:
    """Let every request that htmx sends be answered so."""
    page.route(
        "**/*", lambda route: act(route) if route.request.headers.get("hx-request") == "true" else route.continue_()
    )


CASES = [
    pytest.param(0, "No answer came", id="no network"),
    pytest.param(403, "Refused", id="refused"),
    pytest.param(404, "what this was about is gone", id="gone"),
    pytest.param(409, "somebody changed this meanwhile", id="changed meanwhile"),
    pytest.param(418, "Refused (418)", id="another refusal"),
    pytest.param(500, "the studio’s machine failed (500)", id="failed"),
    pytest.param(503, "the studio’s machine failed (503)", id="away"),
]


@pytest.mark.parametrize(("status", "said"), CASES)
def test_a_redraw_that_fails_says_so_on_the_picture_and_keeps_what_was_typed(
    editor: Page, status: int, said: str
) -> None:
    posts(editor, failing(status))
    editor.locator("[name=length]").fill("31 ft")
    expect(editor.locator("#picture-note")).to_contain_text(said)
    expect(editor.locator("#picture-note")).to_contain_text("What you typed is still here")
    expect(editor.locator("[name=length]")).to_have_value("31 ft")
    expect(editor.locator("#picture svg")).to_be_visible()


@pytest.mark.parametrize(("status", "said"), CASES)
def test_a_press_that_fails_says_so_beside_the_button_and_aloud(editor: Page, status: int, said: str) -> None:
    posts(editor, failing(status))
    button = editor.get_by_role("button", name="Another arrangement")
    button.click()
    note = editor.locator(".cluster:has(button[name=another]) + .notice")
    expect(note).to_contain_text(said)
    expect(editor.locator("#unanswered")).to_contain_text(said)
    assert editor.locator("#unanswered").get_attribute("role") == "alert"


def test_what_was_said_goes_once_an_answer_comes(editor: Page) -> None:
    posts(editor, failing(503))
    button = editor.get_by_role("button", name="Another arrangement")
    button.click()
    note = editor.locator(".cluster:has(button[name=another]) + .notice")
    expect(note).to_be_visible()
    editor.unroute_all(behavior="wait")
    button.click()
    expect(note).to_have_count(0)


def test_a_redraw_after_one_that_failed_is_a_picture_again(editor: Page) -> None:
    posts(editor, failing(0))
    editor.locator("[name=length]").fill("31 ft")
    expect(editor.locator("#picture-note")).to_have_text(NO_ANSWER)
    editor.unroute_all(behavior="wait")
    editor.locator("[name=length]").fill("32 ft")
    expect(editor.locator("#picture-note")).to_be_hidden()


def test_a_row_of_the_shelf_that_cannot_be_read_says_so_beside_its_name(owner: Page, demo_studio: Server) -> None:
    owner.goto(f"{demo_studio.url}/stock/cover/")
    owner.set_viewport_size({"width": 1280, "height": 900})
    posts(owner, failing(0))
    link = owner.locator("th a.named").first
    link.click()
    expect(owner.locator("th .notice")).to_have_text(NO_ANSWER)
    expect(owner.locator("#unanswered")).to_have_text(NO_ANSWER)


def test_a_count_that_is_not_kept_says_so_and_keeps_the_figure(owner: Page, demo_studio: Server) -> None:
    owner.goto(f"{demo_studio.url}/stock/count/")
    form = owner.locator("form.count-entry").first
    figure = form.locator("input:not([type=hidden])").first
    figure.fill("7")
    posts(owner, failing(500))
    form.get_by_role("button").first.click()
    expect(owner.locator("form.count-entry + .notice")).to_contain_text("machine failed (500). Try again")
    expect(figure).to_have_value("7")


def test_a_search_that_fails_says_so(owner: Page, demo_studio: Server) -> None:
    owner.goto(f"{demo_studio.url}/bookings/")
    posts(owner, failing(500))
    owner.locator("#find").press_sequentially("gala")
    expect(owner.locator("form[role=search] + .notice")).to_contain_text("machine failed (500)")
    expect(owner.locator("#find")).to_have_value("gala")


def wait_for_all(page: Page, seen: list[str], count: int) -> None:
    """Wait until so many requests have begun and none is under way; then a moment longer, for one too many."""
    for _ in range(300):
        if len(seen) >= count:
            break
        page.wait_for_timeout(100)
    page.wait_for_function("() => !document.querySelector('.htmx-request')")
    page.wait_for_timeout(600)


def slow_presses(page: Page, seen: list[str], by: int = 500) -> None:
    """Keep every press on its way for a while, and note in `seen` how each request began and ended."""

    def act(route: Route) -> None:
        sent = route.request.post_data or ""
        is_press = 'name="add"' in sent or re.search(r"(^|&)add=", sent)
        seen.append("press" if is_press else "redraw")
        if is_press:
            page.wait_for_timeout(by)
        route.continue_()

    posts(page, act)
    page.on("requestfailed", lambda request: seen.append(f"lost {request.failure}"))


def test_a_button_pressed_just_after_typing_is_not_taken_over_by_the_redraw(editor: Page) -> None:
    seen: list[str] = []
    slow_presses(editor, seen)
    editor.locator(".add-colour summary").click()
    button = editor.locator("button[name=add]").first
    added = button.get_attribute("value")
    before = editor.locator("#colours .share").count()
    editor.evaluate(
        """(value) => {
          const field = document.querySelector("[name=length]");
          field.value = "31 ft";
          field.dispatchEvent(new Event("input", { bubbles: true }));
          setTimeout(() => document.querySelector(`button[name=add][value="${value}"]`).click(), 60);
        }""",
        added,
    )
    expect(editor.locator("#colours .share")).to_have_count(before + 1)
    wait_for_all(editor, seen, 2)
    assert seen == ["press", "redraw"]
    expect(editor.locator("[name=length]")).to_have_value("31 ft")


def test_two_buttons_pressed_at_once_both_count(editor: Page) -> None:
    seen: list[str] = []
    slow_presses(editor, seen)
    editor.locator(".add-colour summary").click()
    before = editor.locator("#colours .share").count()
    editor.evaluate(
        """() => [...document.querySelectorAll("button[name=add]")].slice(0, 2).forEach((one) => one.click())"""
    )
    expect(editor.locator("#colours .share")).to_have_count(before + 2)
    assert seen == ["press", "press"]


def test_what_was_typed_while_a_press_failed_is_still_redrawn(editor: Page) -> None:
    seen: list[str] = []

    def act(route: Route) -> None:
        seen.append(route.request.method)
        if len(seen) == 1:
            editor.wait_for_timeout(400)
            route.fulfill(status=500, body="-")
        else:
            route.continue_()

    posts(editor, act)
    editor.evaluate(
        """() => {
          document.querySelector("button[name=another]").click();
          const field = document.querySelector("[name=length]");
          field.value = "31 ft";
          field.dispatchEvent(new Event("input", { bubbles: true }));
        }"""
    )
    expect(editor.locator("#figures")).to_be_visible()
    wait_for_all(editor, seen, 2)
    assert len(seen) == 2
    expect(editor.locator(".cluster + .notice")).to_contain_text("machine failed (500)")
