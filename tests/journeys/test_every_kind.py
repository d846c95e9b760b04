"""Every kind of piece on one job: made, drawn, counted, priced, quoted, accepted and held, all through the screens."""

import re
from collections import Counter

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.conftest import DESK, PHONE, Server, follow, sign_in
from tests.journeys.test_accessible import faults

pytestmark = pytest.mark.browser

NEEDED = re.compile(r"(\d[\d,]*) needed")
OPEN_ALL = "() => document.querySelectorAll('#piece-form details').forEach((each) => { each.open = true; })"
FITS = "() => document.documentElement.scrollWidth <= document.documentElement.clientWidth"


def fits(page: Page, what: str) -> None:
    """Nothing of the page sticks out of the screen's side."""
    assert page.evaluate(FITS), f"{what} sticks out of the side"


def whole(figure: str) -> int:
    return int(figure.replace(",", ""))


def log_enquiry(page: Page, server: Server, name: str) -> str:
    """A job in two months; its address."""
    page.goto(f"{server.url}/enquiries/new/")
    page.get_by_label("Name").fill(name)
    day = page.evaluate("() => new Date(Date.now() + 60 * 86400e3).toISOString().slice(0, 10)")
    page.get_by_label("Event day").fill(day)
    page.get_by_label("What they want").fill("One of everything in black, white and gold")
    page.get_by_role("button", name="Keep the enquiry").click()
    expect(page.get_by_role("heading", name=name)).to_be_visible()
    return page.url


def offered(page: Page, job: str) -> list[tuple[str, str]]:
    """What the page of kinds offers: each card's title and address."""
    page.goto(job)
    follow(page.get_by_role("link", name="Add a piece"))
    expect(page.get_by_role("heading", name="What shall it be?")).to_be_visible()
    fits(page, "the page of kinds")
    cards = page.locator(".kind a")
    return [(card.inner_text(), str(card.get_attribute("href"))) for card in cards.all()]


def drawn(page: Page) -> int:
    """How many balloons the picture shows, each of them once."""
    return page.locator("#picture svg circle").count()


def make(page: Page, server: Server, address: str, name: str) -> int:
    """One piece, drawn at once and redrawn as it is changed, then kept; how many balloons it is."""
    page.goto(f"{server.url}{address}")
    expect(page.locator("#picture svg")).to_be_visible()
    with page.expect_response("**/preview/**"):
        page.get_by_label("Name", exact=True).fill(name)
    said = page.locator("#takes p").first.inner_text()
    counted = whole(re.match(r"([\d,]+) balloons?", said)[1])  # type: ignore[index]
    assert counted >= drawn(page) >= 1, (name, said)
    expect(page.locator("#figures .figure")).to_contain_text("$")
    page.evaluate(OPEN_ALL)
    fits(page, name)
    page.get_by_role("button", name="Keep", exact=True).last.click()
    expect(page.get_by_role("link", name=name, exact=True)).to_be_visible()
    return counted


def materials(page: Page, job: str) -> dict[str, int]:
    """What the job takes by the page that says so: each thing and how many with its spares."""
    page.goto(job)
    page.get_by_text("The other materials").click()
    fits(page, "the job")
    rows = page.get_by_role("region", name="Materials").get_by_role("listitem").all()
    found = {}
    for row in rows:
        label, note = row.locator(".row-title").inner_text(), row.locator(".row-note").inner_text()
        spare = re.search(r"(\d[\d,]*) spare", note)
        found[label] = whole(NEEDED.search(note)[1]) + (whole(spare[1]) if spare else 0)  # type: ignore[index]
    return found


def quote(page: Page, job: str) -> str:
    """The quote of everything, issued; the client's link."""
    page.goto(job)
    follow(page.get_by_role("link", name="Look it over and send it"))
    # The other screen's job may have taken the day; the owner says that they have seen it.
    for seen in page.locator("input[type=checkbox][required]").all():
        seen.check()
    fits(page, "the quote before it goes out")
    follow(page.get_by_role("button", name="Issue the quote"))
    expect(page.get_by_role("heading", name=re.compile("^Quote "))).to_be_visible()
    return str(page.locator("input[value*='/q/']").first.input_value())


