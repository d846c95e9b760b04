"""Invoices on their pages: issued, taken back, what cancelling keeps, and the terms behind them."""

import datetime as dt
import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.models import AmountDue, Booking, CreditNote, Invoice, MoneyTerms
from bookings.queries.money import credit_of, standing
from tests.bookings.money.conftest import DEPOSIT, TOTAL, bill, journal, pay, said
from tests.factories import TOLD, BookingFactory, QuoteFactory, QuotePieceFactory
from tests.opened import send_opened

pytestmark = pytest.mark.django_db

TERMS = {"balance_days": "10", "pay_to": "Harbour Bank", "days_0": "14", "kept_0": "50", "days_1": "60", "kept_1": "10"}


def test_deposit_and_balance_invoices_come_to_the_quote(owner_client, booked):
    bill(owner_client, booked, "deposit")
    assert "Invoice the balance" in said(owner_client.get(reverse("bookings:detail", args=[booked.pk])))
    bill(owner_client, booked, "balance")
    first, second = Invoice.objects.order_by("number")
    assert (first.total_minor, first.total_minor + second.total_minor) == (DEPOSIT, TOTAL)
    assert first.tax_minor + second.tax_minor == 10_230
    assert [line.net_minor for line in second.lines.order_by("position")] == [100_000, 24_000, -first.net_minor]
    assert bytes(first.pdf).startswith(b"%PDF")


def test_one_invoice_for_all_of_it_leaves_nothing_to_invoice(owner_client, booked):
    bill(owner_client, booked, "whole")
    assert bill(owner_client, booked, "deposit").status_code == 302
    html = said(owner_client.get(reverse("bookings:detail", args=[booked.pk])))
    assert "Not done: Everything is invoiced." in html
    assert Invoice.objects.get().total_minor == TOTAL


def test_an_invoice_is_taken_back_by_a_credit_note_and_can_be_issued_again(owner_client, booked):
    bill(owner_client, booked, "whole")
    invoice = Invoice.objects.get()
    form = {"form_key": str(uuid.uuid4()), "why": "Wrong address"}
    owner_client.post(reverse("bookings:invoice-void", args=[invoice.pk]), form)
    html = said(owner_client.get(reverse("bookings:invoice", args=[invoice.pk])))
    assert "Credit note 1" in html and "Wrong address" in html
    bill(owner_client, booked, "whole")
    assert sorted(Invoice.objects.values_list("number", flat=True)) == [1, 2]
    assert standing(booked.pk).invoiced == TOTAL


def test_a_deposit_that_a_balance_takes_off_is_not_taken_back_first(owner_client, booked):
    bill(owner_client, booked, "deposit")
    bill(owner_client, booked, "balance")
    first = Invoice.objects.get(number=1)
    owner_client.post(reverse("bookings:invoice-void", args=[first.pk]), {"form_key": str(uuid.uuid4()), "why": ""})
    assert not CreditNote.objects.exists()
    assert "Invoice 2 takes this deposit off" in said(owner_client.get(reverse("bookings:invoice", args=[first.pk])))


def test_an_invoice_of_an_earlier_version_can_be_taken_back(owner_client, booked, owner):
    bill(owner_client, booked, "whole")
    day = timezone.localdate()
    newer = QuoteFactory(booking=booked, number=500, version=2, valid_until=day, price_minor=1_000, tax_minor=0,
                         deposit_minor=100, issued_by=owner)  # fmt: skip
    actions.accept_quote(quote=newer, name="Ines", today=day, at=timezone.now(), address=None, browser="")
    html = said(owner_client.get(reverse("bookings:detail", args=[booked.pk])))
    assert "is for an earlier version than the one accepted" in html
    form = {"form_key": str(uuid.uuid4()), "why": ""}
    owner_client.post(reverse("bookings:invoice-void", args=[Invoice.objects.get().pk]), form)
    assert CreditNote.objects.count() == 1


def test_a_version_that_costs_less_makes_credit_of_what_was_paid_beyond_it(owner_client, booked, owner):
    pay(owner_client, booked)
    day = timezone.localdate()
    newer = QuoteFactory(booking=booked, number=500, version=2, valid_until=day, price_minor=50_000, tax_minor=0,
                         deposit_minor=100, issued_by=owner)  # fmt: skip
    actions.accept_quote(quote=newer, name="Ines", today=day, at=timezone.now(), address=None, browser="")
    assert (standing(booked.pk).owed, credit_of(booked.client_id)) == (0, 12_000)


def test_cancelling_says_first_what_the_terms_keep(owner_client, booked):
    pay(owner_client, booked)
    html = said(owner_client.get(reverse("bookings:cancel", args=[booked.pk])))
    assert "By the terms that were accepted you keep $335.58." in html and "40 days’ notice." in html
    assert Booking.objects.get(pk=booked.pk).stage == "booked"


def test_cancelling_keeps_by_the_terms_and_the_rest_is_credit(owner_client, booked):
    pay(owner_client, booked)
    bill(owner_client, booked, "deposit")
    form = {"form_key": str(uuid.uuid4()), "why": "Rain"}
    owner_client.post(reverse("bookings:cancel", args=[booked.pk]), form)
    assert (standing(booked.pk).owed, credit_of(booked.client_id)) == (0, DEPOSIT - 33_558)
    assert CreditNote.objects.get().invoice.kind == "deposit"
    assert Invoice.objects.get(kind="cancellation").total_minor == 33_558
    assert [due.kind for due in AmountDue.objects.filter(void_at__isnull=True)] == ["cancellation"]


