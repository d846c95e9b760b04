"""Two jobs on one weekend: planned, untangled, pulled by two phones, read by crew without a price, wrapped up."""

import io
import itertools
import json
import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from studio.access import Access
from studio.demo import OWNER, PASSWORD
from tests.every_route import Route, routes
from tests.journeys.conftest import Server, sign_in
from tests.journeys.test_pull_and_wrap_up import fits, hanging_takes, part

pytestmark = pytest.mark.browser

FERRY, GALA, LIKE_IT = 1, 2, 3
FERRY_TITLE, GALA_TITLE = "Ferry office 50 years", "Winter gala"
PIA, PIAS_PASSWORD = "pia", "slack water at noon"
AT_ONCE = re.compile(r"is on two jobs at once: ")

# What the two jobs have an address for, by the parameter that names it; their amounts; the tokens of their links.
TOLD = """
import json
from django.conf import settings
from bookings import models as jobs
from bookings.letters import PURPOSES
from bookings.links import token_for
from bookings.queries.learning import learning_groups
from estimating.models import Favourite
from stock import models as stock
from stock.queries import TABLES
from studio.models import OutgoingMail, User

BOTH = [1, 2]
pks = lambda rows: list(rows.values_list("pk", flat=True))
amounts_are_in = {
    jobs.Quote: "booking", jobs.QuotePiece: "quote__booking", jobs.Acceptance: "quote__booking",
    jobs.AmountDue: "booking", jobs.Invoice: "booking", jobs.InvoiceLine: "invoice__booking",
    jobs.Payment: "booking", jobs.Posting: "entry__booking", jobs.JobEarnings: "wrap_up__booking",
}
amounts = set()
for model, way in amounts_are_in.items():
    names = [one.name for one in model._meta.fields if one.name.endswith("_minor")]
    for row in model.objects.filter(**{f"{way}__in": BOTH}).values_list(*names):
        amounts.update(row)
quotes = jobs.Quote.objects.filter(booking__in=BOTH)
pieces = jobs.Piece.objects.filter(booking__in=BOTH)
held = stock.Reservation.objects.filter(booking__in=BOTH).values_list("item", flat=True)
items = stock.Item.objects.filter(pk__in=held)
offers = stock.Offer.objects.filter(item__in=items)
kit = stock.KitPromise.objects.filter(booking__in=BOTH)
clients = pks(jobs.Client.objects.filter(bookings__in=BOTH))
things = {
    "booking_id": BOTH,
    "client_id": clients,
    "other_id": clients,
    "piece_id": pks(pieces),
    "kind": sorted({*pieces.values_list("kind", flat=True), "whole", "deposit", "balance"}),
    "charge_id": pks(jobs.Charge.objects.all()),
    "photo": list(jobs.Photo.objects.filter(booking__in=BOTH).values_list("name", flat=True)),
    "favourite_id": pks(Favourite.objects.all()),
    "quote_id": pks(quotes),
    "position": sorted(set(jobs.QuotePiece.objects.filter(quote__in=quotes).values_list("position", flat=True))),
    "invoice_id": pks(jobs.Invoice.objects.filter(booking__in=BOTH)),
    "note_id": pks(jobs.CreditNote.objects.filter(invoice__booking__in=BOTH)),
    "payment_id": pks(jobs.Payment.objects.filter(booking__in=BOTH)),
    "question_id": pks(jobs.Question.objects.filter(booking__in=BOTH)),
    "mail_id": pks(OutgoingMail.objects.filter(about__in=BOTH)),
    "purpose": list(PURPOSES),
    "setting": [one.key for group in learning_groups() for one in group.settings],
    "person_id": pks(User.objects.all()),
    "day_off_id": pks(jobs.DayOff.objects.all()),
    "item_id": pks(items),
    "lot_id": pks(stock.Lot.objects.all()),
    "colour_id": sorted({colour for colour in items.values_list("colour", flat=True) if colour}),
    "supplier_id": sorted(set(offers.values_list("supplier", flat=True))),
    "offer_id": pks(offers),
    "order_id": pks(stock.Order.objects.all()),
    "line_id": pks(stock.OrderLine.objects.all()),
    "sheet_id": pks(stock.CountSheet.objects.all()),
    "spreadsheet_id": pks(stock.Spreadsheet.objects.all()),
    "table": list(TABLES),
    "kit_id": sorted(set(kit.values_list("kit", flat=True))),
    "promise_id": pks(kit),
    "recipe_id": pks(stock.DoubleRecipe.objects.all()),
    "accent": ["1f5a4a"],
}
print(json.dumps({
    "things": things,
    "amounts": sorted(amount for amount in amounts if amount),
    "tokens": [token_for(one.link_salt, key=settings.LINK_KEY) for one in quotes],
}))
"""


def told(studio: Server) -> dict[str, Any]:
    """What the studio's own database says of the two jobs."""
    answer = studio.run("shell", "--verbosity", "0", "--command", TOLD)
    assert answer.returncode == 0, answer.stderr
    found: dict[str, Any] = json.loads(answer.stdout.strip().splitlines()[-1])
    return found


