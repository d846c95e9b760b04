"""Payments on their pages: what is owed, written down, given back, and kept as credit."""

import uuid

import pytest
from django.urls import reverse

from bookings import actions
from bookings.models import Payment, Refund
from bookings.queries.money import credit_of, standing
from studio.models import Studio
from tests.bookings.money.conftest import DEPOSIT, TOTAL, pay, said, typed
from tests.factories import NOON, BookingFactory, QuoteFactory, token_of

pytestmark = pytest.mark.django_db


def test_the_job_says_what_is_owed_and_by_when(owner_client, booked):
    html = said(owner_client.get(reverse("bookings:detail", args=[booked.pk])))
    assert "Deposit, due" in html and "Balance, due" in html and "$1,342.30" in html


def test_the_amount_that_is_due_first_is_filled_in(owner_client, booked):
    html = said(owner_client.get(reverse("bookings:payment", args=[booked.pk])))
    assert 'value="$620.00"' in html


def test_a_deposit_paid_leaves_the_balance(owner_client, booked):
    answer = pay(owner_client, booked)
    assert answer.headers["Location"] == f"{reverse('bookings:detail', args=[booked.pk])}#money"
    assert standing(booked.pk).owed == TOTAL - DEPOSIT
    html = said(owner_client.get(reverse("bookings:detail", args=[booked.pk])))
    assert "$620.00 is written down. $722.30 is still owed." in html and "Receipt 1" in html


def test_a_part_of_it_leaves_the_rest(owner_client, booked):
    pay(owner_client, booked, amount="100.01")
    assert standing(booked.pk).owed == TOTAL - 10_001


def test_the_same_form_twice_is_one_payment(owner_client, booked):
    form = typed(standing(booked.pk).owed)
    answers = [owner_client.post(reverse("bookings:payment", args=[booked.pk]), form) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert Payment.objects.count() == 1


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        pytest.param({"amount": "0"}, "Amount must be $0.01 or more (got “0”).", id="nothing"),
        pytest.param({"amount": "-5"}, "Amount must be $0.01 or more (got “-5”).", id="below nothing"),
        pytest.param({"amount": "12.345"}, "at most 2 decimals (got “12.345”).", id="three decimals"),
        pytest.param({"amount": "lots"}, "(got “lots”).", id="words"),
        pytest.param({"amount": ""}, "Amount is needed.", id="no amount"),
        pytest.param({"day": "2999-01-01"}, "Day must be today or before (got “2999-01-01”).", id="not come yet"),
        pytest.param({"day": "0001-01-01"}, "Day must be today or before (got “0001-01-01”).", id="long ago"),
        pytest.param({"day": "soon"}, "Day must be a day such as 2026-06-15 (got “soon”).", id="no day"),
        pytest.param({"method": "shells"}, "shells", id="no way to pay"),
        pytest.param({"seen": "x"}, "Enter a whole number", id="mangled"),
    ],
)
def test_what_cannot_be_is_refused_with_what_was_typed_kept(owner_client, booked, changes, sentence):
    answer = pay(owner_client, booked, **{"note": "paid by her aunt"} | changes)
    assert answer.status_code == 422
    assert sentence in said(answer) and "paid by her aunt" in said(answer)
    assert not Payment.objects.exists()


def test_more_than_owed_asks_first_and_becomes_credit_once_it_is_meant(owner_client, booked):
    answer = pay(owner_client, booked, amount="1,400")
    assert answer.status_code == 422
    assert "Amount is $57.70 more than the $1,342.30 still owed" in said(answer)
    assert 'name="surplus_is_meant"' in said(answer)

    answer = pay(owner_client, booked, amount="1,400", surplus_is_meant="on")
    assert answer.status_code == 302
    assert (standing(booked.pk).owed, credit_of(booked.client_id)) == (0, 5_770)
    html = said(owner_client.get(reverse("bookings:detail", args=[booked.pk])))
    assert "$57.70 of it is more than was owed and is kept as credit." in html


def test_a_payment_written_down_meanwhile_is_told_before_another_is(owner_client, booked):
    before = typed(standing(booked.pk).owed)
    pay(owner_client, booked)
    answer = owner_client.post(reverse("bookings:payment", args=[booked.pk]), before)
    assert answer.status_code == 422
    assert "Ana wrote down $620.00 at" in said(answer) and "Now $722.30 is owed" in said(answer)
    assert f'name="seen" value="{TOTAL - DEPOSIT}"' in said(answer)
    assert Payment.objects.count() == 1


@pytest.mark.parametrize(
    ("currency", "amount", "status"),
    [
        pytest.param("JPY", "62000", 302, id="yen have no minor unit"),
        pytest.param("JPY", "620.5", 422, id="half a yen"),
        pytest.param("KWD", "62.005", 302, id="fils are thousandths"),
        pytest.param("KWD", "62.0005", 422, id="a tenth of a fils"),
    ],
)
def test_amounts_are_typed_in_the_currencys_own_places(owner_client, booked, currency, amount, status):
    Studio.objects.update_or_create(pk=1, defaults={"currency": currency})
    assert pay(owner_client, booked, amount=amount).status_code == status


def test_credit_is_used_for_another_job_and_no_more_than_it_owes(owner_client, booked, owner):
    pay(owner_client, booked, amount="1400", surplus_is_meant="on")
    other = BookingFactory(client=booked.client, stage="quoted", created_by=owner)
    quote = QuoteFactory(booking=other, number=77, price_minor=5_000, tax_minor=0, deposit_minor=1_000, issued_by=owner)
    actions.accept_quote(quote=quote, name="I", today=quote.valid_until, at=NOON, address=None, browser="")
    owner_client.post(reverse("bookings:use-credit", args=[other.pk]), {"form_key": str(uuid.uuid4())})
    assert (standing(other.pk).owed, credit_of(booked.client_id)) == (0, 770)


def test_a_refund_above_what_was_paid_is_refused(owner_client, booked):
    pay(owner_client, booked)
    answer = owner_client.post(reverse("bookings:refund", args=[booked.pk]), typed(DEPOSIT, amount="620.01"))
    assert answer.status_code == 422
    assert "Amount must be at most the $620.00 that can be given back (got “$620.01”)." in said(answer)
    assert not Refund.objects.exists()


def test_a_refund_of_what_was_paid_is_owed_again(owner_client, booked):
    pay(owner_client, booked)
    owner_client.post(reverse("bookings:refund", args=[booked.pk]), typed(DEPOSIT, amount="20"))
    assert standing(booked.pk).owed == TOTAL - DEPOSIT + 2_000
    assert "$20.00 is owed again" in said(owner_client.get(reverse("bookings:detail", args=[booked.pk])))


def test_credit_is_given_back_from_the_clients_page(owner_client, booked):
    pay(owner_client, booked, amount="1400", surplus_is_meant="on")
    address = reverse("bookings:client-money", args=[booked.client_id])
    assert "Credit: $57.70" in said(owner_client.get(address))
    assert owner_client.post(address, typed(5_770, amount="57.71")).status_code == 422
    assert owner_client.post(address, typed(5_770, amount="57.70")).status_code == 302
    assert (credit_of(booked.client_id), standing(booked.pk).owed) == (0, 0)


def test_the_client_reads_what_is_paid_and_what_is_left(client, owner_client, booked):
    address = reverse("bookings:client", args=[token_of(booked.quotes.get())])
    assert "Deposit of $620.00, due" in said(client.get(address))
    pay(owner_client, booked, amount="700")
    html = said(client.get(address))
    assert "Deposit of $620.00: paid, thank you" in html and "$642.30 of it is still to be paid." in html
