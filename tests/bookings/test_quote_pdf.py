"""The quote on paper: what it says, how much room it takes, and that the same quote is the same bytes."""

import datetime as dt
import io
import re
import time
from decimal import Decimal
from typing import Any

import pypdf
import pytest

from bookings.cautions import cautions_for
from bookings.paperwork.quote import PaperPiece, quote_html, quote_pdf
from estimating.drawing import Swatch, svg_for_paper
from estimating.kinds import KINDS, CountedSpec, GarlandSpec
from estimating.layout import Layout
from tests.factories import TOLD

pytestmark = pytest.mark.paper
MADE = dt.datetime(2026, 6, 1, 12, 0, tzinfo=dt.UTC)
SWATCHES = {"1": ("Ink", "#1f2a44"), "2": ("Sand", "#e6dac6"), "3": ("Terracotta", "#c96f52")}
PALETTE = {key: Swatch(swatch, name) for key, (name, swatch) in SWATCHES.items()}


def as_paper(name: str, layout: Layout, *, description: str = "", price_minor: int = 98_000) -> PaperPiece:
    counts = {key: sum(1 for balloon in layout.balloons if balloon.colour == key) for key in SWATCHES}
    return PaperPiece(
        name=name,
        description=description,
        balloons=len(layout.balloons),
        colours=[
            {"name": SWATCHES[key][0], "swatch": SWATCHES[key][1], "ink": "#fffdf9", "count": count}
            for key, count in counts.items()
            if count
        ],
        price_minor=price_minor,
        drawing=svg_for_paper(layout, PALETTE, title=name),
    )


@pytest.fixture(scope="module")
def curtain() -> PaperPiece:
    spec = GarlandSpec(
        length_mm=Decimal("304.8") * 30,
        width_mm=Decimal("25.4") * 20,
        mix=((5, 40), (11, 55), (16, 5)),
        colours=(("1", 50), ("2", 30), ("3", 20)),
    )
    return as_paper("The full curtain", KINDS["garland"].lay_out(spec), description="30 ft garland, 20 in wide")


@pytest.fixture(scope="module")
def bunches() -> PaperPiece:
    layout = KINDS["counted"].lay_out(CountedSpec((("1", 11, 14), ("3", 11, 10))))
    return as_paper("Table bunches", layout, description="Eight bunches of three, on weights", price_minor=26_000)


def printed(pieces, told=None, **more):
    figures: dict[str, Any] = {
        "currency": "USD",
        "price_minor": 124_000,
        "tax_minor": 10_230,
        "total_minor": 134_230,
        "deposit_minor": 62_000,
    }
    return quote_pdf(told=TOLD | (told or {}), pieces=pieces, made_at=MADE, **(figures | more))


def read(pdf):
    return pypdf.PdfReader(io.BytesIO(pdf), strict=True)


def words_of(pdf):
    return " ".join(" ".join(page.extract_text() for page in read(pdf).pages).replace("\u00a0", " ").split())


def test_the_same_quote_is_the_same_bytes_a_moment_later(curtain):
    first = printed([curtain])
    # Fonts are stamped to the second.
    time.sleep(1.1)
    assert printed([curtain]) == first


@pytest.mark.parametrize("told", [{"version": 3}, {"title": "Another"}, {"terms": "Other terms."}])
def test_another_quote_is_other_bytes(bunches, told):
    assert printed([bunches]) != printed([bunches], told)


def test_one_piece_with_short_terms_takes_one_page(curtain):
    assert len(read(printed([curtain])).pages) == 1


