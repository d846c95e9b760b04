"""Quotes that offer a choice: what they freeze, and that a yes is to exactly what was chosen."""

import datetime as dt
import gzip
import re
import uuid
from collections import Counter
from itertools import chain, combinations

import pytest
from django.conf import settings
from django.db import DatabaseError, transaction
from django.urls import reverse
from django.utils import timezone

from bookings import actions, queries
from bookings.actions.options import OfferRefused, arrange_offer, keep_charge, remove_charge
from bookings.choosing import Choice, NoSuchChoice, agreed
from bookings.models import AmountDue, Booking, OptionName, Piece, QuoteExtra, QuoteOption
from bookings.queries.agreed import agreed_lines, agreed_of
from bookings.queries.billing import lines_of, terms_of
from estimating.models import Rates
from stock.models import Reservation
from studio.money import show
from tests.factories import NOON, BookingFactory, token_of

KEY = "0d6d6a51-8f5e-4e8c-9d0c-6f0f4d1f0a01"


def offered(booking, owner, add_garland, goes_in=("all", "1", "2", "extra")):
    """The booking with a garland for each place, and a charge to tick."""
    for n in range(len(goes_in)):
        add_garland(booking, name=f"Garland {n + 1}", feet=4 + 2 * n)
    pieces = list(booking.pieces.order_by("position"))
    arrange_offer(
        booking=booking,
        goes_in={piece.pk: place for piece, place in zip(pieces, goes_in, strict=True)},
        names={1: "Simple", 2: "With a second garland"},
        by=owner,
        at=NOON,
    )
    keep_charge(
        booking=booking, charge=None, name="Take-down", note="the same night", minutes=45, amount_minor=4_000,
        by=owner, at=NOON,
    )  # fmt: skip
    return booking


@pytest.fixture
def choosable(db, owner, add_garland):
    """A job with two options, a garland to tick and a charge to tick."""
    booking = BookingFactory(event_on=timezone.localdate() + dt.timedelta(days=30), created_by=owner)
    Rates.objects.create(pk=1, tax_percent="8.25", deposit_percent="50", minimum_minor=0)
    return offered(booking, owner, add_garland)


@pytest.fixture
def quote(choosable, issue):
    return issue(choosable, today=timezone.localdate(), at=timezone.now())


def say(quote, choice, *, today=None, name="Ines"):
    return actions.accept_quote(
        quote=quote, name=name, today=today or timezone.localdate(), at=NOON, address=None, browser="", choice=choice
    )


def every_choice(offer):
    extras = [extra.number for extra in offer.extras]
    ticked = chain.from_iterable(combinations(extras, n) for n in range(len(extras) + 1))
    return [Choice(option.number, frozenset(some)) for some in ticked for option in offer.options]


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


def test_a_quote_freezes_its_options_and_extras(quote):
    assert [(row.number, row.name) for row in quote.options.order_by("number")] == [
        (1, "Simple"),
        (2, "With a second garland"),
    ]
    assert [(row.number, row.name) for row in quote.extras.order_by("number")] == [(1, "Garland 4"), (2, "Take-down")]


def test_the_first_options_figures_are_the_quotes_own(quote):
    first = quote.options.get(number=1)
    for column in ("price_minor", "tax_minor", "total_minor", "deposit_minor", "cost_minor", "reasons"):
        assert getattr(first, column) == getattr(quote, column)


def test_the_pieces_of_each_option_add_up_to_its_price(quote):
    for option in quote.options.all():
        pieces = [row for row in quote.pieces.all() if not row.extra and row.option in (0, option.number)]
        assert sum(piece.price_in(option.number) for piece in pieces) == option.price_minor


def test_an_extra_pays_neither_setting_up_nor_the_least_price_of_a_job_again(choosable, issue):
    Rates.objects.update(minimum_minor=900_000, margin_percent=0, overhead_percent=0)
    quote = issue(choosable)
    assert quote.options.get(number=1).price_minor >= 900_000
    assert quote.extras.get(number=1).price_minor < 200_000


