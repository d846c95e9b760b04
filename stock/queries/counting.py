"""The count of the shelf: place by place, what has been counted and what has not. Blind: a line says what was expected
only once it is there."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from stock.models import CountLine, CountSheet, Item, ShelfRules


@dataclass(frozen=True)
class CountRow:
    """One item to count, and what was counted of it, if anything."""

    item: Item
    line: CountLine | None
    most_unexplained: int

    @property
    def lacks_reason(self) -> bool:
        """Whether it differs by more than may go unexplained, and nobody has said why."""
        return self.line is not None and self.line.lacks_reason(self.most_unexplained)


@dataclass(frozen=True)
class CountPlace:
    """A place on the shelf: how many items lie there and how many are counted. No name: items without a place."""

    name: str
    items: int
    counted: int

    @property
    def is_done(self) -> bool:
        """Whether everything there is counted."""
        return self.counted == self.items


@dataclass(frozen=True)
class ShelfCount:
    """The whole count: its sheet, if one is open, every item in the order of the shelf, and the places."""

    sheet: CountSheet | None
    rows: tuple[CountRow, ...]
    places: tuple[CountPlace, ...]

    def at(self, place: str) -> tuple[CountRow, ...]:
        """What lies at one place."""
        return tuple(row for row in self.rows if row.item.place == place)

    def found(self, asked: str) -> tuple[CountRow, ...]:
        """The item of a barcode, else those whose name has the words in it."""
        by_code = tuple(row for row in self.rows if row.item.barcode and row.item.barcode == asked.strip())
        words = asked.casefold().split()
        named = (row for row in self.rows if all(word in row.item.label.casefold() for word in words))
        return by_code or (tuple(named) if words else ())

    @property
    def counted(self) -> tuple[CountRow, ...]:
        """What has been counted."""
        return tuple(row for row in self.rows if row.line is not None)

    @property
    def differing(self) -> tuple[CountRow, ...]:
        """What was not as many as the ledger said, the largest difference first."""
        off = [row for row in self.counted if row.line is not None and row.line.difference]
        return tuple(sorted(off, key=lambda row: -abs(row.line.difference if row.line else 0)))

    @property
    def lacking_reasons(self) -> tuple[CountRow, ...]:
        """What needs a reason before the count can be finished."""
        return tuple(row for row in self.counted if row.lacks_reason)


def shelf_count() -> ShelfCount:
    """The count as it stands. Four statements at most."""
    sheet = CountSheet.objects.filter(is_open=True).select_related("started_by").first()
    lines = {line.item_id: line for line in sheet.lines.select_related("by")} if sheet else {}
    most = ShelfRules.objects.current().most_unexplained
    # A stable sort: within a place the order of the shelf stays; what has no place comes last.
    items = sorted(Item.objects.with_colour().shelf_order(), key=lambda item: (not item.place, _as_walked(item.place)))
    rows = [CountRow(item, lines.get(item.pk), most) for item in items]
    return ShelfCount(sheet, tuple(rows), _places(rows))


def count_row(item: Item) -> CountRow:
    """One item of the count as it stands."""
    line = CountLine.objects.filter(item=item, sheet__is_open=True).select_related("by").first()
    return CountRow(item, line, ShelfRules.objects.current().most_unexplained)


def _as_walked(place: str) -> tuple[list[tuple[int, int, str]], str]:
    """The order places are walked in: Rack 2 before Rack 10, whatever the capitals."""
    parts = re.findall(r"[0-9]+|[^0-9]+", place.casefold())
    return [(0, int(part), "") if part[0] in "0123456789" else (1, 0, part) for part in parts], place


def _places(rows: Sequence[CountRow]) -> tuple[CountPlace, ...]:
    there: dict[str, list[bool]] = {}
    for row in rows:
        there.setdefault(row.item.place, []).append(row.line is not None)
    return tuple(CountPlace(name, len(done), sum(done)) for name, done in there.items())
