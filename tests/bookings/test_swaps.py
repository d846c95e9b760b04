"""Swapping what cannot be had for what is there, and what the card says of it."""

import datetime as dt
import re
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings.models import MaterialSwap
from stock.models import Reservation
from stock.queries import cover_board, held_firmly, stand_ins
from stock.queries.stand_ins import can_be_blown_to
from tests.factories import BookingFactory, ColourFactory, ItemFactory, MovementFactory, ReservationFactory

pytestmark = pytest.mark.django_db

NEAREST_FIRST = ["Slate 24-inch", "Ink 24-inch", "Coal metallic 24-inch"]


def day(ahead: int) -> dt.date:
    return timezone.localdate() + dt.timedelta(days=ahead)


def shelf(name: str, swatch: str, *, size: int = 24, quantity: int = 6, **colour):
    item = ItemFactory(colour=ColourFactory(name=name, swatch=swatch, **colour), size=size)
    MovementFactory(item=item, quantity=quantity)
    return item


def seen(response) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


@pytest.fixture
def gala(db):
    """A booked job that holds six black 24-inch of which there are none."""
    booking = BookingFactory(title="Gala", stage="booked", needed_on=day(5), event_on=day(6))
    black = shelf("Black", "#1b1b1f", quantity=0)
    ReservationFactory(item=black, quantity=6, needed_on=day(5), booking=booking.pk, booking_name="Gala")
    booking.black = black
    return booking


def swap(browser, booking, give_up, take, quantity):
    sent = {"form_key": str(uuid4()), "give_up": give_up.pk, "take": take.pk, "quantity": quantity}
    return browser.post(reverse("bookings:swap", args=[booking.pk]), sent, follow=True)


def row_of(item):
    board = cover_board(timezone.localdate())
    return next(row for row in board.rows if row.item == item), board.rows


def test_the_nearest_colour_of_the_same_finish_comes_first(gala):
    shelf("Coal", "#1b1b20", finish="metallic")
    shelf("Ink", "#22314f")
    shelf("Slate", "#39424e")
    shelf("White", "#f6f4f0")
    row, rows = row_of(gala.black)
    assert [str(one.item) for one in stand_ins(row, rows, day(5))] == NEAREST_FIRST
    assert re.fullmatch(r"Slate 24-inch \(ΔE \d+\.\d\), 6 free", stand_ins(row, rows, day(5))[0].words)


def test_a_bigger_bag_of_the_same_colour_can_be_blown_smaller(gala):
    big = ItemFactory(colour=gala.black.colour, size=36)
    small = ItemFactory(colour=gala.black.colour, size=16)
    for item in (big, small):
        MovementFactory(item=item, quantity=9)
    row, rows = row_of(gala.black)
    assert [one.words for one in stand_ins(row, rows, day(5))] == ["Black 36-inch blown smaller, 9 free"]


@pytest.mark.parametrize(
    ("size", "wanted", "can"), [(11, 6, True), (12, 11, True), (11, 5, False), (10, 11, False), (36, 18, False)]
)
def test_a_bag_is_blown_neither_past_its_size_nor_limp(size, wanted, can):
    assert can_be_blown_to(size, wanted) is can


def test_what_is_promised_to_others_is_not_offered(gala):
    ink = shelf("Ink", "#22314f", quantity=10)
    ReservationFactory(item=ink, quantity=10, needed_on=day(20))
    row, rows = row_of(gala.black)
    assert stand_ins(row, rows, day(5)) == ()


@pytest.mark.parametrize("reader", ["owner_client", "crew_client"])
def test_the_card_says_what_could_stand_in(reader, gala, request):
    shelf("Ink", "#22314f")
    told = seen(request.getfixturevalue(reader).get("/stock/cover/"))
    assert re.search(r"Nearest: Ink 24-inch \(ΔE \d+\.\d\), 6 free", told)
    assert ("Swap 6 to Ink 24-inch in Gala" in told) == (reader == "owner_client")


def test_the_items_page_says_it_too(owner_client, gala):
    shelf("Ink", "#22314f")
    assert "Nearest: Ink 24-inch" in seen(owner_client.get(reverse("stock:item", args=[gala.black.pk])))


def test_one_tap_swaps_it_and_says_that_the_picture_shows_another(owner_client, gala):
    ink = shelf("Ink", "#22314f")
    told = seen(swap(owner_client, gala, gala.black, ink, 6))
    assert held_firmly(gala.pk) == {ink.pk: 6}
    assert "6 Black 24-inch are Ink 24-inch now." in told
    assert "shows Black 24-inch: tell them." in told
    assert gala.history.get().what == "6 Black 24-inch swapped for Ink 24-inch."
    assert Reservation.objects.open().get(item=ink).needed_on == day(5)


def test_a_part_is_swapped_and_the_rest_keeps_its_place(owner_client, gala):
    ink = shelf("Ink", "#22314f", quantity=2)
    place = Reservation.objects.open().get(item=gala.black).pk
    swap(owner_client, gala, gala.black, ink, 2)
    assert held_firmly(gala.pk) == {gala.black.pk: 4, ink.pk: 2}
    assert Reservation.objects.open().get(item=gala.black).pk == place


@pytest.mark.parametrize("quantity", [0, 7, 3, "x", "-1", "9" * 30])
def test_what_is_not_held_or_not_free_is_not_swapped(owner_client, gala, quantity):
    ink = shelf("Ink", "#22314f", quantity=2)
    told = seen(swap(owner_client, gala, gala.black, ink, quantity))
    assert "Not swapped." in told
    assert held_firmly(gala.pk) == {gala.black.pk: 6}
    assert not MaterialSwap.objects.exists()


def test_a_swap_sent_twice_is_made_once(owner_client, gala):
    ink = shelf("Ink", "#22314f", quantity=6)
    sent = {"form_key": str(uuid4()), "give_up": gala.black.pk, "take": ink.pk, "quantity": 3}
    for _ in range(2):
        owner_client.post(reverse("bookings:swap", args=[gala.pk]), sent)
    assert held_firmly(gala.pk) == {gala.black.pk: 3, ink.pk: 3}


def test_crew_and_strangers_swap_nothing(crew_client, client, gala):
    ink = shelf("Ink", "#22314f")
    address = reverse("bookings:swap", args=[gala.pk])
    sent = {"form_key": str(uuid4()), "give_up": gala.black.pk, "take": ink.pk, "quantity": 6}
    assert crew_client.post(address, sent).status_code == 403
    assert client.post(address, sent).url.startswith(reverse("login"))
    assert held_firmly(gala.pk) == {gala.black.pk: 6}


def test_an_open_quotes_hold_outlives_a_swap(owner_client, gala):
    ink = shelf("Ink", "#22314f")
    gold = shelf("Gold", "#c79a3e")
    ReservationFactory(
        item=gold, quantity=2, needed_on=day(5), booking=gala.pk, booking_name="Gala", firm=False, lapses_on=day(4)
    )
    swap(owner_client, gala, gala.black, ink, 6)
    held = Reservation.objects.open().get(item=gold)
    assert (held.quantity, held.firm, held.lapses_on) == (2, False, day(4))
