"""What a job takes, item by item, after what was swapped, and how much of it is not covered."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from bookings.models import Booking, MaterialSwap
from estimating.queries import CostedLine, JobEstimate
from stock.colour import ink_on
from stock.models import TIE_SIZE, Colour


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
    estimate: JobEstimate,
    gaps: Mapping[int, int],
    swaps: Sequence[MaterialSwap],
    colours: Sequence[Colour],
    *,
    is_over: bool,
) -> list[MaterialRow]:
    """The items of an estimate as the shelf will give them; `gaps` are by the item's key.

    Of a job that is over nothing is short.
    """
    by_key = {colour.pk: colour for colour in colours}
    rows = _swapped([_material_row(line, gaps, by_key) for line in estimate.lines], swaps, gaps)
    if is_over:
        rows = [row._replace(short=0) for row in rows]
    # What runs short first, then balloons by size, then hardware.
    return sorted(rows, key=lambda row: (not row.short, row.size is None or row.size == TIE_SIZE, row.size or 0))


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


def _material_row(line: CostedLine, gaps: Mapping[int, int], colours: Mapping[int, Colour]) -> MaterialRow:
    sort, colour_key, size = line.key
    # The middle of a key is a colour for balloons alone; for things off the shelf it is the item itself.
    swatch = colours[colour_key].swatch if sort == "latex" and colour_key is not None else "#d9d2c6"
    texts = {"latex": None, "tie": "260", "line": "ft", "ribbon": "ft", "gas": "He"}
    return MaterialRow(
        item_id=line.item.pk if line.item else None,
        label=line.label,
        swatch=swatch,
        ink=ink_on(swatch),
        size=TIE_SIZE if sort == "tie" else size,
        disc_text=texts.get(sort, ""),
        needed=line.needed,
        spares=line.spares,
        short=gaps.get(line.item.pk, 0) if line.item else line.total,
    )
