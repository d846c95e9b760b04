"""What a job takes, item by item, after what was swapped, and how much of it is not covered."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from bookings.models import Booking, MaterialSwap, QuoteMaterial
from estimating.queries import CostedLine, JobEstimate
from stock.colour import ink_on
from stock.models import TIE_SIZE, Colour, Item

# What a disc says; None is the size of the balloon.
_TEXTS = {"latex": None, "tie": "260", "line": "ft", "ribbon": "ft", "gas": "He"}


class MaterialRow(NamedTuple):
    """An item the job takes, and how many of it are not covered."""

    item_id: int | None
    label: str
    swatch: str
    ink: str
    size: int | None
    disc_text: str | None
    needed: int
    spares: int
    short: int

    @property
    def short_words(self) -> str:
        """What the coral badge says."""
        return f"{self.short} short"


def material_rows(
    rows: Sequence[MaterialRow], gaps: Mapping[int, int], swaps: Sequence[MaterialSwap], *, is_over: bool
) -> list[MaterialRow]:
    """What was reckoned or agreed, as the shelf will give it; `gaps` are by the item's key.

    What is no item of the shelf is all to buy. Of a job that is over nothing is short.
    """
    rows = [
        row._replace(short=gaps.get(row.item_id, 0) if row.item_id is not None else row.needed + row.spares)
        for row in rows
    ]
    rows = _swapped(rows, swaps, gaps)
    if is_over:
        rows = [row._replace(short=0) for row in rows]
    # What runs short first, then balloons by size, then hardware.
    return sorted(rows, key=lambda row: (not row.short, row.size is None or row.size == TIE_SIZE, row.size or 0))


def reckoned_rows(estimate: JobEstimate, colours: Sequence[Colour]) -> list[MaterialRow]:
    """The items of an estimate; what is short of them is not known yet."""
    by_key = {colour.pk: colour for colour in colours}
    return [_reckoned_row(line, by_key) for line in estimate.lines]


def agreed_rows(materials: Sequence[QuoteMaterial]) -> list[MaterialRow]:
    """The items a quote was accepted with, an item once; what is short of them is not known yet."""
    rows: dict[int, MaterialRow] = {}
    for one in materials:
        item = one.item
        size = TIE_SIZE if item.sort == Item.Sort.TIE else item.size
        new = MaterialRow(item.pk, item.label, item.swatch, item.ink, size, _TEXTS.get(item.sort, ""), 0, 0, 0)
        old = rows.get(item.pk, new)
        rows[item.pk] = old._replace(needed=old.needed + one.needed, spares=old.spares + one.spares)
    return list(rows.values())


def changes_since(agreed: Sequence[MaterialRow], reckoned: Sequence[MaterialRow]) -> list[str]:
    """“12 more Ink 11-inch”, “3 fewer Sand 5-inch”: what a new reckoning needs otherwise, spares left aside."""
    was = {row.item_id: row for row in agreed}
    now = {row.item_id: row for row in reckoned if row.item_id is not None}
    found = []
    for key, row in (was | now).items():
        more = (now[key].needed if key in now else 0) - (was[key].needed if key in was else 0)
        if more:
            found.append(f"{abs(more):,} {'more' if more > 0 else 'fewer'} {row.label}")
    return found


def _swapped(rows: list[MaterialRow], swaps: Sequence[MaterialSwap], gaps: Mapping[int, int]) -> list[MaterialRow]:
    """The rows as they stand after what was swapped; what is no longer needed at all is left out."""
    if not swaps:
        return rows
    by_item = {row.item_id: row for row in rows if row.item_id is not None}
    for swap in swaps:
        old = by_item.get(swap.given_up_id)
        if old is not None:
            needed = max(old.needed - swap.quantity, 0)
            spares = max(old.spares - max(swap.quantity - old.needed, 0), 0)
            by_item[swap.given_up_id] = old._replace(needed=needed, spares=spares)
        for item in filter(None, (swap.taken, swap.inside)):
            new = by_item.get(item.pk)
            if new is None:
                short = gaps.get(item.pk, 0)
                new = MaterialRow(item.pk, item.label, item.swatch, item.ink, item.size, None, 0, 0, short)
            by_item[item.pk] = new._replace(needed=new.needed + swap.quantity)
    unlisted = [row for row in rows if row.item_id is None]
    return [row for row in by_item.values() if row.needed or row.spares] + unlisted


def swap_sentences(booking: Booking, swaps: Sequence[MaterialSwap]) -> list[str]:
    """What no longer is as the picture shows it."""
    return [
        f"{swap.quantity:,} {swap.given_up.label} {'is' if swap.quantity == 1 else 'are'} {swap.taken_words} now"
        f"{', two balloons in each' if swap.inside_id else ''}. "
        f"The picture {booking.client.shown_name} accepted shows {swap.given_up.label}: tell them."
        for swap in swaps
    ]


def _reckoned_row(line: CostedLine, colours: Mapping[int, Colour]) -> MaterialRow:
    sort, colour_key, size = line.key
    # The middle of a key is a colour for balloons alone; for things off the shelf it is the item itself.
    swatch = colours[colour_key].swatch if sort == "latex" and colour_key is not None else "#d9d2c6"
    return MaterialRow(
        item_id=line.item.pk if line.item else None,
        label=line.label,
        swatch=swatch,
        ink=ink_on(swatch),
        size=TIE_SIZE if sort == "tie" else size,
        disc_text=_TEXTS.get(sort, ""),
        needed=line.needed,
        spares=line.spares,
        short=0,
    )
