"""Tables of colours, of suppliers and of what they offer."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db.models import Model

from stock.models import MOST_IN_A_PACK, MOST_LEAD_DAYS, MOST_PRICE_MINOR, Colour, Item, Offer, Supplier
from stock.queries.buying_tables import OFFER_COLUMNS, SUPPLIER_COLUMNS
from stock.queries.dry_run.found import ColourKey, PlannedRecord
from stock.queries.dry_run.items import ItemKey, WhichItem, key_of_item
from stock.queries.dry_run.sheet import SheetCheck, key_of_colour
from stock.queries.tables import COLOUR_COLUMNS
from studio.models import Studio


class ColourCheck(SheetCheck):
    """One pass over a table of colours."""

    columns = COLOUR_COLUMNS
    longest = {"colour": 40}
    bounds = {"position": (0, 9999)}

    def missing_columns(self, names: set[str]) -> str:
        """A colour goes by its name."""
        return "" if "colour" in names else "The first row must name the column colour"

    def learn(self) -> None:
        """The studio's colours. One statement."""
        self.colours = {key_of_colour(c.name, c.finish, c.form): c for c in Colour.objects.all()}
        self.seen: dict[ColourKey, int] = {}

    def check_row(self) -> None:
        """A name with its finish and shape, a swatch, a place in the list, and whether it is in use."""
        name = self.cells["colour"]
        if not name:
            self.fault("colour", "A colour needs its name", "")
        key = self.colour_key()
        swatch, position = self.swatch_in("swatch"), self.number_in("position")
        in_use = self.choice("in_use", ("yes", "no"), "yes") if self.cells.get("in_use") else None
        known = self.colours.get(key)
        if known is None and not self.cells.get("swatch"):
            self.fault("swatch", "A new colour needs its swatch, such as #1b1b1f", "")
        if self.faulty or not self.is_new_to(self.seen, key, "colour", name):
            return
        said = {"swatch": swatch, "position": position, "in_use": None if in_use is None else in_use == "yes"}
        self.found.records.append(planned(known, Colour(name=name, finish=key[1], form=key[2]), said))


class SupplierCheck(SheetCheck):
    """One pass over a table of suppliers."""

    columns = SUPPLIER_COLUMNS
    longest = {"supplier": 80, "email": 254, "phone": 40}
    bounds: Mapping[str, tuple[int, int]] = {}

    def missing_columns(self, names: set[str]) -> str:
        """A supplier goes by its name."""
        return "" if "supplier" in names else "The first row must name the column supplier"

    def learn(self) -> None:
        """The studio's suppliers, and the money it reckons in. Two statements."""
        self.suppliers = Suppliers(Supplier.objects.all())
        self.currency = Studio.objects.current().currency
        self.seen: dict[str, int] = {}

    def check_row(self) -> None:
        """A name, how to reach them, and what an order costs."""
        name, email = self.cells["supplier"], self.cells.get("email", "")
        if not name:
            self.fault("supplier", "A supplier needs a name", "")
        if email:
            try:
                validate_email(email)
            except ValidationError:
                self.fault("email", "It must be an address such as hello@example.com", email)
        check_currency(self, self.currency)
        money = ("delivery", "free_from", "minimum")
        amounts = {name: self.amount_in(name, self.currency, MOST_PRICE_MINOR) for name in money}
        known = self.suppliers.named(name, self)
        if self.faulty or not self.is_new_to(self.seen, name.casefold(), "supplier", name):
            return
        said: dict[str, object] = {"email": email or None, "phone": self.cells.get("phone") or None}
        said |= {f"{name}_minor": minor for name, minor in amounts.items()}
        self.found.records.append(planned(known, Supplier(name=name), said))


