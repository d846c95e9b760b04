"""Lots on the pages: in order of use, typed where an order is received, mended, written off."""

import datetime as dt
import re
from uuid import uuid4

import pytest
from django.urls import reverse

from stock.models import Movement
from stock.queries import on_hand
from tests.factories import (
    TODAY,
    ColourFactory,
    ItemFactory,
    OrderFactory,
    OrderLineFactory,
)
from tests.opened import send_opened
from tests.stock.lots_in_the_ledger import day, left, left_of, receive

pytestmark = pytest.mark.django_db


def words(body: str) -> str:
    """The page as somebody reads it: no tags, single spaces."""
    return " ".join(re.sub(r"<[^>]+>", " ", body).split())


def send(browser, name: str, *args: object, **fields: object):
    return browser.post(reverse(f"stock:{name}", args=args), {"form_key": str(uuid4())} | fields)


def test_the_items_page_lists_its_lots_in_order_of_use(crew_client, crew):
    item = ItemFactory()
    receive(item, 50, crew, best_before=dt.date(2045, 3, 1))
    receive(item, 70, crew, best_before=dt.date(2020, 3, 1))
    page = words(crew_client.get(reverse("stock:item", args=[item.pk])).content.decode())
    assert page.index("best before 1 Mar 2020") < page.index("best before 1 Mar 2045")
    assert "too old 70" in page
    assert "70 are past best-before already." in page


def test_what_the_bag_says_is_typed_where_an_order_is_received(crew_client):
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=TODAY)
    line = OrderLineFactory(order=order)
    typed = {f"line_{line.pk}": "100", f"best_before_{line.pk}": "2028-02-29", f"seen_{line.pk}": "0"}
    assert send(crew_client, "order-receive", order.pk, **typed).status_code == 302
    assert left(line.item) == [(dt.date(2028, 2, 29), 100)]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        pytest.param("soon", "must be a day such as 2026-06-01 (got “soon”)", id="no day"),
        pytest.param("1926-01-01", "must be within 20 years of today; “1926-01-01” is not", id="another century"),
    ],
)
def test_a_best_before_nobody_can_have_read_is_refused(crew_client, typed, sentence):
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=TODAY)
    line = OrderLineFactory(order=order)
    sent = {f"line_{line.pk}": "100", f"best_before_{line.pk}": typed}
    answer = send(crew_client, "order-receive", order.pk, **sent)
    assert answer.status_code == 422
    assert sentence in words(answer.content.decode())
    assert typed in answer.content.decode()
    assert not Movement.objects.exists()


def test_the_second_to_receive_an_order_is_told_plainly(owner_client, crew_client, owner):
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=TODAY)
    line = OrderLineFactory(order=order)
    sent = {f"line_{line.pk}": "100", f"seen_{line.pk}": "0"}
    assert send(owner_client, "order-receive", order.pk, **sent).status_code == 302
    answer = send(crew_client, "order-receive", order.pk, **sent)
    assert answer.status_code == 422
    assert "Ana has put 100 of order" in words(answer.content.decode())
    assert on_hand([line.item_id])[line.item_id] == 100


def test_one_lot_can_be_written_off_from_the_items_page(crew_client, crew):
    item = ItemFactory()
    receive(item, 50, crew, best_before=day(30))
    later = receive(item, 50, crew, best_before=day(300))
    sent = {"kind": "written_off", "quantity": "50", "why": "sticky", "lot": later.lot_id}
    assert send(crew_client, "item-move", item.pk, **sent).status_code == 302
    assert left(item) == [(day(30), 50)]


def test_a_lot_of_another_item_cannot_be_named(crew_client, crew):
    item, other = ItemFactory(), ItemFactory()
    receive(item, 50, crew)
    strange = receive(other, 50, crew).lot_id
    answer = send(crew_client, "item-move", item.pk, kind="used", quantity="5", lot=strange)
    assert answer.status_code == 422
    assert on_hand([item.pk, other.pk]) == {item.pk: 50, other.pk: 50}
    assert crew_client.get(reverse("stock:lot", args=[item.pk, strange])).status_code == 404


def test_a_lots_dates_are_mended_on_its_page(crew_client, crew):
    item = ItemFactory()
    lot = receive(item, 50, crew).lot_id
    typed = {"form_key": str(uuid4()), "best_before": "", "place": "Cellar"}
    assert send_opened(crew_client, reverse("stock:lot", args=[item.pk, lot]), typed).status_code == 302
    assert left(item) == [(None, 50)]


def test_a_barcode_belongs_to_one_item(owner_client):
    ItemFactory(colour=ColourFactory(name="Sand"), barcode="4006381333931")
    item = ItemFactory()
    answer = send(owner_client, "item-edit", item.pk, barcode="4006381333931", keep_back="0")
    assert answer.status_code == 422
    assert "Barcode must be its own; “4006381333931” is Sand 11-inch’s." in words(answer.content.decode())


def test_how_long_one_item_is_good_is_said_on_its_own_page(owner_client, owner):
    item = ItemFactory()
    typed = {"form_key": str(uuid4()), "best_before_months": "6", "keep_back": "0"}
    assert send_opened(owner_client, reverse("stock:item-edit", args=[item.pk]), typed).status_code == 302
    item.refresh_from_db()
    assert left_of(receive(item, 10, owner)) == dt.date(2026, 12, 1)
