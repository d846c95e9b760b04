"""What should be on the shelf, held, out and on its way, reckoned in the plainest way there is."""

import datetime as dt
from collections import Counter
from dataclasses import dataclass, field

Promise = list[int]
"""One row of the queue: its item, and how many of it are still held."""


@dataclass
class Hold:
    """What a booking holds, firmly or not: its rows in the order they were promised, and their day."""

    day: dt.date
    rows: list[Promise] = field(default_factory=list)
    lapses_on: dt.date | None = None

    def of(self, item: int) -> int:
        """How many of an item."""
        return sum(quantity for which, quantity in self.rows if which == item)

    def sums(self) -> Counter[int]:
        """How many of each item, of those of which there are any."""
        found: Counter[int] = Counter()
        for item, quantity in self.rows:
            found[item] += quantity
        return found


@dataclass
class Ordered:
    """An order: its state, the day it is expected, how many were ordered of each item and how many came."""

    state: str
    expected_on: dt.date | None
    wanted: Counter[int]
    came: Counter[int] = field(default_factory=Counter)

    def outstanding(self, item: int) -> int:
        """How many of an item are still to come."""
        return max(self.wanted[item] - self.came[item], 0) if self.state == "placed" else 0


@dataclass
class Model:
    """The whole shelf of so many items, numbered from 0."""

    items: int
    today: dt.date
    have: Counter[int] = field(default_factory=Counter)
    out: Counter[tuple[int, int]] = field(default_factory=Counter)
    holds: dict[tuple[int, bool], Hold] = field(default_factory=dict)
    orders: list[Ordered] = field(default_factory=list)

    def reserve(
        self, booking: int, needs: dict[int, int], day: dt.date, *, firm: bool, lapses_on: dt.date | None = None
    ) -> None:
        """A booking holds this and no more: what it held keeps its place, less of it goes from its latest rows."""
        before = self.holds.pop((booking, firm), None)
        if before is None or (before.lapses_on is not None and before.lapses_on < self.today):
            before = Hold(day)
        left = Counter(needs)
        kept = []
        for item, quantity in before.rows:
            part = min(quantity, left[item])
            left[item] -= part
            if part:
                kept.append([item, part])
        kept += [[item, left[item]] for item in sorted(needs) if left[item] > 0]
        if kept:
            self.holds[booking, firm] = Hold(day, kept, lapses_on)
        if firm:
            self.holds.pop((booking, False), None)

    def settle(self, booking: int, taken: dict[int, int]) -> None:
        """What a booking took is promised to it no more, what was promised first first."""
        hold = self.holds.get((booking, True))
        if hold is None:
            return
        left = Counter(taken)
        for row in hold.rows:
            part = min(row[1], left[row[0]])
            row[1] -= part
            left[row[0]] -= part
        hold.rows = [row for row in hold.rows if row[1]]
        if not hold.rows:
            del self.holds[booking, True]

    def firm_needs(self, item: int) -> list[tuple[dt.date, int]]:
        """Each firm promise of an item: its day, but none before today, and how many."""
        return [
            (max(hold.day, self.today), quantity)
            for (_, firm), hold in self.holds.items()
            if firm
            for which, quantity in hold.rows
            if which == item
        ]

    def evening(self, item: int, day: dt.date) -> int:
        """What is left of an item at the end of a day."""
        coming = sum(
            order.outstanding(item)
            for order in self.orders
            if order.expected_on is not None and self.today <= order.expected_on <= day
        )
        return self.have[item] + coming - sum(quantity for needed, quantity in self.firm_needs(item) if needed <= day)

    def free(self, item: int, day: dt.date) -> int:
        """How many can still be promised for a day: the least left on it or any later evening."""
        days = {max(day, self.today)} | {needed for needed, _ in self.firm_needs(item)}
        days |= {order.expected_on for order in self.orders if order.expected_on is not None}
        return min(self.evening(item, evening) for evening in days if evening >= max(day, self.today))

    def lacking(self, item: int) -> int:
        """How many all bookings together go without: the largest excess of need by a day over what is there."""
        days = {self.today} | {needed for needed, _ in self.firm_needs(item)}
        return max(0, *(-self.evening(item, day) for day in days))
