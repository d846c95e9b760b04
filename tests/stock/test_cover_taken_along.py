"""The weekly check as a table and on paper: what the page says, for everybody, without a price."""

import csv
import datetime as dt
import io
import re

import pytest
from django.utils import timezone
from pypdf import PdfReader

from stock import paperwork
from stock.queries import cover_board
from studio.models import Studio
from tests.factories import NOON, ColourFactory, ItemFactory, MovementFactory, OfferFactory, ReservationFactory

pytestmark = [pytest.mark.django_db, pytest.mark.paper]
TABLE, PAPER = "/stock/cover/cover.csv", "/stock/cover/cover.pdf"
CANARY = 7919_37


def day(after: int) -> dt.date:
    return timezone.localdate() + dt.timedelta(days=after)


@pytest.fixture
def black(db):
    """128 black 11-inch, 184 promised, 30 more in an open quote, and a bag to be had in time."""
    item = MovementFactory(item=ItemFactory(colour=ColourFactory(name="Black")), quantity=128).item
    ReservationFactory(item=item, quantity=44, needed_on=day(4), booking_name="Ferry office")
    ReservationFactory(item=item, quantity=140, needed_on=day(11), booking_name="=Film gala")
    ReservationFactory(item=item, quantity=30, needed_on=day(12), firm=False, booking_name="Barn")
    OfferFactory(item=item, price_minor=CANARY, lead_days=3)
    return item


def rows_of(browser, address: str = TABLE) -> list[dict[str, str]]:
    answer = browser.get(address)
    assert answer.status_code == 200
    return list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"), newline="")))


def words_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages).split())


@pytest.mark.parametrize("address", [TABLE, PAPER])
def test_a_stranger_is_sent_to_sign_in(client, address):
    assert client.get(address).url.startswith("/sign-in/")


def test_the_table_has_the_figures_of_the_board(crew_client, black):
    (row,) = rows_of(crew_client)
    board = cover_board(timezone.localdate())
    found = board.rows[0]
    weekly = [int(cell) for name, cell in row.items() if name.startswith("least in the week of")]
    assert (row["item"], row["on_shelf"], row["short_by"]) == ("Black 11-inch", "128", "56")
    assert weekly == list(found.weekly)
    assert (row["in_words"], row["what_to_do"]) == (found.sentence, found.what_to_do)
    assert (row["short_from"], row["order_by"]) == (day(11).isoformat(), day(8).isoformat())


def test_the_table_counts_open_quotes_when_asked(crew_client, black):
    assert rows_of(crew_client, f"{TABLE}?with=open")[0]["short_by"] == "86"


def test_no_cell_of_the_table_is_a_formula(crew_client):
    item = MovementFactory(item=ItemFactory(colour=ColourFactory(name="=1+1"))).item
    ReservationFactory(item=item, quantity=900, booking_name="=cmd")
    told = crew_client.get(TABLE).content.decode("utf-8-sig")
    assert "\n'=1+1 11-inch," in told.replace("\r", "")
    assert not re.search(r"(^|[,\n])[=+@]", told)


@pytest.mark.parametrize("address", [TABLE, PAPER])
def test_what_is_taken_along_holds_no_price(crew_client, owner_client, black, address):
    for browser in (crew_client, owner_client):
        content = browser.get(address).content
        told = words_of(content) if address == PAPER else content.decode()
        assert not any(price in told for price in ("791937", "7919", "7,919"))


@pytest.mark.parametrize(("query", "short_by"), [("", 56), ("?with=open", 86)], ids=["booked only", "with open quotes"])
def test_the_paper_says_what_the_board_says(crew_client, black, query, short_by):
    ItemFactory()
    told = words_of(crew_client.get(f"{PAPER}{query}").content)
    board = cover_board(timezone.localdate(), with_open=bool(query))
    for sentence in (board.sentence, board.short_rows[0].sentence, board.short_rows[0].what_to_do):
        assert sentence in told
    assert "=Film gala goes without" in told
    assert f"−{short_by} short" in told
    assert "1 more item with nothing booked and nothing coming." in told
    assert ("Booked jobs and open quotes" in told) is bool(query)


def test_a_long_shelf_says_what_is_not_on_paper(monkeypatch):
    monkeypatch.setattr(paperwork, "MOST_ON_PAPER", 2)
    for _ in range(5):
        ReservationFactory(quantity=5, needed_on=day(3))
    told = words_of(paperwork.cover_pdf(cover_board(timezone.localdate()), Studio(name="Tern & Tide"), made_at=NOON))
    assert "3 more items are not on paper: the CSV lists them all." in told


def test_an_empty_shelf_still_makes_paper(crew_client):
    assert "Nothing is listed on the shelf yet." in words_of(crew_client.get(PAPER).content)


def test_the_page_leads_to_both_and_keeps_what_counts(owner_client, black):
    told = owner_client.get("/stock/cover/?with=open").content.decode()
    assert f'href="{TABLE}?with=open"' in told
    assert f'href="{PAPER}?with=open"' in told


def test_the_table_asks_as_little_however_long_the_shelf_is(crew_client, django_assert_max_num_queries):
    for more in (5, 40):
        for _ in range(more):
            ReservationFactory(item=MovementFactory().item, quantity=5)
        with django_assert_max_num_queries(11):
            crew_client.get(TABLE)
