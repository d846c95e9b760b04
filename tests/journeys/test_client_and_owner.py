"""A client and the owner, from the letter with the link to the last penny: on two phones, with a real mail server."""

import json
import re
import time
import urllib.parse
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from studio.demo import OWNER, PASSWORD
from tests.journeys.conftest import Server, environment_of, follow, serving, sign_in
from tests.mailbox import Mailbox, Received, mail_server

pytestmark = pytest.mark.browser

JOB = "Barn wedding"
ADDRESS = "tobias@renn.example"
STUDIO = "hello@ternandtide.example"
LINK = re.compile(r"http://localhost:\d+/q/[\w-]{32}/")
BOOKS = """
import json
from django.db.models import Sum
from bookings.models import Booking, Invoice, Posting, Quote
from bookings.queries.money import standing
from stock.models import Reservation

job = Booking.objects.get(title="Barn wedding")
quote = Quote.objects.get(booking=job, acceptance__isnull=False)
yes = quote.acceptance
rows = quote.materials.all()
chosen = [row for row in rows if row.option == yes.option or row.extra in yes.extras]
needs, held = {}, {}
for row in chosen:
    needs[row.item_id] = needs.get(row.item_id, 0) + row.needed + row.spares
for row in Reservation.objects.open().filter(booking=job.pk):
    held[row.item_id] = held.get(row.item_id, 0) + row.quantity
posted = Posting.objects.filter(entry__booking=job)
now = standing(job.pk)
print(json.dumps({
    "chosen": [yes.option, yes.extras, yes.name],
    "needs": needs,
    "held": held,
    "firm": Reservation.objects.open().firm().filter(booking=job.pk).count() == len(held),
    "agreed": yes.total_minor,
    "invoiced": sum(Invoice.objects.filter(booking=job).values_list("total_minor", flat=True)),
    "settled": now.settled,
    "owed": now.owed,
    **posted.aggregate(debits=Sum("debit_minor"), credits=Sum("credit_minor")),
}))
"""


@pytest.fixture(scope="module")
def box() -> Iterator[Mailbox]:
    """Everybody's letters."""
    with mail_server() as found:
        yield found


@pytest.fixture(scope="module")
def studio(box: Mailbox, demo_folder: Path) -> Iterator[Server]:
    """Tern & Tide, served as a studio of its own is: its letters go."""
    smtp = {"HOST": "127.0.0.1", "PORT": str(box.port), "TLS": "none", "FROM": "studio@ternandtide.example"}
    environment = environment_of(
        GARLANDRY_DATA=str(demo_folder),
        GARLANDRY_HTTPS="0",
        **{f"GARLANDRY_SMTP_{name}": value for name, value in smtp.items()},
    )
    yield from serving("serve", environment, demo_folder.with_name("log"))


def fits(page: Page) -> None:
    """Nothing sticks out of the side of a phone."""
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390


def cents(words: str) -> int:
    """An amount as it is read, in the smallest unit."""
    return round(float(re.sub(r"[^\d.]", "", words)) * 100)


def letter(box: Mailbox, to: str, saying: str) -> Received:
    """The letter to somebody that says this, once it has arrived."""
    give_up = time.monotonic() + 90
    while time.monotonic() < give_up:
        for found in box.received:
            if found.recipients == [to] and saying in f"{found.message['Subject']}\n{found.text}":
                return found
        time.sleep(0.1)
    raise AssertionError([(one.recipients, one.message["Subject"]) for one in box.received])


def mail_the_link(owner: Page, box: Mailbox) -> str:
    """The wedding moves to a Wednesday soon, and its next version is mailed to the client; the link in the letter."""
    job = owner.url
    follow(owner.get_by_role("link", name="Hold it longer"))
    follow(owner.get_by_role("button", name="Let the date go"))
    owner.goto(job)
    follow(owner.get_by_role("link", name="Change the details"))
    owner.get_by_label("E-mail").fill(ADDRESS)
    # A week and more away, on a day no other job of the demo takes anything of.
    owner.get_by_label("Event day").fill(
        owner.evaluate(
            "() => { const day = new Date(Date.now() + 8 * 86400e3);"
            " day.setUTCDate(day.getUTCDate() + (10 - day.getUTCDay()) % 7); return day.toISOString().slice(0, 10); }"
        )
    )
    fits(owner)
    follow(owner.get_by_role("button", name="Save the details"))
    follow(owner.get_by_role("link", name="Send the next version"))
    owner.get_by_role("button", name="Issue the next version").click()
    expect(owner.get_by_role("heading", name="version 2")).to_be_visible()
    owner.goto(job)
    follow(owner.get_by_role("link", name=re.compile("^Mail: .*quote")))
    fits(owner)
    owner.get_by_role("button", name="Send it").click()
    link = LINK.search(letter(box, ADDRESS, "/q/").text)
    assert link is not None
    return link[0]


def compare_and_tick(client: Page) -> int:
    """The total of the second option with the first extra, as the page shows it; it is what each of them asks."""
    expect(client.locator(".choice")).to_have_count(2)
    expect(client.locator("[name=extra]")).to_have_count(2)
    total = client.locator(".money [data-sum=total]")
    before = cents(total.inner_text())
    client.locator("[name=option]").nth(1).check()
    dearer = cents(total.inner_text())
    client.locator("[name=extra]").nth(0).check()
    both = cents(total.inner_text())
    asked = [
        client.locator(f"[name={name}]").nth(n).get_attribute("data-asks") for name, n in (("option", 1), ("extra", 0))
    ]
    sums = [sum(map(int, str(words).split()[:2])) for words in asked]
    assert before < dearer == sums[0] < both == sum(sums)
    fits(client)
    return both


