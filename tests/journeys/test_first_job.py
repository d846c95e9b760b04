"""One real job, from an empty machine to the weekly check, on a phone, with no step done behind the screen."""

import json
import re
import urllib.parse

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.conftest import follow

# Of the journeys this one touches every table a job does; the others look at pages, which no database changes.
pytestmark = [pytest.mark.browser, pytest.mark.both]

PASSWORD = "four small words here"


def fits(page: Page) -> None:
    """Nothing sticks out of the side of a phone."""
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390


def set_up(page: Page, url: str) -> None:
    page.goto(url)
    page.wait_for_url("**/welcome/")
    page.get_by_label("Name of the studio").fill("Saltmarsh Balloons")
    page.get_by_label("Currency").fill("USD")
    page.get_by_label("Your name").fill("Ana Reyes")
    page.get_by_label("User name").fill("ana")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_label("The same password again").fill(PASSWORD)
    page.get_by_role("button", name="Open the studio").click()
    expect(page.get_by_role("heading", name="This week")).to_be_visible()
    fits(page)


def log_enquiry(page: Page) -> None:
    follow(page.get_by_role("link", name="+ Enquiry"))
    page.get_by_label("Name").fill("Ines Aldana")
    page.get_by_label("Phone").fill("555-0142")
    in_a_month = page.evaluate("() => new Date(Date.now() + 30 * 86400e3).toISOString().slice(0, 10)")
    page.get_by_label("Event day").fill(in_a_month)
    page.get_by_label("What they want").fill("Doorway garland in black and gold")
    page.get_by_label("Budget").fill("600")
    fits(page)
    page.get_by_role("button", name="Keep the enquiry").click()
    expect(page.get_by_role("heading", name="Ines Aldana")).to_be_visible()


def make_a_garland(page: Page) -> int:
    """The garland, kept; how many balloons its picture shows."""
    page.get_by_role("link", name="Add a piece").click()
    follow(page.get_by_role("link", name="Garland", exact=True))
    page.get_by_label("Name").fill("Garland over the doorway")
    picture = page.locator("#picture circle")
    before = picture.count()
    with page.expect_response("**/preview/**"):
        page.get_by_label("Length").fill("8' 6\"")
    expect(picture).not_to_have_count(before)
    drawn = picture.count()
    expect(page.locator("#takes")).to_contain_text(f"{drawn} balloons")
    fits(page)
    page.get_by_role("button", name="Keep").last.click()
    expect(page.get_by_role("link", name="Garland over the doorway")).to_be_visible()
    return drawn


def send_the_quote(page: Page) -> str:
    """Issue it; the link that the phone would share."""
    page.get_by_role("link", name="Look it over and send it").click()
    expect(page.get_by_text("Only you see")).to_be_visible()
    expect(page.get_by_text("You should earn")).to_be_visible()
    follow(page.get_by_role("button", name="Issue the quote"))
    expect(page.get_by_role("heading", name="Quote 1, version 1")).to_be_visible()
    page.evaluate("() => { navigator.share = (what) => { window.shared = what; return Promise.resolve(); } }")
    page.get_by_role("button", name="Send the link").click()
    shared = page.wait_for_function("() => window.shared").json_value()
    assert re.search(r"/q/[\w-]{32}/$", shared["url"])
    return str(shared["url"])


def say_yes(page: Page, link: str, drawn: int) -> None:
    page.goto(link)
    expect(page.get_by_text(f"{drawn} balloons, every one in the picture")).to_be_visible()
    expect(page.get_by_text("CHOKING HAZARD")).to_be_visible()
    assert page.locator("img").first.evaluate("image => image.complete && image.naturalWidth > 0")
    fits(page)
    paper = page.request.get(urllib.parse.urljoin(link, "quote.pdf"))
    assert paper.body().startswith(b"%PDF")
    page.get_by_label("Your name").fill("Ines Aldana")
    page.get_by_label("I have read the terms").check()
    page.get_by_role("button", name="Accept this quote").click()
    expect(page.get_by_role("heading", name="You said yes: your date is booked")).to_be_visible()
    fits(page)


def test_a_message_becomes_a_booked_job_and_an_honest_check(empty_studio, open_phone):
    page = open_phone()
    set_up(page, empty_studio.url)
    log_enquiry(page)
    job = page.url
    drawn = make_a_garland(page)
    link = send_the_quote(page)

    client = open_phone()
    say_yes(client, link, drawn)

    page.goto(job)
    expect(page.get_by_text("booked", exact=True)).to_be_visible()
    expect(page.get_by_text("Deposit, due")).to_be_visible()

    page.goto(f"{empty_studio.url}/stock/cover/")
    short = page.get_by_role("article").filter(has_text="runs short by")
    expect(short.first).to_be_visible()
    expect(short.first).to_contain_text("Ines Aldana goes without")
    fits(page)
    page.goto(empty_studio.url)
    expect(page.get_by_text("runs short by").first).to_be_visible()
    expect(page.get_by_role("link", name="Ines Aldana").first).to_be_visible()

    said = empty_studio.run("cover")
    assert said.returncode == 1
    assert "Ines Aldana goes without" in said.stdout
    figures = json.loads(empty_studio.run("cover", "--json").stdout)
    balloons = [item["short_by"] for item in figures["short"] if item["label"].endswith("-inch")]
    # The shelf is empty, so every balloon of the picture is short, and the spares with them.
    assert sum(balloons) >= drawn
