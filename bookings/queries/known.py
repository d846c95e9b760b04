"""What every estimate stands on, and what a job has at all: read once for a page that asks both several times."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet

from bookings.models import (
    Booking,
    Charge,
    CreditMove,
    DateHold,
    Invoice,
    MaterialSwap,
    OnTheJob,
    Payment,
    Question,
    Refund,
)
from bookings.queries.seen import Seen, seen
from estimating.bags import Diameters
from estimating.models import Rates
from estimating.queries import Shelf, inflated_in_force, pace_stamp, whole_shelf
from stock.models import Colour, KitPromise, Movement
from studio.models import OutgoingMail


@dataclass(frozen=True, slots=True)
class Known:
    """The rates, what wrapped-up jobs have shown at their pace, the colours and the diameters in force.

    `shelf` is every item with what it costs, where several estimates are to be made; None where one reads its own.
    """

    rates: Rates
    shown: Seen
    colours: Sequence[Colour]
    inflated: Diameters
    shelf: Shelf | None = None


def read_known(
    *, colours: Sequence[Colour] | None = None, inflated: Diameters | None = None, for_several: bool = False
) -> Known:
    """All of it as it is now; what the caller has read already is taken from them."""
    rates = Rates.objects.current()
    return Known(
        rates=rates,
        shown=seen(pace=pace_stamp(rates)),
        colours=list(Colour.objects.all()) if colours is None else colours,
        inflated=inflated_in_force() if inflated is None else inflated,
        shelf=whole_shelf() if for_several else None,
    )


def with_what_it_has(bookings: QuerySet[Booking]) -> QuerySet[Any]:
    """The bookings with, in the same statement, whether there is any of what most jobs have nothing of."""
    of_it, of_client = {"booking": OuterRef("pk")}, {"client": OuterRef("client")}
    surplus = Payment.objects.filter(surplus_minor__gt=0, **of_client)
    return bookings.annotate(
        has_charges=Exists(Charge.objects.filter(**of_it)),
        has_swaps=Exists(MaterialSwap.objects.filter(**of_it)),
        has_stock=Exists(Movement.objects.filter(**of_it)),
        has_kit=Exists(KitPromise.objects.not_let_go().filter(**of_it)),
        has_payments=Exists(Payment.objects.filter(**of_it)),
        has_refunds=Exists(Refund.objects.filter(**of_it)),
        has_invoices=Exists(Invoice.objects.filter(**of_it)),
        has_credit=Q(Exists(surplus)) | Q(Exists(CreditMove.objects.filter(**of_client))),
        has_questions=Exists(Question.objects.filter(**of_it)),
        has_holds=Exists(DateHold.objects.filter(**of_it)),
        has_people=Exists(OnTheJob.objects.filter(**of_it)),
        has_letters=Exists(OutgoingMail.objects.filter(about=OuterRef("pk"))),
    )


def may_have(booking: Booking, what: str) -> bool:
    """Whether it is worth asking for some of a booking; where it was read without `with_what_it_has`, it always is."""
    return bool(getattr(booking, f"has_{what}", True))
