"""What is owed, by whom, since when. Everything is reckoned from the rows that cannot be changed."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import BigIntegerField, Case, ExpressionWrapper, F, OuterRef, QuerySet, Subquery, Sum, Value, When
from django.db.models.functions import Coalesce

from bookings.models import AmountDue, Booking, Client, CreditMove, Invoice, Payment, Refund
from bookings.owing import Due, Open, by_age, owed_since, still_open

_WHOLE = BigIntegerField()


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a booking stands, in minor units: what it is to pay, what is settled of that, and what is invoiced."""

    due: int = 0
    settled: int = 0
    invoiced: int = 0

    @property
    def owed(self) -> int:
        """What is still to be paid, late or not."""
        return self.due - self.settled

    @property
    def position(self) -> int:
        """What was invoiced less what was settled: above zero receivable, below zero paid in advance."""
        return self.invoiced - self.settled


@dataclass(frozen=True, slots=True)
class Owed:
    """What a booking owes. `since` is the first day that went by unpaid, None where nothing is late."""

    booking: Booking
    owed: int
    late: int
    since: date | None
    next_on: date
    ages: tuple[int, int, int, int]

    @property
    def days_late(self) -> str:
        """Nothing is late, or how the first unpaid day is written."""
        return "" if self.since is None else f"{self.since.day} {self.since:%B %Y}"


@dataclass(frozen=True, slots=True)
class ClientOwes:
    """What a client owes over all their bookings, and what credit they have."""

    client: Client
    bookings: tuple[Owed, ...]
    credit: int

    @property
    def owed(self) -> int:
        """All of it."""
        return sum(one.owed for one in self.bookings)

    @property
    def late(self) -> int:
        """What of it is past its day."""
        return sum(one.late for one in self.bookings)

    @property
    def since(self) -> date | None:
        """Since when anything is late."""
        return min((one.since for one in self.bookings if one.since is not None), default=None)

    @property
    def ages(self) -> tuple[int, ...]:
        """How much at each of `owing.AGES`."""
        return tuple(sum(column) for column in zip(*(one.ages for one in self.bookings), strict=True))


def _sum_of(rows: QuerySet[Any], of: Any, *, by: str = "booking") -> Coalesce:
    """A sum over the rows of each booking (or of what `by` names), zero where there are none."""
    grouped = rows.filter(**{by: OuterRef("pk")}).order_by().values(by)
    return Coalesce(Subquery(grouped.annotate(sum=Sum(of)).values("sum"), output_field=_WHOLE), 0)


def with_standing(bookings: QuerySet[Booking]) -> QuerySet[Any]:
    """The bookings with the sums `standing` reads, in the same statement."""
    return bookings.annotate(
        sum_due=_sum_of(AmountDue.objects.filter(void_at__isnull=True), "amount_minor"),
        sum_invoiced=_sum_of(live_invoices(), "total_minor"),
        sum_settled=_settled(),
    )


def _less(field: str) -> ExpressionWrapper:
    """A column that counts against the sum."""
    return ExpressionWrapper(-F(field), output_field=_WHOLE)


def _used_or(used: Any, surplus: Any) -> Case:
    """What a move of credit counts for, by its kind."""
    return Case(When(kind="used", then=used), default=surplus, output_field=_WHOLE)


def _settling() -> list[tuple[QuerySet[Any], Any]]:
    """What was paid for a booking and not too much, less what was given back, with the credit it took or became."""
    return [
        (Payment.objects.all(), F("amount_minor") - F("surplus_minor")),
        (Refund.objects.all(), _less("from_booking_minor")),
        (
            CreditMove.objects.all(),
            Case(When(kind="used", then=F("amount_minor")), default=_less("amount_minor"), output_field=_WHOLE),
        ),
    ]


def _crediting() -> list[tuple[QuerySet[Any], Any]]:
    """What a client paid too much and what a booking gave up, less what was used and what was given back."""
    return [
        (Payment.objects.filter(surplus_minor__gt=0), F("surplus_minor")),
        (
            CreditMove.objects.all(),
            Case(When(kind="used", then=_less("amount_minor")), default=F("amount_minor"), output_field=_WHOLE),
        ),
        (Refund.objects.filter(from_credit_minor__gt=0), _less("from_credit_minor")),
    ]


def _settled() -> Any:
    """What is settled of a booking, beside its row."""
    return sum((_sum_of(rows, of) for rows, of in _settling()), start=Value(0))


def _summed(parts: Iterable[tuple[QuerySet[Any], Any]], by: str, keys: Collection[int] | None) -> dict[int, int]:
    """The sum of the parts for each booking or client, of those `keys` or of all; one statement, nothing for no row."""
    rows = [
        (found if keys is None else found.filter(**{f"{by}__in": keys}))
        .order_by()
        .values(by)
        .annotate(sum=Sum(of, output_field=_WHOLE))
        .values_list(by, "sum")
        for found, of in parts
    ]
    sums: dict[int, int] = {}
    for key, amount in rows[0].union(*rows[1:], all=True):
        sums[key] = sums.get(key, 0) + amount
    return sums


