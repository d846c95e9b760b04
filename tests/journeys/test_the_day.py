"""One of the crew clears the gala with a thumb: mends what can be mended, and answers for the rest by name."""

import re

import pytest
from playwright.sync_api import Page, expect

from studio.demo import CREW, OWNER, PASSWORD
from tests.journeys.conftest import follow, sign_in

pytestmark = pytest.mark.browser


def fits(page: Page) -> None:
    """Nothing sticks out of the side of a phone."""
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390


def go_ahead(page: Page, rule: str, reason: str) -> None:
    """Answer for one rule."""
    card = page.get_by_role("region", name=rule, exact=True)
    card.get_by_text("Go ahead all the same").click()
    card.get_by_label("Your name").fill("Jan Tolle")
    card.get_by_label("Why you go ahead").fill(reason)
    fits(page)
    card.get_by_role("button", name="I go ahead").click()
    expect(page.get_by_role("region", name=rule, exact=True)).to_contain_text(f"Jan Tolle goes ahead: {reason}")


def test_a_job_is_cleared_on_a_phone_and_its_run_sheet_is_clean(demo_studio, open_phone):
    page = open_phone()
    sign_in(page, demo_studio, CREW, PASSWORD)
    page.goto(f"{demo_studio.url}/bookings/2/")
    page.get_by_role("link", name="Run sheet").click()
    expect(page.get_by_text("Not cleared: Sprinklers, Helium in the van, Latex allergy.")).to_be_visible()
    expect(page.get_by_role("link", name="555-0171")).to_have_attribute("href", "tel:555-0171")
    expect(page.locator("rect[data-point]")).to_have_count(14)
    assert "$" not in page.get_by_role("main").inner_text()
    fits(page)

    page.get_by_role("link", name="Mend it, or go ahead by name").click()
    go_ahead(page, "Sprinklers", "The sprinkler over the door is dead, says the caretaker")
    go_ahead(page, "Helium in the van", "Strapped upright, cap on, windows open")
    page.get_by_role("main").get_by_role("link", name="The place").click()
    page.get_by_label("Allergic to latex").select_option("Asked: nobody is")
    fits(page)
    page.get_by_role("button", name="Save the place").click()
    expect(page.get_by_text("Cleared: every rule is met, or somebody goes ahead by name.")).to_be_visible()

    page.get_by_role("main").get_by_role("link", name="Run sheet").click()
    expect(page.get_by_text(re.compile("^Not cleared"))).to_have_count(0)
    expect(page.get_by_role("region", name="Site check")).to_contain_text("cleared")
    page.get_by_role("link", name="Take-down and what comes home").click()
    expect(page.get_by_role("region", name="Comes home")).to_contain_text("1 Arch frame")
    fits(page)


def test_a_height_is_asked_for_as_soon_as_a_thing_goes_along_above_one(demo_studio, open_phone):
    page = open_phone()
    sign_in(page, demo_studio, OWNER, PASSWORD)
    page.goto(f"{demo_studio.url}/settings/packing/")
    expect(page.get_by_label("What goes along, line 1", exact=True)).to_have_value("Pump")
    height = page.get_by_label("Higher than, line 1", exact=True)
    expect(height).to_be_hidden()
    expect(page.get_by_label(re.compile("^Higher than")).locator("visible=true")).to_have_count(1)
    page.get_by_label("When, line 1", exact=True).select_option("hung above …")
    height.fill("12 ft")
    fits(page)
    follow(page.get_by_role("button", name="Save the list"))
    page.goto(f"{demo_studio.url}/settings/packing/")
    expect(page.get_by_label("Higher than, line 1", exact=True)).to_have_value("12 ft")
