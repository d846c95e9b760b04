"""What to take off the shelf and load for one booking: by place and lot, the soonest to expire first, and its ticks."""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from bookings.models import Booking, PullTick
from stock.lots import LotLeft, in_order_of_use, take
from stock.models import Item
from stock.queries import held_and_taken, lots_on_hand

_MOST_SAID = 6


@dataclass(frozen=True, slots=True)
class PullLine:
    """So many of an item to take out of one lot. `left` is what the lot has by the ledger; `tick` is who took it.

    `asked` is 0 where a tick is not needed any more.
    """

    item: Item
    lot: int | None
    place: str
    best_before: date | None
    asked: int
    left: int
    tick: PullTick | None = None

    @property
    def key(self) -> str:
        """Its name on the page: the item's number and the lot's, 0 for no lot."""
        return f"{self.item.pk}-{self.lot or 0}"

    @property
    def taken(self) -> int:
        """How many were taken."""
        return self.tick.taken if self.tick else 0

    @property
    def is_ticked(self) -> bool:
        """Whether somebody took all that was asked, or said how many they found."""
        return self.tick is not None and self.tick.asked >= self.asked

    @property
    def missing(self) -> int:
        """How many are still to be taken."""
        return max(self.asked - self.taken, 0)

    @property
    def unit(self) -> str:
        """What is counted, where it is not single things."""
        return "" if self.item.unit == "each" else self.item.unit


@dataclass(frozen=True, slots=True)
class PullPlace:
    """A place on the shelf, and what lies there. No name: what has no place yet."""

    name: str
    lines: tuple[PullLine, ...]


@dataclass(frozen=True, slots=True)
class PullList:
    """All of it. `absent` is what is promised and not on the shelf; `out` is what was taken off it before.

    Both are (item, quantity). `holds` says whether there is anything left to take.
    """

    places: tuple[PullPlace, ...]
    absent: tuple[tuple[Item, int], ...]
    out: tuple[tuple[Item, int], ...]

    @property
    def lines(self) -> list[PullLine]:
        """Every line, place after place."""
        return [line for place in self.places for line in place.lines]

    @property
    def ticked(self) -> int:
        """How many lines are ticked."""
        return sum(line.is_ticked for line in self.lines)

    @property
    def can_be_issued(self) -> bool:
        """Whether something was taken that the shelf does not know of yet."""
        return any(line.taken for line in self.lines)

    @property
    def is_complete(self) -> bool:
        """Whether nothing is missing."""
        return not self.said_missing

    @property
    def said_missing(self) -> str:
        """What is missing, in a sentence: “Still missing: 38 of 40 Gold 5-inch taken; …”. Nothing where nothing is."""
        said = [_missing_words(line) for line in self.lines if line.missing]
        said += [f"{quantity:,} {item.label} not on the shelf" for item, quantity in self.absent]
        if not said:
            return ""
        more = len(said) - _MOST_SAID
        end = f"; and {more:,} more line{'' if more == 1 else 's'}" if more > 0 else ""
        return f"Still missing: {'; '.join(said[:_MOST_SAID])}{end}."

    @property
    def stamp(self) -> str:
        """Short text that changes whenever anything a reader sees does."""
        seen = [
            (line.key, line.asked, line.place, line.tick and (line.tick.pk, line.tick.taken, line.tick.by_id))
            for line in self.lines
        ]
        rest = [(item.pk, quantity) for item, quantity in (*self.absent, *self.out)]
        return hashlib.sha256(repr((seen, rest)).encode()).hexdigest()[:16]


def pull_list(booking: Booking) -> PullList:
    """What a booking holds firmly and has not taken yet, with what is ticked. Four statements, however long it is."""
    wanted, out = held_and_taken(booking.pk)
    ticks: dict[int, dict[int | None, PullTick]] = {}
    for tick in PullTick.objects.waiting().filter(booking=booking).select_related("by", "lot").order_by("pk"):
        ticks.setdefault(tick.item_id, {})[tick.lot_id] = tick
    shown = Item.objects.filter(pk__in={*wanted, *ticks, *out}).with_colour().shelf_order()
    lots = lots_on_hand({*wanted, *ticks})
    lines: list[PullLine] = []
    absent: list[tuple[Item, int]] = []
    gone: list[tuple[Item, int]] = []
    for item in shown:
        of_it, lacking = _lines_of(item, wanted.get(item.pk, 0), lots.get(item.pk, []), ticks.get(item.pk, {}))
        lines += of_it
        absent += [(item, lacking)] if lacking else []
        gone += [(item, out[item.pk])] if item.pk in out else []
    # A stable sort: within a place the order of the shelf stays; what has no place comes last.
    lines.sort(key=lambda line: (not line.place, line.place.casefold(), line.place))
    return PullList(tuple(_places(lines)), tuple(absent), tuple(gone))


def _lines_of(
    item: Item, wanted: int, lots: Iterable[LotLeft], ticks: Mapping[int | None, PullTick]
) -> tuple[list[PullLine], int]:
    """The lines of one item, in the order of its lots, and how many the shelf does not have."""
    there = {lot.key: lot for lot in in_order_of_use(lots)}
    for key, tick in ticks.items():
        if key not in there:
            there[key] = _emptied(tick)
    over = max(sum(tick.asked for tick in ticks.values()) - wanted, 0)
    more = max(wanted - sum(tick.asked for tick in ticks.values()), 0)
    free = [_with(lot, lot.left - (ticks[lot.key].taken if lot.key in ticks else 0)) for lot in there.values()]
    at_hand = min(more, sum(max(lot.left, 0) for lot in free))
    parts = {lot.key: part for lot, part in take(free, at_hand)}
    lines = []
    # What is not needed any more is taken off the last ticks, so that the oldest lot is still used first.
    for lot in reversed(there.values()):
        ticked = ticks.get(lot.key)
        asked = ticked.asked if ticked else 0
        spared = min(over, asked)
        over -= spared
        if ticked or lot.key in parts:
            asked += parts.get(lot.key, 0) - spared
            place = lot.place or item.place
            lines.append(PullLine(item, lot.key, place, lot.best_before, asked, max(lot.left, 0), ticked))
    return lines[::-1], more - at_hand


def _emptied(tick: PullTick) -> LotLeft:
    """The lot of a tick, of which the ledger has nothing left."""
    lot = tick.lot
    return LotLeft(lot.pk, 0, lot.received_on, lot.best_before, lot.place) if lot else LotLeft(None, 0)


def _with(lot: LotLeft, left: int) -> LotLeft:
    return LotLeft(lot.key, left, lot.received_on, lot.best_before, lot.place)


def _places(lines: Iterable[PullLine]) -> list[PullPlace]:
    there: dict[str, list[PullLine]] = {}
    for line in lines:
        there.setdefault(line.place, []).append(line)
    return [PullPlace(name, tuple(of_it)) for name, of_it in there.items()]


def _missing_words(line: PullLine) -> str:
    unit = f" {line.unit}" if line.unit else ""
    if line.tick is None:
        return f"{line.asked:,}{unit} {line.item.label} not ticked"
    return f"{line.taken:,} of {line.asked:,}{unit} {line.item.label} taken"