def test_a_charge_with_an_amount_asks_it_and_costs_its_minutes(quote):
    extra = quote.extras.get(name="Take-down")
    assert (extra.price_minor, extra.tax_minor, extra.person_minutes) == (4_000, 330, 45)
    assert extra.cost_minor > 0


def test_a_charge_without_an_amount_is_priced_by_its_minutes(choosable, owner, issue):
    charge = choosable.charges.get()
    keep_charge(
        booking=choosable, charge=charge, name="Take-down", note="", minutes=60, amount_minor=None, by=owner, at=NOON
    )
    rates = Rates.objects.current()
    extra = issue(choosable).extras.get(name="Take-down")
    assert extra.price_minor > rates.hourly_minor
    assert extra.cost_minor >= rates.hourly_minor


@pytest.mark.parametrize("model", [QuoteOption, QuoteExtra])
def test_the_database_refuses_to_change_or_remove_what_was_offered(quote, model):
    for change in (lambda rows: rows.update(price_minor=1), lambda rows: rows._raw_delete("default")):
        with pytest.raises(DatabaseError), transaction.atomic():
            change(model.objects.filter(quote=quote))
    assert model.objects.filter(quote=quote, price_minor=1).count() == 0


def test_an_open_quote_holds_the_most_that_any_choice_takes(quote, choosable):
    held: Counter[int] = Counter()
    for row in Reservation.objects.open().of_bookings([choosable.pk]).filter(firm=False):
        held[row.item_id] += row.quantity
    for choice in every_choice(queries.offer_of(quote)):
        needs: Counter[int] = Counter()
        for line in quote.materials.all():
            if line.extra in choice.extras or (not line.extra and line.option == choice.option):
                needs[line.item_id] += line.total
        assert all(held[item] >= number for item, number in needs.items())


@pytest.mark.parametrize(
    "choice",
    [
        pytest.param(Choice(1), id="the first option alone"),
        pytest.param(Choice(2), id="the second option alone"),
        pytest.param(Choice(2, frozenset([1])), id="with a piece on top"),
        pytest.param(Choice(1, frozenset([1, 2])), id="with everything on top"),
    ],
)
def test_exactly_what_was_chosen_is_reserved_owed_and_billed(quote, choosable, choice):
    yes = say(quote, choice)
    wanted: Counter[int] = Counter()
    for line in quote.materials.all():
        if line.extra in choice.extras or (not line.extra and line.option == choice.option):
            wanted[line.item_id] += line.total
    reserved: Counter[int] = Counter()
    for row in Reservation.objects.open().of_bookings([choosable.pk]):
        assert row.firm
        reserved[row.item_id] += row.quantity
    assert reserved == wanted
    asked = agreed(queries.offer_of(quote), choice)
    assert (yes.option, frozenset(yes.extras), yes.total_minor) == (choice.option, choice.extras, asked.total)
    quote.refresh_from_db()
    dues = AmountDue.objects.filter(booking=choosable, void_at__isnull=True)
    assert sum(due.amount_minor for due in dues) == asked.total
    assert dues.get(kind="deposit").amount_minor == asked.deposit
    assert terms_of(quote).total == agreed_of(quote).total == asked.total
    assert sum(line.price for line in lines_of(quote)) == asked.price
    assert sum(line.tax or 0 for line in lines_of(quote)) <= asked.tax


def test_a_choice_that_is_not_offered_is_refused_and_nothing_is_written(quote, choosable):
    with pytest.raises(NoSuchChoice), transaction.atomic():
        say(quote, Choice(3))
    choosable.refresh_from_db()
    assert choosable.stage == Booking.Stage.QUOTED


