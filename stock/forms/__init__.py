"""What is typed about the shelf, checked. A form here decides nothing: it names the field, the rule and the value."""

from stock.forms.buying import (
    AddToOrderForm,
    NewOfferForm,
    OfferForm,
    PlaceForm,
    PlannedLineForm,
    ReceiveForm,
    SupplierForm,
)
from stock.forms.counting import CountForm, KnownRoomForm, KnownWeightForm, LotForm, ReasonForm, RulesForm
from stock.forms.doubles import DoubleForm
from stock.forms.plan import PlanForm, chosen_orders
from stock.forms.shelf import ColourForm, ItemForm, MoveForm, NewItemForm
from stock.forms.spreadsheets import SpreadsheetForm

__all__ = [
    "AddToOrderForm",
    "ColourForm",
    "CountForm",
    "DoubleForm",
    "ItemForm",
    "KnownRoomForm",
    "KnownWeightForm",
    "LotForm",
    "MoveForm",
    "NewItemForm",
    "NewOfferForm",
    "OfferForm",
    "PlaceForm",
    "PlanForm",
    "PlannedLineForm",
    "ReasonForm",
    "ReceiveForm",
    "RulesForm",
    "SpreadsheetForm",
    "SupplierForm",
    "chosen_orders",
]
