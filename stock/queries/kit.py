"""Kit: what is promised twice, who has what, and when a thing is next free. Nothing here changes anything."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Q

from stock.kit import Period, Wear, next_free
from stock.models import Kit, KitMovement, KitPromise
from stock.queries.kit_rows import KitClash, KitRow, keeps_away, rows_of_kit, rows_of_promises
from stock.queries.kit_timeline import Timeline, timeline

MOST_PAST = 30
MOST_MOVEMENTS = 50


@dataclass(frozen=True, slots=True)
class KitStory:
    """One kit on one page: its row, its periods drawn for a phone and for a desk, what is over, and its movements."""

    row: KitRow
    narrow: Timeline
    wide: Timeline
    past: list[KitPromise]
    movements: list[KitMovement]


@dataclass(frozen=True, slots=True)
class BookedKit:
    """What a booking was promised of one kit. `short` is how many of it others were promised first.

    `sentence` says with whom it clashes, and `next_free` when as many are free for as many days.
    """

    promise: KitPromise
    owned: int
    short: int
    sentence: str
    next_free: date | None
    is_late: bool

    @property
    def clash_words(self) -> str:
        """What the badge says: “short 1”, or that somebody else goes without."""
        return f"short {self.short}" if self.short else "promised twice"


def kit_list(today: date, *, with_retired: bool = False) -> list[KitRow]:
    """Every kit in use, what booked jobs want too much of first, then by sort and name. Two statements."""
    kits = Kit.objects.with_owned().order_by("sort", "name", "pk")
    rows = rows_of_kit(kits if with_retired else kits.in_use(), today)
    return sorted(rows, key=lambda row: (not row.is_short, not row.clashes, not row.late))


def kit_clashes(today: date, *, until: date | None = None, with_open: bool = False) -> list[KitClash]:
    """Where kit is promised more often than it is there, the soonest first. One statement.

    Among booked jobs, unless `with_open` counts what open quotes would take as well; those that begin by `until`,
    where it is given.
    """
    promised = KitPromise.objects.not_let_go().filter(keeps_away(today))
    found = [clash for row in rows_of_promises(promised, today) for clash in row.clashes if clash.firm or with_open]
    near = [clash for clash in found if until is None or clash.first <= until]
    return sorted(near, key=lambda clash: (clash.first, clash.kit.name, clash.kit.pk))


def kit_story(kit: Kit, today: date) -> KitStory:
    """One kit: its periods ahead, what is over, and every change of how many there are. Four statements."""
    (row,) = rows_of_kit(Kit.objects.with_owned().filter(pk=kit.pk), today)
    past = kit.promises.filter(Q(came_back_at__isnull=False) | Q(closed_at__isnull=False))
    movements = kit.movements.select_related("by").order_by("-at", "-pk")
    lanes = [(period, _is_firm(row, period)) for period in row.periods]
    short = [(clash.first, clash.last) for clash in row.clashes]
    drawn = [
        timeline(lanes, cleaning_days=row.kit.cleaning_days, short=short, today=today, width=width)
        for width in (340, 640)
    ]
    return KitStory(
        row, drawn[0], drawn[1], list(past.order_by("-out_on", "-pk")[:MOST_PAST]), list(movements[:MOST_MOVEMENTS])
    )


def promised_kit(booking: int) -> list[KitPromise]:
    """What a booking was promised and has not let go, by sort and name, each with its kit."""
    return promised_kit_of([booking])[booking]


def promised_kit_of(bookings: Iterable[int]) -> dict[int, list[KitPromise]]:
    """The same of several bookings, by their keys. One statement."""
    found: dict[int, list[KitPromise]] = {booking: [] for booking in bookings}
    held = KitPromise.objects.not_let_go().filter(booking__in=found).select_related("kit")
    for promise in held.order_by("kit__sort", "kit__name", "pk"):
        found[promise.booking].append(promise)
    return found


def kit_of_booking(booking: int, today: date) -> list[BookedKit]:
    """What a booking was promised and has not let go, by sort and name, and what of it clashes. One statement."""
    promised = KitPromise.objects.not_let_go()
    of_its_kit = promised.filter(kit__in=promised.filter(booking=booking).values("kit"))
    rows = rows_of_promises(of_its_kit.filter(keeps_away(today) | Q(booking=booking)), today)
    own = [(promise, row) for row in rows for promise in row.promises if promise.booking == booking]
    own.sort(key=lambda one: (one[0].kit.sort, one[0].kit.name, one[0].pk))
    return [_booked(promise, row, today) for promise, row in own]


def kit_wear(booking: int) -> list[Wear]:
    """What the kit a booking was promised loses by it; only what loses something."""
    return wear_of(promised_kit(booking))


def wear_of(promised: Iterable[KitPromise]) -> list[Wear]:
    """What promised kit loses by being used; only what loses something."""
    return [
        Wear(promise.kit.name, promise.quantity, promise.kit.wear_minor)
        for promise in promised
        if promise.kit.wear_minor > 0
    ]


def ladder_heights() -> list[Decimal]:
    """How high the studio's ladders are, as they are sold, in millimetres: those in use, the shortest first."""
    ladders = Kit.objects.in_use().filter(sort=Kit.Sort.LADDER, height_mm__isnull=False)
    owned = [ladder for ladder in ladders.with_owned().order_by("height_mm", "pk") if ladder.owned > 0]
    return [ladder.height_mm for ladder in owned if ladder.height_mm is not None]


def _booked(promise: KitPromise, row: KitRow, today: date) -> BookedKit:
    period, clean = promise.period(today), row.kit.cleaning_days
    if period is None or promise.state == "back":
        return BookedKit(promise, row.owned, 0, "", None, promise.is_late(today))
    met = [
        clash
        for clash in row.clashes
        if clash.first <= period.ready(clean) - timedelta(days=1) and clash.last >= period.out
    ]
    if not met:
        return BookedKit(promise, row.owned, 0, "", None, promise.is_late(today))
    lacking = (gone.short for clash in met for gone in clash.without if gone.period.promise_no == promise.pk)
    short = max(lacking, default=0)
    others = [one for one in row.periods if one.promise_no != promise.pk]
    days = (period.back - period.out).days + 1
    free = next_free(row.owned, others, clean, on=max(period.out, today), days=days, quantity=promise.quantity)
    said = " ".join(clash.sentence for clash in met)
    return BookedKit(promise, row.owned, short, said, free if short else None, promise.is_late(today))


def _is_firm(row: KitRow, period: Period) -> bool:
    return next((promise.firm for promise in row.standing if promise.pk == period.promise_no), True)
