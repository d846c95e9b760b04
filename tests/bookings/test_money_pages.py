"""The pages of money: a payment, a refund, credit, invoices, cancelling, what is owed, the journal."""

import csv
import datetime as dt
import io
import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from bookings import actions
from bookings.models import AmountDue, Booking, CreditNote, Invoice, MoneyTerms, Payment, Posting, Refund
from bookings.paperwork.billing import prepare_invoice
from bookings.queries.money import credit_of, owed_by_client, standing
from studio.models import Studio
from tests.factories import NOON, TOLD, BookingFactory, ClientFactory, QuoteFactory, QuotePieceFactory, token_of
from tests.opened import send_opened

pytestmark = pytest.mark.django_db

DEPOSIT, TOTAL = 62_000, 134_230


@pytest.fixture
def booked(owner):
    """A job accepted today for an event in 40 days, its ladder of notice 30 days: 25 %, else half."""
    day = timezone.localdate()
    client = ClientFactory(name="Ines Vale", email="ines@example.org")
    booking = BookingFactory(
        client=client, title="Winter gala", stage="quoted", event_on=day + dt.timedelta(days=40), created_by=owner
    )
    quote = QuoteFactory(
        booking=booking, issued_by=owner, needed_on=day + dt.timedelta(days=39), valid_until=day,
        told=TOLD | {"notice": [[30, 25], [0, 50]]},
    )  # fmt: skip
    QuotePieceFactory(quote=quote, position=0, price_minor=100_000)
    QuotePieceFactory(quote=quote, position=1, price_minor=24_000, name="Column")
    actions.accept_quote(quote=quote, name="Ines", today=day, at=timezone.now(), address=None, browser="")
    return Booking.objects.select_related("client").get(pk=booking.pk)


def typed(seen: int, **changes: str) -> dict[str, str]:
    said = {"amount": "620", "method": "card", "day": f"{timezone.localdate():%Y-%m-%d}", "note": "", "seen": str(seen)}
    return {"form_key": str(uuid.uuid4())} | said | changes


def pay(browser, booking, **changes: str):
    form = typed(standing(booking.pk).owed) | changes
    return browser.post(reverse("bookings:payment", args=[booking.pk]), form)


def bill(browser, booking, kind: str):
    return browser.post(reverse("bookings:invoice-issue", args=[booking.pk, kind]), {"form_key": str(uuid.uuid4())})


def said(answer) -> str:
    return answer.content.decode()


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


def journal(browser) -> list[dict[str, str]]:
    year = timezone.localdate().year
    address = f"{reverse('bookings:journal')}?first={year}-01-01&last={year}-12-31"
    text = b"".join(browser.get(address).streaming_content).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


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


TERMS = {"balance_days": "10", "pay_to": "Harbour Bank", "days_0": "14", "kept_0": "50", "days_1": "60", "kept_1": "10"}


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


def test_the_client_reads_what_is_paid_and_what_is_left(client, owner_client, booked):
    address = reverse("bookings:client", args=[token_of(booked.quotes.get())])
    assert "Deposit of $620.00, due" in said(client.get(address))
    pay(owner_client, booked, amount="700")
    html = said(client.get(address))
    assert "Deposit of $620.00: paid, thank you" in html and "$642.30 of it is still to be paid." in html
