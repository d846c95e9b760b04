"""Everything that changes the shelf: the ledger, the promises, the orders and the list of items.

Each action is one transaction, takes who did it and when, and refuses with a sentence. Before a balance is read
for a decision, or a promise is written, the items are locked in the order of their keys.
"""

from stock.actions.buying import ChosenLine, MadeOrder, make_orders
from stock.actions.counting import (
    CountRefusal,
    change_rules,
    drop_count,
    explain_count,
    finish_count,
    learn_weight,
    take_off_count,
    write_count,
)
from stock.actions.issuing import Taking, bring_back, bring_home, issue
from stock.actions.ledger import (
    StockRefusal,
    change_lot,
    count,
    lock_items,
    receive,
    use,
    usual_best_before,
    write_off,
)
from stock.actions.orders import (
    OrderRefusal,
    add_to_planned_order,
    cancel_order,
    change_expected,
    change_packs,
    close_order,
    place_order,
    plan_order,
    receive_order,
)
from stock.actions.promises import PromiseRefusal, move, release, reserve, settle
from stock.actions.shelf import STARTER_COLOURS, ShelfRefusal, add_colour, items_for, starter_palette, usual_unit
from stock.actions.swaps import swap
from stock.actions.taking_over import SpreadsheetRefusal, send_in, take_over

__all__ = [
    "STARTER_COLOURS",
    "ChosenLine",
    "CountRefusal",
    "MadeOrder",
    "OrderRefusal",
    "PromiseRefusal",
    "ShelfRefusal",
    "SpreadsheetRefusal",
    "StockRefusal",
    "Taking",
    "add_colour",
    "add_to_planned_order",
    "bring_back",
    "bring_home",
    "cancel_order",
    "change_expected",
    "change_lot",
    "change_packs",
    "change_rules",
    "close_order",
    "count",
    "drop_count",
    "explain_count",
    "finish_count",
    "issue",
    "items_for",
    "learn_weight",
    "lock_items",
    "make_orders",
    "move",
    "place_order",
    "plan_order",
    "receive",
    "receive_order",
    "release",
    "reserve",
    "send_in",
    "settle",
    "starter_palette",
    "swap",
    "take_off_count",
    "take_over",
    "use",
    "usual_best_before",
    "usual_unit",
    "write_count",
    "write_off",
]
