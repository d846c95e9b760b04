"""What a booked job says it holds, when rates, lessons or pieces have moved on since the yes."""

import pytest
from django.urls import reverse

from bookings import actions
from bookings.models import Booking, QuoteMaterial
from bookings.queries.jobs import booking_page, for_its_page
from bookings.queries.material_rows import agreed_rows, changes_since
from estimating.models import Rates
from stock.models import Colour
from stock.queries import held_firmly
from studio.models import Studio
from tests.bookings.conftest import garland_spec
from tests.factories import NOON, TODAY, ColourFactory, ItemFactory

pytestmark = pytest.mark.django_db


def page_of(booking: Booking, *, shows_money: bool = True):
    found = for_its_page().get(pk=booking.pk)
    return booking_page(found, today=TODAY, studio=Studio.objects.current(), shows_money=shows_money)


def listed(page) -> dict[int, int]:
    return {row.item_id: row.needed + row.spares for row in page.materials}


def held(booking: Booking) -> dict[int, int]:
    return held_firmly(booking.pk)


@pytest.fixture
def booked(priced, issue, say_yes) -> Booking:
    """A job whose one garland the client has agreed to."""
    for size in (5, 11):
        ItemFactory(colour=Colour.objects.get(), size=size)
    say_yes(issue(priced))
    return priced


def longer(booking: Booking, owner, *, feet: int) -> None:
    piece = booking.pieces.get()
    actions.keep_piece(
        booking=booking,
        piece=piece,
        edition=piece.edition,
        name=piece.name,
        kind="garland",
        spec=garland_spec(Colour.objects.get(), feet=feet),
        typed={},
        by=owner,
        at=NOON,
    )


def test_a_booked_job_lists_what_is_held(booked):
    assert listed(page_of(booked)) == held(booked)


def test_a_booked_job_lists_what_is_held_though_spares_are_reckoned_otherwise_now(booked):
    before = held(booked)
    Rates.objects.update(confidence_percent=99)
    assert listed(page_of(booked)) == before


def test_spares_reckoned_otherwise_are_no_change_of_what_was_agreed(booked):
    Rates.objects.update(confidence_percent=99)
    assert page_of(booked).behind == ""


def test_a_piece_changed_since_the_yes_leaves_the_list_as_it_was_agreed(booked, owner):
    before = held(booked)
    longer(booked, owner, feet=12)
    assert listed(page_of(booked)) == before


def test_a_piece_changed_since_the_yes_is_told_with_what_it_would_take(booked, owner):
    longer(booked, owner, feet=12)
    said = page_of(booked).behind
    assert "more Black 11-inch" in said
    assert "Send the next version to hold the rest" in said


def test_the_next_version_on_its_way_is_told_no_second_time(booked, owner, issue):
    longer(booked, owner, feet=12)
    issue(booked)
    assert page_of(booked).behind == ""


def test_a_job_that_is_not_booked_lists_what_it_takes_now(priced, issue, owner):
    issue(priced)
    longer(priced, owner, feet=12)
    page = page_of(priced)
    drawn = page.estimate.pieces[0].materials.balloons()
    assert sum(row.needed for row in page.materials if row.size in (5, 11)) == drawn


def test_an_agreed_price_has_no_second_one_beside_it(owner_client, booked):
    page = owner_client.get(reverse("bookings:detail", args=[booked.pk])).content.decode()
    assert [row.price_minor for row in page_of(booked).pieces] == [None]
    assert "If it were quoted now" in page


def test_an_item_of_an_option_and_of_an_extra_is_one_row():
    item = ItemFactory(colour=ColourFactory(name="Black"), size=11)
    rows = agreed_rows([QuoteMaterial(item=item, needed=40, spares=3), QuoteMaterial(item=item, needed=2, spares=1)])
    assert [(row.item_id, row.needed, row.spares) for row in rows] == [(item.pk, 42, 4)]


def test_what_is_needed_otherwise_is_named_with_how_many():
    black, white, sand = (ItemFactory(colour=ColourFactory(name=name), size=11) for name in ("Black", "White", "Sand"))
    was = agreed_rows([QuoteMaterial(item=black, needed=40, spares=3), QuoteMaterial(item=white, needed=5, spares=1)])
    now = agreed_rows([QuoteMaterial(item=black, needed=52, spares=9), QuoteMaterial(item=sand, needed=4, spares=0)])
    assert sorted(changes_since(was, now)) == ["12 more Black 11-inch", "4 more Sand 11-inch", "5 fewer White 11-inch"]
