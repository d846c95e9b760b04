"""The books: every event of a studio's money as an entry whose debits equal its credits.

Double entry as it is taught everywhere: assets grow by a debit; what is owed to others, and income, by a credit. A
booking's position is what it has been invoiced less what has been settled on it. Above zero it is owed to the studio
(accounts receivable); below zero the client has paid ahead of any invoice (payments in advance), which is owed to them.
So an event says how it moves the position, and `move` says what that does to the two accounts.

A deposit that is invoiced is not earned yet: it waits under customer deposits until the invoice for the work.
Amounts are whole minor units of one currency.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from studio.money import LARGEST, shares


class Unbalanced(ValueError):
    """Debits and credits of an entry differ, or there is nothing in it: a mistake in the program, never of a person."""


class Account(StrEnum):
    """An account of the books."""

    CASH = "cash"
    BANK = "bank"
    CARD = "card"
    OTHER = "other"
    RECEIVABLE = "receivable"
    TAX = "tax"
    DEPOSITS = "deposits"
    ADVANCES = "advances"
    CREDIT = "credit"
    SALES = "sales"
    FEES = "fees"


@dataclass(frozen=True, slots=True)
class About:
    """An account's number and name in the chart of accounts, its class, and whether a debit makes it grow."""

    code: str
    name: str
    kind: str
    grows_by_debit: bool


CHART: Mapping[Account, About] = {
    Account.CASH: About("1000", "Cash on hand", "asset", True),
    Account.BANK: About("1010", "Bank", "asset", True),
    Account.CARD: About("1020", "Card clearing", "asset", True),
    Account.OTHER: About("1030", "Undeposited funds", "asset", True),
    Account.RECEIVABLE: About("1200", "Accounts receivable", "asset", True),
    Account.TAX: About("2200", "Sales tax payable", "liability", False),
    Account.DEPOSITS: About("2300", "Customer deposits (unearned)", "liability", False),
    Account.ADVANCES: About("2310", "Payments in advance", "liability", False),
    Account.CREDIT: About("2320", "Client credit", "liability", False),
    Account.SALES: About("4000", "Sales", "income", False),
    Account.FEES: About("4100", "Cancellation fees", "income", False),
}

PAID_INTO: Mapping[str, Account] = {
    "cash": Account.CASH,
    "transfer": Account.BANK,
    "card": Account.CARD,
    "other": Account.OTHER,
}
"""The account the money of a payment method goes into, and a refund by it comes out of."""


@dataclass(frozen=True, slots=True)
class Posting:
    """One line of an entry: a debit or a credit, the other being zero."""

    account: Account
    debit: int = 0
    credit: int = 0


@dataclass(frozen=True, slots=True)
class Bill:
    """What an invoice asks for. `deposits` is the net of earlier deposit invoices that it takes off.

    `net` and `tax` are what is asked after that, so net + tax is the total; both may be negative on their own.
    """

    kind: str
    net: int
    tax: int
    deposits: int = 0

    @property
    def total(self) -> int:
        """What is to be paid."""
        return self.net + self.tax


def balanced(postings: Iterable[Posting]) -> tuple[Posting, ...]:
    """The postings with one line an account, without empty ones. Raises Unbalanced where debits differ from credits."""
    sums: dict[Account, int] = {}
    for posting in postings:
        for amount in (posting.debit, posting.credit):
            if isinstance(amount, bool) or not isinstance(amount, int) or not 0 <= amount <= LARGEST:
                raise Unbalanced(f"An amount must be a whole number from 0 to {LARGEST} (got {amount!r}).")
        sums[posting.account] = sums.get(posting.account, 0) + posting.debit - posting.credit
    lines = tuple(
        Posting(account, debit=amount) if amount > 0 else Posting(account, credit=-amount)
        for account, amount in sums.items()
        if amount
    )
    debits, credited = sum(line.debit for line in lines), sum(line.credit for line in lines)
    if debits != credited:
        raise Unbalanced(f"Debits must equal credits (got {debits} and {credited}).")
    if not lines:
        raise Unbalanced("An entry must move something (got none).")
    return lines