def accept(client: Page, link: str, names: list[str], who: str) -> None:
    """The client sees every piece with its picture, and says yes."""
    client.goto(link)
    for name in names:
        expect(client.get_by_text(name, exact=True).first).to_be_visible()
    fits(client, "the client's quote")
    paper = client.request.get(f"{link}quote.pdf")
    assert paper.body().startswith(b"%PDF")
    client.get_by_label("Your name").fill(who)
    client.get_by_label("I have read the terms").check()
    client.get_by_role("button", name="Accept this quote").click()
    expect(client.get_by_role("heading", name="You said yes: your date is booked")).to_be_visible()


def held(page: Page, server: Server, job: str, who: str) -> Counter[str]:
    """What the shelf says it holds for the client, thing by thing, from each thing's own page."""
    page.goto(job)
    found: Counter[str] = Counter()
    links = page.get_by_role("region", name="Materials").locator("a.row-title")
    for label, address in [(link.text_content() or "", link.get_attribute("href")) for link in links.all()]:
        page.goto(f"{server.url}{address}")
        for row in page.get_by_role("listitem").filter(has_text=who).all():
            quantity = re.search(r"(\d[\d,]*)", row.locator(".row-end").inner_text())
            found[label] += whole(quantity[1]) if quantity else 0
    return found


@pytest.mark.parametrize(
    ("viewport", "who"),
    [pytest.param(PHONE, "Petra Lund", id="on a phone"), pytest.param(DESK, "Olu Fenn", id="at a desk")],
)
def test_every_kind_of_piece_goes_all_the_way(demo_studio, open_phone, viewport, who):
    page = open_phone(viewport=viewport)
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    job = log_enquiry(page, demo_studio, who)
    cards = offered(page, job)
    assert len(cards) >= 14
    names = [f"{title} for {who}" for title, _ in cards]
    balloons = sum(make(page, demo_studio, href, name) for (_, href), name in zip(cards, names, strict=True))
    needed = materials(page, job)
    assert sum(n for label, n in needed.items() if label.endswith("-inch")) >= balloons
    link = quote(page, job)
    accept(open_phone(viewport=viewport), link, names, who)
    page.goto(job)
    expect(page.get_by_text("booked", exact=True)).to_be_visible()
    assert held(page, demo_studio, job, who) == needed


def test_no_kinds_form_breaks_an_accessibility_rule(demo_studio, open_phone):
    """With everything folded away unfolded; by night is as every page."""
    page = open_phone()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    found: list[str] = []
    for title, href in offered(page, f"{demo_studio.url}/bookings/4/"):
        page.goto(f"{demo_studio.url}{href}")
        page.evaluate(OPEN_ALL)
        found += [f"{title}: {fault}" for fault in faults(page)]
    assert found == []


def test_a_favourite_is_made_again_with_two_taps(demo_studio, open_phone):
    page = open_phone()
    sign_in(page, demo_studio, "mo", "tern-and-tide")
    page.goto(f"{demo_studio.url}/bookings/4/pieces/new/packed/?start=column")
    page.get_by_label("Name", exact=True).fill("Our striped column")
    page.get_by_label("Height", exact=True).fill("7 ft")
    page.get_by_role("button", name="Save as a favourite").click()
    expect(page.locator("#favourite-note")).to_contain_text("one of your favourites now")
    page.goto(f"{demo_studio.url}/bookings/4/pieces/new/")
    follow(page.get_by_role("link", name="Our striped column"))
    expect(page.get_by_label("Height", exact=True)).to_have_value("7 ft")
    page.goto(f"{demo_studio.url}/bookings/4/pieces/new/")
    page.get_by_text("Rename or remove").click()
    page.get_by_role("button", name="Remove Our striped column").click()
    expect(page.get_by_text("is no favourite any more")).to_be_visible()
