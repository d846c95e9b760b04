"""Invoices, receipts and statements as PDFs: what they say, how they break, that they can be read aloud."""

import datetime as dt
import io
from typing import Any

import pypdf
import pypdfium2
import pytest

from bookings.paperwork.bills import bill_pdf, statement_pdf
from bookings.paperwork.slips import receipt_paper
from tests.factories import INVOICE_TOLD, NOON, TOLD, PaymentFactory

pytestmark = pytest.mark.paper
SIZES = {"A4": (595.28, 841.89), "letter": (612.0, 792.0)}


def lines(number: int) -> list[dict[str, Any]]:
    return [
        {"what": f"Garland {n + 1}", "note": "24 ft garland in ink and sand", "net": 1_000, "tax": 83}
        for n in range(number)
    ]


def invoice(number: int = 1, paper: Any = "A4", **changed: Any) -> bytes:
    return bill_pdf(INVOICE_TOLD | {"lines": lines(number)} | changed, made_at=NOON, paper=paper)


def pages_of(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    finally:
        document.close()


@pytest.mark.parametrize(("number", "pages"), [(1, 1), (20, 2), (60, 3)])
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_every_line_is_printed_whole_and_the_total_is_with_the_last(number, pages, paper):
    said = pages_of(invoice(number, paper))
    assert len(said) <= pages
    for n in range(number):
        assert sum(page.count(f"Garland {n + 1} ") for page in said) == 1
    assert "To pay $1,342.30" in said[-1] and f"Garland {number} " in said[-1]
    assert all("For Amount" in page for page in said)


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_the_paper_is_the_studios(paper):
    box = pypdf.PdfReader(io.BytesIO(invoice(paper=paper))).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(SIZES[paper], abs=0.1)


def test_an_invoice_says_who_what_how_much_and_by_when():
    (said,) = pages_of(invoice())
    for words in (
        "Invoice 7", "Tern & Tide Balloons", "For Ines Vale", "Film society winter gala", "1 June 2026",
        "Sales tax 8.25% $102.30", "Before tax $1,240.00", "Deposit: $620.00 by 1 June 2026.",
        "Harbour Bank, account 0142",
    ):  # fmt: skip
        assert words in said, words


def test_tax_is_shown_by_line_where_it_was_reckoned_so():
    assert "$0.83" in pages_of(invoice(each_line=True))[0]
    assert "$0.83" not in pages_of(invoice())[0]


@pytest.mark.parametrize("number", [1, 60])
def test_a_bill_is_tagged_titled_and_has_its_fonts(number):
    reader = pypdf.PdfReader(io.BytesIO(invoice(number)))
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and root["/Lang"] == "en" and "/StructTreeRoot" in root
    assert reader.metadata is not None and reader.metadata.title == "Invoice 7 for Ines Vale"
    assert b"pdfuaid:part" in root["/Metadata"].get_data() or "pdfuaid" in root["/Metadata"].get_data().decode()
    pages: list[Any] = list(reader.pages)
    fonts = [font.get_object() for page in pages for font in page["/Resources"]["/Font"].values()]
    inside = [below.get_object()["/FontDescriptor"] for font in fonts for below in font["/DescendantFonts"]]
    assert inside and all({"/FontFile2", "/FontFile3"} & set(descriptor.get_object()) for descriptor in inside)


def test_the_same_words_give_the_same_bytes():
    assert invoice(3) == invoice(3)


def test_markup_in_a_name_is_words():
    assert "<b>Ines</b>" in pages_of(invoice(client="<b>Ines</b>"))[0]


@pytest.mark.django_db
def test_a_receipt_says_what_came_in_how_and_what_was_left():
    from studio.models import Studio

    payment = PaymentFactory(number=12, left_minor=72_230, surplus_minor=0, note="at the door")
    (said,) = pages_of(receipt_paper(payment, studio=Studio(name="Tern & Tide Balloons")))
    for words in (
        "Receipt 12",
        "Bank transfer",
        "at the door",
        "Paid $620.00",
        "$722.30 was still to be paid after it.",
    ):
        assert words in said, words


@pytest.mark.parametrize(("number", "pages"), [(1, 1), (20, 1), (60, 2)])
def test_a_statement_keeps_its_head_on_every_page(number, pages):
    rows = [
        {
            "on": f"{dt.date(2026, 6, 1 + n % 28).day} June 2026",
            "what": f"Paid {n + 1}.",
            "owed": 0,
            "paid": 5,
            "balance": 0,
        }
        for n in range(number)
    ]
    told = {
        "studio": TOLD["studio"], "name": "Statement of 1 June 2026", "client": "Ines Vale", "contact": "",
        "issued": "1 June 2026", "currency": "USD", "lines": rows, "owed": 62_000, "credit": 500,
        "late_words": "Nothing is late.", "pay_to": [],
    }  # fmt: skip
    said = pages_of(statement_pdf(told, made_at=NOON, paper="A4"))
    assert len(said) == pages
    assert all("Day What To pay Paid Balance" in page for page in said)
    assert "Owed $620.00" in said[-1] and "Credit we hold for you $5.00" in said[-1]
