"""A couple on two phones: different choices of one quote, accepted at the same moment; and a yes amid a merge."""

import datetime as dt
from collections import Counter
from collections.abc import Callable
from itertools import count

import pytest
from django.db.models import QuerySet

from bookings import actions
from bookings.actions.clients import with_keys
from bookings.actions.dates import hold_date_for_client
from bookings.actions.questions import ask
from bookings.choosing import Choice, agreed
from bookings.models import Acceptance, AmountDue, Booking, Client, Quote, QuoteExtra, QuoteOption
from bookings.queries.agreed import agreed_of, offer_of
from bookings.queries.clients import digest_of_clients
from stock.models import Reservation
from tests.factories import NOON, TODAY, TOLD, BookingFactory, ClientFactory, QuoteFactory, QuoteMaterialFactory
from tests.races.conftest import OFTEN

SIMPLE, WHOLE = Choice(1), Choice(2, frozenset({1, 2}))
NAMES = {SIMPLE: "Ines", WHOLE: "Tobias"}
_DAYS = count(3)


def figures(price: int) -> dict[str, int]:
    tax = price // 10
    return {"price_minor": price, "tax_minor": tax, "total_minor": price + tax, "deposit_minor": price // 2}


@pytest.fixture
def sent(shared, by, new_item) -> Callable[[], Quote]:
    """Makes another open quote of two options and two extras, each over a material of its own."""

    def make() -> Quote:
        client = ClientFactory(**with_keys({"name": "Ines", "phone": "", "email": ""}))
        # A day of its own, which no other job makes full.
        day = TODAY + dt.timedelta(days=10 * next(_DAYS))
        booking = BookingFactory(client=client, stage="quoted", event_on=day, created_by=by)
        # A number of its own: the factory's would begin again beside quotes that were really issued.
        quote = QuoteFactory(
            booking=booking,
            number=20_000 + booking.pk,
            issued_by=by,
            told=TOLD | {"offers_a_choice": True},
            **figures(10_000),
        )
        for number, price in ((1, 10_000), (2, 30_000)):
            rest = {"cost_minor": 1_000, "person_minutes": 60, "reasons": []}
            QuoteOption.objects.create(quote=quote, number=number, name=f"Way {number}", **figures(price), **rest)
            QuoteMaterialFactory(quote=quote, item=new_item(), option=number, needed=100 * number, spares=6)
        for number, price in ((1, 4_000), (2, 7_000)):
            rest = {"cost_minor": 500, "person_minutes": 30, "made_from": f"charge {number}"}
            QuoteExtra.objects.create(quote=quote, number=number, name=f"Extra {number}", **figures(price), **rest)
            QuoteMaterialFactory(quote=quote, item=new_item(), option=0, extra=number, needed=10 * number, spares=1)
        return quote

    return make


def say(quote: Quote, choice: Choice) -> Callable[[], Acceptance]:
    return lambda: actions.accept_quote(
        quote=Quote.objects.get(pk=quote.pk),
        name=NAMES[choice],
        today=TODAY,
        at=NOON,
        address=None,
        browser="",
        choice=choice,
    )


def held(quote: Quote) -> Counter[int]:
    """How much of each item the job holds firmly."""
    found: Counter[int] = Counter()
    for row in Reservation.objects.open().firm().of_bookings([quote.booking_id]):
        found[row.item_id] += row.quantity
    return found


def wanted(quote: Quote, choice: Choice) -> Counter[int]:
    """How much of each item the choice takes, reckoned from the quote's rows by hand."""
    rows = quote.materials.all()
    return Counter(
        {row.item_id: row.total for row in rows if row.option == choice.option or row.extra in choice.extras}
    )


def check_one_choice_wins_whole(quote, together) -> Choice:
    answers = together([say(quote, SIMPLE), say(quote, WHOLE)] * 6)

    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    # Both phones are handed the same receipt, and it is of one choice with its own name under it.
    (yes,) = {(answer.pk, answer.name, answer.option, tuple(answer.extras)) for answer in answers}
    won = Choice(yes[2], frozenset(yes[3]))
    assert (won in NAMES, yes[1]) == (True, NAMES[won])
    assert held(quote) == wanted(quote, won)
    now = Quote.objects.get(pk=quote.pk)
    asked = agreed(offer_of(now), won)
    assert agreed_of(now) == asked
    dues = AmountDue.objects.filter(booking=quote.booking_id, void_at__isnull=True)
    assert sum(dues.values_list("amount_minor", flat=True)) == asked.total
    assert dues.get(kind="deposit").amount_minor == asked.deposit
    assert quote.booking.history.filter(what__contains="accepted by").count() == 1
    return won


def test_of_two_choices_accepted_at_once_one_wins_whole_and_the_other_gets_its_receipt(sent, together):
    for _ in range(6):
        check_one_choice_wins_whole(sent(), together)


def check_both_happen(quote: Quote, act: Callable[[], object], by, together) -> None:
    """The client becomes another while they do something: both are done, and what they did is the other's."""
    gone = quote.booking.client
    kept = ClientFactory(**with_keys({"name": "Ines Varela", "phone": "", "email": ""}))
    seen = digest_of_clients(kept, gone)
    merge = lambda: actions.merge_clients(  # noqa: E731
        kept=kept.pk, gone=gone.pk, taken=frozenset(), seen=seen, by=by, at=NOON
    )
    answers = together([merge, act])

    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    assert Quote.objects.get(pk=quote.pk).booking.client_id == kept.pk
    assert not Client.objects.filter(pk=gone.pk).exists()


def asking(quote: Quote) -> Callable[[], object]:
    mine = Quote.objects.get(pk=quote.pk)
    return lambda: ask(quote=mine, text="Do you have pink?", base="https://example.org", today=TODAY, at=NOON)


def holding(quote: Quote) -> Callable[[], object]:
    mine = Quote.objects.get(pk=quote.pk)
    return lambda: hold_date_for_client(quote=mine, until=TODAY, today=TODAY, at=NOON)


def accepting(quote: Quote) -> Callable[[], object]:
    return say(quote, WHOLE)


@pytest.mark.parametrize("act", [accepting, asking, holding])
def test_what_a_client_does_while_they_are_merged_is_done_and_the_other_s(sent, by, together, act):
    for _ in range(8):
        quote = sent()
        check_both_happen(quote, act(quote), by, together)


# Without the lock the check finds the fault it is there for.


@pytest.mark.postgresql
def test_without_the_lock_two_choices_are_mixed(sent, together, monkeypatch):
    monkeypatch.setattr(QuerySet, "select_for_update", lambda self, **how: self.all())
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_one_choice_wins_whole(sent(), together)


@pytest.mark.postgresql
def test_a_client_read_together_with_the_booking_can_lose_it(sent, by, together, monkeypatch):
    def held_as_one(key: int) -> Booking:
        return Booking.objects.select_for_update().select_related("client").get(pk=key)

    monkeypatch.setattr("bookings.actions.acceptance.hold", held_as_one)
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            quote = sent()
            check_both_happen(quote, accepting(quote), by, together)
