"""What a client sees under their link, in every state of the quote."""

import datetime as dt
import gzip
import re

import pytest
from django.conf import settings
from django.core import serializers
from django.urls import reverse
from django.utils import timezone

from bookings.models import Booking, QuoteOpening
from bookings.views import client_link
from stock.models import Reservation
from studio.models import Studio
from tests.factories import (
    TOLD,
    BookingFactory,
    QuoteFactory,
    QuoteMaterialFactory,
    QuotePieceFactory,
    token_of,
)

pytestmark = pytest.mark.django_db
STATIC = settings.BASE_DIR / "studio" / "static"


def path_of(quote, name="client", *more):
    return reverse(f"bookings:{name}", args=[token_of(quote), *more])


def page_of(client, quote):
    return client.get(path_of(quote)).content.decode()


def words_of(html):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html.replace("\u00a0", " ")))


@pytest.fixture
def days():
    """A day long past and a day far ahead, whatever the clock says."""
    today = timezone.localdate()
    return today - dt.timedelta(days=3), today + dt.timedelta(days=14)


@pytest.fixture
def quote(days):
    made = QuoteFactory(number=7, version=2, valid_until=days[1])
    QuotePieceFactory(quote=made, position=0)
    return made


def in_state(state, days):
    """A quote in that state, with one piece."""
    fields = {
        "open": {},
        "expired": {"valid_until": days[0]},
        "withdrawn": {"withdrawn_at": timezone.now()},
        "replaced": {"replaced_at": timezone.now()},
        "ended": {"booking__stage": Booking.Stage.LOST},
    }[state]
    made = QuoteFactory(**{"valid_until": days[1]} | fields)
    QuotePieceFactory(quote=made, position=0)
    return made


@pytest.mark.parametrize(
    "said",
    [
        "Tern & Tide Balloons",
        "Quote 7, version 2",
        "Film society winter gala",
        "Saturday 12 December 2026, Corn Hall",
        "Ready by 14:00.",
        "3 balloons, every one in the picture",
        "The full curtain",
        "30 ft garland in ink, sand and terracotta",
        "2 Ink",
        "1 Sand",
        "$1,240.00",
        "Sales tax 8.25% $102.30",
        "Total $1,342.30",
        "Deposit to hold the date $620.00",
        "Open until Monday 15 June",
        "The deposit holds your date.",
        "CHOKING HAZARD",
        "Natural rubber latex",
        "Accept this quote",
        "Download the PDF",
        "Call +1 555 0142",
    ],
)
def test_the_page_says(client, quote, said):
    assert said in re.sub(r" (?=[.,?])", "", words_of(page_of(client, quote)).replace("&amp;", "&"))


def test_the_first_picture_stands_on_top_and_keeps_its_place_until_it_comes(client, quote):
    html = page_of(client, quote)
    image = re.findall(r"<img [^>]*>", html)[0]
    assert f'src="{path_of(quote, "client-picture", 0)}"' in image
    assert 'width="1202" height="480"' in image
    assert "garland in ink, sand and terracotta: 2 Ink, 1 Sand." in image
    assert html.index("<img") < html.index("<h1")


def test_each_further_piece_shows_its_own_picture(client, quote):
    QuotePieceFactory(quote=quote, position=1, name="Doorway")
    html = page_of(client, quote)
    assert path_of(quote, "client-picture", 1) in html
    assert html.count("<img") == 2
    assert "6 balloons, every one in the pictures" in html


def test_a_piece_without_a_picture_shows_none(client, days):
    made = QuoteFactory(valid_until=days[1])
    QuotePieceFactory(quote=made, position=0, picture="")
    assert "<img" not in page_of(client, made)
    assert client.get(path_of(made, "client-picture", 0)).status_code == 404


def test_what_this_version_changed_is_listed(client, days):
    made = QuoteFactory(valid_until=days[1], changes=["Total: $900.00 became $1,342.30."])
    html = page_of(client, made)
    assert "What changed in this version" in html
    assert "Total: $900.00 became $1,342.30." in html


def test_a_first_version_lists_no_changes(client, quote):
    assert "What changed" not in page_of(client, quote)


def test_money_is_in_the_quotes_own_currency(client, days):
    Studio.objects.create(pk=1, currency="USD")
    made = QuoteFactory(valid_until=days[1], currency="JPY", price_minor=90_000, tax_minor=0, deposit_minor=0)
    words = words_of(page_of(client, made))
    assert "¥90,000" in words
    assert "$" not in words
    assert "Deposit" not in words


def test_cost_reasons_materials_and_hours_are_not_told(client, days):
    made = QuoteFactory(
        valid_until=days[1],
        cost_minor=791_937,
        person_minutes=4_321,
        reasons=[["Margin-canary", "7919.37"]],
    )
    QuotePieceFactory(quote=made, position=0, spec={"canary": "spec-canary"}, layout={"canary": "layout-canary"})
    QuoteMaterialFactory(quote=made, item_label="Stock-canary", needed=60_601, spares=70_707)
    html = page_of(client, made)
    for canary in ("7919", "7,919", "791937", "4321", "canary", "60601", "60,601", "70707", "131308"):
        assert canary not in html


