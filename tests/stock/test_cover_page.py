"""The weekly check on its page: what it says, to whom, and that it never says a price."""

import datetime as dt

import pytest
from django.test import Client as Browser
from django.utils import timezone

from tests.factories import (
    BookingFactory,
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
    SupplierFactory,
)

pytestmark = pytest.mark.django_db
ADDRESS = "/stock/cover/"
CANARY = 7919_37
"""A price found nowhere else: if it is on the page, a price is."""


def day(after: int) -> dt.date:
    """So many days from the day the page is asked for."""
    return timezone.localdate() + dt.timedelta(days=after)


@pytest.fixture
def short_item():
    """128 black 11-inch, 184 promised, and a bag to be had in time."""
    item = MovementFactory(item=ItemFactory(colour=ColourFactory(name="Black")), quantity=128).item
    gala = BookingFactory()
    ReservationFactory(item=item, quantity=44, needed_on=day(4), booking=9001, booking_name="Ferry office")
    ReservationFactory(item=item, quantity=140, needed_on=day(11), booking=gala.pk, booking_name="Film gala")
    OfferFactory(item=item, price_minor=CANARY, lead_days=3)
    return item


def page(browser: Browser, address: str = ADDRESS, **headers: str) -> str:
    answer = browser.get(address, headers=headers)
    assert answer.status_code == 200
    return answer.content.decode()


@pytest.mark.parametrize("address", [ADDRESS, f"{ADDRESS}1/"])
def test_a_stranger_is_sent_to_sign_in(client, address):
    answer = client.get(address)
    assert answer.status_code == 302
    assert answer["Location"].startswith("/sign-in/")


@pytest.mark.parametrize("address", [ADDRESS, f"{ADDRESS}1/"])
def test_the_check_is_only_read(owner_client, address):
    assert owner_client.post(address).status_code == 405


def test_an_empty_shelf_says_what_to_do_first(owner_client):
    assert "Nothing is listed on the shelf yet." in page(owner_client)


def test_the_page_says_in_words_what_runs_short_and_whom_it_hits(owner_client, short_item):
    told = page(owner_client)
    assert "1 of 1 item runs short." in told
    assert "runs short by 56" in told
    assert "128 on the shelf · 184 needed by" in told
    booking = short_item.reservations.get(booking_name="Film gala").booking
    assert f'<a href="/bookings/{booking}/"><bdi>Film gala</bdi></a> goes without 56' in told


def test_a_short_week_is_hatched_signed_and_said(owner_client, short_item):
    assert '<td class="num hatch">−56<span class="visually-hidden"> short</span></td>' in page(owner_client)


def test_the_owner_can_put_the_packs_on_the_planned_order(owner_client, short_item):
    told = page(owner_client)
    assert "Add 1 bag of 100 to the order" in told
    offer = short_item.offers.get()
    assert f'name="offer" value="{offer.pk}"' in told
    assert 'name="packs" value="1"' in told


def test_crew_are_told_what_to_do_without_a_button(crew_client, short_item):
    told = page(crew_client)
    assert "Buy 1 bag of 100" in told
    assert "add-to-order" not in told
    assert "/stock/orders/add/" not in told


@pytest.mark.parametrize("reader", ["owner_client", "crew_client"])
@pytest.mark.parametrize("part", ["", "item"])
def test_no_price_stands_on_the_check(reader, part, short_item, request):
    OrderLineFactory(item=short_item, price_minor=CANARY)
    address = f"{ADDRESS}{short_item.pk}/" if part else ADDRESS
    told = page(request.getfixturevalue(reader), address)
    for written in ("7919", "7,919", "791937"):
        assert written not in told


def test_open_quotes_are_counted_when_asked(owner_client):
    item = MovementFactory(quantity=10).item
    ReservationFactory(item=item, quantity=30, needed_on=day(2), firm=False, booking_name="Maybe gala")
    assert "Maybe gala" not in page(owner_client)
    assert "Maybe gala" in page(owner_client, f"{ADDRESS}?with=open")