LONG = {
    "title": "A title that goes on for as long as a title may, " * 2 + "and then on to its end",
    "place": "Somewhere very far away, " * 8,
    "day": "the twelfth or the nineteenth, whichever suits the hall better, or else in May",
    "cautions": cautions_for(outdoors=True),
    "changes": ["The full curtain: 24 ft garland became 30 ft garland, and a good deal of other things."] * 40,
    "studio": {
        "name": "N" * 60 + " " + "n" * 59,
        "email": "e" * 60 + "@f.example",
        "phone": "5" * 40,
        "address": "A " * 100,
    },
    "client": "Ines " * 24,
}
TERMS = {
    "prose": ("The terms say this, and then they say that. " * 91)[:4000],
    "one word": "t" * 4000,
    "many short lines": "Yes.\n" * 800,
    "as many lines as are kept": (
        "A line of terms of eighty characters, or as near as makes no difference to it.\n" * 50
    )[:4000],
    "wide letters": "WWWW MMMM " * 400,
    "right to left": "תנאים " * 600,
}


def stretched(piece):
    """The piece with everything said of it as long as it may be."""
    colours = [
        {
            "name": f"Colour {n} of a name as long as may be ok pearl",
            "swatch": f"#{n}{n}4455",
            "ink": "#fff",
            "count": 1234,
        }
        for n in range(8)
    ]
    return PaperPiece("N" * 80, ("Words of a description. " * 13)[:300], 9_999, colours, 10**12, piece.drawing)


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("terms", TERMS.values(), ids=TERMS)
def test_eight_pieces_and_4000_characters_of_terms_take_two_pages(curtain, bunches, terms, paper):
    pdf = printed([curtain, *[bunches] * 7], {"terms": terms}, paper=paper)
    assert len(read(pdf).pages) == 2


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("terms", ["prose", "many short lines"])
@pytest.mark.parametrize("first", ["curtain", "bunches"])
def test_eight_pieces_with_everything_as_long_as_may_be_take_two_pages(request, first, terms, paper):
    pieces = [stretched(request.getfixturevalue(first))] * 8
    pdf = printed(pieces, LONG | {"terms": TERMS[terms]}, paper=paper, price_minor=10**12, total_minor=10**12)
    assert len(read(pdf).pages) == 2


@pytest.mark.parametrize("count", range(1, 9))
@pytest.mark.parametrize("length", [0, 400, 1500, 4000])
def test_every_job_of_up_to_eight_pieces_takes_at_most_two_pages(bunches, curtain, count, length):
    pieces = [curtain, *[bunches] * 7][:count]
    pdf = printed(
        pieces, {"terms": TERMS["prose"][:length], "changes": ["Total: $1.00 became $2.00."] * count}, paper="letter"
    )
    assert len(read(pdf).pages) <= 2


def test_changes_there_is_no_room_for_are_counted_and_pointed_to(bunches):
    words = words_of(printed([bunches], {"changes": [f"Change {n}: {'x' * 90}." for n in range(30)]}))
    assert "Change 0:" in words
    assert "Change 29:" not in words
    shown = sum(f"Change {n}:" in words for n in range(30))
    assert f"{30 - shown} more changes: the link we sent you lists them all." in words


def test_a_quote_without_terms_tax_deposit_or_changes_has_no_empty_headings(bunches):
    words = words_of(printed([bunches], {"terms": "", "tax_percent": "", "cautions": []}, tax_minor=0, deposit_minor=0))
    for heading in ("Terms", "Sales tax", "Deposit", "Balloons and people", "What changed"):
        assert heading not in words


def test_a_piece_without_a_drawing_is_printed_in_words(bunches):
    bare = PaperPiece("Hand-made", "A thing", 3, [], 5_000, "")
    words = words_of(printed([bare, bunches]))
    assert "Hand-made A thing $50.00" in words


def test_a_quote_without_pieces_can_be_printed():
    assert "0 balloons" in words_of(printed([]))


def placed(pdf: bytes) -> list[tuple[str, float, float]]:
    """The words of the first page with where each run of them begins, in pixels of CSS from the left and from above."""
    found: list[tuple[str, float, float]] = []

    def note(text: str, _cm: Any, tm: list[float], *_font: Any) -> None:
        if text.strip():
            found.append((text.strip(), float(tm[4]), float(tm[5])))

    read(pdf).pages[0].extract_text(visitor_text=note)
    return found


