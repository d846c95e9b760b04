"""What is on the shelf, what is promised, and what is on its way."""

from stock.models.buying import Offer, Order, OrderLine, Supplier
from stock.models.counting import CountLine, CountSheet, ShelfRules, Spreadsheet
from stock.models.ledger import LedgerRefusal, Lot, Movement, MovementQuerySet
from stock.models.promises import Reservation, ReservationQuerySet
from stock.models.shelf import NOMINAL_SIZES, TIE_SIZE, Colour, Item, ItemQuerySet, check_swatch

__all__ = [
    "NOMINAL_SIZES",
    "TIE_SIZE",
    "Colour",
    "CountLine",
    "CountSheet",
    "Item",
    "ItemQuerySet",
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
]
