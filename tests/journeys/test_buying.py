"""From a shortfall to a covered shelf, on a phone: planned, made, placed, received."""

import re

import pytest
from playwright.sync_api import Page, expect

from studio.demo import OWNER, PASSWORD
from tests.journeys.conftest import follow, sign_in

pytestmark = pytest.mark.browser


def fits(page: Page) -> None:
    """Nothing sticks out of the side of a phone."""
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390


def test_what_runs_short_is_planned_made_placed_received_and_covered(demo_studio, open_phone):
    page = open_phone()
    sign_in(page, demo_studio, OWNER, PASSWORD)
    page.goto(f"{demo_studio.url}/stock/cover/")
    expect(page.get_by_role("article", name="Black 11-inch")).to_contain_text("runs short by 56")
    follow(page.get_by_role("link", name="Plan the order"))

    expect(page.get_by_role("heading", name="Plan the order")).to_be_visible()
    expect(page.get_by_text("Nothing cheaper arrives in time.")).to_be_visible()
    black = page.get_by_role("listitem").filter(has=page.get_by_role("link", name="Black 11-inch"))
    expect(black.first).to_contain_text("1 × 100")
    fits(page)

    black.first.get_by_text("Change").click()
    black.first.get_by_label(re.compile("^Packs; empty for the cheapest")).fill("2")
    page.get_by_role("button", name="Solve again").click()
    expect(black.first).to_contain_text("2 × 100")
    expect(black.first).to_contain_text("fixed by you")
    assert page.url.endswith("=") or "packs_" in page.url
    fits(page)

    follow(page.get_by_role("button", name=re.compile("^Make th")))
    if page.url.endswith("/stock/orders/"):
        follow(page.get_by_role("link", name="Quayside Party Wholesale").first)
    expect(page.get_by_role("link", name="Write an e-mail")).to_have_attribute(
        "href", re.compile("^mailto:orders@quayside.example")
    )
    fits(page)
    page.get_by_role("button", name="It is placed").click()
    expect(page.get_by_text("It counts as arriving on")).to_be_visible()
    page.get_by_role("button", name="Put on the shelf").click()
    expect(page.get_by_text("That was the last of it.")).to_be_visible()
    fits(page)

    page.goto(f"{demo_studio.url}/stock/cover/")
    expect(page.get_by_role("article", name="Black 11-inch")).to_have_count(0)
