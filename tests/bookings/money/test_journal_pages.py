"""The books on their pages: who owes what, the journal, months and years."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.models import AmountDue, Posting
from bookings.paperwork.billing import prepare_invoice
from bookings.queries.money import owed_by_client
from studio.models import Studio
from tests.bookings.money.conftest import DEPOSIT, TOTAL, bill, journal, pay, said
from tests.factories import NOON, BookingFactory, QuoteFactory

pytestmark = pytest.mark.django_db


def test_what_is_owed_by_whom_and_since_when(owner_client, booked):
    AmountDue.objects.filter(kind="deposit").update(due_on=timezone.localdate() - dt.timedelta(days=45))
    (owing,) = owed_by_client(today=timezone.localdate())
    assert (owing.owed, owing.late, owing.ages) == (TOTAL, DEPOSIT, (TOTAL - DEPOSIT, 0, DEPOSIT, 0))
    html = said(owner_client.get(reverse("bookings:money")))
    assert "$620.00 is past its day, of $1,342.30 owed." in html and "Ines Vale" in html
    assert "Past its day" in said(owner_client.get(reverse("week")))


def test_crew_see_nothing_of_it(crew_client, booked):
    AmountDue.objects.update(due_on=timezone.localdate() - dt.timedelta(days=45))
    assert crew_client.get(reverse("bookings:money")).status_code == 403
    for address in (reverse("week"), reverse("bookings:detail", args=[booked.pk]), reverse("bookings:list")):
        html = said(crew_client.get(address))
        assert "$620" not in html and "Past its day" not in html and reverse("bookings:money") not in html


def test_the_journal_balances_and_names_account_invoice_client_and_tax(owner_client, booked):
    pay(owner_client, booked)
    bill(owner_client, booked, "whole")
    rows = journal(owner_client)
    assert sum(float(row["Debit"] or 0) for row in rows) == sum(float(row["Credit"] or 0) for row in rows) > 0
    tax = next(row for row in rows if row["Account"] == "Sales tax payable")
    assert (tax["Credit"], tax["Tax"], tax["Tax rate %"], tax["Invoice"], tax["Client"], tax["Currency"]) == (
        "102.30", "102.30", "8.25", "1", "Ines Vale", "USD",
    )  # fmt: skip


def test_a_client_named_like_a_formula_is_no_formula_in_the_journal(owner_client, booked):
    type(booked.client).objects.update(name="=cmd()")
    pay(owner_client, booked)
    assert {row["Client"] for row in journal(owner_client)} == {"'=cmd()"}


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        pytest.param("first=2026-06-02&last=2026-06-01", "To must be 2026-06-02 or later", id="backwards"),
        pytest.param("first=x&last=2026-06-01", "Enter a valid date", id="no day"),
    ],
)
def test_a_journal_that_cannot_be_is_refused(owner_client, asked, sentence):
    answer = owner_client.get(f"{reverse('bookings:journal')}?{asked}")
    assert answer.status_code == 422 and sentence in said(answer)


def test_months_and_years_come_to_what_the_books_say(owner_client, booked):
    pay(owner_client, booked)
    bill(owner_client, booked, "whole")
    html = said(owner_client.get(reverse("bookings:money")))
    assert html.count("$1,240.00") == 2 and html.count("$102.30") == 2


def test_what_was_written_is_in_the_books_to_the_penny(owner_client, booked):
    pay(owner_client, booked)
    assert sorted(Posting.objects.values_list("account", "debit_minor", "credit_minor")) == [
        ("advances", 0, DEPOSIT), ("card", DEPOSIT, 0),
    ]  # fmt: skip


@pytest.mark.parametrize("address", ["bookings:money", "bookings:invoices"])
def test_lists_ask_the_same_few_queries_however_long_they_are(
    owner_client, booked, owner, address, django_assert_max_num_queries
):
    paper = prepare_invoice(
        booked, kind="whole", studio=Studio.objects.current(), today=timezone.localdate(), at=timezone.now()
    )
    actions.issue_invoice(paper=paper, by=owner, at=timezone.now())
    for n in range(6):
        other = QuoteFactory(booking=BookingFactory(created_by=owner), number=600 + n, issued_by=owner)
        AmountDue.objects.create(booking=other.booking, quote=other, kind="deposit", amount_minor=5, due_on=NOON.date())
    with django_assert_max_num_queries(12):
        owner_client.get(reverse(address))
