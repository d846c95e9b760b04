"""The weekly check for one item: does what is on the shelf and on its way meet what is promised, day by day?

Two different questions are answered here. *When does it run short?* is a running balance. *Whose balloons are
missing?* is an allocation: whoever was promised first keeps theirs, even for a later date. Reading the
second off the first blames the wrong booking.
"""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property
from itertools import accumulate
from operator import itemgetter
from typing import NamedTuple

_FAR_AHEAD = timedelta(days=300)
# Not strftime's, which follow the machine's language.
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True)
class Arrival:
    """A delivery expected on a day. It can be used on that day."""

    day: date
    quantity: int
    label: str

    def __post_init__(self) -> None:
        if self.quantity <= 0:
            raise ValueError(f"An arrival ({self.label}) must be of one or more (got {self.quantity}).")


class Need(NamedTuple):
    """A reservation: what one booking holds for the day it preps, and the place in line it was given.

    A lower `promise_no` was promised earlier. It is `firm` once the job is booked and tentative while a quote is
    open.
    """

    promise_no: int
    day: date
    booking: int
    booking_name: str
    quantity: int
    firm: bool


class Step(NamedTuple):
    """One change of the balance, and the balance after it."""

    day: date
    change: int
    balance: int
    label: str


class Hit(NamedTuple):
    """A booking that goes without `short` of what it needs on `day`."""

    booking: int
    name: str
    day: date
    short: int


@dataclass(frozen=True)
class ItemCover:
    """What the weekly check finds for one item.

    `first_short` is the first day the balance is below `keep_back`, by
    `short_on_first`; `worst_day` the first day it is lowest, by `short_by`. `first_empty` is the first day the
    balance is below nothing, when bookings go without. All of these are None or 0 when nothing is short by the
    horizon.

    `order_by` is the last day to order so that it arrives in time: for the first day bookings would go without,
    or, when none would, for the first day below what is kept back. None when it is not short or nobody
    sells it (`lead_days` None); `too_late` when that day has passed. `late` are deliveries that should have come
    already; they count for nothing until they do. `hit` are the bookings that go without by the horizon.
    """

    today: date
    on_hand: int
    keep_back: int
    lead_days: int | None
    late: tuple[Arrival, ...]
    first_short: date | None
    short_on_first: int
    worst_day: date | None
    short_by: int
    first_empty: date | None
    order_by: date | None
    too_late: bool
    until: date | None = field(compare=False)
    _evenings: tuple[tuple[date, int], ...]
    _expected: tuple[Arrival, ...] = field(compare=False, repr=False)
    _held: tuple[Need, ...] = field(compare=False, repr=False)

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """Every change from `today` on, told apart by what makes it."""
        return _steps(self.on_hand, self._expected, self._held)

    @cached_property
    def hit(self) -> tuple[Hit, ...]:
        """Who goes without, in the order of promises; reckoned when asked, for of most items nobody does."""
        found = allocate(self.on_hand, self._expected, self._held, self.today)
        return tuple(hit for hit in found if self.until is None or hit.day <= self.until)

    def balance_on(self, day: date) -> int:
        """The balance at the end of `day`; before the first change, what is on hand."""
        index = bisect_right(self._evenings, day, key=itemgetter(0))
        return self._evenings[index - 1][1] if index else self.on_hand

    def available(self, day: date) -> int:
        """How many more could be promised for `day` without taking from anyone: the lowest balance from then on."""
        later = self._evenings[bisect_right(self._evenings, day, key=itemgetter(0)) :]
        return min([self.balance_on(day), *(balance for _, balance in later)])

    def weekly(self, first_monday: date, weeks: int) -> tuple[int, ...]:
        """The lowest balance at the end of any day in each week from `first_monday`, looking no further back
        than today: Wednesday's shortage shows even when Friday's delivery mends it."""
        if first_monday.weekday() != 0:
            raise ValueError(f"The first day of the weeks must be a Monday (got {_day(first_monday, self.today)}).")
        lowest = []
        for week in range(weeks):
            begins = max(first_monday + timedelta(days=7 * week), self.today)
            ends = first_monday + timedelta(days=7 * week + 6)
            first, last = (bisect_right(self._evenings, day, key=itemgetter(0)) for day in (begins, ends))
            lowest.append(min([self.balance_on(begins), *(balance for _, balance in self._evenings[first:last])]))
        return tuple(lowest)


def cover(
    on_hand: int,
    arrivals: Iterable[Arrival],
    needs: Iterable[Need],
    *,
    today: date,
    until: date | None = None,
    keep_back: int = 0,
    lead_days: int | None,
    firm_only: bool = False,
) -> ItemCover:
    """Check one item from `today` on; what is short after `until` (when given) is not reported.

    A need from before today that is still held counts from today. `lead_days` are the calendar days the quickest
    offer takes, None when nobody sells it. With `firm_only`, open quotes are left out. Raises ValueError for a need of
    nothing.
    """
    if lead_days is not None and lead_days < 0:
        raise ValueError(f"Lead days must be zero or more (got {lead_days}).")
    by_day = sorted(arrivals, key=lambda arrival: arrival.day)
    expected = [arrival for arrival in by_day if arrival.day >= today]
    held = sorted((need for need in needs if need.firm or not firm_only), key=itemgetter(0))
    for need in held:
        if need.quantity <= 0:
            raise ValueError(f"A need ({need.booking_name}) must be of one or more (got {need.quantity}).")
    held = [need if need.day >= today else need._replace(day=today) for need in held]
    evenings = _evenings(on_hand, expected, held)
    ends = {today: on_hand} | {day: balance for day, balance in evenings if until is None or day <= until}
    lowest = min(ends.values())
    first_short = next((day for day, balance in ends.items() if balance < keep_back), None)
    first_empty = next((day for day, balance in ends.items() if balance < 0), None)
    wanted_on = first_empty or first_short
    order_by = None if wanted_on is None or lead_days is None else wanted_on - timedelta(days=lead_days)
    return ItemCover(
        today=today,
        on_hand=on_hand,
        keep_back=keep_back,
        lead_days=lead_days,
        late=tuple(arrival for arrival in by_day if arrival.day < today),
        first_short=first_short,
        short_on_first=keep_back - ends[first_short] if first_short else 0,
        worst_day=next(day for day, balance in ends.items() if balance == lowest) if first_short else None,
        short_by=keep_back - lowest if first_short else 0,
        first_empty=first_empty,
        order_by=order_by,
        too_late=order_by is not None and order_by < today,
        until=until,
        _evenings=evenings,
        _expected=tuple(expected),
        _held=tuple(held),
    )


