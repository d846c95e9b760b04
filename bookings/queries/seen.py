"""What jobs that were wrapped up have shown, for the estimates to come."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, NamedTuple

from django.db.models import Case, Count, DecimalField, IntegerField, Q, QuerySet, Sum, Value, When
from django.db.models.functions import Coalesce

from bookings.models import Booking, WrapUpFigure, WrapUpLine
from estimating.learning import PopsSeen
from estimating.lessons import LEARNED_PARTS, BalloonsSeen, Lessons, MinutesSeen
from estimating.models import Pin
from stock.models import Colour, Item

_LATEX, _FOIL, _PIN = "latex", "foil", "pin"
"""What a row is of, where it is no figure of a wrap-up: balloons that were counted, or a setting that is pinned."""
_OUTDOORS = "outdoors"
_NONE = Value(0, IntegerField())
_NO_PIN = Value(None, DecimalField(max_digits=8, decimal_places=5))


@dataclass(frozen=True, slots=True)
class Seen:
    """Everything the wrap-ups say of balloons, as `estimate_job` takes it.

    `balloons` are what was reckoned, without spares, and what was used up, popped ones included; `pops` how many of
    each nominal size of latex were inflated indoors and outdoors, and how many of them popped. Both are sums over all
    jobs, which is all that learning asks for. `lessons` are counts by kind and size, the hours of each part of the
    work, and what is pinned.
    """

    balloons: tuple[tuple[int, int], ...] = ()
    pops: tuple[PopsSeen, ...] = ()
    lessons: Lessons = field(default_factory=Lessons)

    @property
    def minutes(self) -> tuple[tuple[int, int], ...]:
        """What the work of all jobs was reckoned at and took, as one sum."""
        seen = self.lessons.minutes
        reckoned = sum(one.reckoned for one in seen)
        return ((reckoned, sum(one.taken for one in seen)),) if reckoned else ()


def seen(*, pace: str | None = None) -> Seen:
    """What was counted of every job that went ahead and was wrapped up; nothing before the first. One statement.

    Hours count where somebody kept the time, and only those reckoned by `pace` where it is given: hours that another
    pace reckoned do not say how far this one is off.
    """
    rows = _read(_pins(), _counted(), _figures(pace))
    lines = [row for row in rows if row.of in (_FOIL, _LATEX)]
    reckoned, used_up = sum(row.reckoned for row in lines), sum(row.came + row.popped for row in lines)
    places = dict.fromkeys((row.size, row.part == _OUTDOORS) for row in lines)
    latex = {(row.size, row.part == _OUTDOORS): row for row in lines if row.of == _LATEX}
    return Seen(
        balloons=((reckoned, used_up),) if reckoned else (),
        pops=tuple(
            PopsSeen(size, outdoors, row.came + row.popped, row.popped) if row else PopsSeen(size, outdoors, 0, 0)
            for size, outdoors in places
            for row in [latex.get((size, outdoors))]
        ),
        lessons=_lessons(rows),
    )


def lessons_seen(*, pace: str | None = None) -> Lessons:
    """What jobs have taught of counts and hours, and what is pinned, by `pace` as above. One statement."""
    return _lessons(_read(_pins(), _figures(pace)))


class _Row(NamedTuple):
    """Sums of many wrap-ups, or a pin. What `kind`, `size` and `part` are depends on what it is `of`."""

    of: str
    kind: str
    size: int
    part: str
    jobs: int
    reckoned: int
    came: int
    popped: int
    pin: Decimal | None


def _read(*parts: QuerySet[Any]) -> list[_Row]:
    """All of the parts, in order. The first has something in each column: PostgreSQL takes from it what each is of."""
    return sorted(map(_Row._make, parts[0].union(*parts[1:], all=True)), key=lambda row: row[1:4])


def _counted() -> QuerySet[Any]:
    """What was needed, used and popped of balloons of latex and of foil, by size, indoors and outdoors."""
    went_ahead = WrapUpLine.objects.exclude(wrap_up__booking__stage=Booking.Stage.CANCELLED)
    foil = When(item__colour__finish=Colour.Finish.FOIL, then=Value(_FOIL))
    where = Case(When(wrap_up__outdoors=True, then=Value(_OUTDOORS)), default=Value(""))
    return (
        went_ahead.filter(item__sort=Item.Sort.LATEX)
        .order_by()
        .annotate(of=Case(foil, default=Value(_LATEX)), nominal=Coalesce("item__size", 0), where=where)
        .values("of", "nominal", "where")
        .annotate(needed_of_all=Sum("needed"), used_of_all=Sum("used"), popped_of_all=Sum("popped"))
        .values_list(
            "of", Value(""), "nominal", "where", _NONE, "needed_of_all", "used_of_all", "popped_of_all", _NO_PIN
        )
    )


def _figures(pace: str | None) -> QuerySet[Any]:
    """What was reckoned and what it came to, of balloons by kind and size, and of minutes by part of the work."""
    what = WrapUpFigure.What
    counts = Q(what=what.BALLOONS, reckoned__gt=0)
    hours = Q(what=what.MINUTES, part__in=LEARNED_PARTS, reckoned__gt=0, wrap_up__timed=True)
    if pace is not None:
        hours &= Q(pace__in=("", pace))
    named = WrapUpFigure.objects.filter(counts | hours).order_by().values("what", "kind", "size", "part")
    summed = named.annotate(jobs=Count("pk"), reckoned_of_all=Sum("reckoned"), came_of_all=Sum("came"))
    return summed.values_list("what", "kind", "size", "part", "jobs", "reckoned_of_all", "came_of_all", _NONE, _NO_PIN)


def _pins() -> QuerySet[Any]:
    """Every setting that is held where the owner put it."""
    named = (Value(_PIN), "setting", _NONE, Value(""))
    return Pin.objects.order_by().values_list(*named, _NONE, _NONE, _NONE, _NONE, "value")


def _lessons(rows: Iterable[_Row]) -> Lessons:
    what, rows = WrapUpFigure.What, list(rows)
    balloons = [row for row in rows if row.of == what.BALLOONS]
    minutes = [row for row in rows if row.of == what.MINUTES]
    return Lessons(
        tuple(BalloonsSeen(row.kind, row.size, row.jobs, row.reckoned, row.came) for row in balloons),
        tuple(MinutesSeen(row.part, row.jobs, row.reckoned, row.came) for row in minutes),
        {row.kind: float(row.pin) for row in rows if row.of == _PIN and row.pin is not None},
    )
