"""What is owed, by whom, since when. Everything is reckoned from the rows that cannot be changed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import BigIntegerField, Case, F, OuterRef, Q, QuerySet, Subquery, Sum, When
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


def _settled() -> Any:
    """What was paid for a booking and not too much, less what was given back, with the credit it took or became."""
    signed = Case(When(kind="used", then=F("amount_minor")), default=-F("amount_minor"))
    credit = CreditMove.objects.filter(kind__in=["used", "surplus"])
    paid = _sum_of(Payment.objects.all(), F("amount_minor") - F("surplus_minor"))
    return paid - _sum_of(Refund.objects.all(), "from_booking_minor") + _sum_of(credit, signed)


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


def credits_of(clients: Iterable[int]) -> Mapping[int, int]:
    """The credit of each client, in minor units: what they paid too much and have neither used nor been given back."""
    keys = list(clients)
    rows = Client.objects.filter(pk__in=keys).annotate(
        over=_sum_of(Payment.objects.all(), "surplus_minor", by="client"),
        freed=_sum_of(CreditMove.objects.filter(kind="surplus"), "amount_minor", by="client"),
        used=_sum_of(CreditMove.objects.filter(kind="used"), "amount_minor", by="client"),
        back=_sum_of(Refund.objects.all(), "from_credit_minor", by="client"),
    )
    found = rows.values_list("pk", "over", "freed", "used", "back")
    return {key: over + freed - used - back for key, over, freed, used, back in found}


def credit_of(client: int) -> int:
    """One client's credit."""
    return credits_of([client]).get(client, 0)


def owed_by_booking(*, today: date, only: Q | None = None) -> list[Owed]:
    """Every booking that owes anything (of those that fit `only`): late ones first, the longest late on top."""
    rows = with_standing(Booking.objects.filter(amounts_due__void_at__isnull=True).distinct())
    rows = rows.filter(only) if only is not None else rows
    owing = list(rows.filter(sum_due__gt=F("sum_settled")).select_related("client"))
    dues: dict[int, list[Due]] = {}
    for due in AmountDue.objects.filter(void_at__isnull=True, booking__in=[one.pk for one in owing]):
        dues.setdefault(due.booking_id, []).append(Due(due.kind, due.amount_minor, due.due_on))
    found = [_owed(one, still_open(dues[one.pk], one.sum_settled), today=today) for one in owing]
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


def owed_by_client(*, today: date, client: int | None = None) -> list[ClientOwes]:
    """Every client who owes anything (or the one asked for, owing or not), the longest late first."""
    only = None if client is None else Q(client=client)
    grouped: dict[int, list[Owed]] = {}
    for one in owed_by_booking(today=today, only=only):
        grouped.setdefault(one.booking.client_id, []).append(one)
    held = credits_of(grouped)
    return [ClientOwes(bookings[0].booking.client, tuple(bookings), held[key]) for key, bookings in grouped.items()]


def open_dues_of(booking: Booking, settled: int) -> list[Open]:
    """What is left of each of a booking's dues, in the order of their days."""
    rows = booking.amounts_due.filter(void_at__isnull=True).order_by("due_on", "pk")
    return still_open([Due(row.get_kind_display(), row.amount_minor, row.due_on) for row in rows], settled)


def still_to_pay(dues: Iterable[AmountDue], *, booking: int) -> list[tuple[AmountDue, int]]:
    """Each due in its order, and what is left of it: what was settled pays the first ones first."""
    rows = Booking.objects.filter(pk=booking).annotate(sum=_settled())
    settled, found = rows.values_list("sum", flat=True).get(), []
    for due in dues:
        paid = min(settled, due.amount_minor)
        settled -= paid
        found.append((due, due.amount_minor - paid))
    return found


def credits_held() -> list[tuple[Client, int]]:
    """Every client who has credit, and how much."""
    keys = {
        *Payment.objects.filter(surplus_minor__gt=0).values_list("client", flat=True),
        *CreditMove.objects.values_list("client", flat=True),
    }
    found = credits_of(keys)
    clients = Client.objects.filter(pk__in=[key for key, amount in found.items() if amount]).order_by("name", "pk")
    return [(client, found[client.pk]) for client in clients]