def test_a_page_is_under_100_kb_before_its_pictures(client, days):
    made = QuoteFactory(valid_until=days[1], told=TOLD | {"terms": "Words of the terms. " * 200})
    for n in range(8):
        QuotePieceFactory(quote=made, position=n, description="d" * 300)
    html = page_of(client, made)
    ours = [STATIC / found for found in re.findall(r'"/static/([^"]+\.(?:css|js))"', html)]
    fonts = list((STATIC / "fonts").glob("*-latin.woff2"))
    assert len(ours) >= 2
    assert len(fonts) == 2
    # Style sheets and scripts are collected with a compressed twin, which is what a browser is sent.
    sent = [len(gzip.compress(file.read_bytes())) for file in ours]
    assert len(html.encode()) + sum(sent) + sum(file.stat().st_size for file in fonts) < 100_000


def test_the_page_runs_and_loads_nothing_of_anybody_elses(client, quote):
    html = page_of(client, quote)
    addresses = re.findall(r'(?:src|href|action)="([^"]+)"', html)
    assert len(addresses) > 6
    assert all(address.startswith(("/", "#", "tel:", "mailto:")) for address in addresses)
    assert " style=" not in html
    assert "<style" not in html


def test_the_token_is_not_in_the_title(client, quote):
    assert token_of(quote) not in re.findall(r"<title>(.*?)</title>", page_of(client, quote))[0]


def test_words_from_outside_stay_words(client, days):
    hostile = '"><script>alert(1)</script><img src=x onerror=alert(1)>'
    said = dict.fromkeys(("title", "day", "place", "ready_by", "terms", "valid_until", "tax_percent"), hostile)
    studio = dict.fromkeys(("name", "email", "phone", "address"), hostile)
    made = QuoteFactory(
        valid_until=days[1], changes=[hostile], told=TOLD | said | {"studio": studio, "cautions": [hostile]}
    )
    benign = QuoteFactory(
        valid_until=days[1],
        changes=["words"],
        told=TOLD | dict.fromkeys(said, "words") | {"studio": dict.fromkeys(studio, "words"), "cautions": ["words"]},
    )
    colour = {"name": hostile, "swatch": "#1f2a44", "ink": "#fffdf9", "count": 2}
    QuotePieceFactory(quote=made, position=0, name=hostile[:80], description=hostile, colours=[colour])
    QuotePieceFactory(quote=benign, position=0, name="words", description="words", colours=[colour | {"name": "words"}])
    tags = re.compile(r"<(/?[a-z0-9]+)", re.I)
    assert tags.findall(page_of(client, made)) == tags.findall(page_of(client, benign))


@pytest.mark.parametrize(
    ("state", "status"),
    [("open", 200), ("expired", 200), ("withdrawn", 410), ("replaced", 410), ("ended", 410)],
)
def test_each_state_answers_with_its_status(client, days, state, status):
    made = in_state(state, days)
    assert client.get(path_of(made)).status_code == status
    assert client.get(path_of(made, "client-pdf")).status_code == status
    assert client.get(path_of(made, "client-picture", 0)).status_code == status


def test_an_expired_quote_is_still_shown_but_not_to_be_accepted(client, days):
    html = page_of(client, in_state("expired", days))
    assert "This quote has run out" in html
    assert "$1,342.30" in html
    assert "/accept/" not in html


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ("withdrawn", "We have taken this quote back"),
        ("replaced", "There is a newer version of this quote"),
        ("ended", "This booking has been closed"),
    ],
)
def test_a_quote_that_is_gone_says_so_kindly_and_shows_no_offer(client, days, state, said):
    Studio.objects.create(pk=1, name="Tern & Tide", phone="+1 555 0199")
    html = page_of(client, in_state(state, days))
    assert said in html
    assert "+1 555 0199" in html
    assert "$" not in html
    assert "/accept/" not in html
    assert "<img" not in html


def test_a_replaced_quote_leads_on_to_the_newest_version(client, days):
    booking = BookingFactory(stage=Booking.Stage.QUOTED)
    first, second, third = (
        QuoteFactory(
            booking=booking,
            number=3,
            version=version,
            valid_until=days[1],
            replaced_at=None if version == 3 else timezone.now(),
        )
        for version in (1, 2, 3)
    )
    html = page_of(client, first)
    assert f'href="{path_of(third)}"' in html
    assert token_of(second) not in html


def test_a_replaced_quote_leads_nowhere_when_the_newest_was_taken_back(client, days):
    booking = BookingFactory(stage=Booking.Stage.ENQUIRY)
    first = QuoteFactory(booking=booking, number=3, version=1, replaced_at=timezone.now())
    last = QuoteFactory(booking=booking, number=3, version=2, withdrawn_at=timezone.now())
    assert token_of(last) not in page_of(client, first)


def test_opening_the_page_and_the_pdf_is_written_down(client, quote):
    client.get(path_of(quote))
    client.get(path_of(quote, "client-pdf"))
    client.get(path_of(quote, "client-picture", 0))
    assert list(quote.openings.order_by("pk").values_list("what", flat=True)) == ["page", "pdf"]


