"""What every paper keeps to, whatever is on it: read aloud, fonts inside, its size, its pages, every line once."""

import datetime as dt
import io
import re
from collections.abc import Callable
from typing import Any

import pypdf
import pypdfium2
import pytest

from bookings.models import Booking
from bookings.paperwork.bills import bill_pdf, statement_pdf
from bookings.paperwork.pull_list import pull_list_pdf
from bookings.paperwork.quote import PaperPiece, quote_pdf
from bookings.paperwork.run_sheet import run_sheet_pdf
from bookings.queries import pull_list
from bookings.queries.bringing import bring_list
from bookings.queries.run_sheet import run_sheet
from stock.models import OrderLine
from stock.paperwork import cover_pdf, order_pdf
from stock.queries import cover_board
from studio.models import Studio, User
from tests.factories import (
    INVOICE_TOLD,
    NOON,
    TODAY,
    TOLD,
    BookingFactory,
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
)

pytestmark = [pytest.mark.django_db, pytest.mark.paper, pytest.mark.once]

SIZES = {"metric": (595.28, 841.89), "imperial": (612.0, 792.0)}
"""ISO 216 A4 and ANSI letter, in points."""
LONG = "Treppengeländerballongirlande"
NAMES = ("Garland by the stairs", LONG, "זר מעל הדלת", "قوس الورود")


def name_of(n: int) -> str:
    """A name that is told from every other by its number, in turn plain, one long word, and two that run leftwards."""
    return f"No.{n}: {NAMES[n % len(NAMES)]}"


def paper_of(measures: str) -> Any:
    return "letter" if measures == "imperial" else "A4"


def a_quote(lines: int, measures: str, owner: User) -> bytes:
    colours = [{"name": "Ink", "swatch": "#1f2a44", "ink": "#fffdf9", "count": 12}]
    pieces = [PaperPiece(name_of(n), "12 ft", 12, colours, 1_000, "") for n in range(lines)]
    return quote_pdf(
        told=TOLD,
        pieces=pieces,
        currency="USD",
        price_minor=124_000,
        tax_minor=10_230,
        total_minor=134_230,
        deposit_minor=62_000,
        made_at=NOON,
        paper=paper_of(measures),
    )


def a_bill(lines: int, measures: str, owner: User) -> bytes:
    rows = [{"what": name_of(n), "note": "12 ft", "net": 1_000, "tax": 83} for n in range(lines)]
    return bill_pdf(INVOICE_TOLD | {"lines": rows, "each_line": True}, made_at=NOON, paper=paper_of(measures))


def a_statement(lines: int, measures: str, owner: User) -> bytes:
    rows = [
        {"on": "30 Sep 2026", "what": name_of(n), "owed": 1_000, "paid": 0, "balance": 1_000 * n} for n in range(lines)
    ]
    told = {"studio": TOLD["studio"], "name": "Statement of 1 June 2026", "client": "Ines", "contact": "", "credit": 0}
    told |= {"issued": "1 June 2026", "currency": "USD", "lines": rows, "owed": 62_000, "late_words": "", "pay_to": []}
    return statement_pdf(told, made_at=NOON, paper=paper_of(measures))


def an_order(lines: int, measures: str, owner: User) -> bytes:
    order = OrderFactory(placed_on=TODAY, expected_on=TODAY)
    for n in range(lines):
        OrderLineFactory(order=order, item=ItemFactory(colour=ColourFactory(name=name_of(n))), packs=12)
    shown = list(OrderLine.objects.filter(order=order).select_related("item__colour").order_by("pk"))
    return order_pdf(order, shown, Studio(name="Tern & Tide", currency="USD", measures=measures), made_at=NOON)


def a_booked_job(lines: int, owner: User) -> Booking:
    booking: Booking = BookingFactory(stage="booked", event_on=TODAY, needed_on=TODAY, created_by=owner)
    for n in range(lines):
        item = MovementFactory(item=ItemFactory(colour=ColourFactory(name=name_of(n)))).item
        ReservationFactory(item=item, booking=booking.pk, needed_on=TODAY, quantity=9)
    return booking


def a_pull_list(lines: int, measures: str, owner: User) -> bytes:
    booking = a_booked_job(lines, owner)
    studio = Studio(name="Tern & Tide", measures=measures)
    return pull_list_pdf(pull_list(booking), bring_list(booking), booking, studio, made_at=NOON)


def a_weekly_check(lines: int, measures: str, owner: User) -> bytes:
    a_booked_job(lines, owner)
    return cover_pdf(cover_board(TODAY), Studio(name="Tern & Tide", measures=measures), made_at=NOON)


