"""What is on the shelf, what is promised, what is on its way and what it costs. Nothing here changes anything."""

from stock.queries.balances import UnitCost, arriving, free_on, held_firmly, lots_on_hand, on_hand, pack_costs
from stock.queries.board import MOST_WEEKS, Board, cover_board
from stock.queries.board_rows import BoardRow, ShortCard, Suggestion, WeekCell, day_words
from stock.queries.counting import CountPlace, CountRow, ShelfCount, count_row, shelf_count
from stock.queries.shelf import Cell, ItemStory, Shelf, ShelfRow, item_story, shelf

__all__ = [
    "MOST_WEEKS",
    "Board",
    "BoardRow",
    "Cell",
    "CountPlace",
    "CountRow",
    "ItemStory",
    "Shelf",
    "ShelfCount",
    "ShelfRow",
    "ShortCard",
    "Suggestion",
    "UnitCost",
    "WeekCell",
    "arriving",
    "count_row",
    "cover_board",
    "day_words",
    "free_on",
    "held_firmly",
    "item_story",
    "lots_on_hand",
    "on_hand",
    "pack_costs",
    "shelf",
    "shelf_count",
]