def left_of(pdf: bytes, words: str) -> float:
    return next(x for text, x, _ in placed(pdf) if words in text)


def test_a_line_in_hebrew_begins_at_the_right(bunches):
    latin, hebrew = (printed([bunches], {"terms": terms}) for terms in ("Yes.", "כן."))
    assert left_of(latin, "Yes") < 70
    assert left_of(hebrew, "כן") > 600


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("title", ["Gala", "Donaudampfschifffahrtselektrizitätenhauptbetriebswerk", "W" * 40])
def test_a_title_stands_beside_the_picture_however_long_its_words(bunches, title, paper):
    pdf = printed([bunches], {"title": title}, paper=paper)
    above = next(y for text, _, y in placed(pdf) if text.startswith("Quote 7"))
    begins = next(y for text, _, y in placed(pdf) if text[:4] == title[:4])
    assert 0 < begins - above < 45
    assert all(x < 350 for text, x, _ in placed(pdf) if text in title)


@pytest.mark.parametrize("swatch", ["red", "#12345", "#1234567", 'url("file:///etc/passwd")', "#12345g", ""])
def test_a_swatch_that_is_no_colour_is_refused(swatch):
    piece = PaperPiece("P", "", 1, [{"name": "x", "swatch": swatch, "ink": "#000", "count": 1}], 1, "")
    with pytest.raises(ValueError, match="A swatch is written #rrggbb"):
        printed([piece])


def test_money_is_in_the_quotes_own_currency(bunches):
    words = words_of(printed([bunches], currency="JPY", price_minor=90_000, tax_minor=0, total_minor=90_000))
    assert "¥90,000" in words
    assert "$" not in words


HOSTILE = [
    '<a href="https://elsewhere.example/">click</a>',
    '<img src="https://elsewhere.example/x.png">',
    '<link rel="attachment" href="file:///etc/passwd">',
    "</style><style>@import url(https://elsewhere.example/x.css);</style>",
    "<script>alert(1)</script>",
    '"><iframe src="file:///etc/passwd"></iframe>',
    "https://elsewhere.example/",
    "{{ told }}{% debug %}",
]


@pytest.mark.parametrize("hostile", HOSTILE)
def test_words_from_outside_make_no_link_attachment_or_fetch(bunches, hostile, caplog):
    told = dict.fromkeys(
        ("title", "client", "day", "place", "ready_by", "terms", "valid_until", "tax_percent"), hostile
    )
    studio = dict.fromkeys(("name", "email", "phone", "address"), hostile)
    colour = {"name": hostile, "swatch": "#1f2a44", "ink": "#fffdf9", "count": 1}
    piece = PaperPiece(hostile, hostile, 1, [colour], 100, bunches.drawing)
    pdf = printed([piece], told | {"studio": studio, "cautions": [hostile], "changes": [hostile]})
    reader = read(pdf)
    assert not any("/Annots" in page for page in reader.pages)
    assert not list(reader.attachments)
    assert [record.getMessage() for record in caplog.records if record.name.startswith("studio")] == []
    squeezed = "".join(words_of(pdf).split())
    assert squeezed.count("".join(hostile.split())) >= 8


def test_words_from_outside_add_no_tag(bunches):
    def tags(word):
        told = dict.fromkeys(("title", "client", "day", "place", "ready_by", "valid_until", "tax_percent"), word)
        html = quote_html(
            told=TOLD | told | {"terms": word, "cautions": [word], "changes": [word]},
            pieces=[PaperPiece(word, word, 1, [{"name": word, "swatch": "#1f2a44", "ink": "", "count": 1}], 1, "")],
            currency="USD",
            price_minor=1,
            tax_minor=0,
            total_minor=1,
            deposit_minor=1,
        )
        return re.findall(r"<(/?[a-z0-9]+)", html, re.I)

    assert tags("".join(HOSTILE)) == tags("words")
