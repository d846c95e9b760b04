"""The shelf as a grid of colours by sizes, and the story of one item."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.core.paginator import Page, Paginator
from django.db.models import F, QuerySet, Sum, Value, Window

from stock.cover import Arrival, Need
from stock.lots import AGEING_MONTHS, Ageing, LotLeft, ageing, months_after
from stock.models import Colour, Item, Movement, Offer, Order, OrderLine, Reservation
from stock.queries.balances import Coming, arriving, lots_on_hand

MOVEMENTS_A_PAGE = 50


@dataclass(frozen=True)
class Cell:
    """One item on the shelf: counted, promised, and on its way.

    `free` is on hand less every firm open reservation, whatever its day; `state` is one word for it: "short"
    (more promised than there is), "low" (below the keep-back level), "none" or "fine".
    """

    item: Item
    on_hand: int
    free: int
    arriving: int
    keep_back: int

    @property
    def short_by(self) -> int:
        """How many more are promised than there are; 0 where there are enough."""
        return max(-self.free, 0)

    @property
    def is_out(self) -> bool:
        """Whether even what is on its way leaves some promised that are not there."""
        return self.short_by > self.arriving

    @property
    def is_bare(self) -> bool:
        """Whether there is none, and none is promised."""
        return self.on_hand == 0 and self.free == 0

    @property
    def free_words(self) -> str:
        """How many can still be promised: “12 free”, “short 56”."""
        return f"short {self.short_by:,}" if self.state == "short" else f"{self.free:,} free"

    @property
    def badge_words(self) -> str:
        """The same for a badge of its own: “3 free, low”."""
        return f"{self.free_words}, low" if self.state == "low" else self.free_words

    @property
    def badge(self) -> str:
        """How that badge looks."""
        return {"short": "short", "low": "waiting"}.get(self.state, "plain")

    @property
    def state(self) -> str:
        """The word that goes with the figures."""
        if self.free < 0:
            return "short"
        if self.free < self.keep_back:
            return "low"
        return "fine" if self.on_hand else "none"


@dataclass(frozen=True)
class ShelfRow:
    """One colour; `cells` go with the shelf's sizes, None where there is no such item."""

    colour: Colour
    cells: tuple[Cell | None, ...]


@dataclass(frozen=True)
class Shelf:
    """Balloons by colour and size, then everything else. Sizes are nominal, in inches."""

    sizes: tuple[int, ...]
    rows: tuple[ShelfRow, ...]
    others: tuple[Cell, ...]


@dataclass(frozen=True)
class ItemStory:
    """One item: every movement, newest first and in pages, each with what was on hand `after` it."""

    cell: Cell
    movements: Page[Any]
    reservations: tuple[Reservation, ...]
    arrivals: tuple[Coming, ...]
    offers: tuple[Offer, ...]
    lots: tuple[LotLeft, ...] = ()

    def ageing(self, today: date) -> Ageing:
        """What is too old for its job or expires within the months that are watched."""
        needs = [
            Need(held.pk, held.needed_on, held.booking, held.booking_name, held.quantity, held.firm)
            for held in self.reservations
            if held.firm
        ]
        arrivals = [Arrival(coming.day, coming.quantity, coming.label) for coming in self.arrivals]
        return ageing(self.lots, arrivals, needs, today=today, until=months_after(today, AGEING_MONTHS))


def shelf() -> Shelf:
    """Every colour in use, every colour with an item, and every item. Three statements."""
    colours = {colour.pk: colour for colour in Colour.objects.order_by("position", "name", "pk")}
    items = list(Item.objects.shelf_order())
    for item in items:
        if item.colour_id is not None:
            item.colour = colours[item.colour_id]
    by_colour: dict[int, dict[int, Cell]] = defaultdict(dict)
    others = []
    for cell in _cells(items):
        if cell.item.sort == Item.Sort.LATEX and cell.item.colour_id is not None and cell.item.size is not None:
            by_colour[cell.item.colour_id][cell.item.size] = cell
        else:
            others.append(cell)
    sizes = tuple(sorted({size for cells in by_colour.values() for size in cells}))
    rows = tuple(
        ShelfRow(colour, tuple(by_colour[colour.pk].get(size) for size in sizes))
        for colour in colours.values()
        if colour.in_use or colour.pk in by_colour
    )
    return Shelf(sizes, rows, tuple(others))


def item_story(item: Item, *, today: date | None = None, page: int | str | None = 1) -> ItemStory:
    """What happened to one item, who it is held for, what is on its way and who sells it.

    Given `today`, tentative promises that have lapsed are left out.
    """
    (cell,) = _cells([item], only=item.pk)
    held = Reservation.objects.open() if today is None else Reservation.objects.holding(today)
    after = Window(Sum("quantity"), partition_by=F("item"), order_by=F("pk").asc())
    movements = (
        Movement.objects.filter(item=item).select_related("by", "order_line").annotate(after=after).order_by("-pk")
    )
    return ItemStory(
        cell=cell,
        movements=Paginator(movements, MOVEMENTS_A_PAGE).get_page(page),
        lots=tuple(lots_on_hand([item.pk]).get(item.pk, [])),
        reservations=tuple(held.filter(item=item).order_by("needed_on", "pk")),
        arrivals=tuple(arriving([item.pk])),
        offers=tuple(
            Offer.objects.filter(item=item).select_related("supplier").order_by("supplier__name", "pack_size")
        ),
    )


def _cells(items: Iterable[Item], only: int | None = None) -> list[Cell]:
    to_come = OrderLine.objects.filter(order__state=Order.State.PLACED, received__lt=F("packs") * F("pack_size"))
    have, promised, coming = _sums_by_item(
        (Movement.objects.all(), Sum("quantity")),
        (Reservation.objects.open().firm(), Sum("quantity")),
        (to_come, Sum(F("packs") * F("pack_size") - F("received"))),
        only=only,
    )
    return [
        Cell(item, there, there - promised.get(item.pk, 0), coming.get(item.pk, 0), item.keep_back)
        for item in items
        for there in [have.get(item.pk, 0)]
    ]


def _sums_by_item(*parts: tuple[QuerySet[Any], Sum], only: int | None) -> list[dict[int, int]]:
    """For each part, item key to its total over the part's rows, of one item or of all; those without a row are left
    out. One statement."""
    rows = [
        (found if only is None else found.filter(item=only))
        .order_by()
        .values("item_id")
        .annotate(sum=total)
        .values_list(Value(n), "item_id", "sum")
        for n, (found, total) in enumerate(parts)
    ]
    sums: list[dict[int, int]] = [{} for _ in parts]
    for n, item, total in rows[0].union(*rows[1:], all=True):
        sums[n][item] = total
    return sums
