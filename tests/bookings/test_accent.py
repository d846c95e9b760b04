"""A studio's own colour: refused where it cannot be read, and put on what clients see."""

import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from bookings.accent import CARD, DARK_CARD, DARK_PAGE, PAGE, dark_tones, light_tones, why_unreadable
from bookings.paperwork import prepare_quote
from stock.colour import contrast_ratio
from studio.models import Studio
from studio.settings_forms import StudioForm
from tests.factories import NOON, TODAY, TOLD, QuoteFactory, QuotePieceFactory, token_of

channels = st.integers(0, 255)
colours = st.builds(lambda r, g, b: f"#{r:02x}{g:02x}{b:02x}", channels, channels, channels)


@given(colours)
def test_a_colour_that_is_taken_can_be_read_on_every_light_surface(colour):
    tones = light_tones(colour)
    reads = min(contrast_ratio(colour, surface) for surface in (PAGE, CARD, tones.wash)) >= 4.5
    assert (why_unreadable(colour) == "") == reads
    if reads:
        assert contrast_ratio(tones.ink, tones.colour) >= 4.5
        assert contrast_ratio(tones.ink, tones.hover) >= 4.5


@given(colours)
def test_any_colour_has_a_tone_that_can_be_read_in_the_dark(colour):
    tones = dark_tones(colour)
    for surface in (DARK_PAGE, DARK_CARD, tones.wash):
        assert contrast_ratio(tones.colour, surface) >= 4.5
    assert min(contrast_ratio(tones.ink, under) for under in (tones.colour, tones.hover)) >= 4.5


def form_with(accent):
    studio = Studio.objects.current()
    fields = ("name", "email", "phone", "address", "currency", "measures", "time_zone", "quote_days", "terms")
    return StudioForm({name: getattr(studio, name) for name in fields} | {"accent": accent}, instance=studio)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        pytest.param("#1F5A4A", "#1f5a4a", id="capitals"),
        pytest.param("1f5a4a", "#1f5a4a", id="without its mark"),
        pytest.param("", "", id="none"),
    ],
)
def test_a_colour_that_can_be_read_is_kept_as_written_in_lower_case(typed, kept):
    form = form_with(typed)
    assert form.is_valid(), form.errors
    assert form.cleaned_data["accent"] == kept


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("typed", "said"),
    [
        pytest.param("#ffd700", "it does 1.3 to 1", id="too light"),
        pytest.param("teal", "be a # and six of 0-9 and a-f", id="no colour"),
    ],
)
def test_a_colour_that_cannot_be_read_is_refused_with_a_sentence(typed, said):
    form = form_with(typed)
    assert not form.is_valid()
    assert said in form.errors["accent"][0]
    assert typed in form.errors["accent"][0]


def test_the_style_sheet_of_a_colour_holds_it_and_may_be_kept_by_a_browser(client, db):
    answer = client.get(reverse("bookings:accent", args=["1f5a4a"]))
    assert answer.headers["Content-Type"].startswith("text/css")
    assert "immutable" in answer.headers["Cache-Control"]
    assert "--plum: #1f5a4a" in answer.content.decode()


@pytest.mark.parametrize("accent", ["ffd700", "1F5A4A", "zzzzzz", "1f5", "1f5a4a0"])
def test_there_is_no_style_sheet_of_what_is_no_colour_to_read(client, db, accent):
    assert client.get(reverse("bookings:accent", args=[accent])).status_code == 404


def test_a_clients_page_wears_the_colour_its_quote_was_issued_in(client, db):
    Studio.objects.create(pk=1, accent="#5b2a63")
    told = TOLD | {"studio": {**TOLD["studio"], "accent": "#1f5a4a"}}
    quote = QuoteFactory(told=told, valid_until="2199-01-01")
    QuotePieceFactory(quote=quote, position=0)
    html = client.get(reverse("bookings:client", args=[token_of(quote)])).content.decode()
    assert reverse("bookings:accent", args=["1f5a4a"]) in html
    assert reverse("bookings:accent", args=["5b2a63"]) not in html


@pytest.mark.paper
def test_a_quote_keeps_the_colour_and_its_paper_is_printed_in_it(priced):
    plain = prepare_quote(priced, studio=Studio(pk=1), today=TODAY, at=NOON)
    ours = prepare_quote(priced, studio=Studio(pk=1, accent="#1f5a4a"), today=TODAY, at=NOON)
    assert ours.figures["told"]["studio"]["accent"] == "#1f5a4a"
    assert ours.figures["pdf"] != plain.figures["pdf"]
