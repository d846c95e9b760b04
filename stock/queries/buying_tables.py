"""Suppliers, offers and orders as tables, a row at a time. They hold prices: that is the owner's alone."""

import datetime as dt
from collections.abc import Iterator

from stock.models import Offer, OrderLine, Supplier
from stock.spreadsheet import Cell
from studio.money import from_minor

Rows = Iterator[list[Cell]]

SUPPLIER_COLUMNS = ("supplier", "email", "phone", "delivery", "free_from", "minimum", "currency")
"""The columns of the table of suppliers, which can be taken over again."""
OFFER_COLUMNS = (
    "supplier",
    "sort",
    "colour",
    "finish",
    "shape",
    "size",
    "name",
    "pack_size",
    "price",
    "currency",
    "lead_days",
    "their_name",
    "their_code",
)
"""The columns of the table of offers, which can be taken over again; an item is named as in the table of items."""
_AT_A_TIME = 2_000


def supplier_rows(currency: str) -> Rows:
    """Every supplier, and what an order from them costs."""
    yield list(SUPPLIER_COLUMNS)
    for supplier in Supplier.objects.order_by("name", "pk"):
        free_from = supplier.free_from_minor
        yield [
            supplier.name,
            supplier.email,
            supplier.phone,
            from_minor(supplier.delivery_minor, currency),
            None if free_from is None else from_minor(free_from, currency),
            from_minor(supplier.minimum_minor, currency),
            currency,
        ]


def offer_rows(currency: str) -> Rows:
    """Every offer, with its price."""
    yield list(OFFER_COLUMNS)
    offers = Offer.objects.select_related("supplier", "item__colour").order_by("supplier__name", "pk")
    for offer in offers.iterator(_AT_A_TIME):
        item, colour = offer.item, offer.item.colour if offer.item.sort == "latex" else None
        yield [
            offer.supplier.name,
            item.sort,
            colour.name if colour else "",
            colour.finish if colour else "",
            colour.form if colour else "",
            item.size if colour else None,
            item.name,
            offer.pack_size,
            from_minor(offer.price_minor, currency),
            currency,
            offer.lead_days,
            offer.their_name,
            offer.their_code,
        ]


def order_rows(currency: str) -> Rows:
    """Every line of every order, with its price."""
    yield [
        "order",
        "supplier",
        "state",
        "placed_on",
        "expected_on",
        "item",
        "packs",
        "pack_size",
        "price",
        "currency",
        "received",
        "their_name",
        "their_code",
    ]
    lines = OrderLine.objects.select_related("order__supplier", "item__colour").order_by("order", "pk")
    for line in lines.iterator(_AT_A_TIME):
        yield [
            line.order_id,
            line.order.supplier.name,
            line.order.state,
            day(line.order.placed_on),
            day(line.order.expected_on),
            line.item.label,
            line.packs,
            line.pack_size,
            from_minor(line.price_minor, currency),
            currency,
            line.received,
            line.their_name,
            line.their_code,
        ]


def day(day: dt.date | None) -> str:
    """A day as 2026-06-01."""
    return day.isoformat() if day else ""


def moment(moment: dt.datetime | None) -> str:
    """A moment in UTC."""
    return moment.astimezone(dt.UTC).strftime("%Y-%m-%d %H:%M:%S") if moment else ""
