"""Rows of kit: how many are owned, who has it or will, and where it is promised more often than it is there."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db.models import OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce

from stock.kit import Collision, Period, Without, collisions, goes_without, next_free
from stock.models import Kit, KitMovement, KitPromise, KitPromiseQuerySet, KitQuerySet
from stock.models.kit import MOST_CLEANING_DAYS

_TIMES = {2: "twice", 3: "three times", 4: "four times", 5: "five times"}


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


def keeps_away(today: date) -> Q:
    """Promises that may keep kit away today or later: out, ahead, or back so lately that it is being cleaned."""
    lately = today - timedelta(days=MOST_CLEANING_DAYS)
    ahead = Q(taken_out_at__isnull=True, back_on__gte=lately)
    out = Q(taken_out_at__isnull=False, came_back_at__isnull=True)
    # By the moment, in no zone in particular: a day more or less is sorted out by the period.
    cleaned = Q(came_back_at__date__gte=lately - timedelta(days=1))
    return ahead | out | cleaned


def rows_of_kit(kits: KitQuerySet, today: date) -> list[KitRow]:
    """The rows of some kit, in the order asked for."""
    listed = list(kits)
    promises: dict[int, list[KitPromise]] = defaultdict(list)
    held = KitPromise.objects.not_let_go().filter(keeps_away(today), kit__in=[kit.pk for kit in listed])
    for promise in _with_gone(held).order_by("pk"):
        promises[promise.kit_id].append(promise)
    return [_row(kit, promises[kit.pk], today) for kit in listed]


def rows_of_promises(promised: KitPromiseQuerySet, today: date) -> list[KitRow]:
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
