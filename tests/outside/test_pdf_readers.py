"""A quote as printed, as two programs that know nothing of ours read it: pypdf, and pdfium by way of pypdfium2."""

import datetime as dt
import io
from decimal import Decimal
from typing import Any

import pypdf
import pypdfium2
import pytest

from bookings.paperwork.quote import PaperPiece, quote_pdf
from estimating.drawing import Swatch, svg_for_paper
from estimating.kinds import KINDS, GarlandSpec
from tests.factories import TOLD

pytestmark = pytest.mark.paper
MADE = dt.datetime(2026, 6, 1, 12, 0, tzinfo=dt.UTC)
SWATCHES = {"1": ("Ink", "#1f2a44"), "2": ("Terracotta", "#c96f52")}
# ISO 216 A4, 210 by 297 mm, and ANSI letter, 8.5 by 11 in, in points of 1/72 in.
SIZES = {"A4": (595.28, 841.89), "letter": (612.0, 792.0)}
TOLD_TWICE: dict[str, Any] = TOLD | {"changes": ["The full curtain: $900.00 became $980.00."]}
SAID = [
    "Tern & Tide Balloons",
    "Quote 7, version 2, for Ines Vale",
    "Film society winter gala",
    "Saturday 12 December 2026, Corn Hall. Ready by 14:00",
    "The full curtain: $900.00 became $980.00.",
    "The full curtain",
    "30 ft garland in ink and terracotta",
    "$980.00",
    "Doorway",
    "18 ft garland",
    "$260.00",
    "Price $1,240.00",
    "Sales tax 8.25% $102.30",
    "Total $1,342.30",
    "Deposit to hold the date $620.00",
    "Open until Monday 15 June.",
    "+1 555 0142",
    "hello@tern-and-tide.example",
    "4 Rope Walk, Port Alder",
    TOLD_TWICE["terms"],
    *TOLD_TWICE["cautions"],
]


def garland(name, description, feet, price_minor):
    spec = GarlandSpec(
        length_mm=Decimal("304.8") * feet,
        width_mm=Decimal("25.4") * 20,
        mix=((5, 40), (11, 60)),
        colours=(("1", 60), ("2", 40)),
    )
    layout = KINDS["garland"].lay_out(spec)
    counts = {key: sum(1 for balloon in layout.balloons if balloon.colour == key) for key in SWATCHES}
    return PaperPiece(
        name,
        description,
        len(layout.balloons),
        [{"name": SWATCHES[k][0], "swatch": SWATCHES[k][1], "ink": "#fffdf9", "count": n} for k, n in counts.items()],
        price_minor,
        svg_for_paper(layout, {k: Swatch(swatch, name) for k, (name, swatch) in SWATCHES.items()}, title=name),
    )


@pytest.fixture(scope="module")
def pieces():
    return [
        garland("The full curtain", "30 ft garland in ink and terracotta", 30, 98_000),
        garland("Doorway", "18 ft garland", 18, 26_000),
    ]


def printed(pieces, paper="A4"):
    return quote_pdf(
        told=TOLD_TWICE,
        pieces=pieces,
        currency="USD",
        price_minor=124_000,
        tax_minor=10_230,
        total_minor=134_230,
        deposit_minor=62_000,
        made_at=MADE,
        paper=paper,
    )


@pytest.fixture(scope="module")
def pdf(pieces):
    return printed(pieces)


def opened(pdf) -> Any:
    return pypdf.PdfReader(io.BytesIO(pdf), strict=True)


def by_pypdf(pdf):
    return [page.extract_text() for page in opened(pdf).pages]


def by_pdfium(pdf):
    document = pypdfium2.PdfDocument(pdf)
    pages = []
    for page in document:
        text = page.get_textpage()
        pages.append(text.get_text_range())
        text.close()
        page.close()
    document.close()
    return pages


READERS = [pytest.param(by_pypdf, id="pypdf"), pytest.param(by_pdfium, id="pdfium")]


def squeezed(words):
    """Words without their spaces: where a line ends, each reader has its own idea of the space."""
    return "".join(words.replace("\u00a0", " ").replace("\ufffe", "-").split())


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("said", SAID)
def test_every_line_price_and_caution_can_be_selected(pdf, reader, said):
    assert squeezed(said) in squeezed("".join(reader(pdf)))


