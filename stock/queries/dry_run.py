"""What taking over a spreadsheet of items would do, and every cell that is wrong. Nothing is changed here."""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field

from stock.colour import ColourError, parse_swatch
from stock.lots import MOST_MONTHS
from stock.models import Colour, Item
from stock.queries.balances import on_hand
from stock.queries.tables import ITEM_COLUMNS
from stock.weighing import MOST_MILLIGRAMS

_MOST = 1_000_000
_LONGEST = {"colour": 40, "name": 60, "unit": 12, "place": 40, "barcode": 48}
_NUMBERS = {
    "size": (1, 400),
    "keep_back": (0, _MOST),
    "best_before_months": (0, MOST_MONTHS),
    "piece_milligrams": (1, MOST_MILLIGRAMS),
    "on_hand": (0, _MOST),
}
_KEPT = ("unit", "keep_back", "place", "best_before_months", "piece_milligrams", "barcode")
ColourKey = tuple[str, str, str]
ItemKey = tuple[str, ColourKey | None, int | None, str]
_SHOWN = 40


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
class DryRun:
    """Everything wrong with a spreadsheet, or everything it would do."""

    faults: list[Fault] = field(default_factory=list)
    planned: list[PlannedItem] = field(default_factory=list)
    new_colours: dict[ColourKey, Colour] = field(default_factory=dict)

    @property
    def new(self) -> int:
        """How many items are new."""
        return sum(row.is_new for row in self.planned)

    @property
    def changed(self) -> int:
        """How many are kept differently from now on."""
        return sum(bool(row.changed) and not row.is_new for row in self.planned)

    @property
    def counted(self) -> int:
        """How many counts are put right."""
        return sum(row.difference is not None for row in self.planned)

    @property
    def does_nothing(self) -> bool:
        """Whether everything is as the spreadsheet says already."""
        return not (self.new or self.changed or self.counted or self.new_colours)


def dry_run(rows: Sequence[Sequence[str]]) -> DryRun:
    """Check every row of a table of items against the rules and the shelf. Four statements, however many rows.

    An empty cell leaves what is there, or takes what is usual.
    """
    found = DryRun()
    columns = _columns(rows[0] if rows else [], found)
    if not found.faults:
        check = _Check(columns, found)
        for number, row in enumerate(rows[1:], start=2):
            if any(cell.strip() for cell in row):
                check.row(number, row)
    return found


def _columns(heads: Sequence[str], found: DryRun) -> dict[int, str]:
    columns: dict[int, str] = {}
    for n, head in enumerate(heads):
        name = "_".join(head.strip().casefold().replace("-", " ").replace("_", " ").split())
        if not name:
            continue
        if name not in ITEM_COLUMNS:
            found.faults.append(Fault(1, f"column {n + 1}", f"A column must be {_list(ITEM_COLUMNS)}", _shown(head)))
        elif name in columns.values():
            found.faults.append(Fault(1, name, "A column must be there once", _shown(head)))
        else:
            columns[n] = name
    if not found.faults and "name" not in columns.values() and not {"colour", "size"} <= set(columns.values()):
        found.faults.append(Fault(1, "all", "The first row must name the columns, colour and size or name", "neither"))
    return columns