def move(*, position: int, by: int) -> list[Posting]:
    """What a change of a booking's position does to accounts receivable and payments in advance.

    `position` is what was invoiced less what was settled, before; `by` is above zero for what is invoiced, below for
    what is settled.
    """
    after = position + by
    owed = max(after, 0) - max(position, 0)
    ahead = max(-after, 0) - max(-position, 0)
    return [*_signed(Account.RECEIVABLE, owed), *_signed(Account.ADVANCES, -ahead)]


def invoice(bill: Bill, *, position: int) -> tuple[Posting, ...]:
    """An invoice: it is owed from now on. Work is earned, and a deposit invoiced before with it; tax is owed on."""
    earned = {"deposit": Account.DEPOSITS, "cancellation": Account.FEES}.get(bill.kind, Account.SALES)
    return balanced(
        [
            *move(position=position, by=bill.total),
            *_signed(Account.DEPOSITS, bill.deposits),
            *_signed(earned, -(bill.net + bill.deposits)),
            *_signed(Account.TAX, -bill.tax),
        ]
    )


def credit_note(bill: Bill, *, position: int) -> tuple[Posting, ...]:
    """An invoice taken back: the mirror of `invoice`, from where the booking stands now."""
    back = Bill(bill.kind, -bill.net, -bill.tax, -bill.deposits)
    return invoice(back, position=position)


def payment(*, method: str, settles: int, surplus: int, position: int) -> tuple[Posting, ...]:
    """Money that came in: `settles` goes against the booking, `surplus` is the client's credit."""
    return balanced(
        [
            Posting(PAID_INTO[method], debit=settles + surplus),
            *move(position=position, by=-settles),
            Posting(Account.CREDIT, credit=surplus),
        ]
    )


def refund(*, method: str, from_credit: int, from_booking: int, position: int) -> tuple[Posting, ...]:
    """Money given back, out of the client's credit and out of what the booking was paid."""
    return balanced(
        [
            Posting(PAID_INTO[method], credit=from_credit + from_booking),
            *move(position=position, by=from_booking),
            Posting(Account.CREDIT, debit=from_credit),
        ]
    )


def credit_used(*, amount: int, position: int) -> tuple[Posting, ...]:
    """A client's credit set against a booking."""
    return balanced([Posting(Account.CREDIT, debit=amount), *move(position=position, by=-amount)])


def surplus_credited(*, amount: int, position: int) -> tuple[Posting, ...]:
    """What a booking was paid and no longer costs becomes the client's credit."""
    return balanced([*move(position=position, by=amount), Posting(Account.CREDIT, credit=amount)])


def trial_balance(postings: Iterable[Posting]) -> dict[Account, int]:
    """What stands on each account, in the sense in which it grows; accounts nothing was posted to are left out."""
    totals: dict[Account, int] = {}
    for posting in postings:
        sign = 1 if CHART[posting.account].grows_by_debit else -1
        change = sign * (posting.debit - posting.credit)
        totals[posting.account] = totals.get(posting.account, 0) + change
    return totals


def net_and_tax(gross: int, *, price: int, tax: int) -> tuple[int, int]:
    """A part of a taxed total, as net and tax in the proportion of the whole, adding up to it exactly."""
    if not gross:
        return 0, 0
    net, due = shares(gross, [price, tax])
    return net, due


def adds_up(lines: Sequence[tuple[int, int]], bill: Bill) -> bool:
    """Whether an invoice's lines (net and tax) come to what it asks for."""
    return (sum(net for net, _ in lines), sum(tax for _, tax in lines)) == (bill.net, bill.tax)


def _signed(account: Account, amount: int) -> list[Posting]:
    """A debit for an amount above zero, a credit for one below."""
    if not amount:
        return []
    return [Posting(account, debit=amount) if amount > 0 else Posting(account, credit=-amount)]
