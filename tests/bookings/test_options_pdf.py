"""The paper of a quote with options and extras, from one line to sixty."""

import io
from typing import Any

import pypdf
import pytest

from bookings.choosing import Asked, Extra, Offer, Option
from bookings.paperwork import PaperPiece, quote_pdf
from studio.money import show
from tests.factories import NOON, TOLD

pytestmark = pytest.mark.paper
OFFER = Offer(
    (
        Option(1, "The beam alone", Asked(46_500, 3_836, 25_500)),
        Option(2, "With a column on either side", Asked(57_500, 4_744, 31_500)),
        Option(3, "Everything", Asked(91_250, 7_528, 50_000)),
    ),
    (
        Extra(1, "Take-down the same night", "at midnight", Asked(8_500, 701, 5_000)),
        Extra(2, "Delivery after hours", "", Asked(4_500, 371, 2_500)),
    ),
)
MEASURES = {"A4": (595, 842), "letter": (612, 792)}


def pieces(count: int) -> list[PaperPiece]:
    """As many pieces in turn in every option and in each one."""
    colours = [{"name": "Ink", "swatch": "#1f2a44", "ink": "#fffdf9", "count": 12}]
    return [
        PaperPiece(
            f"Piece number {n}", f"{n} ft high", 12, colours, 1_000 + n, "", option=n % 4, prices={"3": 2_000 + n}
        )
        for n in range(count)
    ]


def printed(count: int, **more: Any) -> pypdf.PdfReader:
    first = OFFER.options[0].asked
    figures: dict[str, Any] = {
        "currency": "USD",
        "price_minor": first.price,
        "tax_minor": first.tax,
        "total_minor": first.total,
        "deposit_minor": first.deposit,
        "offer": OFFER,
    }
    return pypdf.PdfReader(io.BytesIO(quote_pdf(told=TOLD, pieces=pieces(count), made_at=NOON, **(figures | more))))


def words_of(pages: Any) -> str:
    return " ".join(" ".join(page.extract_text() for page in pages).replace("\u00a0", " ").split())


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("count", [1, 8, 25, 60])
def test_every_line_and_every_sum_is_on_paper_of_the_right_size(count, paper):
    read = printed(count, paper=paper)
    words = words_of(read.pages)
    for n in range(count):
        assert words.count(f"Piece number {n} ") >= 2
    for asked in [one.asked for one in OFFER.options]:
        for amount in (asked.price, asked.tax, asked.total, asked.deposit):
            assert show(amount, "USD").replace("\u00a0", " ") in words
    for extra in OFFER.extras:
        assert extra.name in words
        assert f"+ {show(extra.asked.total, 'USD')}" in words
    box = read.pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == MEASURES[paper]
    assert len(read.pages) <= 2 + count // 10


@pytest.mark.parametrize("count", [1, 8, 25, 60])
def test_the_sums_stay_together_under_the_names_of_their_options(count):
    (page,) = [page for page in printed(count).pages if "Deposit to hold the date" in page.extract_text()]
    words = words_of([page])
    for said in ("Sales tax 8.25%", "Total", *(one.name for one in OFFER.options)):
        assert said in words


def test_a_shared_piece_has_its_own_price_in_each_option():
    words = words_of(printed(1).pages)
    assert "Piece number 0 $10.00 $10.00 $20.00" in words


def test_a_piece_of_one_option_has_a_dash_in_the_others():
    words = words_of(printed(2).pages)
    assert "Piece number 1 $10.01 – –" in words


def test_extras_alone_stand_beside_the_one_price():
    one = Offer(OFFER.options[:1], OFFER.extras)
    words = words_of(printed(1, offer=one).pages)
    assert "Choose one of" not in words
    assert "Extras, if you like" in words
    assert "In every option" not in words
    assert "Total $503.36" in words