def ask_and_be_answered(client: Page, owner: Page, studio: Server, box: Mailbox) -> None:
    """A question by the page, its letter to the studio, the answer by the week, and its letter to the client."""
    client.get_by_label("Your question").fill("Would the columns stand on gravel?")
    client.get_by_role("button", name="Send the question").click()
    expect(client.get_by_text("It has reached us.")).to_be_visible()
    letter(box, STUDIO, "Would the columns stand on gravel?")
    owner.goto(studio.url)
    owner.get_by_role("link", name="Would the columns stand on gravel?").click()
    owner.get_by_label("Answer", exact=True).fill("Yes, on our plates: they are heavy.")
    fits(owner)
    owner.get_by_role("button", name="Answer", exact=True).click()
    letter(box, ADDRESS, "Yes, on our plates: they are heavy.")
    client.reload()
    expect(client.get_by_text("Yes, on our plates: they are heavy.")).to_be_visible()


def accept(client: Page, total: int) -> None:
    """Not without the tick on the terms; then the yes and its receipt, over the total that was seen."""
    client.get_by_label("Your name").fill("Tobias Renn")
    client.get_by_role("button", name="Accept this quote").click()
    terms = client.get_by_label("I have read the terms")
    expect(terms).to_be_focused()
    assert terms.evaluate("box => box.validity.valueMissing && box.validationMessage !== ''")
    terms.check()
    assert cents(client.locator(".money [data-sum=total]").inner_text()) == total
    fits(client)
    follow(client.get_by_role("button", name="Accept this quote"))
    expect(client.get_by_role("heading", name="You said yes: your date is booked")).to_be_visible()
    expect(client.get_by_text("Accepted by Tobias Renn")).to_be_visible()
    assert cents(client.locator(".money .total dd").inner_text()) == total
    fits(client)


def take(owner: Page, amount: int, method: str) -> None:
    """Write down a payment of so much."""
    follow(owner.get_by_role("link", name="Take a payment"))
    owner.get_by_label("Amount").fill(f"{amount / 100:.2f}")
    owner.get_by_label(method).check()
    fits(owner)
    follow(owner.get_by_role("button", name="Write it down"))


def settle(owner: Page, total: int) -> None:
    """The deposit in, the invoice out, the balance in."""
    rows = owner.get_by_role("region", name="Money")
    owed = {words.split(",")[0]: cents(amount) for words, amount in dues_of(owner)}
    assert owed["Deposit"] + owed["Balance"] == total
    take(owner, owed["Deposit"], "Bank transfer")
    assert cents(rows.locator(".total dd").inner_text()) == owed["Balance"]
    follow(rows.get_by_role("button", name="Invoice all of it"))
    paper = owner.get_by_role("link", name=re.compile("PDF")).first.get_attribute("href")
    opened = owner.request.get(urllib.parse.urljoin(owner.url, paper))
    assert (opened.status, opened.headers["content-type"], opened.body()[:5]) == (200, "application/pdf", b"%PDF-")
    owner.go_back()
    take(owner, owed["Balance"], "Cash")
    assert cents(rows.locator(".total dd").inner_text()) == 0
    fits(owner)


def dues_of(owner: Page) -> list[tuple[str, str]]:
    """What is asked and how much of it is left, as the job's money card has it."""
    lines = owner.get_by_role("region", name="Money").locator("dl.money > div:not(.minor, .total)")
    return [(line.locator("dt").inner_text(), line.locator("dd").inner_text()) for line in lines.all()]


def test_a_client_chooses_asks_holds_and_accepts_and_the_books_balance(studio, box, open_phone):
    owner, client = open_phone(), open_phone()
    sign_in(owner, studio, OWNER, PASSWORD)
    owner.goto(f"{studio.url}/bookings/?stage=quoted")
    follow(owner.get_by_role("link", name=JOB))
    job = owner.url
    client.goto(mail_the_link(owner, box))

    compare_and_tick(client)
    ask_and_be_answered(client, owner, studio, box)
    follow(client.get_by_role("button", name="Hold my date"))
    expect(client.get_by_text(re.compile("is held for you until"))).to_be_visible()
    owner.goto(studio.url)
    expect(owner.get_by_role("region", name="Dates you hold").get_by_role("link", name=JOB)).to_be_visible()
    # What was ticked stays with the browser alone until the yes, so it is chosen again.
    total = compare_and_tick(client)
    accept(client, total)
    letter(box, ADDRESS, f"Your date is booked: {JOB}")
    letter(box, STUDIO, f"said yes: {JOB}")

    owner.goto(studio.url)
    expect(owner.get_by_role("region", name="Coming up").get_by_role("link", name=JOB)).to_be_visible()
    owner.goto(job)
    settle(owner, total)
    client.reload()
    expect(client.get_by_text("paid, thank you")).to_have_count(2)

    told = studio.run("shell", "--verbosity", "0", "--command", BOOKS)
    assert told.returncode == 0, told.stderr
    books = json.loads(told.stdout.strip().splitlines()[-1])
    assert books["chosen"] == [2, [1], "Tobias Renn"]
    assert books["held"] == books["needs"] != {}
    assert books["firm"]
    assert books["agreed"] == books["invoiced"] == books["settled"] == total
    assert books["owed"] == 0
    assert books["debits"] == books["credits"] > 0