class _Check:
    """One pass over the rows, with what the shelf knows at hand."""

    def __init__(self, columns: dict[int, str], found: DryRun) -> None:
        self.columns, self.found = columns, found
        self.colours = {_colour_key(c.name, c.finish, c.form): c for c in Colour.objects.all()}
        self.items: dict[ItemKey, Item] = {}
        self.codes: dict[str, ItemKey] = {}
        for item in Item.objects.with_colour():
            key = _item_key_of(item)
            self.items[key] = item
            if item.barcode:
                self.codes[item.barcode] = key
        self.have = on_hand()
        self.seen: dict[ItemKey, int] = {}
        self.faulty = False

    def row(self, number: int, row: Sequence[str]) -> None:
        """Check one row, and plan what it says where it is sound."""
        self.number, self.faulty = number, False
        self.cells = {name: row[n].strip() if n < len(row) else "" for n, name in self.columns.items()}
        for n, cell in enumerate(row):
            if n not in self.columns and cell.strip():
                self.fault(f"column {n + 1}", "A cell must stand under a column's name", cell)
        self.check_texts()
        numbers = {name: self.number_in(name) for name in _NUMBERS}
        sort = self.sort()
        colour = self.colour(sort)
        if self.faulty or sort is None:
            return
        key = self.key(sort, colour, numbers["size"])
        if key is not None:
            self.plan(key, sort, colour, numbers)

    def fault(self, column: str, rule: str, value: str) -> None:
        """Write down what is wrong."""
        self.faulty = True
        self.found.faults.append(Fault(self.number, column, rule, _shown(value)))

    def check_texts(self) -> None:
        """No text is too long for its place or holds what cannot be printed."""
        for name, cell in self.cells.items():
            if len(cell) > _LONGEST.get(name, 500):
                self.fault(name, f"It must be at most {_LONGEST[name]} characters long", f"{len(cell)}: {cell}")
            elif any(unicodedata.category(letter) in ("Cc", "Cs") for letter in cell):
                self.fault(name, "It must hold no control characters", cell)

    def number_in(self, name: str) -> int | None:
        """A whole number within its bounds, None where the cell is empty or wrong."""
        cell = self.cells.get(name, "").replace(",", "") if name == "on_hand" else self.cells.get(name, "")
        if not cell:
            return None
        least, most = _NUMBERS[name]
        number = int(cell) if cell.isascii() and cell.isdigit() and len(cell) < 12 else -1
        if not least <= number <= most:
            self.fault(name, f"It must be a whole number from {least} to {most:,}", self.cells[name])
            return None
        return number

    def sort(self) -> str | None:
        """What the item is; a balloon where nothing says."""
        cell = self.cells.get("sort", "").casefold()
        by_name = {str(words).casefold(): value for value, words in Item.Sort.choices} | {
            v: v for v in Item.Sort.values
        }
        if not cell:
            return Item.Sort.LATEX.value
        if cell not in by_name:
            self.fault("sort", f"It must be {_list(Item.Sort.values)}", self.cells["sort"])
        return by_name.get(cell)

    def colour(self, sort: str | None) -> ColourKey | None:
        """The colour, one of the studio's or a new one with its swatch."""
        name = self.cells.get("colour", "")
        if not name:
            if sort == Item.Sort.LATEX:
                self.fault("colour", "A balloon needs its colour", "")
            return None
        finish = self.choice("finish", Colour.Finish.values, Colour.Finish.STANDARD.value)
        form = self.choice("shape", Colour.Form.values, Colour.Form.ROUND.value)
        if form != Colour.Form.ROUND and finish != Colour.Finish.FOIL:
            self.fault("shape", "Hearts and stars are foil; other finishes are round", f"{form}, {finish}")
        key = _colour_key(name, finish, form)
        self.check_swatch(key)
        return key

    def choice(self, name: str, allowed: Sequence[str], usual: str) -> str:
        """One of a list, the usual one where nothing says."""
        cell = self.cells.get(name, "").casefold() or usual
        if cell not in allowed:
            self.fault(name, f"It must be {_list(allowed)}", self.cells[name])
            return usual
        return cell

    def check_swatch(self, key: ColourKey) -> None:
        """A new colour needs a swatch, and a known one keeps its own."""
        cell = self.cells.get("swatch", "")
        known = self.colours.get(key)
        swatch = known.swatch if known else ""
        if not cell:
            if not swatch:
                self.fault("swatch", "A new colour needs its swatch, such as #1b1b1f", "")
            return
        try:
            typed = parse_swatch(cell)
        except ColourError:
            self.fault("swatch", "It must be a # and six of 0-9 and a-f, such as #1b1b1f", cell)
            return
        if swatch and typed != swatch:
            self.fault("swatch", f"It must be {swatch}, as the colour has already", cell)
        elif not swatch and not self.faulty:
            new = Colour(name=self.cells["colour"], finish=key[1], form=key[2], swatch=typed)
            self.found.new_colours[key] = self.colours[key] = new

    def key(self, sort: str, colour: ColourKey | None, size: int | None) -> ItemKey | None:
        """What tells the item from all others; None where the row does not say, or another row says it."""
        name = self.cells.get("name", "")
        if sort == Item.Sort.LATEX:
            if size is None:
                self.fault("size", "A balloon needs its nominal size in inches", "")
            if name:
                self.fault("name", "A balloon goes by its colour and size, without a name", name)
            key: ItemKey = (sort, colour, size, "")
        else:
            if not name:
                self.fault("name", "What is no balloon needs a name", "")
            key = (sort, None, None, name.casefold())
        if self.faulty:
            return None
        if key in self.seen:
            self.fault("all", f"Every item stands in one row; this one is in row {self.seen[key]:,} already", name)
            return None
        self.seen[key] = self.number
        return key

    def plan(self, key: ItemKey, sort: str, colour: ColourKey | None, numbers: dict[str, int | None]) -> None:
        """What the row would do."""
        code = self.cells.get("barcode", "")
        if code and self.codes.setdefault(code, key) != key:
            self.fault("barcode", "A barcode is one item's, and this one is another's", code)
            return
        is_new = key not in self.items
        item = self.items.get(key) or Item(sort=sort, size=numbers["size"], name=self.cells.get("name", ""))
        if not is_new:
            self.check_it_stays_what_it_is(item, colour, numbers["size"])
            if self.faulty:
                return
        said = {name: self.cells.get(name, "") if name in _LONGEST else numbers[name] for name in _KEPT}
        changed = tuple(
            name for name, value in said.items() if value not in ("", None) and (is_new or value != getattr(item, name))
        )
        for name in changed:
            setattr(item, name, said[name])
        counted = numbers["on_hand"]
        have = 0 if is_new else self.have[item.pk]
        difference = None if counted is None or counted == have else counted - have
        self.found.planned.append(PlannedItem(item, colour, is_new, changed, difference))

    def check_it_stays_what_it_is(self, item: Item, colour: ColourKey | None, size: int | None) -> None:
        """A thing with a name keeps its colour and size: another one is another thing."""
        own = _colour_key(item.colour.name, item.colour.finish, item.colour.form) if item.colour else None
        if colour is not None and colour != own:
            self.fault(
                "colour", f"It must stay {item.colour or 'empty'}: {item.label} is listed so", self.cells["colour"]
            )
        if size is not None and size != item.size:
            self.fault("size", f"It must stay {item.size or 'empty'}: {item.label} is listed so", self.cells["size"])


def _colour_key(name: str, finish: str, form: str) -> ColourKey:
    return (name.casefold(), finish, form)


def _item_key_of(item: Item) -> ItemKey:
    colour = item.colour
    if item.sort == Item.Sort.LATEX and colour is not None:
        return (item.sort, _colour_key(colour.name, colour.finish, colour.form), item.size, "")
    return (item.sort, None, None, item.name.casefold())


def _list(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"


def _shown(value: str) -> str:
    text = " ".join("".join(letter if letter.isprintable() else " " for letter in value).split())
    return f"“{text[:_SHOWN]}{'…' if len(text) > _SHOWN else ''}”" if text else "nothing"