def live_invoices() -> QuerySet[Invoice]:
    """Invoices that were not taken back by a credit note."""
    return Invoice.objects.filter(credit_note__isnull=True)


def standing_of(booking: Booking) -> Standing:
    """Where a booking stands: from its own row where that was read `with_standing`."""
    if hasattr(booking, "sum_settled"):
        return Standing(booking.sum_due, booking.sum_settled, booking.sum_invoiced)  # type: ignore[attr-defined]
    return standing(booking.pk)


def standing(booking: int) -> Standing:
    """Where one booking stands now."""
    row = with_standing(Booking.objects.filter(pk=booking)).values("sum_due", "sum_settled", "sum_invoiced").get()
    return Standing(row["sum_due"], row["sum_settled"], row["sum_invoiced"])


def credits_of(clients: Collection[int] | None = None) -> Mapping[int, int]:
    """The credit of each client, or of everybody who has any: minor units they paid too much and have neither used
    nor been given back."""
    found = _summed(_crediting(), "client", clients)
    return {key: amount for key, amount in found.items() if amount}


def credit_of(client: int) -> int:
    """One client's credit."""
    return credits_of([client]).get(client, 0)


def owed_by_booking(*, today: date, clients: Collection[int] | None = None) -> list[Owed]:
    """Every booking that owes anything (of those clients, or of all): late ones first, the longest late on top."""
    live = AmountDue.objects.filter(void_at__isnull=True)
    if clients is not None:
        live = live.filter(booking__client__in=clients)
    dues: dict[int, list[Due]] = {}
    for booking, kind, amount, on in live.order_by("pk").values_list("booking_id", "kind", "amount_minor", "due_on"):
        dues.setdefault(booking, []).append(Due(kind, amount, on))
    settled = _summed(_settling(), "booking", None if clients is None else dues) if dues else {}
    owing = {key for key, some in dues.items() if sum(due.amount for due in some) > settled.get(key, 0)}
    found = [
        _owed(booking, still_open(dues[booking.pk], settled.get(booking.pk, 0)), today=today)
        for booking in Booking.objects.filter(pk__in=owing).select_related("client")
    ]
    return sorted(found, key=lambda one: (one.since is None, one.since or one.next_on, one.booking.pk))


def _owed(booking: Booking, open_dues: list[Open], *, today: date) -> Owed:
    ages = by_age(open_dues, today=today)
    return Owed(
        booking=booking,
        owed=sum(one.left for one in open_dues),
        late=sum(ages[1:]),
        since=owed_since(open_dues, today=today),
        next_on=open_dues[0].due.on,
        ages=ages,
    )


def late_by_booking(*, today: date, limit: int = 20) -> list[Owed]:
    """Bookings with money past its day, the longest late first: for the week."""
    return [one for one in owed_by_booking(today=today) if one.late][:limit]


def owed_by_client(
    *, today: date, client: int | None = None, held: Mapping[int, int] | None = None
) -> list[ClientOwes]:
    """Every client who owes anything (or the one asked for, owing or not), the longest late first.

    `held`: everybody's credit, where that is known already.
    """
    grouped: dict[int, list[Owed]] = {}
    for one in owed_by_booking(today=today, clients=None if client is None else [client]):
        grouped.setdefault(one.booking.client_id, []).append(one)
    held = credits_of(grouped) if held is None else held
    return [
        ClientOwes(bookings[0].booking.client, tuple(bookings), held.get(key, 0)) for key, bookings in grouped.items()
    ]


def open_dues_of(booking: Booking, settled: int) -> list[Open]:
    """What is left of each of a booking's dues, in the order of their days."""
    rows = booking.amounts_due.filter(void_at__isnull=True).order_by("due_on", "pk")
    return still_open([Due(row.get_kind_display(), row.amount_minor, row.due_on) for row in rows], settled)


def still_to_pay(dues: Iterable[AmountDue], *, booking: int) -> list[tuple[AmountDue, int]]:
    """Each due in its order, and what is left of it: what was settled pays the first ones first."""
    settled, found = _summed(_settling(), "booking", [booking]).get(booking, 0), []
    for due in dues:
        paid = min(settled, due.amount_minor)
        settled -= paid
        found.append((due, due.amount_minor - paid))
    return found


def clients_with(held: Mapping[int, int]) -> list[tuple[Client, int]]:
    """Every client of whom credit is held, by name, and how much."""
    return [(client, held[client.pk]) for client in Client.objects.filter(pk__in=held).order_by("name", "pk")]
