"""Kit: what is promised twice, who has what, and when a thing is next free. Nothing here changes anything."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django.db.models import OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce

from stock.kit import Collision, Period, Wear, Without, collisions, goes_without, next_free
from stock.models import Kit, KitMovement, KitPromise, KitPromiseQuerySet, KitQuerySet
from stock.models.kit import MOST_CLEANING_DAYS
from stock.queries.kit_timeline import Timeline, timeline

_TIMES = {2: "twice", 3: "three times", 4: "four times", 5: "five times"}
MOST_PAST = 30
MOST_MOVEMENTS = 50


@dataclass(frozen=True, slots=True)
class KitClash:
    """Kit promised more often than it is there, in a sentence. `without` are those who go without, promised last.

    `firm` where booked jobs alone clash; else it is only so if an open quote is accepted.
    """

    kit: Kit
    first: date
    last: date
    short_by: int
    sentence: str
    without: tuple[Without, ...]
    firm: bool


@dataclass(frozen=True, slots=True)
class KitRow:
    """One kit: how many are owned, who has it or will, and whether it is promised too often.

    `home` is how many are not out, be they promised or being cleaned, and `next_free` the first day one can go out
    for a day; None where none is owned. `promises` are those that may keep it away, and `standing` those of them that
    are not back.
    """

    kit: Kit
    owned: int
    home: int
    next_free: date | None
    standing: tuple[KitPromise, ...]
    periods: tuple[Period, ...]
    clashes: tuple[KitClash, ...]
    today: date
    promises: tuple[KitPromise, ...]

    @property
    def out(self) -> list[KitPromise]:
        """What is out now."""
        return [promise for promise in self.standing if promise.state == "out"]

    @property
    def late(self) -> list[KitPromise]:
        """What should have been back by now."""
        return [promise for promise in self.standing if promise.is_late(self.today)]

    @property
    def ahead(self) -> list[KitPromise]:
        """What has still to go out."""
        return [promise for promise in self.standing if promise.state == "promised"]

    @property
    def is_short(self) -> bool:
        """Whether booked jobs want more of it than there is."""
        return any(clash.firm for clash in self.clashes)

    @property
    def home_words(self) -> str:
        """“1 of 2 at home”, “none owned”."""
        return f"{self.home:,} of {self.owned:,} at home" if self.owned else "none owned"


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
    rows = _rows(kits if with_retired else kits.in_use(), today)
    return sorted(rows, key=lambda row: (not row.is_short, not row.clashes, not row.late))


def kit_clashes(today: date, *, until: date | None = None, with_open: bool = False) -> list[KitClash]:
    """Where kit is promised more often than it is there, the soonest first. One statement.

    Among booked jobs, unless `with_open` counts what open quotes would take as well; those that begin by `until`,
    where it is given.
    """
    promised = KitPromise.objects.not_let_go().filter(_keeps_away(today))
    found = [clash for row in _rows_of(promised, today) for clash in row.clashes if clash.firm or with_open]
    near = [clash for clash in found if until is None or clash.first <= until]
    return sorted(near, key=lambda clash: (clash.first, clash.kit.name, clash.kit.pk))


def kit_story(kit: Kit, today: date) -> KitStory:
    """One kit: its periods ahead, what is over, and every change of how many there are. Four statements."""
    (row,) = _rows(Kit.objects.with_owned().filter(pk=kit.pk), today)
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
    rows = _rows_of(of_its_kit.filter(_keeps_away(today) | Q(booking=booking)), today)
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


def _keeps_away(today: date) -> Q:
    """Promises that may keep kit away today or later: out, ahead, or back so lately that it is being cleaned."""
    lately = today - timedelta(days=MOST_CLEANING_DAYS)
    ahead = Q(taken_out_at__isnull=True, back_on__gte=lately)
    out = Q(taken_out_at__isnull=False, came_back_at__isnull=True)
    # By the moment, in no zone in particular: a day more or less is sorted out by the period.
    cleaned = Q(came_back_at__date__gte=lately - timedelta(days=1))
    return ahead | out | cleaned


def _rows(kits: KitQuerySet, today: date) -> list[KitRow]:
    """The rows of some kit, in the order asked for."""
    listed = list(kits)
    promises: dict[int, list[KitPromise]] = defaultdict(list)
    held = KitPromise.objects.not_let_go().filter(_keeps_away(today), kit__in=[kit.pk for kit in listed])
    for promise in _with_gone(held).order_by("pk"):
        promises[promise.kit_id].append(promise)
    return [_row(kit, promises[kit.pk], today) for kit in listed]


def _rows_of(promised: KitPromiseQuerySet, today: date) -> list[KitRow]:
    """The rows of the kit of these promises, in no order: all that keep it away are among them. One statement."""
    moved = KitMovement.objects.filter(kit=OuterRef("kit")).order_by().values("kit")
    owned = Coalesce(Subquery(moved.annotate(sum=Sum("quantity")).values("sum")), 0)
    promises: dict[int, list[KitPromise]] = defaultdict(list)
    for promise in _with_gone(promised).annotate(owned=owned).select_related("kit").order_by("pk"):
        promise.kit.owned = promise.owned
        promises[promise.kit_id].append(promise)
    return [_row(of_kit[0].kit, of_kit, today) for of_kit in promises.values()]


def _with_gone(promises: KitPromiseQuerySet) -> QuerySet[Any]:
    """The promises with how many of each are gone from the house for it."""
    moved = KitMovement.objects.filter(promise=OuterRef("pk")).order_by().values("promise")
    return promises.annotate(gone=Coalesce(-Subquery(moved.annotate(sum=Sum("quantity")).values("sum")), 0))


def _row(kit: Kit, kept: Sequence[Any], today: date) -> KitRow:
    owned: int = kit.owned
    promises = [(promise, promise.period(today, gone=promise.gone)) for promise in kept]
    clean = kit.cleaning_days
    ahead = [(promise, period) for promise, period in promises if period is not None and period.ready(clean) > today]
    periods = tuple(period for _, period in ahead)
    firm = [period for promise, period in ahead if promise.firm]
    out = sum(promise.quantity for promise, _ in promises if promise.state == "out")
    clashes = [_clash(kit, owned, one, firm, today, is_firm=True) for one in collisions(owned, firm, clean)]
    clashes += [
        _clash(kit, owned, one, periods, today, is_firm=False)
        for one in collisions(owned, periods, clean)
        if not any(other.first <= one.last and one.first <= other.last for other in clashes)
    ]
    standing = sorted((p for p, _ in promises if p.came_back_at is None), key=lambda p: (p.out_on, p.pk))
    return KitRow(
        kit=kit,
        owned=owned,
        home=max(owned - out, 0),
        next_free=next_free(owned, periods, clean, on=today),
        standing=tuple(standing),
        periods=periods,
        clashes=tuple(clash for clash in clashes if clash.last >= today),
        today=today,
        promises=tuple(kept),
    )


def _clash(kit: Kit, owned: int, one: Collision, periods: Iterable[Period], today: date, *, is_firm: bool) -> KitClash:
    met = {period.promise_no for period in one.periods}
    without = tuple(gone for gone in goes_without(owned, periods, kit.cleaning_days) if gone.period.promise_no in met)
    bare = collisions(owned, one.periods, 0)
    said = _clash_words(kit.name, owned, one, first=max(one.first, today), only_cleaning=not bare)
    if not is_firm:
        said = f"If the open quotes are accepted: {said[0].lower() if said[1:2].islower() else said[0]}{said[1:]}"
    return KitClash(kit, max(one.first, today), one.last, one.short_by, said, without, is_firm)


def _clash_words(name: str, owned: int, one: Collision, *, first: date, only_cleaning: bool) -> str:
    """“Arch frame is promised twice on Sat 12 Dec: Ferry office and Winter gala.”"""
    who = [period.name for period in one.periods]
    named = f"{', '.join(who[:-1])} and {who[-1]}" if len(who) > 1 else who[0]
    when = days_words(first, one.last)
    if owned == 1 and all(period.quantity == 1 for period in one.periods) and len(who) in _TIMES:
        said = f"{name} is promised {_TIMES[len(who)]} {when}: {named}."
    else:
        said = f"{name}: {one.wanted:,} promised {when} and {owned or 'none':{',' if owned else ''}} owned: {named}."
    return f"{said} Only the cleaning between them is missing." if only_cleaning else said


def days_words(first: date, last: date) -> str:
    """“on Sat 12 Dec”, “from Fri 11 to Sun 13 Dec”."""
    end = f"{last:%a} {last.day} {last:%b}"
    if first == last:
        return f"on {end}"
    begin = (
        f"{first:%a} {first.day}"
        if (first.year, first.month) == (last.year, last.month)
        else f"{first:%a} {first.day} {first:%b}"
    )
    return f"from {begin} to {end}"


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
