"""Issuing a quote: what it freezes, holds and replaces."""

import datetime as dt
from collections import Counter

import pytest
from django.db import DatabaseError, transaction

from bookings import actions
from bookings.models import Booking, Quote
from bookings.paperwork import prepare_quote
from stock.models import Reservation
from studio.models import Studio
from tests.factories import NOON, TODAY


def tentative(booking: Booking) -> list[Reservation]:
    return list(Reservation.objects.open().of_bookings([booking.pk]).filter(firm=False))


def test_the_first_quote_has_the_next_number_and_version_one(priced, issue):
    quote = issue(priced)
    assert (quote.number, quote.version) == (1, 1)


def test_an_enquiry_that_is_quoted_is_quoted(priced, issue):
    issue(priced)
    priced.refresh_from_db()
    assert priced.stage == "quoted"


def test_total_is_price_and_tax_and_the_pieces_add_up(priced, issue, add_garland):
    add_garland(priced, name="Second", feet=9)
    quote = issue(priced)
    assert sum(piece.price_minor for piece in quote.pieces.all()) == quote.price_minor
    assert quote.price_minor + quote.tax_minor == quote.total_minor


def test_the_reasons_add_up_to_the_price(priced, issue):
    quote = issue(priced)
    assert sum(minor for _, minor, _ in quote.reasons) == quote.price_minor


def test_an_open_quote_holds_its_materials_tentatively_for_the_prep_day(priced, issue):
    quote = issue(priced)
    assert {(row.item_id, row.quantity, row.needed_on) for row in tentative(priced)} == {
        (line.item_id, line.total, priced.event_on - dt.timedelta(days=1)) for line in quote.materials.all()
    }


def test_the_hold_of_an_open_quote_lapses_after_its_last_day(priced, issue):
    quote = issue(priced)
    after = quote.valid_until + dt.timedelta(days=1)
    assert not Reservation.objects.holding(after).of_bookings([priced.pk]).exists()


def test_a_quote_is_never_open_beyond_its_prep_day(priced, issue):
    Booking.objects.filter(pk=priced.pk).update(event_on=TODAY + dt.timedelta(days=5))
    assert issue(priced).valid_until == TODAY + dt.timedelta(days=4)


def test_a_second_issue_is_the_next_version_and_replaces_the_first(priced, issue, add_garland):
    first = issue(priced)
    add_garland(priced, name="More")
    second = issue(priced)
    first.refresh_from_db()
    assert ((second.number, second.version), first.replaced_at) == ((first.number, 2), NOON)


def test_the_next_version_says_what_changed(priced, issue, add_garland):
    issue(priced)
    add_garland(priced, name="More")
    assert any(change.startswith("More was added") for change in issue(priced).changes)


def test_the_next_version_leaves_the_first_as_it_was(priced, issue, add_garland):
    first = issue(priced)
    frozen = Quote.objects.values().get(pk=first.pk)
    add_garland(priced, name="More")
    issue(priced)
    assert Quote.objects.values().get(pk=first.pk) == frozen | {"replaced_at": NOON}


@pytest.mark.parametrize(
    "field",
    [
        "number", "version", "issued_at", "valid_until", "needed_on", "currency", "price_minor", "tax_minor",
        "total_minor", "deposit_minor", "cost_minor", "person_minutes", "told", "reasons", "changes", "pdf",
        "pdf_sha256", "booking_id", "issued_by_id",
    ],
)  # fmt: skip
def test_the_database_refuses_to_change_an_issued_quote(priced, issue, field):
    quote = issue(priced)
    with pytest.raises(DatabaseError, match="an issued quote never changes"), transaction.atomic():
        Quote.objects.filter(pk=quote.pk).update(**{field: getattr(quote, field)})


@pytest.mark.parametrize("related", ["pieces", "materials"])
def test_the_database_refuses_to_change_what_was_quoted(priced, issue, related):
    row = getattr(issue(priced), related).first()
    with pytest.raises(DatabaseError, match="an issued quote never changes"), transaction.atomic():
        type(row).objects.filter(pk=row.pk).update(quote=row.quote_id)


def test_the_database_refuses_to_delete_an_issued_quote(priced, issue):
    quote = issue(priced)
    with pytest.raises(DatabaseError, match="an issued quote never changes"), transaction.atomic():
        Quote.objects.filter(pk=quote.pk)._raw_delete("default")


def test_paper_made_before_a_change_is_refused(owner, priced, add_garland):
    paper = prepare_quote(
        Booking.objects.select_related("client").get(pk=priced.pk),
        studio=Studio.objects.current(),
        today=TODAY,
        at=NOON,
    )
    add_garland(priced, name="Late thought")
    with pytest.raises(actions.QuoteRefused, match="changed while the quote was being prepared"):
        actions.issue_quote(paper=paper, by=owner, at=NOON)
    assert not Quote.objects.exists()


def test_paper_is_issued_once(owner, priced):
    booking = Booking.objects.select_related("client").get(pk=priced.pk)
    paper = prepare_quote(booking, studio=Studio.objects.current(), today=TODAY, at=NOON)
    actions.issue_quote(paper=paper, by=owner, at=NOON)
    with pytest.raises(actions.QuoteRefused, match="at the same moment"):
        actions.issue_quote(paper=paper, by=owner, at=NOON)


def test_withdrawing_frees_the_materials_and_makes_it_an_enquiry_again(owner, priced, issue):
    actions.withdraw_quote(quote=issue(priced), by=owner, at=NOON)
    priced.refresh_from_db()
    assert (priced.stage, tentative(priced)) == ("enquiry", [])


def test_withdrawing_twice_is_withdrawing_once(owner, priced, issue):
    quote = issue(priced)
    actions.withdraw_quote(quote=quote, by=owner, at=NOON)
    actions.withdraw_quote(quote=quote, by=owner, at=NOON + dt.timedelta(hours=1))
    quote.refresh_from_db()
    assert quote.withdrawn_at == NOON


def test_an_accepted_quote_is_not_withdrawn(owner, priced, issue, say_yes):
    quote = issue(priced)
    say_yes(quote)
    with pytest.raises(actions.QuoteRefused, match="was accepted by Ines"):
        actions.withdraw_quote(quote=quote, by=owner, at=NOON)


def test_a_new_link_ends_the_old_one(owner, priced, issue):
    quote = issue(priced)
    before = (quote.link_salt, quote.link_hash)
    actions.renew_link(quote=quote, by=owner, at=NOON)
    quote.refresh_from_db()
    assert quote.link_salt != before[0]
    assert quote.link_hash != before[1]


def test_a_new_version_of_a_booked_job_holds_only_what_is_more(priced, issue, say_yes, add_garland):
    first = issue(priced)
    say_yes(first)
    add_garland(priced, name="More")
    second = issue(priced)
    had = {line.item_id: line.total for line in first.materials.all()}
    wanted = {line.item_id: line.total for line in second.materials.all()}
    assert {row.item_id: row.quantity for row in tentative(priced)} == {
        item: total - had.get(item, 0) for item, total in wanted.items()
    }


def test_accepting_the_next_version_holds_all_of_it_once(priced, issue, say_yes, add_garland):
    say_yes(issue(priced))
    add_garland(priced, name="More")
    second = issue(priced)
    say_yes(second)
    held = Counter[int]()
    for row in Reservation.objects.open().of_bookings([priced.pk]):
        assert row.firm
        held[row.item_id] += row.quantity
    assert held == {line.item_id: line.total for line in second.materials.all()}
