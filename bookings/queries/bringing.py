"""What goes along to a job besides what the shelf gives: its kit, and the things the studio's rules name."""

import hashlib
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from bookings.bringing import Going, things_for
from bookings.models import Booking, BringingRules, BringTick, Piece, QuotePiece
from bookings.queries.agreed import last_agreed_pieces
from bookings.queries.known import may_have
from stock.models import Item, KitPromise
from stock.queries.kit import promised_kit

_MOST_SAID = 6
KIT, THING = "kit-", "thing-"


@dataclass(frozen=True, slots=True)
class BringLine:
    """One thing for the van. `promise` where it is kit; `tick` is who put it in."""

    key: str
    name: str
    note: str
    tick: BringTick | None
    promise: KitPromise | None = None

    @property
    def is_out(self) -> bool:
        """Whether it is kit that is out by the books already."""
        return self.promise is not None and self.promise.state == "out"

    @property
    def is_ticked(self) -> bool:
        """Whether it is in the van."""
        return self.tick is not None or self.is_out


@dataclass(frozen=True, slots=True)
class BringList:
    """All of it: the kit first, then the rest in the order of the rules."""

    lines: tuple[BringLine, ...]

    @property
    def ticked(self) -> int:
        """How many are in the van."""
        return sum(line.is_ticked for line in self.lines)

    @property
    def kit_waits(self) -> bool:
        """Whether kit is in the van that the books have at home."""
        return any(line.tick and line.promise and not line.is_out for line in self.lines)

    @property
    def said_missing(self) -> str:
        """“Not in the van yet: Ladder, Scissors and 3 more.” Nothing where nothing is missing."""
        names = [line.name for line in self.lines if not line.is_ticked]
        if not names:
            return ""
        more = len(names) - _MOST_SAID
        end = f" and {more:,} more" if more > 0 else ""
        return f"Not in the van yet: {', '.join(names[:_MOST_SAID])}{end}."

    @property
    def stamp(self) -> str:
        """Short text that changes whenever anything a reader sees does."""
        seen = [(line.key, line.name, line.is_out, line.tick and line.tick.pk) for line in self.lines]
        return hashlib.sha256(repr(seen).encode()).hexdigest()[:12]


def bring_list(booking: Booking, promised: Sequence[KitPromise] | None = None) -> BringList:
    """What goes along with a booked job, with what is ticked; nothing to any other. Five statements at the most.

    `promised` is its `promised_kit`, where the caller has read it.
    """
    if booking.stage != Booking.Stage.BOOKED:
        return BringList(())
    ticked = BringTick.objects.filter(booking=booking).select_related("by")
    ticks = {tick.key: tick for tick in (ticked if may_have(booking, "ticks") else ())}
    kept = promised_kit(booking.pk) if promised is None else promised
    standing = _standing(kept)
    lines = [
        BringLine(key, _kit_words(promise), promise.kit.place, ticks.get(key), promise)
        for promise in sorted(standing, key=lambda one: one.kit.place)
        for key in [f"{KIT}{promise.pk}"]
    ]
    lines += [
        BringLine(key, thing, "", ticks.get(key))
        for thing in things_along(booking, promised=standing, held=held_items(booking))
        for key in [f"{THING}{thing}"]
    ]
    return BringList(tuple(lines))


def held_items(booking: Booking) -> list[Item]:
    """Every item a booking was ever promised, be it taken or let go since. One statement."""
    return list(Item.objects.filter(reservations__booking=booking.pk).distinct().with_colour())


def things_along(booking: Booking, *, promised: Sequence[KitPromise], held: Sequence[Item]) -> list[str]:
    """What goes along with a booked job by the studio's rules, besides the kit it was `promised` and the items `held`
    for it; nothing to any other. Two statements."""
    if booking.stage != Booking.Stage.BOOKED:
        return []
    # What is promised, or on the shelf's own list, goes along once: a rule for a ladder means any ladder.
    kits = [promise.kit for promise in _standing(promised)]
    named = {name.casefold() for kit in kits for name in (kit.name, kit.get_sort_display())}
    named |= {item.label.casefold() for item in held}
    going = going_of(booking, {item.sort for item in held})
    return [
        thing for thing in things_for(BringingRules.objects.current().read(), going) if thing.casefold() not in named
    ]


def _standing(promised: Sequence[KitPromise]) -> list[KitPromise]:
    return [promise for promise in promised if promise.came_back_at is None]


def going_of(booking: Booking, sorts: Collection[str]) -> Going:
    """What the rules ask of a job, as it was agreed; `sorts` are those of the items it was promised."""
    pieces: Iterable[QuotePiece | Piece] = last_agreed_pieces(booking) or booking.pieces.defer("layout")
    made = [(piece.kind, bool(piece.spec.get("outdoors"))) for piece in pieces]
    outdoors = [stands_outdoors for _, stands_outdoors in made]
    return Going(
        kinds=frozenset(kind for kind, _ in made),
        outdoors=any(outdoors),
        indoors=not all(outdoors) or not outdoors,
        hangs=bool(booking.hang_height_mm) or Item.Sort.HOOK in sorts,
        hang_height_mm=booking.hang_height_mm,
        helium=Item.Sort.GAS in sorts,
    )


def _kit_words(promise: KitPromise) -> str:
    return f"{promise.quantity:,} {promise.kit.name}" if promise.quantity > 1 else promise.kit.name