class OfferCheck(WhichItem):
    """One pass over a table of offers. Who offers, and what is offered, must be listed already."""

    columns = OFFER_COLUMNS
    longest = {"supplier": 80, "colour": 40, "name": 60, "their_name": 80, "their_code": 40}
    bounds = {"size": (1, 400), "pack_size": (1, MOST_IN_A_PACK), "lead_days": (0, MOST_LEAD_DAYS)}

    def missing_columns(self, names: set[str]) -> str:
        """Who, what, and in which pack."""
        enough = {"supplier", "pack_size"} <= names and ("name" in names or {"colour", "size"} <= names)
        return "" if enough else "The first row must name the columns supplier, pack_size, and colour and size or name"

    def learn(self) -> None:
        """Suppliers, items, offers, and the money the studio reckons in. Four statements."""
        self.suppliers = Suppliers(Supplier.objects.all())
        self.items: dict[ItemKey, Item] = {key_of_item(item): item for item in Item.objects.with_colour()}
        self.offers = {(offer.supplier_id, offer.item_id, offer.pack_size): offer for offer in Offer.objects.all()}
        self.currency = Studio.objects.current().currency
        self.seen: dict[tuple[int, int, int], int] = {}

    def check_row(self) -> None:
        """Who offers what in which pack, at which price, how soon, and what they call it."""
        numbers = {name: self.number_in(name) for name in self.bounds}
        price = self.amount_in("price", self.currency, MOST_PRICE_MINOR)
        check_currency(self, self.currency)
        supplier, item = self.supplier(), self.item(numbers["size"])
        pack_size = numbers["pack_size"]
        if not self.cells.get("pack_size"):
            self.fault("pack_size", "An offer needs how many are in a pack", "")
        if self.faulty or supplier is None or item is None or pack_size is None:
            return
        key = (supplier.pk, item.pk, pack_size)
        known = self.offers.get(key)
        for column in ("price", "lead_days") if known is None else ():
            if not self.cells.get(column):
                self.fault(column, f"A new offer needs its {column.replace('_', ' ')}", "")
        if self.faulty or not self.is_new_to(self.seen, key, "offer", item.label):
            return
        said: dict[str, object] = {"price_minor": price, "lead_days": numbers["lead_days"]}
        said |= {name: self.cells.get(name) or None for name in ("their_name", "their_code")}
        self.found.records.append(planned(known, Offer(supplier=supplier, item=item, pack_size=pack_size), said))

    def supplier(self) -> Supplier | None:
        """Who offers it: one of the studio's suppliers."""
        name = self.cells["supplier"]
        found = self.suppliers.named(name, self)
        if found is None and not self.suppliers.are_several(name):
            self.fault("supplier", "It must be one of your suppliers; send those in first", name)
        return found

    def item(self, size: int | None) -> Item | None:
        """What is offered: one of the shelf's items."""
        sort = self.sort()
        if sort == Item.Sort.LATEX and not self.cells.get("colour"):
            self.fault("colour", "A balloon needs its colour", "")
        colour = self.colour_key() if sort == Item.Sort.LATEX else None
        if self.faulty or sort is None:
            return None
        key = self.key(sort, colour, size)
        item = None if key is None else self.items.get(key)
        if key is not None and item is None:
            said = f"{self.cells.get('colour', '')} {size}-inch" if colour else self.cells.get("name", "")
            self.fault("all", "It must be on the shelf's list; send the items in first", said)
        return item


class Suppliers:
    """Suppliers by name, however it is capitalised."""

    def __init__(self, suppliers: Iterable[Supplier]) -> None:
        self._named: dict[str, list[Supplier]] = defaultdict(list)
        for supplier in suppliers:
            self._named[supplier.name.casefold()].append(supplier)

    def are_several(self, name: str) -> bool:
        """Whether a name is more than one's and exactly nobody's."""
        found = self._named.get(name.casefold(), [])
        return len(found) > 1 and all(one.name != name for one in found)

    def named(self, name: str, check: SheetCheck) -> Supplier | None:
        """The one of this name; None where there is none, and a fault where there are several."""
        found = self._named.get(name.casefold(), [])
        if self.are_several(name):
            check.fault("supplier", f"{len(found)} suppliers are called so: write it as one of them is", name)
            return None
        exact = [one for one in found if one.name == name]
        return next(iter(exact or found), None)


def check_currency(check: SheetCheck, currency: str) -> None:
    """Amounts are in the studio's money, where the row says in which they are."""
    cell = check.cells.get("currency", "")
    if cell and cell.upper() != currency:
        check.fault("currency", f"It must be {currency}, as everything here is", cell)


def planned(known: Model | None, new: Model, said: Mapping[str, object]) -> PlannedRecord:
    """The record with what the row says; an empty cell, None here, leaves what is there or takes what is usual."""
    record = known or new
    changed = tuple(
        name for name, value in said.items() if value is not None and (known is None or value != getattr(known, name))
    )
    for name in changed:
        setattr(record, name, said[name])
    return PlannedRecord(record, known is None, changed)
