"""The database itself keeps the books: an entry balances, and stays as it was written."""

import pytest
from django.db import DatabaseError, transaction

from bookings.models import Entry, Posting
from tests.factories import NOON, TODAY, ClientFactory

pytestmark = pytest.mark.django_db


def postings(number: int, *lines: tuple[str, int, int]) -> None:
    Posting.objects.bulk_create(
        Posting(entry_id=number, account=account, debit_minor=debit, credit_minor=credit)
        for account, debit, credit in lines
    )


def entry(number: int) -> Entry:
    return Entry.objects.create(
        number=number, on=TODAY, at=NOON, what="Paid in cash", currency="USD", client=ClientFactory()
    )


def test_an_entry_that_balances_is_taken():
    postings(1, ("cash", 500, 0), ("receivable", 0, 400), ("credit", 0, 100))
    assert entry(1).postings.count() == 3


@pytest.mark.parametrize(
    "lines",
    [
        pytest.param([("cash", 500, 0), ("receivable", 0, 499)], id="a penny short"),
        pytest.param([("cash", 500, 0)], id="one side only"),
        pytest.param([], id="nothing at all"),
    ],
)
def test_an_entry_that_does_not_balance_is_refused(lines):
    with pytest.raises(DatabaseError, match="debits must equal credits"), transaction.atomic():
        postings(1, *lines)
        entry(1)


def test_an_entry_takes_no_posting_afterwards():
    postings(1, ("cash", 500, 0), ("receivable", 0, 500))
    entry(1)
    with pytest.raises(DatabaseError, match="no more postings"), transaction.atomic():
        postings(1, ("bank", 5, 0), ("sales", 0, 5))


@pytest.mark.parametrize(
    "line",
    [
        pytest.param(("cash", 5, 5), id="both"),
        pytest.param(("cash", 0, 0), id="neither"),
        pytest.param(("petty", 5, 0), id="an account nobody knows"),
    ],
)
def test_a_posting_is_a_debit_or_a_credit_of_a_known_account(line):
    with pytest.raises(DatabaseError), transaction.atomic():
        postings(1, line)


def test_the_books_are_neither_changed_nor_deleted():
    postings(1, ("cash", 500, 0), ("receivable", 0, 500))
    written = entry(1)
    for rows in (Entry.objects.filter(pk=written.pk), Posting.objects.filter(entry=written)):
        with pytest.raises(DatabaseError, match="the books are written once"), transaction.atomic():
            rows._raw_delete("default")
    with pytest.raises(DatabaseError, match="the books are written once"), transaction.atomic():
        Posting.objects.filter(account="cash").update(debit_minor=1, credit_minor=0)