PAPERS = {
    "quote": (a_quote, 7),
    "bill": (a_bill, 4),
    "statement": (a_statement, 3),
    "order": (an_order, 3),
    "pull list": (a_pull_list, 4),
    "weekly check": (a_weekly_check, 3),
}
"""How each is made, and the pages it takes at most with sixty lines."""


def pages_of(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def hold_to_what_every_paper_keeps(pdf: bytes, measures: str, *, sideways: bool) -> None:
    """It says what it is and in which language, is tagged, has its fonts inside, its size, and numbered pages."""
    reader = pypdf.PdfReader(io.BytesIO(pdf), strict=True)
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and root["/Lang"] == "en" and "/StructTreeRoot" in root
    assert "pdfuaid" in root["/Metadata"].get_data().decode()
    assert reader.metadata is not None and reader.metadata.title
    pages: list[Any] = list(reader.pages)
    fonts = [font.get_object() for page in pages for font in page["/Resources"]["/Font"].values()]
    inside = [below.get_object()["/FontDescriptor"] for font in fonts for below in font["/DescendantFonts"]]
    assert inside and all({"/FontFile2", "/FontFile3"} & set(descriptor.get_object()) for descriptor in inside)
    wanted = SIZES[measures][::-1] if sideways else SIZES[measures]
    for number, (page, said) in enumerate(zip(pages, pages_of(pdf), strict=True), start=1):
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(wanted, abs=0.1)
        assert f"Page {number} of {len(pages)}" in said


@pytest.mark.parametrize(("lines", "measures"), [(1, "imperial"), (12, "metric"), (60, "imperial")])
@pytest.mark.parametrize("paper", PAPERS)
def test_every_line_is_printed_on_numbered_pages_that_can_be_read_aloud(paper, lines, measures, owner):
    make, most = PAPERS[paper]
    pdf = make(lines, measures, owner)
    hold_to_what_every_paper_keeps(pdf, measures, sideways=paper == "weekly check")
    said = pages_of(pdf)
    assert len(said) <= {1: 1, 12: 2}.get(lines, most)
    for n in range(lines):
        assert sum(len(re.findall(rf"No\.{n}:", page)) for page in said) == 1, n


@pytest.mark.parametrize(("pieces", "measures"), [(1, "imperial"), (12, "metric")])
def test_a_run_sheet_keeps_to_it_however_many_pieces(
    pieces: int, measures: str, owner: User, add_garland: Callable[..., None]
) -> None:
    booking = BookingFactory(stage="booked", title=LONG, event_on=TODAY, needed_on=TODAY, created_by=owner)
    for n in range(pieces):
        add_garland(booking, name=name_of(n))
    studio = Studio(name="Tern & Tide", measures=measures, currency="USD")
    sheet = run_sheet(
        Booking.objects.select_related("client").get(pk=booking.pk), studio=studio, today=TODAY, zone=dt.UTC
    )
    pdf = run_sheet_pdf(sheet, studio, made_at=NOON)
    hold_to_what_every_paper_keeps(pdf, measures, sideways=False)
    words = " ".join(pages_of(pdf))
    for n in range(pieces):
        assert f"No.{n}:" in words
    assert len(pages_of(pdf)) <= 3 + pieces


@pytest.mark.parametrize("lines", [28, 60])
@pytest.mark.parametrize("make", [a_bill, a_statement, an_order], ids=["bill", "statement", "order"])
def test_the_total_stands_with_the_last_lines(make, lines, owner):
    last = pages_of(make(lines, "metric", owner))[-1]
    assert re.search(r"To pay \$|Owed \$|Total \$", last)
    assert f"No.{lines - 1}:" in last


def test_an_amount_of_many_figures_stays_on_the_paper(owner):
    told = INVOICE_TOLD | {
        "currency": "IDR", "net": 12_345_678_900, "tax": 1_234_567_890, "total": 13_580_246_790, "each_line": True,
        "lines": [{"what": "W" * 90, "note": "x" * 120, "net": 12_345_678_900, "tax": 1_234_567_890}],
    }  # fmt: skip
    document = pypdfium2.PdfDocument(bill_pdf(told, made_at=NOON, paper="A4"))
    try:
        page = document[0]
        text = page.get_textpage()
        right = max(text.get_charbox(n)[2] for n in range(text.count_chars()) if text.get_text_range(n, 1).strip())
        assert "135,802,467.90" in text.get_text_range()
        # The margin is 16 mm.
        assert right <= page.get_width() - 16 / 25.4 * 72 + 1
    finally:
        document.close()
