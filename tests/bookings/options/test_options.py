"""Quotes that offer a choice: what they freeze, and that a yes is to exactly what was chosen."""

from collections import Counter

import pytest
from django.db import DatabaseError, transaction
from django.utils import timezone

from bookings import queries
from bookings.actions.options import OfferRefused, arrange_offer, keep_charge, remove_charge
from bookings.choosing import Choice, NoSuchChoice, agreed
from bookings.models import AmountDue, Booking, QuoteExtra, QuoteOption
from bookings.queries.agreed import agreed_lines, agreed_of
from bookings.queries.billing import lines_of, terms_of
from estimating.models import Rates
from stock.models import Reservation
from tests.bookings.options.offer import every_choice, say
from tests.factories import NOON


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
