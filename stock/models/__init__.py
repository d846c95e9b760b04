"""What is on the shelf, what is promised, and what is on its way."""

from stock.models.buying import MOST_IN_A_PACK, MOST_LEAD_DAYS, MOST_PRICE_MINOR, Offer, Order, OrderLine, Supplier
from stock.models.counting import CountLine, CountSheet, ShelfRules, Spreadsheet
from stock.models.doubles import DoubleRecipe, double_words
from stock.models.kit import Kit, KitMovement, KitPromise, KitPromiseQuerySet, KitQuerySet
from stock.models.ledger import LedgerRefusal, Lot, Movement, MovementQuerySet
from stock.models.promises import Reservation, ReservationQuerySet
from stock.models.shelf import NOMINAL_SIZES, TIE_SIZE, Colour, Item, ItemQuerySet, check_swatch

__all__ = [
    "MOST_IN_A_PACK",
    "MOST_LEAD_DAYS",
    "MOST_PRICE_MINOR",
    "NOMINAL_SIZES",
    "TIE_SIZE",
    "Colour",
    "CountLine",
    "CountSheet",
    "DoubleRecipe",
    "Item",
    "ItemQuerySet",
    "Kit",
    "KitMovement",
    "KitPromise",
    "KitPromiseQuerySet",
    "KitQuerySet",
    "LedgerRefusal",
    "Lot",
    "Movement",
    "MovementQuerySet",
    "Offer",
    "Order",
    "OrderLine",
    "Reservation",
    "ReservationQuerySet",
    "ShelfRules",
    "Spreadsheet",
    "Supplier",
    "check_swatch",
    "double_words",
]
