"""Two phones pull one job, see each other's ticks, and one wraps it up."""

import re

import pytest
from playwright.sync_api import Page, expect

from studio.demo import CREW, OWNER, PASSWORD
from tests.journeys.conftest import follow, sign_in

pytestmark = pytest.mark.browser


def fits(page: Page) -> None:
    """Nothing sticks out of the side of a phone."""
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390


def part(page: Page, words: str):
    """The field of an item's figure, by its label."""
    return page.get_by_label(words, exact=True)


def hanging_takes(page: Page, address: str, *, jobs: int) -> int:
    """Per cent more time to set up and hang than the rates say, as the estimate of a job says it and from how many."""
    page.goto(address)
    said = page.get_by_text(re.compile(f"Reckoned from {jobs} jobs: ")).inner_text()
    found = re.search(r"(\d+) % more time to set up and hang", said)
    assert found is not None, said
    return int(found[1])


def test_a_job_is_pulled_by_two_taken_off_the_shelf_and_wrapped_up(demo_studio, open_phone):
    mo, jan = open_phone(), open_phone()
    sign_in(mo, demo_studio, OWNER, PASSWORD)
    sign_in(jan, demo_studio, CREW, PASSWORD)
    for page in (mo, jan):
        page.goto(f"{demo_studio.url}/bookings/1/")
        follow(page.get_by_role("link", name="Pull list"))
        expect(page.get_by_role("heading", name="Pull list", level=1)).to_be_visible()
        fits(page)

    line = re.compile("^[0-9]+ Black 11-inch taken$")
    jan.get_by_role("button", name=line).click()
    expect(jan.get_by_role("button", name=line)).to_have_attribute("aria-pressed", "true")
    expect(mo.get_by_role("button", name=line)).to_have_attribute("aria-pressed", "true")
    expect(mo.get_by_role("listitem").filter(has_text="Black 11-inch")).to_contain_text("Jan took")

    gold = jan.get_by_role("listitem").filter(has_text="Gold metallic 5-inch")
    gold.get_by_text("Another number").click()
    gold.get_by_label(re.compile("^Taken, of")).fill("7")
    gold.get_by_role("button", name="Keep").click()
    expect(jan.get_by_text("7 of 11 Gold metallic 5-inch taken")).to_be_visible()
    expect(mo.get_by_text("7 of 11 Gold metallic 5-inch taken")).to_be_visible()

    jan.get_by_role("button", name="Scissors in the van").click()
    expect(jan.get_by_role("button", name="Scissors in the van")).to_have_attribute("aria-pressed", "true")
    expect(mo.get_by_role("button", name="Scissors in the van")).to_have_attribute("aria-pressed", "true")
    expect(mo.get_by_text(re.compile("Not in the van yet: "))).to_be_visible()

    mo.get_by_role("button", name="Tick the rest").click()
    expect(mo.get_by_text("12 of 12 lines ticked")).to_be_visible()
    mo.get_by_role("button", name="Take what is ticked off the shelf").click()
    expect(mo.get_by_text("12 lines off the shelf, and on the road.")).to_be_visible()
    fits(mo)

    before = hanging_takes(mo, f"{demo_studio.url}/bookings/3/", jobs=3)
    jan.goto(f"{demo_studio.url}/bookings/1/wrap-up/")
    fits(jan)
    taken = jan.get_by_role("listitem").filter(has_text="Black 11-inch").get_by_text(re.compile("taken")).inner_text()
    total = int(re.findall(r"\d+", taken)[0])
    part(jan, "Popped of Black 11-inch").fill("3")
    used = int(part(jan, "Used of Black 11-inch").input_value())
    expect(part(jan, "Home: brought home of Black 11-inch")).to_have_value(str(total - used - 3))
    part(jan, "Home: brought home of Black 11-inch").fill("0")
    expect(part(jan, "Used of Black 11-inch")).to_have_value(str(total - 3))
    part(jan, "Used of Black 11-inch").press("Enter")
    expect(part(jan, "Popped of Black 11-inch")).to_be_focused()
    expect(jan.get_by_role("heading", name="Wrap up", level=1)).to_be_visible()
    expected = jan.get_by_label("Set up and hang", exact=True).input_value()
    for _ in range(4):
        jan.get_by_role("button", name="Set up and hang: a quarter of an hour more").click()
    hours, minutes = (int(part) for part in expected.split(":"))
    quarters = (60 * hours + minutes) // 15 + 4
    expect(jan.get_by_label("Set up and hang", exact=True)).to_have_value(f"{quarters // 4}:{15 * (quarters % 4):02d}")
    jan.get_by_label("It had its troubles").check()
    jan.get_by_label("In a few words").fill("The lift was out of order")
    jan.get_by_role("button", name="Wrap the job up").click()
    expect(jan.get_by_text("Ferry office 50 years is wrapped up.")).to_be_visible()
    expect(jan.get_by_role("listitem").filter(has_text="Black 11-inch")).to_contain_text("3 popped")
    expect(jan.get_by_text("The lift was out of order")).to_be_visible()
    expect(jan.get_by_text("What it earned")).to_have_count(0)
    fits(jan)

    assert hanging_takes(mo, f"{demo_studio.url}/bookings/3/", jobs=4) > before
    for address in ("/bookings/1/wrap-up/", "/how-it-went/", "/settings/learning/", "/settings/learning/minutes-hang/"):
        mo.goto(f"{demo_studio.url}{address}")
        fits(mo)
    expect(mo.get_by_text("Ferry office 50 years")).to_be_visible()


def test_without_script_a_tick_is_a_page_like_any_other(demo_studio, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False)
    page = context.new_page()
    sign_in(page, demo_studio, CREW, PASSWORD)
    page.goto(f"{demo_studio.url}/bookings/2/pull-list/")
    line = re.compile("^[0-9]+ White 11-inch taken$")
    page.get_by_role("button", name=line).click()
    expect(page.get_by_role("button", name=line)).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_text("1 of 17 lines ticked")).to_be_visible()
    context.close()
