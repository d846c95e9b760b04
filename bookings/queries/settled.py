"""What settles a booking, and what is a client's credit: said once, added up beside a row or over all of them."""

from collections.abc import Collection, Iterable, Iterator
from typing import Any

from django.db.models import BigIntegerField, Case, ExpressionWrapper, F, OuterRef, QuerySet, Subquery, Sum, Value, When
from django.db.models.functions import Coalesce

from bookings.models import CreditMove, Payment, Refund

Parts = Iterable[tuple[QuerySet[Any], Any]]
"""Rows, and what each of them counts for."""

WHOLE = BigIntegerField()


def sum_of(rows: QuerySet[Any], of: Any, *, by: str = "booking") -> Coalesce:
    """A sum over the rows of each booking (or of what `by` names), zero where there are none."""
    grouped = rows.filter(**{by: OuterRef("pk")}).order_by().values(by)
    return Coalesce(Subquery(grouped.annotate(sum=Sum(of)).values("sum"), output_field=WHOLE), 0)


def _less(field: str) -> ExpressionWrapper:
    """A column that counts against the sum."""
    return ExpressionWrapper(-F(field), output_field=WHOLE)


def _used_or_surplus(used: Any, surplus: Any) -> Case:
    """What a move of credit counts for, by its kind."""
    return Case(When(kind="used", then=used), default=surplus, output_field=WHOLE)


def settling() -> list[tuple[QuerySet[Any], Any]]:
    """What was paid for a booking and not too much, less what was given back, with the credit it took or became."""
    return [
        (Payment.objects.all(), F("amount_minor") - F("surplus_minor")),
        (Refund.objects.all(), _less("from_booking_minor")),
        (CreditMove.objects.all(), _used_or_surplus(F("amount_minor"), _less("amount_minor"))),
    ]


def crediting() -> list[tuple[QuerySet[Any], Any]]:
    """What a client paid too much and what a booking gave up, less what was used and what was given back."""
    return [
        (Payment.objects.filter(surplus_minor__gt=0), F("surplus_minor")),
        (CreditMove.objects.all(), _used_or_surplus(_less("amount_minor"), F("amount_minor"))),
        (Refund.objects.filter(from_credit_minor__gt=0), _less("from_credit_minor")),
    ]


def settled_beside() -> Any:
    """What is settled of a booking, beside its row."""
    return sum((sum_of(rows, of) for rows, of in settling()), start=Value(0))


def sums(parts: Parts, by: str, keys: Collection[int] | None) -> Iterator[QuerySet[Any]]:
    """Each part as rows of a booking or a client and the `sum` of its own."""
    for found, of in parts:
        rows = found if keys is None else found.filter(**{f"{by}__in": keys})
        yield rows.order_by().values(by).annotate(sum=Sum(of, output_field=WHOLE))


def summed(parts: Parts, by: str, keys: Collection[int] | None) -> dict[int, int]:
    """The sum of the parts for each booking or client, of those `keys` or of all; one statement, nothing for no row."""
    rows = [part.values_list(by, "sum") for part in sums(parts, by, keys)]
    found: dict[int, int] = {}
    for key, amount in rows[0].union(*rows[1:], all=True):
        found[key] = found.get(key, 0) + amount
    return found
