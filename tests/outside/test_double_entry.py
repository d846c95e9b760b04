"""Double entry as textbooks work it, checked against the rule book.

The method is Pacioli's (Summa de arithmetica, 1494: no debit without its credit). The worked examples have the shape of
those in open textbooks of financial accounting (OpenStax, Principles of Accounting, volume 1, chapters 3, 4 and 12:
services billed on account, unearned revenue, sales tax collected); quoted from memory, the amounts are our own.
"""

import pytest

from bookings import books
from bookings.books import CHART, Account, Bill, Posting, trial_balance


def lines(entry: tuple[Posting, ...]) -> dict[str, tuple[int, int]]:
    return {line.account.name: (line.debit, line.credit) for line in entry}


def test_services_billed_on_account_debit_receivable_and_credit_sales():
    assert lines(books.invoice(Bill("whole", 5_500, 0), position=0)) == {"RECEIVABLE": (5_500, 0), "SALES": (0, 5_500)}


def test_what_was_billed_is_collected_by_a_debit_of_cash_and_a_credit_of_receivable():
    assert lines(books.payment(method="cash", settles=5_500, surplus=0, position=5_500)) == {
        "CASH": (5_500, 0),
        "RECEIVABLE": (0, 5_500),
    }


def test_money_received_before_the_work_is_owed_to_the_client():
    """Unearned revenue: cash is debited, a liability credited, and no sale is made."""
    entry = books.payment(method="cash", settles=4_000, surplus=0, position=0)
    assert lines(entry) == {"CASH": (4_000, 0), "ADVANCES": (0, 4_000)}
    assert CHART[Account.ADVANCES].kind == "liability"


def test_unearned_revenue_is_earned_when_the_work_is_billed():
    """4,000 came in ahead; the work of 4,000 is invoiced: the liability is debited and sales credited."""
    entry = books.invoice(Bill("whole", 4_000, 0), position=-4_000)
    assert lines(entry) == {"ADVANCES": (4_000, 0), "SALES": (0, 4_000)}


def test_sales_tax_collected_is_a_liability_and_no_income():
    """1,000 sold at 5 %: receivable 1,050, sales 1,000, sales tax payable 50."""
    entry = books.invoice(Bill("whole", 1_000, 50), position=0)
    assert lines(entry) == {"RECEIVABLE": (1_050, 0), "SALES": (0, 1_000), "TAX": (0, 50)}


def test_a_sales_return_undoes_sale_tax_and_receivable():
    entry = books.credit_note(Bill("whole", 1_000, 50), position=1_050)
    assert lines(entry) == {"RECEIVABLE": (0, 1_050), "SALES": (1_000, 0), "TAX": (50, 0)}


def test_a_customer_deposit_waits_as_a_liability_until_the_balance_is_billed():
    """A deposit of 600 and 30 tax on work of 1,200 and 60: the balance bill earns all of the 1,200."""
    deposit = books.invoice(Bill("deposit", 600, 30), position=0)
    balance = books.invoice(Bill("balance", 600, 30, deposits=600), position=630)
    assert lines(deposit) == {"RECEIVABLE": (630, 0), "DEPOSITS": (0, 600), "TAX": (0, 30)}
    assert lines(balance) == {"RECEIVABLE": (630, 0), "DEPOSITS": (600, 0), "SALES": (0, 1_200), "TAX": (0, 30)}


@pytest.mark.parametrize(
    ("kind", "grows_by_debit"),
    [
        pytest.param("asset", True, id="assets grow on the left"),
        pytest.param("liability", False, id="liabilities grow on the right"),
        pytest.param("income", False, id="income grows on the right"),
    ],
)
def test_normal_balances_are_those_of_every_textbook(kind, grows_by_debit):
    of_kind = [about for about in CHART.values() if about.kind == kind]
    assert of_kind and {about.grows_by_debit for about in of_kind} == {grows_by_debit}


def test_a_month_worked_through_ends_in_the_trial_balance_reckoned_by_hand():
    """Bill 1,000 + 50; 1,100 comes in by transfer; 20 of it is given back in cash; a job is called off for 200."""
    entries = [
        books.invoice(Bill("whole", 1_000, 50), position=0),
        books.payment(method="transfer", settles=1_050, surplus=50, position=1_050),
        books.refund(method="cash", from_credit=20, from_booking=0, position=0),
        books.invoice(Bill("cancellation", 200, 0), position=0),
    ]
    totals = trial_balance(line for entry in entries for line in entry)
    assert {account.name: amount for account, amount in totals.items() if amount} == {
        "BANK": 1_100, "CASH": -20, "RECEIVABLE": 200, "SALES": 1_000, "TAX": 50, "CREDIT": 30, "FEES": 200,
    }  # fmt: skip
    left = sum(amount for account, amount in totals.items() if CHART[account].grows_by_debit)
    right = sum(amount for account, amount in totals.items() if not CHART[account].grows_by_debit)
    assert left == right == 1_280
