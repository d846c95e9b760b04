"""Several at one quote: the client twice, the client and the owner, two owners."""

import datetime as dt
from collections.abc import Callable
from decimal import Decimal

import pytest
from django.db.models import QuerySet

from bookings import actions
from bookings.models import Acceptance, AmountDue, Booking, Quote
from bookings.paperwork import QuotePaper, prepare_quote
from estimating.kinds import GarlandSpec
from stock.models import Reservation
from studio.models import Studio
from tests.factories import NOON, TODAY, BookingFactory, ColourFactory, QuoteFactory, QuoteMaterialFactory
from tests.races.conftest import OFTEN

WANTED = (100 + 6) * 3
"""What the quote of `sent` holds: three materials, each needed and with its spares."""


@pytest.fixture
def sent(shared, by, new_item) -> Callable[[], Quote]:
    """Makes another open quote over three materials."""

    def make() -> Quote:
        # A number of its own: the factory's would begin again beside quotes that were really issued.
        booking = BookingFactory(stage="quoted", event_on=TODAY + dt.timedelta(days=30), created_by=by)
        quote = QuoteFactory(booking=booking, number=10_000 + booking.pk, issued_by=by)
        for _ in range(3):
            QuoteMaterialFactory(quote=quote, item=new_item())
        return quote

    return make


def say_yes(quote: Quote) -> Callable[[], Acceptance]:
    def accept() -> Acceptance:
        return actions.accept_quote(
            quote=Quote.objects.get(pk=quote.pk), name="Ines", today=TODAY, at=NOON, address=None, browser=""
        )

    return accept


def take_back(quote: Quote, by) -> Callable[[], Quote]:
    return lambda: actions.withdraw_quote(quote=Quote.objects.get(pk=quote.pk), by=by, at=NOON)


def held(quote: Quote) -> int:
    """How much the job holds firmly."""
    rows = Reservation.objects.open().firm().of_bookings([quote.booking_id])
    return sum(rows.values_list("quantity", flat=True))


def check_yes_is_said_once(quote, together):
    answers = together([say_yes(quote)] * 24)

    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    assert {answer.pk for answer in answers} == {quote.acceptance.pk}
    assert (held(quote), Reservation.objects.of_bookings([quote.booking_id]).count()) == (WANTED, 3)
    assert AmountDue.objects.filter(booking=quote.booking_id).count() == 2
    assert quote.booking.history.filter(what__contains="accepted by").count() == 1


def test_twenty_four_yeses_at_once_are_one_yes(sent, together):
    check_yes_is_said_once(sent(), together)


def check_one_of_the_two_wins(quote, by, together):
    yes, back = together([say_yes(quote), take_back(quote, by)])
    now = Quote.objects.get(pk=quote.pk)

    if isinstance(yes, Acceptance):
        assert isinstance(back, actions.QuoteRefused), back
        assert "was accepted by Ines" in str(back)
        assert (now.withdrawn_at, held(quote), now.booking.stage) == (None, WANTED, "booked")
    else:
        assert isinstance(yes, actions.AcceptanceRefused), yes
        assert (yes.state, isinstance(back, Quote)) == ("withdrawn", True)
        assert (held(quote), now.booking.stage, Acceptance.objects.filter(quote=quote).count()) == (0, "enquiry", 0)
    return isinstance(yes, Acceptance)


def test_of_a_yes_and_a_withdrawal_at_once_one_wins_and_the_other_is_told(sent, by, together):
    for _ in range(12):
        check_one_of_the_two_wins(sent(), by, together)


def test_of_a_yes_and_the_loss_of_the_job_at_once_one_wins(sent, by, together):
    for _ in range(8):
        quote = sent()
        lose = lambda quote=quote: actions.lose_booking(booking=quote.booking, why="", by=by, at=NOON)  # noqa: E731
        together([say_yes(quote), lose])
        stage = Booking.objects.get(pk=quote.booking_id).stage

        assert (stage, held(quote)) in [("booked", WANTED), ("lost", 0)]


@pytest.fixture
def paper(shared, by) -> Callable[[], QuotePaper]:
    """Prepares the first quote of another job."""

    def make() -> QuotePaper:
        booking = BookingFactory(event_on=TODAY + dt.timedelta(days=20), created_by=by)
        colour = ColourFactory()
        spec = GarlandSpec(Decimal("304.8") * 4, Decimal("25.4") * 16, ((5, 40), (11, 60)), ((colour.key, 100),))
        actions.keep_piece(
            booking=booking,
            piece=None,
            edition=0,
            name="Over the door",
            kind="garland",
            spec=spec,
            typed={},
            by=by,
            at=NOON,
        )
        return prepare_quote(booking, studio=Studio.objects.current(), today=TODAY, at=NOON)

    return make


def check_one_version_is_sent(paper, by, together):
    answers = together([lambda: actions.issue_quote(paper=paper, by=by, at=NOON)] * 4)
    issued = [answer for answer in answers if isinstance(answer, Quote)]
    refused = [answer for answer in answers if isinstance(answer, actions.QuoteRefused)]

    assert (len(issued), len(refused)) == (1, 3), answers
    assert {str(answer) for answer in refused} == {
        "Another version was sent at the same moment. Look it over and send it again."
    }
    assert Quote.objects.filter(booking=paper.booking_id).count() == 1
    rows = Reservation.objects.open().of_bookings([paper.booking_id])
    wanted = sum(line["needed"] + line["spares"] for line in paper.materials)
    assert sum(rows.values_list("quantity", flat=True)) == wanted > 0


def test_of_versions_sent_at_once_one_is_sent_and_the_others_are_told(paper, by, together):
    check_one_version_is_sent(paper(), by, together)


# Without the lock each check finds the fault it is there for.


@pytest.fixture
def unlocked(monkeypatch):
    """Every row read for a change, but not held."""
    monkeypatch.setattr(QuerySet, "select_for_update", lambda self, **how: self.all())


@pytest.mark.postgresql
def test_without_the_lock_a_yes_is_said_more_than_once(sent, together, unlocked):
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_yes_is_said_once(sent(), together)


@pytest.mark.postgresql
def test_without_the_lock_a_yes_and_a_withdrawal_both_win(sent, by, together, unlocked):
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_one_of_the_two_wins(sent(), by, together)


@pytest.mark.postgresql
def test_without_the_lock_a_version_that_lost_is_not_told_so(paper, by, together, unlocked):
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_one_version_is_sent(paper(), by, together)
