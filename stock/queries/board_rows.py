"""One item of the weekly check: its figures, its drawing and its words."""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from stock.cover import ItemCover
from stock.lots import Ageing, in_few_words
from stock.models import Item, Offer
from studio.chart import ChartShape, step_chart

_LONGEST_NAME = 24
_NUMBERS = ("One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve")


@dataclass(frozen=True)
class Suggestion:
    """The packs of one offer that put an item right. The offer holds a price: that is the owner's alone.

    `order_by` is the last day to order them on so that nobody goes without; None where nobody would.
    """

    offer: Offer
    packs: int
    order_by: date | None

    @property
    def quantity(self) -> int:
        """How many that brings."""
        return self.packs * self.offer.pack_size

    @property
    def words(self) -> str:
        """Without the price: “1 bag of 100”."""
        pack = pack_word(self.offer.item)
        return f"{self.packs:,} {pack if self.packs == 1 else pack + 's'} of {self.offer.pack_size:,}"


@dataclass(frozen=True)
class WeekCell:
    """The least an item comes down to in one week."""

    monday: date
    balance: int
    is_short: bool


@dataclass(frozen=True)
class BoardRow:
    """One item over the board's weeks.

    `weekly` is the least held in each week. `needed` is how many are needed, and `arrived` how many come, up to the
    first day somebody goes without (else the first below what is kept back, else the end). `planned` is on orders
    not placed yet, which cover nothing until they are. `buy` is None where nothing need be bought, and where
    nothing would come in time.
    """

    item: Item
    cover: ItemCover
    weekly: tuple[int, ...]
    needed: int
    arrived: int
    planned: int
    buy: Suggestion | None
    is_offered: bool
    is_busy: bool
    sentence: str
    ageing: Ageing = field(default_factory=Ageing)
    pack_size: int | None = None

    @property
    def is_short(self) -> bool:
        """Whether there is a day it runs short on."""
        return self.cover.first_short is not None

    @property
    def short_on(self) -> date | None:
        """The first day somebody goes without, else the first below what is kept back."""
        return self.cover.first_empty or self.cover.first_short

    @property
    def order_by(self) -> date | None:
        """The last day to order on, where there still is one."""
        if self.buy is not None:
            return self.buy.order_by
        return None if self.cover.too_late else self.cover.order_by

    @property
    def act_by(self) -> date | None:
        """The day to do something by: the last to order on, or the short day where nothing comes in time."""
        return self.order_by or self.short_on

    @property
    def is_on_plan(self) -> bool:
        """Whether the order being planned would put it right, once it is placed."""
        return self.is_short and self.planned >= self.cover.short_by

    @property
    def nothing_comes(self) -> bool:
        """Whether somebody goes without and nothing that is ordered or planned today would change it."""
        return self.cover.first_empty is not None and self.buy is None and not self.is_on_plan

    @property
    def told(self) -> list[str]:
        """Lines of plain text, without a price: the sentence, then who goes without and what to buy, set in."""
        lines = [self.sentence]
        lines += [
            f"  {hit.name} goes without {hit.short:,} on {hit.day:%a} {hit.day.day} {hit.day:%b}."
            for hit in self.cover.hit
        ]
        if self.is_on_plan:
            lines.append(f"  {self.planned:,} are on an order not placed yet. {self.what_to_do}.")
        elif self.buy is not None:
            lines.append(f"  {self.what_to_do}, from {self.buy.offer.supplier}.")
        return lines

    @property
    def headline(self) -> str:
        """Without the item's name: “runs short by 56”."""
        if self.cover.first_empty is not None:
            return f"runs short by {-self.cover.balance_on(self.cover.first_empty):,}"
        if self.is_short:
            lowest = self.cover.keep_back - self.cover.short_by
            return f"falls to {lowest:,}, below the {self.cover.keep_back:,} kept back"
        return "is covered"

    @property
    def what_to_do(self) -> str:
        """In a few words, without a price, and what grows too old."""
        old = in_few_words(self.ageing, today=self.cover.today, pack_size=self.pack_size, pack=pack_word(self.item))
        return f"{self._about_the_count} · {old}" if old else self._about_the_count

    @property
    def _about_the_count(self) -> str:
        if not self.is_short:
            overdue = sum(arrival.quantity for arrival in self.cover.late)
            return f"Covered; {overdue:,} overdue" if overdue else "Covered"
        by = f" {by_words(self.order_by, self.cover.today)}" if self.order_by else ""
        if self.is_on_plan:
            return f"Place the planned order{by}"
        if self.buy is not None:
            return f"Buy {self.buy.words}{by}"
        return f"No {pack_word(self.item)} arrives in time" if self.is_offered else "No supplier offers it"

    def cells(self, mondays: Sequence[date]) -> tuple[WeekCell, ...]:
        """The weeks of the board, each with whether it runs short in it."""
        return tuple(
            WeekCell(monday, balance, balance < self.cover.keep_back)
            for monday, balance in zip(mondays, self.weekly, strict=True)
        )

    def chart(self, until: date, *, width: int, height: int) -> ChartShape:
        """The balance day by day up to and including `until`."""
        points = [(self.cover.today, self.cover.on_hand, "")]
        points += [
            (step.day, step.balance, f"{_short_name(step.label)} {signed(step.change)}") for step in self.cover.steps
        ]
        return step_chart(
            points,
            today=self.cover.today,
            until=until + timedelta(days=1),
            width=width,
            height=height,
            keep_back=self.item.keep_back,
        )


