"""What is owed, by whom, since when. Everything is reckoned from the rows that cannot be changed."""

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.db.models import DateField, QuerySet, Value

from bookings.models import AmountDue, Booking, Client, Invoice
from bookings.owing import Due, Open, by_age, owed_since, still_open
from bookings.queries.settled import crediting, settled_beside, settling, sum_of, summed, sums


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


def with_standing(bookings: QuerySet[Booking]) -> QuerySet[Any]:
    """The bookings with the sums `standing` reads, in the same statement."""
    return bookings.annotate(
        sum_due=sum_of(AmountDue.objects.filter(void_at__isnull=True), "amount_minor"),
        sum_invoiced=sum_of(live_invoices(), "total_minor"),
        sum_settled=settled_beside(),
    )


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
    found = summed(crediting(), "client", clients)
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
    settled = summed(settling(), "booking", None if clients is None else found) if found else {}
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
    parts = [part.values_list(*nothing, "sum") for part in sums(settling(), "booking", [booking])]
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
