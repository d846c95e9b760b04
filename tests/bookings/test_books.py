"""The rule book: whatever happens, debits equal credits, and the two accounts of a booking follow its position."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookings import books
from bookings.books import Account, Bill, Posting, Unbalanced, balanced, net_and_tax, trial_balance

POSITIONS = st.integers(-10_000, 10_000)
AMOUNTS = st.integers(1, 10_000)


def sides(entry: tuple[Posting, ...]) -> tuple[int, int]:
    return sum(line.debit for line in entry), sum(line.credit for line in entry)


@given(
    kind=st.sampled_from(["deposit", "balance", "whole", "cancellation"]),
    net=st.integers(-500, 10_000),
    tax=st.integers(-50, 900),
    deposits=st.integers(0, 3_000),
    position=POSITIONS,
)
def test_a_bill_and_its_credit_note_balance_and_undo_each_other(kind, net, tax, deposits, position):
    # A deposit's invoice takes no earlier deposit off.
    bill = Bill(kind, net, tax, 0 if kind == "deposit" else deposits)
    try:
        issued = books.invoice(bill, position=position)
    except Unbalanced:
        assert not any((bill.total, tax, net + bill.deposits, bill.deposits))
        return
    back = books.credit_note(bill, position=position + bill.total)
    assert sides(issued)[0] == sides(issued)[1] > 0
    assert sides(back)[0] == sides(back)[1] > 0
    assert not any(trial_balance([*issued, *back]).values())


@given(position=POSITIONS, by=st.integers(-10_000, 10_000))
def test_receivable_less_advances_is_the_position(position, by):
    moved = trial_balance(books.move(position=position, by=by))
    after = position + by
    receivable = max(position, 0) + moved.get(Account.RECEIVABLE, 0)
    ahead = max(-position, 0) + moved.get(Account.ADVANCES, 0)
    assert (receivable, ahead) == (max(after, 0), max(-after, 0))


@given(method=st.sampled_from(["cash", "transfer", "card", "other"]), one=AMOUNTS, other=AMOUNTS, position=POSITIONS)
def test_payments_and_refunds_balance(method, one, other, position):
    paid = books.payment(method=method, settles=one, surplus=other, position=position)
    back = books.refund(method=method, from_credit=other, from_booking=one, position=position - one)
    assert sides(paid)[0] == sides(paid)[1]
    assert not any(trial_balance([*paid, *back]).values())


@given(amount=AMOUNTS, position=POSITIONS)
def test_credit_used_and_given_back_comes_out_even(amount, position):
    used = books.credit_used(amount=amount, position=position)
    freed = books.surplus_credited(amount=amount, position=position - amount)
    assert sides(used)[0] == sides(used)[1]
    assert not any(trial_balance([*used, *freed]).values())


@pytest.mark.parametrize(
    ("postings", "said"),
    [
        pytest.param(
            [Posting(Account.CASH, debit=5), Posting(Account.SALES, credit=4)], "got 5 and 4", id="a penny off"
        ),
        pytest.param([Posting(Account.CASH, debit=5)], "got 5 and 0", id="one side only"),
        pytest.param([], "got none", id="nothing"),
        pytest.param([Posting(Account.CASH, debit=5), Posting(Account.CASH, credit=5)], "got none", id="to and fro"),
        pytest.param([Posting(Account.CASH, debit=-5), Posting(Account.BANK, credit=-5)], "got -5", id="negative"),
        pytest.param([Posting(Account.CASH, debit=1.5)], "got 1.5", id="a fraction"),  # type: ignore[arg-type]
    ],
)
def test_an_entry_that_cannot_be_is_refused(postings, said):
    with pytest.raises(Unbalanced, match=said):
        balanced(postings)


@given(gross=st.integers(0, 10_000), price=st.integers(1, 10_000), tax=st.integers(0, 2_000))
def test_a_part_of_a_taxed_total_splits_without_a_penny_lost(gross, price, tax):
    net, due = net_and_tax(gross, price=price, tax=tax)
    assert net + due == gross
    assert abs(due * (price + tax) - gross * tax) < price + tax
