"""A table of items: colour by size, or a sort and a name, how it is kept, and how many were counted."""

from stock.lots import MOST_MONTHS
from stock.models import Colour, Item
from stock.queries.balances import on_hand
from stock.queries.dry_run.found import ColourKey, PlannedItem
from stock.queries.dry_run.sheet import SheetCheck, in_a_list, key_of_colour
from stock.queries.tables import ITEM_COLUMNS
from stock.weighing import MOST_LITRES, MOST_MILLIGRAMS

_MOST = 1_000_000
_KEPT = ("unit", "keep_back", "place", "best_before_months", "piece_milligrams", "room_millilitres", "barcode")
ItemKey = tuple[str, ColourKey | None, int | None, str]


class WhichItem(SheetCheck):
    """What every table needs that names an item: its sort, and a colour and a size or a name."""

    def sort(self) -> str | None:
        """What the item is; a balloon where nothing says."""
        cell = self.cells.get("sort", "").casefold()
        by_name = {str(words).casefold(): value for value, words in Item.Sort.choices} | {
            v: v for v in Item.Sort.values
        }
        if not cell:
            return Item.Sort.LATEX.value
        if cell not in by_name:
            self.fault("sort", f"It must be {in_a_list(Item.Sort.values)}", self.cells["sort"])
        return by_name.get(cell)

    def key(self, sort: str, colour: ColourKey | None, size: int | None) -> ItemKey | None:
        """What tells the item from all others; None where the row does not say."""
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
        return None if self.faulty else key


class ItemCheck(WhichItem):
    """One pass over a table of items, with what the shelf knows at hand."""

    columns = ITEM_COLUMNS
    longest = {"colour": 40, "name": 60, "unit": 12, "place": 40, "barcode": 48}
    bounds = {
        "size": (1, 400),
        "keep_back": (0, _MOST),
        "best_before_months": (0, MOST_MONTHS),
        "piece_milligrams": (1, MOST_MILLIGRAMS),
        "room_millilitres": (1, 1000 * MOST_LITRES),
        "on_hand": (0, _MOST),
    }

    def missing_columns(self, names: set[str]) -> str:
        """A balloon's two columns, or a name's."""
        enough = "name" in names or {"colour", "size"} <= names
        return "" if enough else "The first row must name the columns, colour and size or name"

    def learn(self) -> None:
        """Colours, items, barcodes and balances. Three statements."""
        self.colours = {key_of_colour(c.name, c.finish, c.form): c for c in Colour.objects.all()}
        self.items: dict[ItemKey, Item] = {}
        self.codes: dict[str, ItemKey] = {}
        for item in Item.objects.with_colour():
            key = key_of_item(item)
            self.items[key] = item
            if item.barcode:
                self.codes[item.barcode] = key
        self.have = on_hand()
        self.seen: dict[ItemKey, int] = {}

    def check_row(self) -> None:
        """Check one row, and plan what it says where it is sound."""
        numbers = {name: self.number_in(name) for name in self.bounds}
        sort = self.sort()
        colour = self.colour(sort)
        if self.faulty or sort is None:
            return
        key = self.key(sort, colour, numbers["size"])
        if key is not None and self.is_new_to(self.seen, key, "item", self.cells.get("name", "")):
            self.plan(key, sort, colour, numbers)

    def colour(self, sort: str | None) -> ColourKey | None:
        """The colour, one of the studio's or a new one with its swatch."""
        if not self.cells.get("colour", ""):
            if sort == Item.Sort.LATEX:
                self.fault("colour", "A balloon needs its colour", "")
            return None
        key = self.colour_key()
        self.check_swatch(key)
        return key

    def check_swatch(self, key: ColourKey) -> None:
        """A new colour needs a swatch, and a known one keeps its own."""
        cell = self.cells.get("swatch", "")
        known = self.colours.get(key)
        if not cell and known is None:
            self.fault("swatch", "A new colour needs its swatch, such as #1b1b1f", "")
        typed = self.swatch_in("swatch")
        if typed is None:
            return
        if known is not None and typed != known.swatch:
            self.fault("swatch", f"It must be {known.swatch}, as the colour has already", cell)
        elif known is None and not self.faulty:
            new = Colour(name=self.cells["colour"], finish=key[1], form=key[2], swatch=typed)
            self.found.new_colours[key] = self.colours[key] = new

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
        said = {name: self.cells.get(name, "") if name in self.longest else numbers[name] for name in _KEPT}
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
        own = key_of_colour(item.colour.name, item.colour.finish, item.colour.form) if item.colour else None
        if colour is not None and colour != own:
            self.fault(
                "colour", f"It must stay {item.colour or 'empty'}: {item.label} is listed so", self.cells["colour"]
            )
        if size is not None and size != item.size:
            self.fault("size", f"It must stay {item.size or 'empty'}: {item.label} is listed so", self.cells["size"])


def key_of_item(item: Item) -> ItemKey:
    """What tells an item from all others in a table."""
    colour = item.colour
    if item.sort == Item.Sort.LATEX and colour is not None:
        return (item.sort, key_of_colour(colour.name, colour.finish, colour.form), item.size, "")
    return (item.sort, None, None, item.name.casefold())
