"""The page a choice is made on, and the owner's page it is offered from."""

import datetime as dt
import gzip
import re
import uuid

import pytest
from django.conf import settings
from django.urls import reverse
from django.utils import timezone

from bookings import actions, queries
from bookings.choosing import Choice, agreed
from bookings.models import OptionName, Piece
from bookings.queries.agreed import agreed_of
from studio.money import show
from tests.bookings.options.offer import every_choice
from tests.factories import NOON, token_of

KEY = "0d6d6a51-8f5e-4e8c-9d0c-6f0f4d1f0a01"


def page_of(browser, quote):
    return browser.get(reverse("bookings:client", args=[token_of(quote)])).content.decode()


def words_of(html):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html.replace("\u00a0", " ")))


def send(browser, quote, *, total=None, option="1", extras=(), **more):
    choice = Choice(int(option), frozenset(map(int, extras)))
    if total is None:
        total = agreed(queries.offer_of(quote), choice).total
    sent = {"form_key": str(uuid.uuid4()), "name": "Ines", "agreed": "on", "option": option, "extra": list(extras)}
    return browser.post(
        reverse("bookings:client-accept", args=[token_of(quote)]), sent | {"total_seen": str(total)} | more
    )


def test_the_first_of_two_devices_decides_and_the_second_sees_its_receipt(client, quote):
    assert send(client, quote, option="2", extras=["2"]).status_code == 302
    assert send(client, quote, option="1").status_code == 302
    quote.refresh_from_db()
    assert (quote.acceptance.option, quote.acceptance.extras) == (2, [2])
    words = words_of(page_of(client, quote))
    assert "Garland 3" in words
    assert "Take-down" in words
    assert "Garland 2" not in words
    assert "Garland 4" not in words
    assert show(agreed_of(quote).total, "USD") in words.replace("$ ", "$")


def test_an_expired_quote_takes_no_choice(client, choosable, issue):
    quote = issue(choosable, today=timezone.localdate() - dt.timedelta(days=20))
    assert "Accept this quote" not in page_of(client, quote)
    assert send(client, quote, option="2").status_code == 422
    assert not hasattr(type(quote).objects.get(pk=quote.pk), "acceptance")


def test_a_replaced_version_takes_no_choice(client, quote, choosable, issue):
    issue(choosable, today=timezone.localdate())
    assert send(client, quote, option="2").status_code == 410


@pytest.mark.parametrize(
    ("option", "extras"),
    [
        pytest.param("3", [], id="an option there is not"),
        pytest.param("1", ["7"], id="an extra there is not"),
        pytest.param("two", [], id="words"),
        pytest.param("", [], id="nothing"),
    ],
)
def test_a_form_with_a_choice_there_is_not_is_refused_with_a_sentence(client, quote, option, extras):
    answer = client.post(
        reverse("bookings:client-accept", args=[token_of(quote)]),
        {"form_key": KEY, "name": "Ines", "agreed": "on", "option": option, "extra": extras, "total_seen": "1"},
    )
    assert answer.status_code == 422
    assert "Choose again, then accept." in answer.content.decode()
    assert 'value="Ines"' in answer.content.decode()


def test_a_yes_to_a_total_that_was_not_shown_is_asked_again(client, quote):
    shown = queries.offer_of(quote).options[0].asked.total
    answer = send(client, quote, option="2", total=shown)
    total = queries.offer_of(quote).options[1].asked.total
    assert answer.status_code == 422
    html = answer.content.decode()
    assert f"comes to {show(total, 'USD')} in all" in html
    assert f'name="total_seen" value="{total}"' in html
    assert send(client, quote, option="2", total=total).status_code == 302


def test_without_the_script_a_button_shows_the_total_and_accepts_nothing(client, quote):
    answer = send(client, quote, option="2", extras=["2"], total=0, show="1")
    html = answer.content.decode()
    total = agreed(queries.offer_of(quote), Choice(2, frozenset([2]))).total
    assert answer.status_code == 200
    assert f'name="total_seen" value="{total}"' in html
    assert re.search(r'name="option" value="2" form="accept" checked', html)
    assert not hasattr(type(quote).objects.get(pk=quote.pk), "acceptance")