def allocate(on_hand: int, arrivals: Sequence[Arrival], needs: Sequence[Need], today: date) -> tuple[Hit, ...]:
    """Who goes without when whoever was promised first is served first: exact, in the order of promises.

    Each need takes from the latest delivery that still comes in time, and only then from earlier ones and
    the shelf, which leaves early stock to later promises for earlier days. What a need can be served from is always
    "everything up to a day", so no other choice could serve the same promises any better: the shortage of the
    first n promises together is exactly the largest excess of what they need by a day over what is there by it.
    `arrivals` are in order of day, `needs` in order of promise and none before `today`.
    """
    # A ledger below zero means a miscount: there is nothing on the shelf to give, and no debt to repay.
    days = [today, *(arrival.day for arrival in arrivals)]
    left = [max(on_hand, 0), *(arrival.quantity for arrival in arrivals)]
    short: dict[tuple[int, str, date], int] = {}
    for need in needs:
        wanted = need.quantity
        lot = bisect_right(days, need.day) - 1
        while wanted and lot >= 0:
            taken = min(wanted, left[lot])
            wanted -= taken
            left[lot] -= taken
            if left[lot] == 0:
                del days[lot], left[lot]
            lot -= 1
        if wanted:
            who = (need.booking, need.booking_name, need.day)
            short[who] = short.get(who, 0) + wanted
    return tuple(Hit(*who, quantity) for who, quantity in short.items())


def sentence(name: str, found: ItemCover, today: date) -> str:
    """What the check found, in words: "Black 11-inch runs short by 56 on Sat 12 Dec; order by Fri 4 Dec."."""
    return " ".join([_shortage(name, found, today), *(_late(arrival, today) for arrival in found.late)])


def _shortage(name: str, found: ItemCover, today: date) -> str:
    if found.first_short is None or found.worst_day is None:
        return f"{name} is covered."
    lowest = found.keep_back - found.short_by
    first = found.first_empty or found.first_short
    when, worst = _on(first, today), _on(found.worst_day, today)
    if found.first_empty is None:
        told = f"{name} falls to {lowest:,} {worst}, below the {found.keep_back:,} kept back"
    elif found.worst_day == first:
        told = f"{name} runs short by {-lowest:,} {when}"
    else:
        told = f"{name} runs short by {-found.balance_on(first):,} {when}, and by {-lowest:,} {worst}"
    return f"{told}; {_what_to_do(found, today)}."


def _what_to_do(found: ItemCover, today: date) -> str:
    if found.lead_days is None or found.order_by is None:
        return "no supplier offers it"
    if found.too_late:
        return f"too late to order, what is ordered today arrives {_on(today + timedelta(found.lead_days), today)}"
    return "order today" if found.order_by == today else f"order by {_day(found.order_by, today)}"


def _late(arrival: Arrival, today: date) -> str:
    have = "has" if arrival.quantity == 1 else "have"
    return f"{arrival.quantity:,} due {_on(arrival.day, today)} {have} not arrived ({arrival.label})."


def _evenings(on_hand: int, arrivals: Sequence[Arrival], needs: Sequence[Need]) -> tuple[tuple[date, int], ...]:
    """The days on which the balance changes, in order, each with the balance at its end."""
    changes: dict[date, int] = defaultdict(int)
    for arrival in arrivals:
        changes[arrival.day] += arrival.quantity
    for need in needs:
        changes[need.day] -= need.quantity
    days = sorted(changes)
    balances = accumulate((changes[day] for day in days), initial=on_hand)
    next(balances)
    return tuple(zip(days, balances, strict=True))


def _steps(on_hand: int, arrivals: Sequence[Arrival], needs: Sequence[Need]) -> tuple[Step, ...]:
    """Every change in order of day; on one day, deliveries before what the day needs."""
    changes = [(arrival.day, False, arrival.quantity, arrival.label) for arrival in arrivals]
    changes += [(need.day, True, -need.quantity, need.booking_name) for need in needs]
    changes.sort(key=itemgetter(0, 1))
    steps = []
    balance = on_hand
    for day, _, change, label in changes:
        balance += change
        steps.append(Step(day, change, balance, label))
    return tuple(steps)


def _on(day: date, today: date) -> str:
    return "today" if day == today else f"on {_day(day, today)}"


def _day(day: date, today: date) -> str:
    """ "Sat 12 Dec", with the year where it could be taken for another."""
    year = f" {day.year}" if abs(day - today) > _FAR_AHEAD else ""
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}{year}"