def addresses(route: Route, things: dict[str, list[Any]]) -> list[str]:
    """Where a route is found, with every thing there is for each of its parameters."""
    names = sorted(route.parameters)
    found = []
    for chosen in itertools.product(*(things[name] for name in names)):
        path = route.path
        for name, value in zip(names, chosen, strict=True):
            path = re.sub(rf"<\w+:{name}>", str(value), path)
        found.append(f"/{path}")
    return found


def read(page: Page, url: str) -> tuple[int, str]:
    """How an address answers whoever is signed in on this phone, and everything that can be read in it."""
    answer = page.request.get(url, max_redirects=0)
    body = answer.body()
    if answer.headers.get("content-type") == "application/pdf":
        text = "\n".join(one.extract_text() for one in PdfReader(io.BytesIO(body)).pages)
    else:
        text = body.decode(errors="replace")
    return answer.status, text + "\n".join(f"{name}: {value}" for name, value in answer.headers.items())


def amounts_in(text: str, amounts: list[int]) -> list[str]:
    """Which of the amounts are written in a text, with or without a comma at the thousands."""
    written = {f"{amount / 100:{how}}" for amount in amounts for how in (".2f", ",.2f")}
    return [one for one in sorted(written) if re.search(rf"(?<![\d.,]){re.escape(one)}(?![\d])", text)]


def move_to_the_same_day(owner: Page, studio: Server) -> str:
    """The ferry office asks for the gala's Saturday; that day."""
    owner.goto(f"{studio.url}/bookings/{GALA}/edit/")
    day = owner.get_by_label("Event day").input_value()
    prep = owner.get_by_label("Prep day").input_value()
    owner.goto(f"{studio.url}/bookings/{FERRY}/edit/")
    owner.get_by_label("Event day").fill(day)
    owner.get_by_label("Prep day").fill(prep)
    fits(owner)
    owner.get_by_role("button", name="Save the details").click()
    expect(owner.get_by_role("heading", name=FERRY_TITLE, level=1)).to_be_visible()
    return day


def add_pia(owner: Page, studio: Server) -> None:
    """A third pair of hands, who is crew."""
    owner.goto(f"{studio.url}/settings/people/new/")
    owner.get_by_label("Name", exact=True).fill("Pia")
    owner.get_by_label("User name").fill(PIA)
    owner.get_by_label("Password", exact=True).fill(PIAS_PASSWORD)
    owner.get_by_label("The same password again").fill(PIAS_PASSWORD)
    fits(owner)
    owner.get_by_role("button", name="Add them").click()
    expect(owner.get_by_text("signs in as pia")).to_be_visible()


def see_both_planned(owner: Page, studio: Server, day: str) -> None:
    """Both jobs are out on that day by the plan, and each is planned backwards on a page of its own."""
    owner.goto(f"{studio.url}/plan/")
    saturday = owner.locator(f"section[aria-labelledby=day-{day}]")
    for title in (FERRY_TITLE, GALA_TITLE):
        expect(saturday.get_by_role("listitem").filter(has_text=title).filter(has_text="On site")).to_be_visible()
    fits(owner)
    for job in (FERRY, GALA):
        owner.goto(f"{studio.url}/bookings/{job}/plan/")
        expect(owner.get_by_role("heading", name="Planned backwards")).to_be_visible()
        expect(owner.get_by_text("Load the van", exact=True)).to_be_visible()
        fits(owner)


def untangle(owner: Page, studio: Server) -> None:
    """Mo is on both sites at once, so Pia goes to the ferry office; then neither job nor Mo's days say it any more."""
    pages = [f"{studio.url}{path}" for path in (f"/bookings/{GALA}/", "/my-days/", f"/bookings/{FERRY}/people/")]
    for page in pages:
        owner.goto(page)
        said = owner.get_by_text(AT_ONCE)
        expect(said).to_have_count(1)
        expect(said).to_contain_text("Mo is on two jobs at once")
        for title in (FERRY_TITLE, GALA_TITLE):
            expect(said).to_contain_text(title)
        fits(owner)
    owner.get_by_label("Mo", exact=True).uncheck()
    owner.get_by_label("Pia", exact=True).check()
    owner.get_by_label("What Pia does").fill("hangs")
    owner.get_by_role("button", name="Save who is on it").click()
    expect(owner.get_by_text("Who is on the job is saved.")).to_be_visible()
    expect(owner.get_by_label("Pia", exact=True)).to_be_checked()
    expect(owner.get_by_label("Mo", exact=True)).not_to_be_checked()
    expect(owner.get_by_text(AT_ONCE)).to_have_count(0)
    for page in pages:
        owner.goto(page)
        expect(owner.get_by_role("heading", level=1)).to_be_visible()
        expect(owner.get_by_text(AT_ONCE)).to_have_count(0)