@pytest.mark.parametrize(
    ("seconds", "times"), [pytest.param(60, 1, id="within a minute"), pytest.param(0, 2, id="after it")]
)
def test_a_page_loaded_again_within_a_minute_is_one_opening(client, quote, seconds, times, monkeypatch):
    monkeypatch.setattr(client_link, "ONE_OPENING_SECONDS", seconds)
    client.get(path_of(quote))
    client.get(path_of(quote))
    assert quote.openings.count() == times


def test_the_paper_opened_right_after_the_page_is_an_opening_of_its_own(client, quote):
    for name in ("client", "client-pdf", "client-pdf"):
        client.get(path_of(quote, name))
    assert list(quote.openings.order_by("pk").values_list("what", flat=True)) == ["page", "pdf"]


def test_an_opening_that_could_not_be_kept_is_kept_the_next_time(client, quote, monkeypatch):
    client.raise_request_exception = False
    with monkeypatch.context() as broken:
        broken.setattr(client_link.actions, "record_opening", lambda **_: 1 / 0)
        assert client.get(path_of(quote)).status_code == 500
    client.get(path_of(quote))
    assert quote.openings.count() == 1


def test_asking_for_the_head_writes_nothing_down(client, quote):
    assert client.head(path_of(quote)).status_code == 200
    assert client.head(path_of(quote, "client-pdf")).status_code == 200
    assert not QuoteOpening.objects.exists()


def test_the_studio_looking_itself_is_not_written_down(owner_client, crew_client, quote):
    owner_client.get(path_of(quote))
    crew_client.get(path_of(quote, "client-pdf"))
    assert not QuoteOpening.objects.exists()


def test_a_quote_that_is_gone_is_not_written_down_as_opened(client, days):
    client.get(path_of(in_state("withdrawn", days)))
    assert not QuoteOpening.objects.exists()


def test_the_pdf_is_the_bytes_that_were_issued_under_a_plain_name(client, quote):
    answer = client.get(path_of(quote, "client-pdf"))
    assert answer.content == bytes(quote.pdf)
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.headers["Content-Disposition"] == 'inline; filename="quote-7-v2.pdf"'


def test_a_picture_may_load_and_run_nothing(client, quote):
    answer = client.get(path_of(quote, "client-picture", 0))
    assert answer.headers["Content-Type"] == "image/svg+xml"
    assert answer.headers["Content-Security-Policy"] == "default-src 'none'; img-src data:; style-src 'none'"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.content.startswith(b"<svg")


@pytest.mark.parametrize("position", [1, 10**6, 10**18, 10**40])
def test_there_is_no_picture_beyond_the_last(client, quote, position):
    assert client.get(path_of(quote, "client-picture", position)).status_code == 404


def test_one_quotes_link_opens_only_its_own_picture_and_pdf(client, days):
    mine = QuoteFactory(valid_until=days[1], pdf=b"%PDF mine")
    theirs = QuoteFactory(valid_until=days[1], pdf=b"%PDF theirs")
    QuotePieceFactory(quote=theirs, position=5, picture='<svg viewBox="0 0 1 1"><desc>theirs</desc></svg>')
    assert client.get(path_of(mine, "client-picture", 5)).status_code == 404
    assert client.get(path_of(mine, "client-pdf")).content == b"%PDF mine"


@pytest.mark.parametrize("name", ["client", "client-pdf"])
def test_looking_changes_no_quote_booking_or_shelf(client, quote, name):
    def kept():
        rows = [*Booking.objects.all(), *type(quote).objects.all(), *Reservation.objects.all()]
        return serializers.serialize("json", rows)

    before = kept()
    client.get(path_of(quote, name))
    assert kept() == before


def test_the_page_asks_the_database_few_things_however_many_pieces(client, days, django_assert_max_num_queries):
    made = QuoteFactory(valid_until=days[1])
    for n in range(8):
        QuotePieceFactory(quote=made, position=n)
    # Studio; quote with its date; the opening written; pieces; what was asked.
    with django_assert_max_num_queries(5):
        client.get(path_of(made))


def test_the_alternative_of_a_picture_says_its_balloons_once(client, days):
    made = QuoteFactory(valid_until=days[1])
    QuotePieceFactory(quote=made, name="Garland", description="24 ft × 22 in, 3 balloons")
    assert 'alt="Garland: 24 ft × 22 in, 3 balloons: 2 Ink, 1 Sand."' in client.get(path_of(made)).content.decode()


def test_the_letters_are_asked_for_before_the_styles_so_that_nothing_moves(client, quote):
    head = client.get(path_of(quote)).content.decode().partition("</head>")[0]
    asked = re.findall(r'<link rel="(preload|stylesheet)"[^>]* href="/static/([^"]+)"', head)
    assert asked[:3] == [
        ("preload", "fonts/atkinson-hyperlegible-next-latin.woff2"),
        ("preload", "fonts/bricolage-grotesque-latin.woff2"),
        ("stylesheet", "css/garlandry.css"),
    ]
