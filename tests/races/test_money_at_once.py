"""Several at one job's money: the same payment twice, two invoices, a refund too many."""

import datetime as dt
from collections.abc import Callable

import pytest
from django.db.models import QuerySet

from bookings import actions
from bookings.models import Acceptance, AmountDue, Booking, Entry, Invoice, Payment, Refund
from bookings.paperwork import billing
from bookings.queries.money import standing
from studio.models import Studio
from tests.factories import NOON, TODAY, BookingFactory, QuoteFactory, QuotePieceFactory
from tests.races.conftest import OFTEN

DEPOSIT, TOTAL = 62_000, 134_230


@pytest.fixture
def booked(shared, by) -> Callable[[], Booking]:
    """Makes another job that was accepted and owes its deposit and balance."""

    def make() -> Booking:
        booking = BookingFactory(stage="booked", event_on=TODAY + dt.timedelta(days=30), needed_on=TODAY, created_by=by)
        quote = QuoteFactory(booking=booking, number=20_000 + booking.pk, issued_by=by)
        QuotePieceFactory(quote=quote, position=0)
        Acceptance.objects.create(quote=quote, name="Ines", at=NOON)
        AmountDue.objects.create(booking=booking, quote=quote, kind="deposit", amount_minor=TOTAL, due_on=TODAY)
        return Booking.objects.select_related("client").get(pk=booking.pk)

    return make


def take(booking: Booking, by, *, seen: int = TOTAL) -> Callable[[], Payment]:
    return lambda: actions.take_payment(
        booking=booking, amount_minor=DEPOSIT, method="card", received_on=TODAY, note="", owed_seen=seen,
        surplus_is_meant=False, currency="USD", today=TODAY, by=by, at=NOON,
    )  # fmt: skip


def check_one_payment_is_written(booking: Booking, by, together) -> None:
    answers = together([take(booking, by)] * 8)
    written = [answer for answer in answers if isinstance(answer, Payment)]
    told = [answer for answer in answers if isinstance(answer, actions.HasChanged)]

    assert (len(written), len(told)) == (1, 7), answers
    assert standing(booking.pk).owed == TOTAL - DEPOSIT
    assert Payment.objects.filter(booking=booking).count() == 1


def test_of_the_same_payment_written_down_at_once_one_stands_and_the_others_are_told(booked, by, together):
    for _ in range(3):
        check_one_payment_is_written(booked(), by, together)


def test_payments_of_different_jobs_at_once_all_stand_and_their_numbers_have_no_gaps(booked, by, together):
    first = Payment.objects.count()
    answers = together([take(booked(), by) for _ in range(8)])

    assert [answer for answer in answers if not isinstance(answer, Payment)] == []
    numbers = sorted(Payment.objects.order_by("-number").values_list("number", flat=True)[: len(answers)])
    assert numbers == list(range(first + 1, first + 9))
    entries = sorted(Entry.objects.values_list("number", flat=True))
    assert entries == list(range(1, len(entries) + 1))


def test_of_one_refund_given_at_once_one_stands(booked, by, together):
    booking = booked()
    take(booking, by)()
    give = lambda: actions.refund(  # noqa: E731
        booking=booking, amount_minor=DEPOSIT, method="card", refunded_on=TODAY, note="", could_seen=DEPOSIT,
        currency="USD", today=TODAY, by=by, at=NOON,
    )  # fmt: skip
    answers = together([give] * 6)

    assert sum(isinstance(answer, Refund) for answer in answers) == 1, answers
    assert all(isinstance(answer, Refund | actions.HasChanged) for answer in answers)
    assert standing(booking.pk).settled == 0


def test_invoices_issued_at_once_from_one_number_are_one_and_the_others_are_made_again(
    booked, by, together, monkeypatch
):
    monkeypatch.setattr(billing, "bill_pdf", lambda told, **how: b"%PDF")
    jobs = [booked() for _ in range(4)]
    studio = Studio.objects.current()

    def paper_of(job: Booking) -> billing.BillPaper:
        return billing.prepare_invoice(job, kind="whole", studio=studio, today=TODAY, at=NOON)

    papers = [paper_of(job) for job in jobs]
    assert len({paper.number for paper in papers}) == 1
    answers = together([lambda paper=paper: actions.issue_invoice(paper=paper, by=by, at=NOON) for paper in papers])

    assert sum(isinstance(answer, Invoice) for answer in answers) == 1, answers
    assert sum(isinstance(answer, actions.PaperOutdated) for answer in answers) == 3
    for job, answer in zip(jobs, answers, strict=True):
        if isinstance(answer, actions.PaperOutdated):
            actions.issue_invoice(paper=paper_of(job), by=by, at=NOON)
    numbers = sorted(Invoice.objects.values_list("number", flat=True))
    assert numbers == list(range(1, len(numbers) + 1))


# Without the lock the check finds the fault it is there for.


@pytest.mark.postgresql
def test_without_the_lock_the_same_payment_is_written_down_twice(booked, by, together, monkeypatch):
    monkeypatch.setattr(QuerySet, "select_for_update", lambda self, **how: self.all())
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_one_payment_is_written(booked(), by, together)