def pull_together(owner: Page, crew: Page, studio: Server) -> None:
    """Each ticks a line while the other does; both phones come to show both ticks, and whose they are."""
    taken = {
        (owner, "Mo"): "White 11-inch",
        (crew, "Pia"): "Black 11-inch",
    }
    for page in (owner, crew):
        page.goto(f"{studio.url}/bookings/{FERRY}/pull-list/")
        expect(page.get_by_role("heading", name="Pull list", level=1)).to_be_visible()
        fits(page)
    for (page, _), item in taken.items():
        page.get_by_role("button", name=re.compile(f"^[0-9]+ {item} taken$")).click()
    for page in (owner, crew):
        for (_, name), item in taken.items():
            line = page.get_by_role("listitem").filter(has_text=item)
            expect(line.get_by_role("button", name=re.compile(f"^[0-9]+ {item} taken$"))).to_have_attribute(
                "aria-pressed", "true"
            )
            expect(line).to_contain_text(f"{name} took")
    owner.get_by_role("button", name="Tick the rest").click()
    expect(owner.get_by_text("12 of 12 lines ticked")).to_be_visible()
    owner.get_by_role("button", name="Take it off the shelf").click()
    expect(owner.get_by_text("12 lines off the shelf, and on the road.")).to_be_visible()


def read_the_run_sheet(crew: Page, studio: Server) -> None:
    """From her own days to what she needs on the spot."""
    crew.goto(f"{studio.url}/my-days/")
    crew.get_by_role("link", name=FERRY_TITLE).first.click()
    expect(crew.get_by_role("heading", name="Run sheet", level=1)).to_be_visible()
    for said in ("Side door by the bollards; ring twice.", "Bring it home", "555-0163"):
        expect(crew.get_by_text(said).first).to_be_visible()
    fits(crew)


def wrap_up(crew: Page, studio: Server) -> None:
    """Three popped, and it took an hour longer to hang than it was reckoned to."""
    crew.goto(f"{studio.url}/bookings/{FERRY}/wrap-up/")
    part(crew, "Popped of Black 11-inch").fill("3")
    for _ in range(4):
        crew.get_by_role("button", name="Set up and hang: a quarter of an hour more").click()
    crew.get_by_label("In a few words").fill("The slip was icy")
    fits(crew)
    crew.get_by_role("button", name="Wrap the job up").click()
    expect(crew.get_by_text(f"{FERRY_TITLE} is wrapped up.")).to_be_visible()
    expect(crew.get_by_role("listitem").filter(has_text="Black 11-inch")).to_contain_text("3 popped")
    fits(crew)


def crew_reach_no_price(owner: Page, crew: Page, studio: Server) -> None:
    """Every address that has something of the two jobs, but for the clients' own links, which crew are never given."""
    known = told(studio)
    amounts = known["amounts"]
    assert len(amounts) > 10
    owners_own = {f"/bookings/{job}/" for job in (FERRY, GALA)} | {
        f"/quotes/{one}/" for one in known["things"]["quote_id"]
    }
    seen_by_owner = "".join(read(owner, f"{studio.url}{path}")[1] for path in sorted(owners_own))
    # They would be found where they are shown: otherwise what follows could not fail.
    assert len(amounts_in(seen_by_owner, amounts)) > 5

    opened: dict[int, int] = {}
    shown: list[tuple[str, list[str]]] = []
    for route in routes():
        if "token" in route.parameters or "feed_token" in route.parameters:
            assert route.access is Access.ANYONE
            continue
        for path in addresses(route, known["things"]):
            status, text = read(crew, f"{studio.url}{path}")
            assert status < 500, path
            opened[status] = opened.get(status, 0) + 1
            found = amounts_in(text, amounts) + re.findall(r"[$€£¥]\s?\d[\d.,]*", text)
            found += [token for token in known["tokens"] if token in text]
            if found:
                shown.append((path, found))
            if route.access is Access.OWNER:
                assert status == 403, path
    assert shown == []
    assert opened[200] > 50
    assert opened[403] > 50


def test_two_jobs_of_one_weekend_are_planned_pulled_wrapped_up_and_learned_from(demo_studio, open_phone):
    owner, crew = open_phone(), open_phone()
    sign_in(owner, demo_studio, OWNER, PASSWORD)
    day = move_to_the_same_day(owner, demo_studio)
    see_both_planned(owner, demo_studio, day)
    add_pia(owner, demo_studio)
    untangle(owner, demo_studio)

    sign_in(crew, demo_studio, PIA, PIAS_PASSWORD)
    pull_together(owner, crew, demo_studio)
    read_the_run_sheet(crew, demo_studio)

    like_it = f"{demo_studio.url}/bookings/{LIKE_IT}/"
    before = hanging_takes(owner, like_it, jobs=3)
    wrap_up(crew, demo_studio)
    assert hanging_takes(owner, like_it, jobs=4) > before
    crew_reach_no_price(owner, crew, demo_studio)
