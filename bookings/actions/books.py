"""Writing in the books. Whoever does so holds the booking's row, so that what it is reckoned from stays."""

from collections.abc import Iterable
from datetime import date, datetime

from bookings.books import Posting as PlainPosting
from bookings.models import (
    Booking,
    Client,
    CreditMove,
    CreditNote,
    Entry,
    Invoice,
    NumberSeries,
    Payment,
    Posting,
    Refund,
)
from studio.models import User


def take_number(series: str) -> int:
    """The next number of a series, held until the transaction ends: one that is rolled back is given again."""
    NumberSeries.objects.get_or_create(pk=series)
    row = NumberSeries.objects.select_for_update().get(pk=series)
    row.last += 1
    row.save(update_fields=["last"])
    return row.last


def hold(booking: int) -> Booking:
    """The booking and then its client, held: the queue for everything about their money.

    The client is read once the booking is held. Joined to it, a client who became another meanwhile would take the
    booking out of the answer: PostgreSQL looks at the row it waited for again, but not for another client.
    """
    held = Booking.objects.select_for_update().get(pk=booking)
    held.client = hold_client(held.client_id)
    return held


def hold_client(client: int) -> Client:
    """A client alone, held: their credit is reckoned and given in turn."""
    return Client.objects.select_for_update().get(pk=client)


def write_entry(
    *,
    postings: Iterable[PlainPosting],
    what: str,
    on: date,
    currency: str,
    client: Client,
    booking: Booking | None = None,
    by: User | None,
    at: datetime,
    invoice: Invoice | None = None,
    credit_note: CreditNote | None = None,
    payment: Payment | None = None,
    refund: Refund | None = None,
    credit_move: CreditMove | None = None,
) -> Entry:
    """One event in the books. Its postings come first; the database seals them with the entry where they balance."""
    number = take_number("entry")
    Posting.objects.bulk_create(
        Posting(entry_id=number, account=line.account.value, debit_minor=line.debit, credit_minor=line.credit)
        for line in postings
    )
    return Entry.objects.create(
        number=number,
        on=on,
        at=at,
        by=by,
        what=what[:200],
        currency=currency,
        client=client,
        booking=booking,
        invoice=invoice,
        credit_note=credit_note,
        payment=payment,
        refund=refund,
        credit_move=credit_move,
    )
