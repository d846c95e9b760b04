"""What jobs that were wrapped up have shown, for the estimates to come."""

from dataclasses import dataclass

from django.db.models import Q, Sum

from bookings.models import Booking, WrapUpLine
from estimating.learning import PopsSeen
from stock.models import Colour, Item


@dataclass(frozen=True, slots=True)
class Seen:
    """Everything the wrap-ups say of balloons, as `estimate_job` takes it.

    `balloons` are what was reckoned, without spares, and what was used up, popped ones included; `pops` how many of
    each nominal size of latex were inflated indoors and outdoors, and how many of them popped. Both are sums over all
    jobs, which is all that learning asks for.
    """

    balloons: tuple[tuple[int, int], ...] = ()
    pops: tuple[PopsSeen, ...] = ()


def seen() -> Seen:
    """What was counted of the balloons of every job that went ahead and was wrapped up; nothing before the first."""
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
    if not rows:
        return Seen()
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
    )
