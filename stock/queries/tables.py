"""Everything the shelf knows as tables, a row at a time: for a spreadsheet, or to take away. Offers and orders hold
prices: that is the owner's alone."""

import datetime as dt
from collections.abc import Callable, Iterator, Mapping

from stock.models import Item, Movement, Offer, OrderLine, Reservation
from stock.queries.balances import on_hand
from stock.queries.board import Board
from stock.spreadsheet import Cell
from studio.money import from_minor

Rows = Iterator[list[Cell]]

ITEM_COLUMNS = (
    "sort",
    "colour",
    "finish",
    "shape",
    "swatch",
    "size",
    "name",
    "unit",
    "keep_back",
    "place",
    "best_before_months",
    "piece_milligrams",
    "barcode",
    "on_hand",
)
"""The columns of the table of items, which can be taken over again."""
_AT_A_TIME = 2_000


def item_rows(currency: str = "") -> Rows:
    """Every item, and how many there are."""
    yield list(ITEM_COLUMNS)
    have = on_hand()
    for item in Item.objects.with_colour().shelf_order():
        colour = item.colour
        yield [
            item.sort,
            colour.name if colour else "",
            colour.finish if colour else "",
            colour.form if colour else "",
            colour.swatch if colour else "",
            item.size,
            item.name,
            item.unit,
            item.keep_back,
            item.place,
            item.best_before_months,
            item.piece_milligrams,
            item.barcode,
            have[item.pk],
        ]


def movement_rows(currency: str = "") -> Rows:
    """The whole ledger, oldest first. Times are in UTC."""
    yield [
        "movement",
        "item",
        "kind",
        "quantity",
        "at",
        "by",
        "why",
        "booking",
        "order",
        "lot",
        "lot_received_on",
        "best_before",
    ]
    moved = Movement.objects.select_related("item__colour", "by", "order_line", "lot").order_by("pk")
    for movement in moved.iterator(_AT_A_TIME):
        lot = movement.lot
        yield [
            movement.pk,
            movement.item.label,
            movement.kind,
            movement.quantity,
            _moment(movement.at),
            movement.by.username,
            movement.why,
            movement.booking,
            movement.order_line.order_id if movement.order_line else None,
            movement.lot_id,
            _day(lot.received_on if lot else None),
            _day(lot.best_before if lot else None),
        ]


def reservation_rows(currency: str = "") -> Rows:
    """Every promise in the order they were made, those let go of too."""
    yield [
        "promise",
        "item",
        "quantity",
        "needed_on",
        "booking",
        "booking_name",
        "firm",
        "made_at",
        "lapses_on",
        "closed_at",
    ]
    for held in Reservation.objects.select_related("item__colour").order_by("pk").iterator(_AT_A_TIME):
        yield [
            held.pk,
            held.item.label,
            held.quantity,
            _day(held.needed_on),
            held.booking,
            held.booking_name,
            "firm" if held.firm else "tentative",
            _moment(held.made_at),
            _day(held.lapses_on),
            _moment(held.closed_at),
        ]


def offer_rows(currency: str) -> Rows:
    """Every offer, with its price."""
    yield ["supplier", "item", "pack_size", "price", "currency", "lead_days", "their_name", "their_code"]
    offers = Offer.objects.select_related("supplier", "item__colour").order_by("supplier__name", "pk")
    for offer in offers.iterator(_AT_A_TIME):
        price = from_minor(offer.price_minor, currency)
        yield [
            offer.supplier.name,
            offer.item.label,
            offer.pack_size,
            price,
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
            _day(line.order.placed_on),
            _day(line.order.expected_on),
            line.item.label,
            line.packs,
            line.pack_size,
            from_minor(line.price_minor, currency),
            currency,
            line.received,
            line.their_name,
            line.their_code,
        ]


def cover_rows(board: Board) -> Rows:
    """The weekly check as a table, every item of it in the board's order. No price: it is for everybody."""
    weeks = [f"least in the week of {monday.isoformat()}" for monday in board.mondays]
    yield ["item", "on_shelf", *weeks, "short_from", "short_by", "order_by", "what_to_do", "in_words"]
    for row in board.rows:
        short_by = row.cover.short_by if row.is_short else None
        yield [
            row.item.label,
            row.cover.on_hand,
            *row.weekly,
            _day(row.short_on),
            short_by,
            _day(row.order_by),
            row.what_to_do,
            row.sentence,
        ]


TABLES: Mapping[str, Callable[[str], Rows]] = {
    "items": item_rows,
    "movements": movement_rows,
    "reservations": reservation_rows,
    "offers": offer_rows,
    "orders": order_rows,
}
"""Name of a table to its rows, the names of the columns first; each takes the studio's currency."""


def _day(day: dt.date | None) -> str:
    return day.isoformat() if day else ""


def _moment(moment: dt.datetime | None) -> str:
    return moment.astimezone(dt.UTC).strftime("%Y-%m-%d %H:%M:%S") if moment else ""
