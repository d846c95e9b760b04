"""Which of an item is used first, and what is too old by the day it is needed.

The soonest to expire goes first; of what keeps equally long, what came first. What says no best-before comes after
what does, and what was on the shelf before lots were told apart counts as the oldest of that.
"""

from calendar import monthrange
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

from stock.cover import Arrival, Need

MOST_MONTHS = 240
AGEING_MONTHS = 4
"""How far ahead what will be too old is said: time enough to design it into a job."""
_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


class LotsFault(ValueError):
    """More was asked of some lots than is left of them."""


@dataclass(frozen=True)
class LotLeft:
    """What is left of one lot. `key` is None for what is of no lot; `best_before` is the last day it is good."""

    key: int | None
    left: int
    received_on: date | None = None
    best_before: date | None = None
    place: str = ""

    def is_good_on(self, day: date) -> bool:
        """Whether it may still be used on `day`."""
        return self.best_before is None or day <= self.best_before


class TooOld(NamedTuple):
    """A booking for which only `quantity` past their best-before are left on `day`."""

    booking: int
    name: str
    day: date
    quantity: int


class Expiring(NamedTuple):
    """So many that no job takes before their last good `day`."""

    day: date
    quantity: int


@dataclass(frozen=True)
class Ageing:
    """What time does to an item: what is too old for its job, what expires unused, what has already."""

    too_old: tuple[TooOld, ...] = ()
    expiring: tuple[Expiring, ...] = ()
    past: int = 0

    @property
    def is_worth_saying(self) -> bool:
        """Whether anything is too old, or will be."""
        return bool(self.too_old or self.expiring or self.past)


def in_order_of_use(lots: Iterable[LotLeft]) -> list[LotLeft]:
    """First expired, first out; then first in, first out."""
    return sorted(
        lots,
        key=lambda lot: (
            lot.best_before is None,
            lot.best_before or date.max,
            lot.received_on or date.min,
            lot.key or 0,
        ),
    )


def take(lots: Iterable[LotLeft], quantity: int) -> list[tuple[LotLeft, int]]:
    """Which lots `quantity` come out of, and how many of each, in order of use.

    Raises `LotsFault` where there are not that many. A lot that is below nothing gives nothing.
    """
    taken = []
    wanted = quantity
    for lot in in_order_of_use(lots):
        part = min(wanted, lot.left)
        if part > 0:
            taken.append((lot, part))
            wanted -= part
    if wanted:
        raise LotsFault(f"The lots hold {quantity - wanted:,}; {quantity:,} cannot be taken.")
    return taken


def months_after(day: date, months: int) -> date:
    """The same day so many months on, or the last of a month that is too short for it: 31 Jan + 1 is 28 Feb."""
    if not 0 <= months <= MOST_MONTHS:
        raise ValueError(f"Months must be 0 to {MOST_MONTHS} (got {months}).")
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def ageing(
    lots: Iterable[LotLeft], arrivals: Iterable[Arrival], needs: Iterable[Need], *, today: date, until: date
) -> Ageing:
    """What of `lots` is too old by the day of its job, and what expires by `until` without a job that takes it.

    The jobs are served in order of day, each from the soonest to expire of what is still good then and only after
    that from a delivery that has come: no other order leaves less to expire. Where nothing good is left, what is
    past its best-before is what the job would get. A need from before today counts today.
    """
    shelf = [_Open(lot, lot.left) for lot in in_order_of_use(lots) if lot.left > 0]
    if all(entry.lot.best_before is None for entry in shelf):
        return Ageing()
    coming = sorted((max(arrival.day, today), arrival.quantity) for arrival in arrivals if arrival.day >= today)
    fresh, too_old = 0, []
    for need in sorted(needs, key=lambda need: (max(need.day, today), need.promise_no)):
        day, wanted = max(need.day, today), need.quantity
        while coming and coming[0][0] <= day:
            fresh += coming.pop(0)[1]
        wanted = _take_from(shelf, wanted, day, good=True)
        served = min(wanted, fresh)
        fresh -= served
        wanted -= served
        left_over = _take_from(shelf, wanted, day, good=False)
        if wanted > left_over:
            too_old.append(TooOld(need.booking, need.booking_name, day, wanted - left_over))
    expiring: dict[date, int] = {}
    past = 0
    for entry in shelf:
        last_day = entry.lot.best_before
        if last_day is None or not entry.left:
            continue
        if last_day < today:
            past += entry.left
        elif last_day <= until:
            expiring[last_day] = expiring.get(last_day, 0) + entry.left
    return Ageing(tuple(too_old), tuple(Expiring(day, quantity) for day, quantity in expiring.items()), past)


def in_few_words(found: Ageing, *, today: date, pack_size: int | None = None, pack: str = "bag") -> str:
    """For the end of a table's row: "2 bags past best-before in March"; nothing where nothing grows old."""
    if found.too_old:
        first = found.too_old[0]
        return f"{_many(first.quantity, pack_size, pack)} too old by {_day(first.day, today)}"
    if found.past:
        return f"{_many(found.past, pack_size, pack)} past best-before"
    if found.expiring:
        first_day = found.expiring[0].day
        same_month = [
            part for part in found.expiring if (part.day.year, part.day.month) == (first_day.year, first_day.month)
        ]
        return (
            f"{_many(sum(part.quantity for part in same_month), pack_size, pack)} past best-before "
            f"in {_month(first_day, today)}"
        )
    return ""


def in_sentences(found: Ageing, *, today: date) -> str:
    """Everything that grows old, in full sentences."""
    said = [f"{found.past:,} {_are(found.past)} past best-before already."] if found.past else []
    said += [
        f"{part.quantity:,} will be past best-before for {part.name} on {_day(part.day, today)}."
        for part in found.too_old
    ]
    said += [
        f"{part.quantity:,} {_are(part.quantity)} good until {_day(part.day, today)} and no job takes "
        f"{'it' if part.quantity == 1 else 'them'}."
        for part in found.expiring
    ]
    return " ".join(said)


@dataclass
class _Open:
    """A lot that is being taken from."""

    lot: LotLeft
    left: int


def _take_from(shelf: Sequence[_Open], wanted: int, day: date, *, good: bool) -> int:
    """Take out of what is good on `day`, or of what is not; how many are still wanted."""
    for entry in shelf:
        if wanted and entry.left and entry.lot.is_good_on(day) is good:
            part = min(wanted, entry.left)
            entry.left -= part
            wanted -= part
    return wanted


def _many(quantity: int, pack_size: int | None, pack: str) -> str:
    if pack_size and pack_size > 1 and quantity % pack_size == 0:
        packs = quantity // pack_size
        return f"{packs:,} {pack}{'' if packs == 1 else 's'}"
    return f"{quantity:,}"


def _month(day: date, today: date) -> str:
    return _MONTHS[day.month - 1] if day - today < timedelta(days=300) else f"{_MONTHS[day.month - 1]} {day.year}"


def _day(day: date, today: date) -> str:
    year = f" {day.year}" if abs(day - today) > timedelta(days=300) else ""
    return f"{day.day} {_MONTHS[day.month - 1][:3]}{year}"


def _are(quantity: int) -> str:
    return "is" if quantity == 1 else "are"
