"""What is owed, by whom, since when. Everything is reckoned from the rows that cannot be changed."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.db.models import (
    BigIntegerField,
    Case,
    DateField,
    ExpressionWrapper,
    F,
    OuterRef,
    QuerySet,
    Subquery,
    Sum,
    Value,
    When,
)
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


def _sums(parts: Iterable[tuple[QuerySet[Any], Any]], by: str, keys: Collection[int] | None) -> Iterator[QuerySet[Any]]:
    """Each part as rows of a booking or a client and the `sum` of its own."""
    for found, of in parts:
        rows = found if keys is None else found.filter(**{f"{by}__in": keys})
        yield rows.order_by().values(by).annotate(sum=Sum(of, output_field=_WHOLE))


def _summed(parts: Iterable[tuple[QuerySet[Any], Any]], by: str, keys: Collection[int] | None) -> dict[int, int]:
    """The sum of the parts for each booking or client, of those `keys` or of all; one statement, nothing for no row."""
    rows = [part.values_list(by, "sum") for part in _sums(parts, by, keys)]
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


@dataclass(frozen=True, slots=True)
class _Account:
    """What one booking is to pay, and how much of that is settled."""

    client: int
    dues: list[Due]
    settled: int = 0

    @property
    def owed(self) -> int:
        """What is left; nothing where more is settled than is due."""
        return max(sum(due.amount for due in self.dues) - self.settled, 0)


def _accounts(clients: Collection[int] | None) -> dict[int, _Account]:
    """Booking key to its account, of every booking of these clients, or of all, that owes anything. Two statements."""
    live = AmountDue.objects.filter(void_at__isnull=True).order_by("pk")
    if clients is not None:
        live = live.filter(booking__client__in=clients)
    found: dict[int, _Account] = {}
    for booking, client, kind, amount, on in live.values_list(
        "booking_id", "booking__client_id", "kind", "amount_minor", "due_on"
    ):
        found.setdefault(booking, _Account(client, [])).dues.append(Due(kind, amount, on))
    settled = _summed(_settling(), "booking", None if clients is None else found) if found else {}
    accounts = {key: replace(one, settled=settled.get(key, 0)) for key, one in found.items()}
    return {key: one for key, one in accounts.items() if one.owed}


def owed_of(clients: Collection[int]) -> Counter[int]:
    """Client key to what they owe over all their bookings, in minor units. Two statements."""
    owed: Counter[int] = Counter()
    for one in _accounts(clients).values():
        owed[one.client] += one.owed
    return owed


def owed_by_booking(*, today: date, clients: Collection[int] | None = None) -> list[Owed]:
    """Every booking that owes anything (of those clients, or of all): late ones first, the longest late on top."""
    owing = _accounts(clients)
    found = [
        _owed(booking, still_open(owing[booking.pk].dues, owing[booking.pk].settled), today=today)
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

    `held`: everybody's credit, or that of the one asked for, where it is known already.
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


def still_to_pay(quote: int, booking: int) -> list[tuple[AmountDue, int]]:
    """Each due of an accepted quote by its day, and what is left of it: what was settled pays the first ones first.

    One statement for the dues and all that is settled of the booking: the client waits for it.
    """
    dues = AmountDue.objects.filter(quote=quote, void_at__isnull=True, amount_minor__gt=0)
    nothing = (Value(0), Value(""), Value(None, DateField()))
    parts = [part.values_list(*nothing, "sum") for part in _sums(_settling(), "booking", [booking])]
    rows = dues.order_by().values_list("pk", "kind", "due_on", "amount_minor").union(*parts, all=True)
    found, settled = [], 0
    for key, kind, on, amount in rows:
        # PostgreSQL sums whole numbers to a decimal, and then every amount of the union is one.
        if key:
            found.append(AmountDue(pk=key, kind=kind, due_on=on, amount_minor=int(amount)))
        else:
            settled += int(amount)
    left = []
    for due in sorted(found, key=lambda one: (one.due_on, one.pk)):
        paid = min(settled, due.amount_minor)
        settled -= paid
        left.append((due, due.amount_minor - paid))
    return left


def clients_with(held: Mapping[int, int]) -> list[tuple[Client, int]]:
    """Every client of whom credit is held, by name, and how much."""
    return [(client, held[client.pk]) for client in Client.objects.filter(pk__in=held).order_by("name", "pk")]