def test_htmx_gets_the_part_and_a_browser_the_page(owner_client, short_item):
    part = page(owner_client, f"{ADDRESS}?with=open", **{"HX-Request": "true", "HX-Target": "board"})
    assert "<html" not in part
    assert part.count('id="board"') == 1
    assert "<html" in page(owner_client, f"{ADDRESS}?with=open")


def test_going_back_in_the_browser_gets_the_whole_page(owner_client, short_item):
    headers = {"HX-Request": "true", "HX-Target": "board", "HX-History-Restore-Request": "true"}
    assert "<html" in page(owner_client, **headers)


def test_an_item_is_shown_day_by_day_with_its_changes_in_a_table(crew_client, short_item):
    told = page(crew_client, f"{ADDRESS}{short_item.pk}/")
    assert "Black 11-inch runs short by 56" in told
    assert '<td><bdi>Film gala</bdi></td><td class="num" data-label="Change">−140</td>' in told
    assert 'class="line-short"' in told


def test_the_day_by_day_part_can_stand_in_the_board(crew_client, short_item):
    address = f"{ADDRESS}{short_item.pk}/"
    part = page(crew_client, address, **{"HX-Request": "true", "HX-Target": "day-by-day"})
    assert "<html" not in part
    assert 'id="day-by-day"' in part


@pytest.mark.parametrize("number", [987, 99999999999999999999])
def test_an_item_that_does_not_exist_is_not_found(crew_client, number):
    assert crew_client.get(f"{ADDRESS}{number}/").status_code == 404


def test_a_name_that_means_something_to_a_browser_is_shown_as_it_was_typed(owner_client):
    item = MovementFactory(item=ItemFactory(colour=ColourFactory(name="<b>Ink</b>")), quantity=0).item
    ReservationFactory(item=item, needed_on=day(2), booking_name="<script>1</script>")
    told = page(owner_client)
    assert "&lt;b&gt;Ink&lt;/b&gt; 11-inch" in told
    assert "<script>1" not in told


@pytest.mark.parametrize("number", ["0", "-1", "x", "9999999999"])
def test_a_page_number_that_makes_no_sense_shows_a_page(owner_client, short_item, number):
    assert "Black 11-inch" in page(owner_client, f"{ADDRESS}?page={number}")


def test_more_than_two_hundred_items_are_paged(owner_client):
    for _ in range(201):
        ReservationFactory(needed_on=day(400))
    assert page(owner_client).count('<th scope="row">') == 200
    assert page(owner_client, f"{ADDRESS}?page=2").count('<th scope="row">') == 1


@pytest.mark.parametrize("count", [pytest.param(40, id="40 items"), pytest.param(400, id="400 items")])
def test_the_page_asks_as_little_however_long_the_shelf(
    count, owner_client, django_assert_num_queries, django_assert_max_num_queries
):
    supplier = SupplierFactory()
    order = OrderFactory(supplier=supplier, state="placed", placed_on=day(0), expected_on=day(3))
    for _ in range(count):
        item = MovementFactory(quantity=5).item
        ReservationFactory(item=item, needed_on=day(4), quantity=200)
        OfferFactory(item=item, supplier=supplier)
        OrderLineFactory(order=order, item=item)
    # Session, user, studio; then items, movements, promises, order lines, offers; and the kit that is promised.
    with django_assert_num_queries(10):
        page(owner_client)


def test_what_was_put_on_the_order_is_not_asked_for_again(owner_client, short_item):
    told = page(owner_client)
    key = told.split('name="form_key" value="')[1].split('"')[0]
    sent = {"form_key": key, "offer": short_item.offers.get().pk, "packs": "1", "next": ADDRESS}
    answer = owner_client.post("/stock/orders/add/", sent)
    assert (answer.status_code, answer["Location"]) == (302, ADDRESS)
    told = page(owner_client)
    assert "Place the planned order by" in told
    assert "Add 1 bag of 100 to the order" not in told
