"""Everything that can happen to the money of a few jobs, in any order: the books balance and agree with the rows."""

import datetime as dt
from collections import Counter

import pytest
from django.db import transaction
from django.db.models import Sum
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule, run_state_machine_as_test

from bookings import actions
from bookings.books import Account
from bookings.models import Booking, CreditNote, Entry, Invoice, MoneyTerms, Payment, Posting
from bookings.paperwork import billing
from bookings.queries.billing import billable, why_not_void
from bookings.queries.money import credit_of, owed_by_booking, owed_by_client, standing
from studio.models import Studio
from tests.factories import (
    NOON,
    TODAY,
    TOLD,
    BookingFactory,
    ClientFactory,
    QuoteFactory,
    QuotePieceFactory,
    UserFactory,
)

WHICH = st.integers(0, 1)
AMOUNTS = st.integers(-5, 900)
METHODS = st.sampled_from(["cash", "transfer", "card", "other"])


class Money(RuleBasedStateMachine):
    """Two jobs of one client. What was put in and given back is counted in the plainest way."""

    def __init__(self) -> None:
        super().__init__()
        self.block = transaction.atomic()
        self.block.__enter__()

    def teardown(self) -> None:
        """Leave nothing behind."""
        transaction.set_rollback(True)
        self.block.__exit__(None, None, None)

    @initialize()
    def begin(self) -> None:
        self.by = UserFactory()
        self.client = ClientFactory()
        event = TODAY + dt.timedelta(days=20)
        self.jobs = [
            BookingFactory(client=self.client, event_on=event, stage="quoted", created_by=self.by) for _ in range(2)
        ]
        self.versions: Counter[int] = Counter()
        self.money_in = 0
        self.studio = Studio.objects.current()
        self.clock = NOON

    def now(self) -> dt.datetime:
        self.clock += dt.timedelta(minutes=1)
        return self.clock

    @rule(
        which=WHICH,
        price=st.integers(1, 700),
        tax=st.integers(0, 60),
        deposit=st.integers(0, 300),
        kept=st.integers(0, 100),
    )
    def accept(self, which: int, price: int, tax: int, deposit: int, kept: int) -> None:
        job = self.jobs[which]
        self.versions[which] += 1
        quote = QuoteFactory(
            booking=job, number=which + 1, version=self.versions[which], issued_by=self.by, price_minor=price,
            tax_minor=tax, deposit_minor=min(deposit, price + tax), told=TOLD | {"notice": [[30, 10], [0, kept]]},
        )  # fmt: skip
        QuotePieceFactory(quote=quote, price_minor=price)
        try:
            actions.accept_quote(quote=quote, name="Ines", today=TODAY, at=self.now(), address=None, browser="")
        except actions.AcceptanceRefused:
            assert Booking.objects.get(pk=job.pk).stage == "cancelled"

    @rule(which=WHICH, amount=AMOUNTS, method=METHODS, is_meant=st.booleans(), late=st.integers(-1, 5))
    def pay(self, which: int, amount: int, method: str, is_meant: bool, late: int) -> None:
        owed = standing(self.jobs[which].pk).owed
        try:
            actions.take_payment(
                booking=self.jobs[which], amount_minor=amount, method=method, note="", owed_seen=owed,
                received_on=TODAY - dt.timedelta(days=late), surplus_is_meant=is_meant, currency="USD", today=TODAY,
                by=self.by, at=self.now(),
            )  # fmt: skip
            self.money_in += amount
        except actions.MoreThanOwed:
            assert amount > owed and not is_meant
        except actions.MoneyRefused:
            assert amount <= 0 or late < 0

    @rule(which=WHICH, amount=AMOUNTS, method=METHODS)
    def give_back(self, which: int, amount: int, method: str) -> None:
        job = self.jobs[which]
        could = standing(job.pk).settled + credit_of(self.client.pk)
        try:
            actions.refund(
                booking=job, amount_minor=amount, method=method, refunded_on=TODAY, note="", could_seen=could,
                currency="USD", today=TODAY, by=self.by, at=self.now(),
            )  # fmt: skip
            self.money_in -= amount
        except actions.MoneyRefused:
            assert amount <= 0 or amount > could

    @rule(which=WHICH)
    def use_credit(self, which: int) -> None:
        owed, credit = standing(self.jobs[which].pk).owed, credit_of(self.client.pk)
        try:
            actions.use_credit(booking=self.jobs[which], currency="USD", today=TODAY, by=self.by, at=self.now())
        except actions.MoneyRefused:
            assert not owed or not credit

    @rule(which=WHICH, place=st.integers(0, 1))
    def invoice(self, which: int, place: int) -> None:
        job = Booking.objects.select_related("client").get(pk=self.jobs[which].pk)
        kinds = billable(job).kinds
        if kinds:
            kind = kinds[place % len(kinds)]
            at = self.now()
            paper = billing.prepare_invoice(job, kind=kind, studio=self.studio, today=TODAY, at=at)
            actions.issue_invoice(paper=paper, by=self.by, at=at)

    @rule(which=WHICH, place=st.integers(0, 1))
    def take_back(self, which: int, place: int) -> None:
        live = billable(self.jobs[which]).live
        if live:
            at, invoice = self.now(), live[place % len(live)]
            paper = billing.prepare_credit_note(invoice, why="", studio=self.studio, today=TODAY, at=at)
            try:
                actions.void_invoice(paper=paper, by=self.by, at=at)
            except actions.MoneyRefused:
                assert why_not_void(invoice, live)

    @rule(which=WHICH, is_waived=st.booleans(), is_taxed=st.booleans())
    def cancel(self, which: int, is_waived: bool, is_taxed: bool) -> None:
        job = Booking.objects.select_related("client").get(pk=self.jobs[which].pk)
        if job.stage != "booked":
            return
        at = self.now()
        MoneyTerms.objects.update_or_create(pk=1, defaults={"taxes_cancellation": is_taxed})
        papers = billing.prepare_cancellation(
            job, why="Rain", is_waived=is_waived, studio=self.studio, today=TODAY, at=at
        )
        actions.cancel_booking(booking=job, why="Rain", papers=papers, by=self.by, at=at)

    def on_account(self, account: Account, **of: object) -> int:
        """Debits less credits of an account."""
        rows = Posting.objects.filter(account=account.value, **of).aggregate(
            d=Sum("debit_minor"), c=Sum("credit_minor")
        )
        return (rows["d"] or 0) - (rows["c"] or 0)

    @invariant()
    def every_entry_balances(self) -> None:
        sums = Posting.objects.values("entry").annotate(d=Sum("debit_minor"), c=Sum("credit_minor"))
        assert [row for row in sums if row["d"] != row["c"]] == []
        assert sums.count() == Entry.objects.count()

    @invariant()
    def all_the_money_is_where_it_was_put(self) -> None:
        if hasattr(self, "jobs"):
            paid_into = (Account.CASH, Account.BANK, Account.CARD, Account.OTHER)
            assert sum(self.on_account(account) for account in paid_into) == self.money_in

    @invariant()
    def the_books_agree_with_the_rows(self) -> None:
        if not hasattr(self, "jobs"):
            return
        assert -self.on_account(Account.CREDIT) == credit_of(self.client.pk) >= 0
        for job in self.jobs:
            now = standing(job.pk)
            receivable = self.on_account(Account.RECEIVABLE, entry__booking=job)
            ahead = -self.on_account(Account.ADVANCES, entry__booking=job)
            assert (receivable, ahead) == (max(now.position, 0), max(-now.position, 0))
            live = Invoice.objects.filter(booking=job, credit_note__isnull=True)
            assert -self.on_account(Account.TAX, entry__booking=job) == sum(one.tax_minor for one in live)
            assert -self.on_account(Account.DEPOSITS, entry__booking=job) >= 0

    @invariant()
    def owed_is_dues_less_what_was_settled_and_never_below_nothing(self) -> None:
        if not hasattr(self, "jobs"):
            return
        for job in self.jobs:
            now = standing(job.pk)
            assert 0 <= now.settled <= now.due
            dues = job.amounts_due.filter(void_at__isnull=True).aggregate(sum=Sum("amount_minor"))["sum"] or 0
            paid = sum(one.settled_minor for one in Payment.objects.filter(booking=job))
            moved = sum(one.amount_minor if one.kind == "used" else -one.amount_minor for one in job.credit_moves.all())
            back = sum(one.from_booking_minor for one in job.refunds.all())
            assert now.owed == dues - (paid + moved - back)
        listed = owed_by_booking(today=TODAY)
        assert sum(one.owed for one in listed) == sum(standing(job.pk).owed for job in self.jobs)
        assert sum(one.owed for one in owed_by_client(today=TODAY)) == sum(one.owed for one in listed)

    @invariant()
    def numbers_have_no_gaps(self) -> None:
        for model in (Invoice, CreditNote, Payment, Entry):
            numbers = sorted(model.objects.values_list("number", flat=True))
            assert numbers == list(range(1, len(numbers) + 1))


@pytest.mark.django_db
class TestMoneyInAnyOrder(TestCase):
    """Run as a test on a database, with papers that are not drawn: what is on them is tested elsewhere."""

    @pytest.fixture(autouse=True)
    def no_drawing(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(billing, "bill_pdf", lambda told, **how: b"%PDF")

    def test_in_any_order_every_penny_is_accounted_for(self) -> None:
        quick = settings(max_examples=5, stateful_step_count=20, deadline=None, suppress_health_check=list(HealthCheck))
        run_state_machine_as_test(Money, settings=quick)
