"""Does the shelf cover the booked jobs? Every item, week by week, and what to do about what runs short."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import overload

from stock.cover import Need, cover, sentence
from stock.lots import AGEING_MONTHS, ageing, in_sentences, months_after
from stock.models import Item, Offer, Reservation
from stock.queries.board_facts import Facts, facts_of, needs_of, offers_of
from stock.queries.board_rows import BoardRow, ShortCard, Suggestion, board_sentence
from stock.queries.stand_ins import recipes, stand_ins

MOST_WEEKS = 53


class BoardRows(Sequence[BoardRow]):
    """The rows of a board, each made when it is looked at: nobody looks at what is covered beyond the first page.

    `items` are in the board's order; `made` are the rows known already, and `make` makes more of them at once.
    """

    def __init__(
        self, items: Sequence[Item], made: dict[int, BoardRow], make: Callable[[list[Item]], list[BoardRow]]
    ) -> None:
        self._items, self._made, self._make = items, made, make

    def __len__(self) -> int:
        return len(self._items)

    @overload
    def __getitem__(self, place: int) -> BoardRow: ...

    @overload
    def __getitem__(self, place: slice) -> tuple[BoardRow, ...]: ...

    def __getitem__(self, place: int | slice) -> BoardRow | tuple[BoardRow, ...]:
        if isinstance(place, slice):
            return self.of(self._items[place])
        return self.of([self._items[place]])[0]

    def __iter__(self) -> Iterator[BoardRow]:
        return iter(self.of(self._items))

    def of(self, items: Sequence[Item]) -> tuple[BoardRow, ...]:
        """The rows of some of the board's items, in the order given."""
        missing = [item for item in items if item.pk not in self._made]
        if missing:
            self._made.update((row.item.pk, row) for row in self._make(missing))
        return tuple(self._made[item.pk] for item in items)

    def like(self, item: Item) -> tuple[BoardRow, ...]:
        """The rows of what has its size or its colour."""
        return self.of([o for o in self._items if o.size == item.size or o.colour_id == item.colour_id])


@dataclass(frozen=True)
class Board:
    """The weekly check: short items first, the most pressing first; then what is booked or comes; then the rest.

    `short_rows` are those of `rows` that run short; `until` is the last day looked at, the Sunday of the last week.
    """

    rows: BoardRows
    short_rows: tuple[BoardRow, ...]
    today: date
    first_monday: date
    weeks: int
    until: date
    with_open: bool
    sentence: str

    @property
    def mondays(self) -> tuple[date, ...]:
        """The first day of each week."""
        return tuple(self.first_monday + timedelta(weeks=week) for week in range(self.weeks))

    @property
    def covered_count(self) -> int:
        """How many items do not run short."""
        return len(self.rows) - len(self.short_rows)

    def cards(self, most: int) -> tuple[ShortCard, ...]:
        """The most pressing short items, each with a drawing of its balance for a phone."""
        shown = self.short_rows[:most]
        doubles = recipes() if any(row.nothing_comes for row in shown) else ()
        return tuple(
            # A card names the bookings below its drawing, so a label without room there is missing nowhere.
            ShortCard(
                row,
                replace(row.chart(self.until, width=340, height=130), left_out=0),
                stand_ins(row, self.rows.like(row.item), row.short_on, doubles=doubles)
                if row.nothing_comes and row.short_on
                else (),
            )
            for row in shown
        )


