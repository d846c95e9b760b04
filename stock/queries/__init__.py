"""What is on the shelf, what is promised, what is on its way and what it costs. Nothing here changes anything."""

from stock.queries.balances import UnitCost, arriving, free_on, held_firmly, on_hand, pack_costs
from stock.queries.shelf import Cell, ItemStory, Shelf, ShelfRow, item_story, shelf

__all__ = [
    "Cell",
    "ItemStory",
    "Shelf",
    "ShelfRow",
    "UnitCost",
    "arriving",
    "free_on",
    "held_firmly",
    "item_story",
    "on_hand",
    "pack_costs",
    "shelf",
]
