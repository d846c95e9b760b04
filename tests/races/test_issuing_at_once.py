"""A job that many load, call off and wrap up at the same moment: everything leaves once and comes home once."""

import datetime as dt

import pytest

from bookings import actions
from bookings.actions import Counted, pulling
from bookings.models import Booking, HistoryEntry, PullTick, WrapUp
from stock import actions as stock
from stock.models import Item, Reservation
from stock.queries import held_firmly, on_hand, taken_for
from tests.factories import NOON, TODAY, BookingFactory, MovementFactory, ReservationFactory, UserFactory
from tests.races.conftest import OFTEN

ITEMS, EACH, HANDS = 3, 20, 16


@pytest.fixture
def new_job(new_item, by):
    """A booked job that holds twenty of each of three items, of which there are fifty times as many."""

    def make(*, ticked: bool = True, issued: bool = False) -> tuple[Booking, list[int]]:
        booking = BookingFactory(stage="booked", needed_on=TODAY, event_on=TODAY + dt.timedelta(days=1))
        items = [new_item() for _ in range(ITEMS)]
        for item in items:
            MovementFactory(item=item, quantity=50 * EACH, by=by)
            ReservationFactory(item=item, booking=booking.pk, quantity=EACH, needed_on=TODAY)
        if ticked or issued:
            actions.tick_rest(booking=booking, by=by, at=NOON)
        if issued:
            actions.issue_materials(booking=booking, by=by, at=NOON)
        return booking, [item.pk for item in items]

    return make


def failures(answers):
    return [answer for answer in answers if isinstance(answer, Exception)]


def check_issued_once(job, by, together):
    booking, items = job
    answers = together([lambda: actions.issue_materials(booking=booking, by=by, at=NOON)] * HANDS)

    assert failures(answers) == []
    assert sorted(answers) == [0] * (HANDS - 1) + [ITEMS]
    assert taken_for(booking.pk) == dict.fromkeys(items, EACH)
    assert on_hand(items) == dict.fromkeys(items, 49 * EACH)
    assert held_firmly(booking.pk) == {}
    assert HistoryEntry.objects.filter(booking=booking).count() == 1


def test_many_who_take_a_job_off_the_shelf_take_it_once(new_job, by, together):
    check_issued_once(new_job(), by, together)


def check_ticked_once(job, together):
    booking, items = job
    people = [UserFactory() for _ in range(HANDS)]
    acts = [
        lambda person=person: actions.tick_line(booking=booking, item=items[0], lot=None, by=person, at=NOON)
        for person in people
    ]
    answers = together(acts)

    assert failures(answers) == []
    (tick,) = PullTick.objects.filter(booking=booking)
    assert {answer.by_id for answer in answers} == {tick.by_id}


def test_a_line_ticked_by_many_at_once_is_one_tick_of_one_of_them(new_job, together):
    check_ticked_once(new_job(ticked=False), together)


def check_cancelled_or_issued(job, by, together):
    """Whoever comes first: nothing stays held, and what left the shelf is known to be on the road."""
    booking, items = job
    issued, cancelled = together(
        [
            lambda: actions.issue_materials(booking=booking, by=by, at=NOON),
            lambda: actions.cancel_booking(booking=booking, why="", by=by, at=NOON),
        ]
    )

    assert not isinstance(cancelled, Exception), cancelled
    came_too_late = isinstance(issued, actions.PullRefused)
    assert came_too_late or issued == ITEMS
    booking.refresh_from_db()
    assert (booking.stage, held_firmly(booking.pk)) == ("cancelled", {})
    assert taken_for(booking.pk) == ({} if came_too_late else dict.fromkeys(items, EACH))
    stories = list(HistoryEntry.objects.filter(booking=booking).order_by("pk").values_list("what", flat=True))
    assert stories == (["Cancelled."] if came_too_late else ["3 lines taken off the shelf.", "Cancelled."])


def test_a_job_that_is_issued_and_cancelled_at_once_is_the_one_after_the_other(new_job, by, together):
    for _ in range(6):
        check_cancelled_or_issued(new_job(), by, together)


def check_wrapped_up_once(job, by, together):
    booking, items = job
    counted = dict.fromkeys(items, Counted(used=12, popped=3, home=5))
    answers = together([lambda: actions.wrap_up(booking=booking, counted=counted, by=by, at=NOON)] * HANDS)

    assert [type(answer) for answer in failures(answers)] == [actions.WrapUpRefused] * (HANDS - 1)
    assert WrapUp.objects.filter(booking=booking).count() == 1
    assert on_hand(items) == dict.fromkeys(items, 49 * EACH + 5)


def test_a_job_wrapped_up_by_many_at_once_is_wrapped_up_once(new_job, by, together):
    check_wrapped_up_once(new_job(issued=True), by, together)


def test_two_jobs_that_share_their_items_are_issued_together(new_job, by, together):
    """Each locks its own booking and then the same items, in the same order: nobody waits for ever."""
    one, items = new_job()
    jobs = [one]
    for _ in range(5):
        other = BookingFactory(stage="booked", needed_on=TODAY)
        for item in reversed(items):
            ReservationFactory(item=Item.objects.get(pk=item), booking=other.pk, quantity=EACH, needed_on=TODAY)
        actions.tick_rest(booking=other, by=by, at=NOON)
        jobs.append(other)
    answers = together([lambda job=job: actions.issue_materials(booking=job, by=by, at=NOON) for job in jobs])

    assert answers == [ITEMS] * 6
    assert on_hand(items) == dict.fromkeys(items, 44 * EACH)
    assert not Reservation.objects.open().filter(item__in=items).exists()


def test_what_comes_home_while_it_is_counted_again_adds_up(new_job, new_item, by, together):
    booking, items = new_job(issued=True)
    homes = [lambda: stock.bring_home(booking=booking.pk, home=dict.fromkeys(items, 6), by=by, at=NOON)] * 8
    answers = together(homes)

    assert len(failures(answers)) == 5
    assert taken_for(booking.pk) == dict.fromkeys(items, 2)
    assert on_hand(items) == dict.fromkeys(items, 49 * EACH + 18)


# Tests that cannot fail prove nothing: without the lock on the booking, the check finds the fault it is there for.


@pytest.mark.postgresql
def test_without_the_lock_a_job_is_taken_off_the_shelf_twice(new_job, by, together, monkeypatch):
    monkeypatch.setattr(pulling, "_locked", lambda booking: Booking.objects.get(pk=booking.pk))
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_issued_once(new_job(), by, together)