@dataclass(frozen=True)
class StandIn:
    """An item that could be used instead, and how many of it nobody was promised on the day.

    `distance` is how far its colour looks from the one that is short (ΔE); None where the colour is the same.
    """

    item: Item
    free: int
    distance: float | None

    @property
    def words(self) -> str:
        """ "Ink 24-inch (ΔE 3.1), 6 free", or "Black 16-inch blown smaller, 40 free"."""
        how = " blown smaller" if self.distance is None else f" (ΔE {self.distance:.1f})"
        return f"{self.item.label}{how}, {self.free:,} free"


@dataclass(frozen=True)
class ShortCard:
    """One short item as it stands on a page, with a drawing that fits a phone."""

    row: BoardRow
    chart: ChartShape
    instead: tuple[StandIn, ...] = ()


def board_sentence(short: Sequence[BoardRow], count: int, first_monday: date, weeks: int, today: date) -> str:
    """What the whole check of `count` items found, in words; `short` are those that run short, in the board's order."""
    number = _NUMBERS[weeks - 1] if weeks <= len(_NUMBERS) else str(weeks)
    span = f"{number} week{'' if weeks == 1 else 's'} from {first_monday:%a} {first_monday.day} {first_monday:%b}."
    if not count:
        return f"{span} Nothing is listed on the shelf yet."
    if not short:
        return f"{span} {'The one item is' if count == 1 else f'All {count:,} items are'} covered."
    counted = f"{len(short):,} of {count:,} item{'' if count == 1 else 's'} run{'s' if len(short) == 1 else ''}"
    return f"{span} {counted} short. {_first_to_act_on(short[0], today)}"


def _first_to_act_on(row: BoardRow, today: date) -> str:
    begins = f"The first to act on is {row.item.label}"
    if row.order_by is not None:
        return f"{begins}, {by_words(row.order_by, today)}."
    if row.buy is not None or row.is_on_plan:
        return f"{begins}."
    if row.short_on is None:
        raise ValueError(f"{row.item.label} is not short.")
    why = "nothing ordered today comes in time" if row.is_offered else "no supplier offers it"
    when = day_words(row.short_on, today)
    return f"{begins}, short {when if when in ('today', 'tomorrow') else f'on {when}'}: {why}."


def day_words(day: date, today: date) -> str:
    """ "today", "tomorrow", "Friday" within a week, else "Fri 4 Dec"."""
    ahead = (day - today).days
    if ahead in (0, 1):
        return ("today", "tomorrow")[ahead]
    return f"{day:%A}" if 1 < ahead < 7 else f"{day:%a} {day.day} {day:%b}"


def by_words(day: date, today: date) -> str:
    """ "today", "by tomorrow", "by Friday"."""
    return "today" if day == today else f"by {day_words(day, today)}"


def pack_word(item: Item) -> str:
    """What a pack of it is called."""
    return "bag" if item.sort == Item.Sort.LATEX else "pack"


def signed(change: int) -> str:
    """ "+100", or "−44" with a real minus sign."""
    return f"{change:+,}".replace("-", "−")


def _short_name(name: str) -> str:
    """A name that fits beside its step; one that runs from right to left is kept from turning the figure after it."""
    short = name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1].rstrip()}…"
    turns = any(unicodedata.bidirectional(letter) in ("R", "AL") for letter in short)
    return f"\N{FIRST STRONG ISOLATE}{short}\N{POP DIRECTIONAL ISOLATE}" if turns else short
