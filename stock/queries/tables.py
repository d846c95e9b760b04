"""Everything the shelf knows as tables, a row at a time: for a spreadsheet, or to take away.

Tables of suppliers, offers, orders and kit hold prices: all but the weekly check is the owner's alone."""

from collections.abc import Callable, Mapping

from stock.models import Colour, CountLine, DoubleRecipe, Item, Movement, Reservation
from stock.queries.balances import lots_on_hand, on_hand
from stock.queries.board import Board
from stock.queries.buying_tables import Rows, day, moment, offer_rows, order_rows, supplier_rows
from stock.queries.kit_tables import kit_movement_rows, kit_promise_rows, kit_rows

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
    "room_millilitres",
    "barcode",
    "on_hand",
)
"""The columns of the table of items, which can be taken over again."""
COLOUR_COLUMNS = ("colour", "finish", "shape", "swatch", "position", "in_use")
"""The columns of the table of colours, which can be taken over again."""
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
            item.room_millilitres,
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
            moment(movement.at),
            movement.by.username,
            movement.why,
            movement.booking,
            movement.order_line.order_id if movement.order_line else None,
            movement.lot_id,
            day(lot.received_on if lot else None),
            day(lot.best_before if lot else None),
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
            day(held.needed_on),
            held.booking,
            held.booking_name,
            "firm" if held.firm else "tentative",
            moment(held.made_at),
            day(held.lapses_on),
            moment(held.closed_at),
        ]


def colour_rows(currency: str = "") -> Rows:
    """Every colour, in the order of the studio's list."""
    yield list(COLOUR_COLUMNS)
    for colour in Colour.objects.order_by("position", "name", "pk"):
        in_use = "yes" if colour.in_use else "no"
        yield [colour.name, colour.finish, colour.form, colour.swatch, colour.position, in_use]


def double_rows(currency: str = "") -> Rows:
    """Every double-stuffed recipe."""
    yield ["outside", "inside", "stands_in_for", "swatch"]
    for recipe in DoubleRecipe.objects.select_related("outer", "inner", "looks_like").order_by("pk"):
        yield [str(recipe.outer), str(recipe.inner), str(recipe.looks_like), recipe.swatch]


def lot_rows(currency: str = "") -> Rows:
    """Every lot of which something is left, and what is of no lot."""
    yield ["item", "lot", "left", "received_on", "best_before", "place"]
    items = {item.pk: item for item in Item.objects.with_colour()}
    for key, lots in sorted(lots_on_hand().items()):
        for lot in lots:
            yield [items[key].label, lot.key, lot.left, day(lot.received_on), day(lot.best_before), lot.place]


def count_rows(currency: str = "") -> Rows:
    """Every line of every count, those going on too. Times are in UTC."""
    yield ["count", "finished_at", "item", "counted", "expected", "why", "at", "by"]
    lines = CountLine.objects.select_related("sheet", "item__colour", "by").order_by("sheet", "pk")
    for line in lines.iterator(_AT_A_TIME):
        yield [
            line.sheet_id,
            moment(line.sheet.finished_at),
            line.item.label,
            line.counted,
            line.expected,
            line.why,
            moment(line.at),
            line.by.username,
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
            day(row.short_on),
            short_by,
            day(row.order_by),
            row.what_to_do,
            row.sentence,
        ]


TABLES: Mapping[str, Callable[[str], Rows]] = {
    "items": item_rows,
    "colours": colour_rows,
    "suppliers": supplier_rows,
    "offers": offer_rows,
    "orders": order_rows,
    "movements": movement_rows,
    "lots": lot_rows,
    "counts": count_rows,
    "reservations": reservation_rows,
    "doubles": double_rows,
    "kit": kit_rows,
    "kit_movements": kit_movement_rows,
    "kit_promises": kit_promise_rows,
}
"""Name of a table to its rows, the names of the columns first; each takes the studio's currency."""
