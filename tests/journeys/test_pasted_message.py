"""A message is pasted on a phone, and what it says is taken with a thumb or with the keyboard."""

import datetime as dt
import re

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.conftest import follow, sign_in

pytestmark = pytest.mark.browser

IN_A_FORTNIGHT = dt.datetime.now(dt.UTC).date() + dt.timedelta(days=14)
SATURDAY = IN_A_FORTNIGHT + dt.timedelta(days=(5 - IN_A_FORTNIGHT.weekday()) % 7)
DAY = f"{SATURDAY:%a} {SATURDAY.day} {SATURDAY:%b}"
MESSAGE = (
    f"Hi! 24 ft garland in navy and gold, at our barn, {DAY} at 2pm. About $300. Call (212) 555-0142. Thanks, Ines"
)


@pytest.fixture
def page(demo_studio, open_phone) -> Page:
    """The form of an enquiry on the owner's phone."""
    opened = open_phone()
    sign_in(opened, demo_studio, "mo", "tern-and-tide")
    follow(opened.get_by_role("link", name="+ Enquiry"))
    return opened


def paste(page: Page, message: str) -> None:
    """As a thumb does it: from the clipboard, into the box."""
    page.evaluate("(text) => navigator.clipboard.writeText(text)", message)
    page.get_by_label("What they want").focus()
    page.keyboard.press("Control+V")
    page.get_by_text("What it may say is beside each field").wait_for()


def chip(page: Page, value: str):
    """The suggestion of that value."""
    return page.get_by_role("button", name=re.compile(f"^Use {re.escape(value)}"))


def test_a_pasted_message_becomes_an_enquiry_with_a_touch_for_each_thing_it_says(page, demo_studio):
    paste(page, MESSAGE)
    for value in ("Ines", "(212) 555-0142", DAY, "14:00", "our barn", "About $300"):
        chip(page, value).tap()
    expect(page.get_by_label("Event day")).to_have_value(SATURDAY.isoformat())
    expect(page.get_by_label("Ready by")).to_have_value("14:00")
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390
    page.get_by_role("button", name="Keep the enquiry").tap()
    expect(page.get_by_role("heading", name="Ines", exact=True)).to_be_visible()
    expect(page.get_by_text(MESSAGE)).to_be_visible()


def test_nothing_is_filled_in_until_it_is_taken_and_what_was_typed_can_be_put_back(page):
    page.get_by_label("Name").fill("Somebody")
    paste(page, MESSAGE)
    expect(page.get_by_label("Name")).to_have_value("Somebody")
    expect(page.get_by_label("Where")).to_have_value("")
    chip(page, "Ines").tap()
    expect(page.get_by_label("Name")).to_have_value("Ines")
    page.get_by_role("button", name="Put back Somebody").tap()
    expect(page.get_by_label("Name")).to_have_value("Somebody")


def test_what_was_declined_is_not_offered_again(page):
    paste(page, MESSAGE)
    page.locator("#says-place").get_by_role("button", name="No").tap()
    expect(chip(page, "our barn")).to_have_count(0)
    with page.expect_response("**/enquiries/read/"):
        page.get_by_label("What they want").press_sequentially(" x")
    page.wait_for_timeout(200)
    expect(chip(page, "our barn")).to_have_count(0)
    expect(chip(page, "Ines")).to_have_count(1)


def test_suggestions_are_taken_with_the_keyboard(page):
    paste(page, MESSAGE)
    chip(page, "Ines").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("Name")).to_be_focused()
    expect(page.get_by_label("Name")).to_have_value("Ines")
    chip(page, "24 ft").focus()
    page.keyboard.press("Space")
    expect(page.get_by_label("What they want")).to_have_value(f"{MESSAGE}\nLength: 24 ft")


def test_a_suggestion_is_wide_enough_for_a_thumb(page):
    paste(page, MESSAGE)
    for button in page.locator(".says button").all():
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 44


def test_without_scripts_a_button_reads_the_message(demo_studio, chromium):
    context = chromium.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    plain = context.new_page()
    sign_in(plain, demo_studio, "mo", "tern-and-tide")
    plain.goto(f"{demo_studio.url}/enquiries/new/")
    plain.get_by_label("What they want").fill(MESSAGE)
    plain.get_by_role("button", name="Read the message").click()
    chip(plain, "Ines").click()
    expect(plain.get_by_label("Name")).to_have_value("Ines")
    plain.get_by_role("button", name="Keep the enquiry").click()
    expect(plain.get_by_role("heading", name="Ines", exact=True)).to_be_visible()
    context.close()