def test_what_the_script_adds_up_is_what_the_server_agrees_to(client, quote):
    html = page_of(client, quote)
    asks = {
        (kind, int(number)): tuple(map(int, figures.split()))
        for kind, number, figures in re.findall(r'name="(option|extra)" value="(\d+)"[^>]*data-asks="([\d ]+)"', html)
    }
    offer = queries.offer_of(quote)
    assert len(asks) == len(offer.options) + len(offer.extras)
    for choice in every_choice(offer):
        parts = [asks["option", choice.option], *(asks["extra", number] for number in choice.extras)]
        price, tax, deposit = (sum(part[n] for part in parts) for n in range(3))
        asked = agreed(offer, choice)
        assert (price, tax, deposit, price + tax) == (asked.price, asked.tax, asked.deposit, asked.total)


def test_a_preview_of_the_link_says_the_studios_name_and_nothing_of_the_job(client, quote):
    head = page_of(client, quote).split("</head>")[0]
    previewed = re.findall(r'<meta property="og:(\w+)" content="([^"]*)"', head)
    assert previewed == [
        ("title", "My studio"),
        ("site_name", "My studio"),
        ("image", "http://testserver/static/icons/disc-512.png"),
    ]
    assert re.findall(r"<title>(.*?)</title>", head) == ["Your quote · My studio"]
    assert "description" not in head


def test_a_page_with_options_carries_at_most_5_kb_of_script_and_100_kb_in_all(client, quote):
    html = page_of(client, quote)
    static = settings.BASE_DIR / "studio" / "static"
    ours = [static / found for found in re.findall(r'"/static/([^"]+\.(?:css|js))"', html)]
    assert len(ours) == 4
    assert sum(file.stat().st_size for file in ours if file.suffix == ".js") <= 5_120
    fonts = sum(file.stat().st_size for file in (static / "fonts").glob("*-latin.woff2"))
    # Style sheets and scripts are sent compressed.
    assert len(html.encode()) + sum(len(gzip.compress(file.read_bytes())) for file in ours) + fonts < 100_000


def test_a_page_with_options_asks_the_database_few_things(client, quote, django_assert_max_num_queries):
    # Studio; quote with its date; that it was opened; options with extras; pieces; what was asked.
    with django_assert_max_num_queries(6):
        page_of(client, quote)


def test_the_owner_arranges_options_on_a_page(owner_client, choosable):
    first = choosable.pieces.order_by("position").first()
    sent = {f"piece-{piece.pk}": piece.goes_in for piece in choosable.pieces.all()}
    sent |= {f"piece-{first.pk}": "3", "option-3": "Everything", "option-1": "", "form_key": KEY}
    answer = owner_client.post(reverse("bookings:options-arrange", args=[choosable.pk]), sent, follow=True)
    first.refresh_from_db()
    assert first.goes_in == Piece.GoesIn.THIRD
    assert "Everything" in answer.content.decode()
    assert not OptionName.objects.filter(booking=choosable, number=1).exists()


def test_a_charge_needs_minutes_or_an_amount(owner_client, choosable):
    answer = owner_client.post(reverse("bookings:charge-new", args=[choosable.pk]), {"name": "Late", "form_key": KEY})
    assert answer.status_code == 422
    assert "Amount you ask is needed" in answer.content.decode()
    assert 'value="Late"' in answer.content.decode()


def test_a_renewed_link_leaves_everything_that_was_offered_as_it_was(client, quote, owner):
    old = token_of(quote)
    frozen = [list(rows.values()) for rows in (quote.options.order_by("pk"), quote.extras.order_by("pk"))]
    actions.renew_link(quote=quote, by=owner, at=NOON)
    assert client.get(reverse("bookings:client", args=[old])).status_code == 404
    quote.refresh_from_db()
    assert "Simple" in page_of(client, quote)
    assert [list(rows.values()) for rows in (quote.options.order_by("pk"), quote.extras.order_by("pk"))] == frozen
