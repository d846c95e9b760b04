"""A client opens a quote with options on a phone, compares, ticks, and says yes to what they see."""

from itertools import product

import pytest
from playwright.sync_api import Browser, Page, expect

from studio.money import show
from tests.journeys.conftest import Server, sign_in

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def link(chromium: Browser, demo_studio: Server) -> str:
    """The client's link to the barn wedding's quote, as the owner is shown it while it is open."""
    page, url = chromium.new_page(), demo_studio.url
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{url}/bookings/?stage=quoted")
    page.get_by_role("link", name="Barn wedding").click()
    page.get_by_role("link", name="Quote ").first.click()
    shown = page.get_by_label("The client’s link").input_value()
    page.close()
    return shown


def asks(page: Page, name: str, number: int) -> tuple[int, int, int]:
    """Price, tax and deposit that one of the page's options or extras asks."""
    said = page.locator(f"[name={name}]").nth(number).get_attribute("data-asks")
    price, tax, deposit = map(int, (said or "").split())
    return price, tax, deposit


def plain(words: str) -> str:
    return words.replace("\u00a0", " ").strip()


def test_a_client_compares_ticks_and_accepts_what_they_see(open_phone, link):
    page = open_phone()
    page.goto(link)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390
    expect(page.locator(".choice")).to_have_count(2)
    expect(page.get_by_role("button", name="Show the total of what I chose")).to_be_hidden()

    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    total = page.locator(".figures-bar [data-sum=total]")
    for option, first, second in product((1, 0), (True, False), (False, True)):
        page.locator("[name=option]").nth(option).set_checked(True)
        for number, ticked in enumerate((first, second)):
            page.locator("[name=extra]").nth(number).set_checked(ticked)
        chosen = [asks(page, "option", option)]
        chosen += [asks(page, "extra", number) for number, ticked in enumerate((first, second)) if ticked]
        price, tax, deposit = (sum(one[n] for one in chosen) for n in range(3))
        for name, amount in (("price", price), ("tax", tax), ("deposit", deposit), ("total", price + tax)):
            shown = plain(page.locator(f".money [data-sum={name}]").inner_text())
            assert shown == plain(show(amount, "USD")), (option, first, second, name)
        assert page.locator("[name=total_seen]").input_value() == str(price + tax)
        assert plain(total.inner_text()) == plain(show(price + tax, "USD"))
    assert asked == []

    page.locator("[name=option]").nth(1).check()
    page.locator("[name=extra]").nth(0).check()
    page.locator("[name=extra]").nth(1).uncheck()
    agreed = plain(total.inner_text())
    page.get_by_role("link", name="Say yes").click()
    page.get_by_label("Your name").fill("Tobias Renn")
    page.get_by_label("I have read the terms").check()
    page.get_by_role("button", name="Accept this quote").click()
    expect(page.get_by_role("heading", name="You said yes")).to_be_visible()
    assert plain(page.locator(".money .total dd").inner_text()) == agreed
    expect(page.get_by_role("heading", name="Column left of the door")).to_be_visible()
    expect(page.get_by_text("Take-down the same night")).to_be_visible()
    expect(page.get_by_text("Delivery after hours")).to_have_count(0)


def test_a_picture_opens_large_by_keyboard_and_closes_again(open_phone, link):
    page = open_phone()
    page.goto(link)
    picture = page.get_by_role("link", name="Enlarge").first
    picture.focus()
    page.keyboard.press("Enter")
    dialog = page.get_by_role("dialog")
    expect(dialog).to_be_visible()
    small = dialog.get_by_role("img").evaluate("image => image.clientWidth")
    dialog.get_by_role("button", name="Closer").press("Enter")
    assert dialog.get_by_role("img").evaluate("image => image.clientWidth") >= 2.5 * small
    page.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    expect(picture).to_be_focused()
