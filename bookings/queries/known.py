"""What every estimate stands on, and what a job has at all: read once for a page that asks both several times."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet

from bookings.models import (
    Acknowledgement,
    Booking,
    BringTick,
    Charge,
    CreditMove,
    DateHold,
    Invoice,
    MaterialSwap,
    OnTheJob,
    Payment,
    Question,
    Quote,
    Refund,
)
from bookings.queries.seen import Seen, lessons_seen, seen
from estimating.models import Rates
from estimating.queries import Shelf, pace_stamp, whole_shelf
from stock.models import Colour, KitPromise, Movement
from studio.models import OutgoingMail

NO_SHELF = Shelf({}, {})
"""A shelf that lists nothing: hours and counts follow from the pieces alone."""


@dataclass(frozen=True, slots=True)
class Known:
    """The rates, what wrapped-up jobs have shown at their pace, and the colours.

    `shelf` is every item with what it costs, where several estimates are to be made; None where one reads its own.
    Where it is not `priced`, what things cost is not read, and no amount of an estimate is right.
    """

    rates: Rates
    shown: Seen
    colours: Sequence[Colour]
    shelf: Shelf | None = None
    priced: bool = True


def read_known(
    *,
    colours: Sequence[Colour] | None = None,
    shelf: Shelf | None = None,
    for_several: bool = False,
    priced: bool = True,
) -> Known:
    """All of it as it is now; the colours are taken from a caller who has read them, and the shelf, which is NO_SHELF
    for hours alone."""
    rates = Rates.objects.current()
    return Known(
        rates=rates,
        shown=seen(pace=pace_stamp(rates)),
        colours=list(Colour.objects.all()) if colours is None else colours,
        shelf=whole_shelf() if for_several else shelf,
        priced=priced,
    )


def known_of_hours(known: Known | None = None) -> Known:
    """What hours and counts of many jobs stand on: neither the shelf nor what popped is read. Three statements.

    All of it is taken from what a caller has `known`.
    """
    if known is not None:
        return replace(known, shown=Seen(lessons=known.shown.lessons), shelf=NO_SHELF, priced=False)
    rates = Rates.objects.current()
    shown = Seen(lessons=lessons_seen(pace=pace_stamp(rates)))
    return Known(rates, shown, list(Colour.objects.all()), NO_SHELF, priced=False)


def with_what_it_has(bookings: QuerySet[Booking], *asked: str) -> QuerySet[Any]:
    """The bookings with, in the same statement, whether there is any of what most jobs have nothing of.

    `asked` are names of `_ANY`; without them it is what the page of a job asks for.
    """
    return bookings.annotate(**{f"has_{what}": _ANY[what]() for what in asked or _ON_ITS_PAGE})


_OF_IT, _OF_ITS_CLIENT = {"booking": OuterRef("pk")}, {"client": OuterRef("client")}
_ANY: Mapping[str, Callable[[], Any]] = {
    "charges": lambda: Exists(Charge.objects.filter(**_OF_IT)),
    "swaps": lambda: Exists(MaterialSwap.objects.filter(**_OF_IT)),
    "stock": lambda: Exists(Movement.objects.filter(**_OF_IT)),
    "kit": lambda: Exists(KitPromise.objects.not_let_go().filter(**_OF_IT)),
    "payments": lambda: Exists(Payment.objects.filter(**_OF_IT)),
    "refunds": lambda: Exists(Refund.objects.filter(**_OF_IT)),
    "invoices": lambda: Exists(Invoice.objects.filter(**_OF_IT)),
    "credit": lambda: (
        Q(Exists(Payment.objects.filter(surplus_minor__gt=0, **_OF_ITS_CLIENT)))
        | Q(Exists(CreditMove.objects.filter(**_OF_ITS_CLIENT)))
    ),
    "questions": lambda: Exists(Question.objects.filter(**_OF_IT)),
    "holds": lambda: Exists(DateHold.objects.filter(**_OF_IT)),
    "people": lambda: Exists(OnTheJob.objects.filter(**_OF_IT)),
    "letters": lambda: Exists(OutgoingMail.objects.filter(about=OuterRef("pk"))),
    "acknowledgements": lambda: Exists(Acknowledgement.objects.filter(**_OF_IT)),
    "quotes": lambda: Exists(Quote.objects.filter(**_OF_IT)),
    "ticks": lambda: Exists(BringTick.objects.filter(**_OF_IT)),
}
_ON_ITS_PAGE = tuple(what for what in _ANY if what not in ("acknowledgements", "quotes", "ticks"))


def is_known(booking: Booking, what: str) -> bool:
    """Whether the booking was read with word of it, so that what it `may_have` is what it has."""
    return hasattr(booking, f"has_{what}")


def may_have(booking: Booking, what: str) -> bool:
    """Whether it is worth asking for some of a booking; where it was read without `with_what_it_has`, it always is."""
    return bool(getattr(booking, f"has_{what}", True))