def test_from_the_yes_on_the_job_is_made_of_the_chosen_pieces(quote, choosable):
    say(quote, Choice(2, frozenset([1])))
    places = list(choosable.pieces.order_by("position").values_list("goes_in", "is_taken"))
    assert places == [("all", False), ("none", False), ("all", False), ("extra", True)]
    made = [piece.name for piece in queries.pieces_to_make(choosable)]
    assert made == ["Garland 1", "Garland 3", "Garland 4"]


def test_the_next_version_offers_what_was_taken_ticked(quote, choosable, issue):
    say(quote, Choice(2, frozenset([2])))
    second = issue(choosable, today=timezone.localdate())
    assert not second.options.exists()
    assert list(second.extras.order_by("number").values_list("is_ticked", flat=True)) == [False, True]
    assert queries.offer_of(second).first_choice == Choice(1, frozenset([2]))


def test_a_quote_that_offers_no_choice_has_no_rows_of_one(priced, issue):
    quote = issue(priced)
    assert not quote.options.exists()
    assert not quote.extras.exists()
    assert not queries.offer_of(quote).is_a_choice


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
    page_of(client, quote)
    # Studio; quote with its date; opening; options with extras; pieces; what was asked.
    with django_assert_max_num_queries(6):
        page_of(client, quote)


def test_the_agreed_lines_add_up_whatever_is_chosen(quote, choosable):
    say(quote, Choice(2, frozenset([1, 2])))
    quote.refresh_from_db()
    lines = agreed_lines(quote)
    assert [line.name for line in lines] == ["Garland 1", "Garland 3", "Garland 4", "Take-down"]
    assert sum(line.price_minor for line in lines) == agreed_of(quote).price


def test_the_next_version_says_which_option_changed(quote, choosable, owner, issue):
    arrange_offer(booking=choosable, goes_in={}, names={1: "Plain", 2: "With a second garland"}, by=owner, at=NOON)
    remove_charge(charge=choosable.charges.get(), by=owner, at=NOON)
    changes = issue(choosable, today=timezone.localdate()).changes
    assert any(said.startswith("Option, Plain was added") for said in changes)
    assert "Option, Simple was taken out." in changes
    assert "Extra, Take-down was taken out." in changes


def test_a_quote_of_nothing_but_extras_is_refused(choosable, owner):
    places = dict.fromkeys(choosable.pieces.values_list("pk", flat=True), "extra")
    with pytest.raises(OfferRefused, match="put one in the quote first"), transaction.atomic():
        arrange_offer(booking=choosable, goes_in=places, names={}, by=owner, at=NOON)


def test_an_option_may_be_nothing_but_what_is_in_every_one(choosable, owner, issue):
    places = dict(
        zip(choosable.pieces.order_by("position").values_list("pk", flat=True), ("all", "2", "2", "none"), strict=True)
    )
    arrange_offer(booking=choosable, goes_in=places, names={1: "Simple", 2: "Full"}, by=owner, at=NOON)
    quote = issue(choosable)
    simple, full = queries.offer_of(quote).options
    assert (simple.name, full.name) == ("Simple", "Full")
    assert simple.asked.total < full.asked.total
    assert [piece.name for piece in queries.pieces_to_make(choosable)] == ["Garland 1"]


def test_two_options_of_the_same_pieces_are_refused(choosable, owner):
    places = dict.fromkeys(choosable.pieces.values_list("pk", flat=True), "all")
    places[max(places)] = "3"
    with pytest.raises(OfferRefused, match="Options 1 and 2 are the same pieces"), transaction.atomic():
        arrange_offer(booking=choosable, goes_in=places, names={}, by=owner, at=NOON)


def test_a_seventh_extra_is_refused(choosable, owner):
    fields = {"charge": None, "note": "", "minutes": 5, "amount_minor": None, "by": owner, "at": NOON}
    for n in range(4):
        keep_charge(booking=choosable, name=f"More {n}", **fields)
    with pytest.raises(OfferRefused, match="up to 6 extras"), transaction.atomic():
        keep_charge(booking=choosable, name="One too many", **fields)


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