def test_a_cancellation_charge_that_is_taxed_has_its_tax_inside_on_paper_and_in_the_books(owner_client, booked):
    MoneyTerms.objects.create(pk=1, taxes_cancellation=True)
    pay(owner_client, booked)
    page = said(owner_client.get(reverse("bookings:cancel", args=[booked.pk])))
    assert "you keep $335.58." in page and "<dt>of which sales tax</dt><dd>$25.58</dd>" in page
    owner_client.post(reverse("bookings:cancel", args=[booked.pk]), {"form_key": str(uuid.uuid4()), "why": "Rain"})
    charge = Invoice.objects.get(kind="cancellation")
    # 335.58 at 8.25 % in it: 310.00 and 25.58, a quarter of 1,240.00 and of 102.30 as near as coins go.
    assert (charge.net_minor, charge.tax_minor, charge.total_minor) == (31_000, 2_558, 33_558)
    assert credit_of(booked.client_id) == DEPOSIT - 33_558
    assert (charge.told["shows_tax"], charge.told["tax_percent"]) == (True, "8.25")
    rows = [row for row in journal(owner_client) if row["Invoice"] == str(charge.number)]
    credited = {row["Account"]: row["Credit"] for row in rows if row["Credit"]}
    assert credited == {"Cancellation fees": "310.00", "Sales tax payable": "25.58"}
    assert [row["Tax rate %"] for row in rows if row["Account"] == "Sales tax payable"] == ["8.25"]


def test_a_cancellation_charge_carries_no_tax_unless_the_studio_says_so(owner_client, booked):
    pay(owner_client, booked)
    page = said(owner_client.get(reverse("bookings:cancel", args=[booked.pk])))
    assert "No sales tax is reckoned on it" in page and "ask your accountant" in page
    owner_client.post(reverse("bookings:cancel", args=[booked.pk]), {"form_key": str(uuid.uuid4()), "why": "Rain"})
    charge = Invoice.objects.get(kind="cancellation")
    assert (charge.net_minor, charge.tax_minor) == (33_558, 0)


def test_a_waived_charge_keeps_nothing(owner_client, booked):
    pay(owner_client, booked)
    form = {"form_key": str(uuid.uuid4()), "why": "", "is_waived": "on"}
    owner_client.post(reverse("bookings:cancel", args=[booked.pk]), form)
    assert credit_of(booked.client_id) == DEPOSIT
    assert not Invoice.objects.exists()


def test_the_terms_are_kept_longest_notice_first_and_printed_on_quotes(owner_client, priced, issue):
    form = TERMS | {"form_key": str(uuid.uuid4())}
    assert send_opened(owner_client, reverse("bookings:money-terms"), form).status_code == 302
    assert MoneyTerms.objects.get().ladder == [(60, 10), (14, 50)]
    told = issue(priced).told
    assert told["notice"] == [[60, 10], [14, 50]] and "If you cancel: 60 days or more" in told["terms"]


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        pytest.param({"kept_0": ""}, "Step 1: % of the total kept is needed", id="half a step"),
        pytest.param({"days_1": "14"}, "must differ from step to step (got “14”)", id="twice the same"),
        pytest.param({"kept_0": "101"}, "from 0 to 100 (got “101”)", id="more than all"),
        pytest.param({"balance_days": "-1"}, "from 0 to 365 (got “-1”)", id="after the event"),
    ],
)
def test_terms_that_make_no_sense_are_refused(owner_client, changes, sentence):
    form = TERMS | {"form_key": str(uuid.uuid4())} | changes
    answer = send_opened(owner_client, reverse("bookings:money-terms"), form)
    assert answer.status_code == 422 and sentence in said(answer)
    assert not MoneyTerms.objects.exists()


@pytest.mark.parametrize(
    ("each_line", "tax", "taxes"),
    [
        pytest.param(True, 69, [23, 23, 23], id="line by line: three times 0.2345"),
        pytest.param(False, 70, [24, 23, 23], id="on the total: 0.7035, shared"),
    ],
)
def test_an_invoices_lines_carry_the_tax_of_the_quote_both_ways(owner_client, owner, each_line, tax, taxes):
    day = timezone.localdate()
    booking = BookingFactory(stage="quoted", event_on=day + dt.timedelta(days=40), created_by=owner)
    quote = QuoteFactory(
        booking=booking, issued_by=owner, needed_on=day, valid_until=day, price_minor=1_005, tax_minor=tax,
        deposit_minor=0, told=TOLD | {"tax_percent": "7", "tax_each_line": each_line},
    )  # fmt: skip
    for position in range(3):
        QuotePieceFactory(quote=quote, position=position, price_minor=335)
    actions.accept_quote(quote=quote, name="Ines", today=day, at=timezone.now(), address=None, browser="")
    bill(owner_client, booking, "whole")
    invoice = Invoice.objects.get()
    assert [line.tax_minor for line in invoice.lines.order_by("position")] == taxes
    assert (invoice.tax_minor, invoice.told["each_line"]) == (tax, each_line)
