"""Orders for the tests of their pages: planned and placed, and what a browser sends and sees of them."""

import datetime as dt
import re
from uuid import uuid4

from django.urls import reverse
from django.utils import timezone

from stock.models import Order, OrderLine
from tests.factories import (
    ColourFactory,
    ItemFactory,
    OrderFactory,
    OrderLineFactory,
    SupplierFactory,
)


def planned(**fields: object) -> OrderLine:
    """A line of two packs of a hundred, on an order not placed yet."""
    item = ItemFactory(colour=ColourFactory(name="Ink"))
    order = OrderFactory(supplier=SupplierFactory(name="Quay Wholesale"))
    return OrderLineFactory(order=order, item=item, packs=2, pack_size=100, **fields)


def placed(*, expected_in: int = 5, **fields: object) -> OrderLine:
    """The same line, placed ten days ago."""
    line = planned(**fields)
    today = timezone.localdate()
    Order.objects.filter(pk=line.order_id).update(
        state=Order.State.PLACED,
        placed_on=today - dt.timedelta(days=10),
        expected_on=today + dt.timedelta(days=expected_in),
    )
    line.order.refresh_from_db()
    return line


def post(browser, name: str, *args: int, **fields: object):
    return browser.post(reverse(f"stock:{name}", args=args), {"form_key": str(uuid4())} | fields)


def seen(response) -> str:
    """The page as somebody reads it."""
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def page(browser, line: OrderLine) -> str:
    response = browser.get(reverse("stock:order", args=[line.order_id]))
    assert response.status_code == 200
    return seen(response)


def list_of(browser) -> str:
    return seen(browser.get(reverse("stock:orders")))


def state(line: OrderLine) -> str:
    return Order.objects.get(pk=line.order_id).state