def cover_board(today: date, weeks: int = 8, with_open: bool = False, item_ids: Iterable[int] | None = None) -> Board:
    """Cover of every item, or of some, for `weeks` from the Monday of this week. Six statements at the most.

    What has enough for every promise there is, whatever its day, is covered, and its promises and offers are not read
    one by one until its row is looked at: two statements more, for however many rows are looked at together.

    Firm promises only, unless `with_open` counts tentative ones that have not lapsed. Raises ValueError for weeks
    outside 1 to 53.
    """
    if not 1 <= weeks <= MOST_WEEKS:
        raise ValueError(f"Weeks must be 1 to {MOST_WEEKS} (got {weeks}).")
    first_monday = today - timedelta(days=today.weekday())
    until = first_monday + timedelta(days=7 * weeks - 1)
    held = Reservation.objects.holding(today) if with_open else Reservation.objects.open().firm()
    facts = facts_of(held, item_ids)

    def make(items: list[Item]) -> list[BoardRow]:
        # Most of the shelf is read quicker from end to end than item by item.
        most = item_ids is None and 2 * len(items) > len(facts.items)
        needs, offers = needs_of(held, items, is_most=most), offers_of(items)
        return [
            _row(item, facts, needs[item.pk], offers.get(item.pk, []), today, first_monday, weeks) for item in items
        ]

    made = {row.item.pk: row for row in make([item for item in facts.items if not facts.is_plenty_of(item)])}

    def pressing(item: Item) -> tuple[bool, bool, date, bool]:
        row = made.get(item.pk)
        if row is None:
            return (True, True, until, not facts.is_busy(item))
        # What leaves a booking without comes before what only touches the keep-back level.
        return (not row.is_short, row.cover.first_empty is None, row.act_by or until, not row.is_busy)

    items = sorted(facts.items, key=pressing)
    short = tuple(made[item.pk] for item in items if item.pk in made and made[item.pk].is_short)
    return Board(
        rows=BoardRows(items, made, make),
        short_rows=short,
        today=today,
        first_monday=first_monday,
        weeks=weeks,
        until=until,
        with_open=with_open,
        sentence=board_sentence(short, len(items), first_monday, weeks, today),
    )


def _row(
    item: Item,
    facts: Facts,
    needs: Sequence[Need],
    offers: Sequence[Offer],
    today: date,
    first_monday: date,
    weeks: int,
) -> BoardRow:
    arrivals = facts.arrivals.get(item.pk, [])
    until = first_monday + timedelta(days=7 * weeks - 1)
    lots = facts.lots.get(item.pk, [])
    found = cover(
        sum(lot.left for lot in lots),
        arrivals,
        needs,
        today=today,
        until=until,
        keep_back=item.keep_back,
        lead_days=min((offer.lead_days for offer in offers), default=None),
    )
    last = found.first_empty or found.first_short or until
    old = ageing(lots, arrivals, needs, today=today, until=max(until, months_after(today, AGEING_MONTHS)))
    planned = facts.planned.get(item.pk, 0)
    missing = found.short_by - planned
    return BoardRow(
        item=item,
        cover=found,
        weekly=found.weekly(first_monday, weeks),
        needed=sum(need.quantity for need in needs if need.day <= last),
        arrived=sum(arrival.quantity for arrival in arrivals if today <= arrival.day <= last),
        planned=planned,
        buy=_cheapest_in_time(offers, missing, today, found.first_empty) if missing > 0 else None,
        is_offered=bool(offers),
        is_busy=bool(needs or arrivals),
        sentence=" ".join(filter(None, [sentence(item.label, found, today), in_sentences(old, today=today)])),
        ageing=old,
        pack_size=min((offer.pack_size for offer in offers), default=None),
    )


def _cheapest_in_time(offers: Iterable[Offer], missing: int, today: date, deadline: date | None) -> Suggestion | None:
    """The cheapest packs of one offer that bring what is missing by the day somebody goes without.

    Where nobody does and only what is kept back is touched, there is no deadline and any offer is in time. Ties
    go to fewer packs, then fewer left over.
    """
    in_time = [
        Suggestion(
            offer,
            packs=-(-missing // offer.pack_size),
            order_by=None if deadline is None else deadline - timedelta(days=offer.lead_days),
        )
        for offer in offers
        if deadline is None or today + timedelta(days=offer.lead_days) <= deadline
    ]
    return min(
        in_time,
        key=lambda buy: (buy.packs * buy.offer.price_minor, buy.packs, buy.quantity, buy.offer.pk),
        default=None,
    )
