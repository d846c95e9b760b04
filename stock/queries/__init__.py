"""What is on the shelf, what is promised, what is on its way and what it costs. Nothing here changes anything."""

from stock.queries.balances import (
    UnitCost,
    arriving,
    free_on,
    held_and_taken,
    held_firmly,
    items_taken_for,
    lots_on_hand,
    on_hand,
    pack_costs,
    taken_for,
)
from stock.queries.board import MOST_WEEKS, Board, cover_board
from stock.queries.board_rows import BoardRow, ShortCard, StandIn, Suggestion, WeekCell, day_words
from stock.queries.buying import Purchase, Shortfall, purchase, shortfall
from stock.queries.counting import CountPlace, CountRow, ShelfCount, count_row, shelf_count
from stock.queries.dry_run import COLUMNS, DryRun, Fault, PlannedItem, PlannedRecord, dry_run
from stock.queries.shelf import Cell, ItemStory, Shelf, ShelfRow, item_story, shelf
from stock.queries.stand_ins import Double, recipes, stand_ins
from stock.queries.tables import ITEM_COLUMNS, TABLES, cover_rows

__all__ = [
    "COLUMNS",
    "ITEM_COLUMNS",
    "MOST_WEEKS",
    "TABLES",
    "Board",
    "BoardRow",
    "Cell",
    "CountPlace",
    "CountRow",
    "Double",
    "DryRun",
    "Fault",
    "ItemStory",
    "PlannedItem",
    "PlannedRecord",
    "Purchase",
    "Shelf",
    "ShelfCount",
    "ShelfRow",
    "ShortCard",
    "Shortfall",
    "StandIn",
    "Suggestion",
    "UnitCost",
    "WeekCell",
    "arriving",
    "count_row",
    "cover_board",
    "cover_rows",
    "day_words",
    "dry_run",
    "free_on",
    "held_and_taken",
    "held_firmly",
    "item_story",
    "items_taken_for",
    "lots_on_hand",
    "on_hand",
    "pack_costs",
    "purchase",
    "recipes",
    "shelf",
    "shelf_count",
    "shortfall",
    "stand_ins",
    "taken_for",
]
