"""What a spreadsheet holds: what is wrong in it, or what taking it over would do."""

from dataclasses import dataclass, field

from django.db.models import Model

from stock.models import Colour, Item

ColourKey = tuple[str, str, str]
"""A colour's name, casefolded, its finish and its shape."""


@dataclass(frozen=True)
class Fault:
    """A cell that is wrong: where, the rule it breaks, and what it says. `row` counts from 1, as a spreadsheet does."""

    row: int
    column: str
    rule: str
    value: str

    def __str__(self) -> str:
        return f"Row {self.row:,}, {self.column}: {self.rule} (got {self.value})."


@dataclass
class PlannedItem:
    """One row: the item, new or as it will be, and how many are counted of it, if that differs."""

    item: Item
    colour: ColourKey | None
    is_new: bool
    changed: tuple[str, ...]
    difference: int | None


@dataclass
class PlannedRecord:
    """One row: a colour, a supplier, an offer or kit, new or as it will be, and which of its fields change.

    Of kit also how many more are owned than was known, if that differs, and whether it `retires` or is taken up again.
    """

    record: Model
    is_new: bool
    changed: tuple[str, ...]
    difference: int | None = None
    retires: bool | None = None


@dataclass
class DryRun:
    """Everything wrong with a spreadsheet, or everything it would do. `table` is what it is a table of."""

    table: str = "items"
    faults: list[Fault] = field(default_factory=list)
    planned: list[PlannedItem] = field(default_factory=list)
    records: list[PlannedRecord] = field(default_factory=list)
    new_colours: dict[ColourKey, Colour] = field(default_factory=dict)

    @property
    def rows(self) -> int:
        """How many rows are sound."""
        return len(self.planned) + len(self.records)

    @property
    def new(self) -> int:
        """How many are new."""
        return sum(row.is_new for row in self.planned) + sum(row.is_new for row in self.records)

    @property
    def changed(self) -> int:
        """How many are kept differently from now on."""
        rows: list[PlannedItem | PlannedRecord] = [*self.planned, *self.records]
        return sum(not row.is_new and bool(row.changed or getattr(row, "retires", None) is not None) for row in rows)

    @property
    def counted(self) -> int:
        """How many counts are put right."""
        rows: list[PlannedItem | PlannedRecord] = [*self.planned, *self.records]
        return sum(row.difference is not None for row in rows)

    @property
    def does_nothing(self) -> bool:
        """Whether everything is as the spreadsheet says already."""
        return not (self.new or self.changed or self.counted or self.new_colours)
