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
    black = page.get_by_role("listitem").filter(has_text="Black 11-inch")
    expect(black.first).to_contain_text("1 × 100")
    fits(page)

    black.first.get_by_text("Black 11-inch", exact=True).click()
    black.first.get_by_label(re.compile("^Packs; empty for the cheapest")).fill("2")
    page.get_by_role("button", name="Solve again").click()
    expect(black.first).to_contain_text("2 × 100")
    expect(black.first).to_contain_text("fixed by you")
    assert re.search(r"/plan/\?packs_\d+=2$", page.url), "the address says what was typed and nothing else"
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


MUCH_IS_SHORT = """
import datetime as dt
from django.utils import timezone
from stock.models import Colour, Item, Offer, Reservation, Supplier
mill = Supplier.objects.create(name="Fen Mill")
for n in range(24):
    item = Item.objects.create(colour=Colour.objects.create(name=f"Tone {n:02}", swatch="#335577"), size=11)
    Reservation.objects.create(
        item=item, quantity=20, needed_on=timezone.localdate() + dt.timedelta(days=30), booking=9, booking_name="Gala",
        firm=True, made_at=timezone.now(),
    )
    Offer.objects.create(supplier=mill, item=item, pack_size=100, price_minor=1500, lead_days=5)
"""


def test_a_long_plan_is_short_on_a_phone_and_stays_unfolded_when_it_is_solved_again(demo_studio, open_phone):
    made = demo_studio.run("shell", "-c", MUCH_IS_SHORT)
    assert made.returncode == 0, made.stderr
    page = open_phone()
    sign_in(page, demo_studio, OWNER, PASSWORD)
    page.goto(f"{demo_studio.url}/stock/orders/plan/")
    rest = page.get_by_text("24 lines: $360.00")
    expect(rest).to_be_visible()
    assert page.evaluate("() => document.documentElement.scrollHeight") < 4 * 844

    rest.click()
    page.get_by_text("Tone 07 11-inch", exact=True).click()
    tone = page.get_by_role("listitem").filter(has_text="Tone 07 11-inch")
    tone.get_by_label(re.compile("^Packs; empty for the cheapest")).fill("3")
    page.get_by_role("button", name="Solve again").click()
    expect(tone).to_contain_text("3 × 100 at $15.00 · 280 left over · fixed by you")
    expect(page.get_by_text("23 more lines: $345.00")).to_be_visible()
    expect(page.get_by_text("Tone 08 11-inch", exact=True)).to_be_visible()
    assert re.search(r"/plan/\?packs_\d+=3$", page.url), "the address says what was typed and nothing else"
    fits(page)
