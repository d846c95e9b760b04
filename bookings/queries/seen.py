"""What jobs that were wrapped up have shown, for the estimates to come."""

from dataclasses import dataclass, field

from django.db.models import Count, DecimalField, IntegerField, Q, Sum, Value

from bookings.models import Booking, WrapUpFigure, WrapUpLine
from estimating.learning import PopsSeen
from estimating.lessons import LEARNED_PARTS, BalloonsSeen, Lessons, MinutesSeen
from estimating.models import Pin
from stock.models import Colour, Item

_PIN = "pin"
"""What a row is called that is no sum of wrap-ups but a setting held where the owner put it."""
_PINNED = DecimalField(max_digits=8, decimal_places=5)


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
    """What was counted of every job that went ahead and was wrapped up; nothing before the first. Two statements.

    Hours count where somebody kept the time, and only those reckoned by `pace` where it is given: hours that another
    pace reckoned do not say how far this one is off.
    """
    counted = WrapUpLine.objects.filter(item__sort=Item.Sort.LATEX).exclude(
        wrap_up__booking__stage=Booking.Stage.CANCELLED
    )
    is_foil = Q(item__colour__finish=Colour.Finish.FOIL)
    grouped = counted.values("item__size", "wrap_up__outdoors").annotate(
        needed_of_all=Sum("needed"),
        used_of_all=Sum("used"),
        popped_of_all=Sum("popped"),
        used_of_latex=Sum("used", filter=~is_foil, default=0),
        popped_of_latex=Sum("popped", filter=~is_foil, default=0),
    )
    rows = list(grouped.order_by("item__size", "wrap_up__outdoors"))
    lessons = lessons_seen(pace=pace)
    if not rows:
        return Seen(lessons=lessons)
    reckoned = sum(row["needed_of_all"] for row in rows)
    used_up = sum(row["used_of_all"] + row["popped_of_all"] for row in rows)
    return Seen(
        balloons=((reckoned, used_up),) if reckoned else (),
        pops=tuple(
            PopsSeen(
                row["item__size"] or 0,
                row["wrap_up__outdoors"],
                row["used_of_latex"] + row["popped_of_latex"],
                row["popped_of_latex"],
            )
            for row in rows
        ),
        lessons=lessons,
    )


def lessons_seen(*, pace: str | None = None) -> Lessons:
    """What jobs have taught of counts and hours, and what is pinned, by `pace` as above. One statement."""
    what = WrapUpFigure.What
    counts = Q(what=what.BALLOONS, reckoned__gt=0)
    hours = Q(what=what.MINUTES, part__in=LEARNED_PARTS, reckoned__gt=0, wrap_up__timed=True)
    if pace is not None:
        hours &= Q(pace__in=("", pace))
    figures = WrapUpFigure.objects.filter(counts | hours).values_list("what", "kind", "size", "part")
    summed = figures.annotate(jobs=Count("pk"), of=Sum("reckoned"), came_to=Sum("came"), pin=Value(None, _PINNED))
    none = Value(0, IntegerField())
    pins = Pin.objects.values_list(Value(_PIN), "setting", none, Value(""), none, none, none, "value")
    rows = sorted(summed.order_by().union(pins.order_by(), all=True), key=lambda row: row[1:4])
    return Lessons(
        tuple(
            BalloonsSeen(kind, size, jobs, reckoned, came)
            for of, kind, size, _, jobs, reckoned, came, _ in rows
            if of == what.BALLOONS
        ),
        tuple(
            MinutesSeen(part, jobs, reckoned, came)
            for of, _, _, part, jobs, reckoned, came, _ in rows
            if of == what.MINUTES
        ),
        {setting: float(value) for of, setting, *_, value in rows if of == _PIN},
    )
