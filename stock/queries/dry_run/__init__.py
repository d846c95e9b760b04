"""What taking over a spreadsheet would do, and every cell that is wrong. Nothing is changed here.

An empty cell leaves what is there, or takes what is usual.
"""

from collections.abc import Mapping, Sequence

from stock.queries.dry_run.buying import ColourCheck, OfferCheck, SupplierCheck
from stock.queries.dry_run.found import DryRun, Fault, PlannedItem, PlannedRecord
from stock.queries.dry_run.items import ItemCheck
from stock.queries.dry_run.kit import KitCheck
from stock.queries.dry_run.sheet import SheetCheck, column_name

__all__ = ["COLUMNS", "DryRun", "Fault", "PlannedItem", "PlannedRecord", "dry_run", "table_of"]

_CHECKS: Mapping[str, type[SheetCheck]] = {
    "items": ItemCheck,
    "colours": ColourCheck,
    "suppliers": SupplierCheck,
    "offers": OfferCheck,
    "kit": KitCheck,
}
COLUMNS: Mapping[str, Sequence[str]] = {table: check.columns for table, check in _CHECKS.items()}
"""Every table that can be taken over, to what its columns are called."""


def dry_run(rows: Sequence[Sequence[str]]) -> DryRun:
    """Check every row of a table against the rules and what the studio has. Four statements at most, however many rows.

    What it is a table of, its columns say (`table_of`).
    """
    found = DryRun(table=table_of(rows[0] if rows else []))
    _CHECKS[found.table](found).check(rows)
    return found


def table_of(heads: Sequence[str]) -> str:
    """What a table with these columns is of: kit, offers, suppliers, colours, or else items.

    Whoever names a supplier and a pack writes of offers, a supplier without one of suppliers. A colour without a size,
    a sort or a name is no item yet.
    """
    names = {column_name(head) for head in heads}
    if "kit" in names:
        return "kit"
    if "supplier" in names:
        return "offers" if {"pack_size", "price", "lead_days"} & names else "suppliers"
    if "colour" in names and not {"size", "sort", "name", "on_hand"} & names:
        return "colours"
    return "items"