@pytest.mark.parametrize("reader", READERS)
def test_each_colour_is_counted(pdf, pieces, reader):
    words = squeezed("".join(reader(pdf)))
    for piece in pieces:
        for colour in piece.colours:
            assert f"{colour['count']}{colour['name']}" in words


@pytest.mark.parametrize("reader", READERS)
def test_each_page_says_which_of_how_many_it_is(pdf, reader):
    pages = reader(pdf)
    assert 1 <= len(pages) <= 2
    for number, page in enumerate(pages, 1):
        assert squeezed(f"Page {number} of {len(pages)}") in squeezed(page)


@pytest.mark.parametrize("paper", SIZES)
def test_the_page_is_of_the_size_asked_for(pieces, paper):
    pdf = printed(pieces, paper)
    width, height = SIZES[paper]
    for page in opened(pdf).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((width, height), abs=0.5)
    document = pypdfium2.PdfDocument(pdf)
    assert document.get_page_size(0) == pytest.approx((width, height), abs=0.5)
    document.close()


def test_every_font_is_ours_embedded_and_cut_to_what_is_used(pdf):
    fonts = {}
    for page in opened(pdf).pages:
        for font in page["/Resources"]["/Font"].values():
            descriptor = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            embedded = next((descriptor[key].get_object().get_data() for key in descriptor if "/FontFile" in key), b"")
            fonts[str(descriptor["/FontName"]).lstrip("/")] = len(embedded)
    names = {name.partition("+")[2] for name in fonts}
    assert {name.split("-Next")[0] for name in names} <= {"Atkinson-Hyperlegible", "Bricolage-Grotesque-Bold"}
    assert len(names) >= 3
    assert all(name[6] == "+" and 0 < size < 40_000 for name, size in fonts.items())


def test_it_says_its_title_author_language_and_that_it_is_tagged(pdf):
    reader = opened(pdf)
    assert reader.metadata.title == "Quote 7, version 2: Film society winter gala"
    assert reader.metadata.author == "Tern & Tide Balloons"
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert b"pdfuaid:part" in root["/Metadata"].get_object().get_data()
    document = pypdfium2.PdfDocument(pdf)
    assert document.get_metadata_value("Title") == reader.metadata.title
    assert document.is_tagged()
    document.close()


def tags_of(pdf):
    def walk(node):
        yield node
        kids = node.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            kid = kid.get_object()
            if isinstance(kid, dict):
                yield from walk(kid)

    return list(walk(opened(pdf).trailer["/Root"]["/StructTreeRoot"].get_object()))


def test_each_picture_is_described(pdf, pieces):
    described = [tag["/Alt"] for tag in tags_of(pdf) if "/Alt" in tag]
    assert len(described) == len(pieces)
    for piece, words in zip(pieces, described, strict=True):
        assert piece.name in words
        assert f"{piece.balloons} balloons" in words


def test_headings_and_the_money_table_are_tagged_as_what_they_are(pdf):
    kinds = [str(tag.get("/S")) for tag in tags_of(pdf)]
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") >= 4
    assert kinds.count("/TR") == 4
    assert kinds.count("/TH") == 4


def test_pdfium_paints_the_picture_in_the_colours_of_its_balloons(pdf):
    document = pypdfium2.PdfDocument(pdf)
    image = document[0].render(scale=1).to_pil().convert("RGB")
    document.close()
    # The first picture runs along the upper two fifths of the page.
    picture = image.crop((0, 0, image.width, image.height * 2 // 5))
    near = dict.fromkeys(("Ink", "Terracotta"), 0)
    pixels = picture.tobytes()
    for at in range(0, len(pixels), 3):
        for name, swatch in SWATCHES.values():
            wanted = bytes.fromhex(swatch[1:])
            near[name] += all(abs(pixels[at + n] - wanted[n]) < 24 for n in range(3))
    assert all(count > 1_000 for count in near.values()), near


def test_a_quote_of_300_balloons_is_under_80_kb(pieces):
    pdf = printed(pieces)
    assert sum(piece.balloons for piece in pieces) > 250
    assert len(pdf) < 80_000
