"""What is held for whom, and who comes first."""

import datetime as dt
from typing import Any

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext
from hypothesis import HealthCheck, given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from stock import actions
from stock.models import Reservation
from stock.queries import free_on, held_firmly
from tests.factories import (
    NOON,
    TODAY,
    ItemFactory,
    MovementFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
)

pytestmark = pytest.mark.django_db

SATURDAY = TODAY + dt.timedelta(days=5)


def hold(needs, **changed):
    """Reserve for booking 7, firmly, for Saturday, unless the test says otherwise."""
    said: dict[str, Any] = {
        "needed_on": SATURDAY,
        "booking": 7,
        "booking_name": "Ferry office",
        "firm": True,
        "by": None,
        "at": NOON,
    }
    return actions.reserve(needs=needs, **(said | changed))


def held(**which) -> set[tuple[int, int]]:
    """Item key and quantity of what is held now."""
    return set(Reservation.objects.open().filter(**which).values_list("item_id", "quantity"))


def test_what_a_booking_needs_is_held_for_it():
    item = ItemFactory()
    (reservation,) = hold({item.pk: 40})
    assert (reservation.item, reservation.quantity, reservation.needed_on) == (item, 40, SATURDAY)
    assert (reservation.booking, reservation.booking_name, reservation.firm) == (7, "Ferry office", True)
    assert (reservation.made_at, reservation.closed_at, reservation.lapses_on) == (NOON, None, None)


def test_a_need_of_nothing_holds_nothing():
    item, other = ItemFactory(), ItemFactory()
    hold({item.pk: 0, other.pk: 1})
    assert held() == {(other.pk, 1)}


def test_holding_again_takes_the_place_of_what_was_held():
    first, second = ItemFactory(), ItemFactory()
    hold({first.pk: 40})
    hold({first.pk: 10, second.pk: 20})
    assert held() == {(first.pk, 10), (second.pk, 20)}


def test_what_is_not_wanted_any_more_is_let_go_of():
    first, second = ItemFactory(), ItemFactory()
    hold({first.pk: 40})
    hold({second.pk: 20})
    closed = Reservation.objects.get(closed_at__isnull=False)
    assert (closed.item, closed.quantity, closed.closed_at) == (first, 40, NOON)


def ranks(item) -> list[tuple[int, int]]:
    """Booking and quantity of what is held of an item, whoever was promised first coming first."""
    return list(Reservation.objects.open().filter(item=item).order_by("pk").values_list("booking", "quantity"))


@pytest.mark.parametrize(
    ("wanted", "after"),
    [
        pytest.param(40, [(7, 40), (8, 50)], id="as much as before"),
        pytest.param(25, [(7, 25), (8, 50)], id="less"),
        pytest.param(60, [(7, 40), (8, 50), (7, 20)], id="more: only the rest queues up again"),
        pytest.param(0, [(8, 50)], id="nothing"),
    ],
)
def test_a_booking_promised_again_keeps_its_place(wanted, after):
    item = ItemFactory()
    hold({item.pk: 40})
    hold({item.pk: 50}, booking=8)
    hold({item.pk: wanted})
    assert ranks(item) == after


def test_the_latest_promises_are_the_first_let_go_of():
    item = ItemFactory()
    hold({item.pk: 40})
    hold({item.pk: 50}, booking=8)
    hold({item.pk: 60})
    hold({item.pk: 50})
    assert ranks(item) == [(7, 40), (8, 50), (7, 10)]


def test_an_accepted_change_takes_the_new_day_and_name_to_what_was_held_before():
    item = ItemFactory()
    hold({item.pk: 40})
    sunday = SATURDAY + dt.timedelta(days=1)
    hold({item.pk: 60}, needed_on=sunday, booking_name="Ferry office, larger")
    rows = Reservation.objects.open().values_list("needed_on", "booking_name", "quantity").order_by("pk")
    assert list(rows) == [(sunday, "Ferry office, larger", 40), (sunday, "Ferry office, larger", 20)]


def test_a_hold_that_has_lapsed_has_lost_its_place():
    item = ItemFactory()
    hold({item.pk: 40}, firm=False, lapses_on=TODAY)
    hold({item.pk: 50}, booking=8)
    later = NOON + dt.timedelta(days=2)
    hold({item.pk: 40}, firm=False, lapses_on=TODAY + dt.timedelta(days=9), at=later)
    assert ranks(item) == [(8, 50), (7, 40)]


def test_two_promises_of_one_moment_are_told_apart():
    item = ItemFactory()
    for wanted in (10, 20, 30):
        hold({item.pk: wanted})
    moments = list(Reservation.objects.open().order_by("pk").values_list("made_at", flat=True))
    assert moments == sorted(set(moments))
    assert ranks(item) == [(7, 10)] * 3


def promised_again(queue: list[list[int]], booking: int, wanted: int) -> None:
    """The rule in a few lines: let go from the back, queue up for the rest."""
    held = sum(quantity for whose, quantity in queue if whose == booking)
    for chunk in reversed(queue):
        if chunk[0] == booking and held > wanted:
            gone = min(chunk[1], held - wanted)
            chunk[1] -= gone
            held -= gone
    queue[:] = [chunk for chunk in queue if chunk[1]]
    if wanted > held:
        queue.append([booking, wanted - held])


@given(asked=st.lists(st.tuples(st.integers(1, 4), st.integers(0, 50)), max_size=14))
@hypothesis_settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whoever_was_promised_first_keeps_theirs(db, asked):
    with transaction.atomic():
        item, queue = ItemFactory(), list[list[int]]()
        for booking, wanted in asked:
            before = ranks(item)
            hold({item.pk: wanted}, booking=booking)
            promised_again(queue, booking, wanted)
            after = ranks(item)
            assert after == [tuple(chunk) for chunk in queue]
            assert sum(quantity for whose, quantity in after if whose == booking) == wanted
            # Nobody else has lost a place or a balloon.
            assert [row for row in after if row[0] != booking] == [row for row in before if row[0] != booking]
        transaction.set_rollback(True)


def test_other_bookings_keep_what_they_hold():
    item = ItemFactory()
    hold({item.pk: 40}, booking=8)
    hold({item.pk: 10})
    assert held(booking=8) == {(item.pk, 40)}


def test_a_firm_promise_takes_the_place_of_the_tentative_one():
    item = ItemFactory()
    hold({item.pk: 40}, firm=False)
    hold({item.pk: 40})
    assert held(firm=False) == set()
    assert held(firm=True) == {(item.pk, 40)}


def test_a_tentative_hold_leaves_the_firm_promise_alone():
    item = ItemFactory()
    hold({item.pk: 40})
    hold({item.pk: 60}, firm=False)
    assert held(firm=True) == {(item.pk, 40)}
    assert held(firm=False) == {(item.pk, 60)}


def test_a_tentative_hold_lapses_after_its_last_day():
    item = ItemFactory()
    hold({item.pk: 40}, firm=False, lapses_on=SATURDAY)
    assert Reservation.objects.holding(SATURDAY).count() == 1
    assert Reservation.objects.holding(SATURDAY + dt.timedelta(days=1)).count() == 0


def test_promises_rank_in_the_order_they_were_made_firm():
    item = ItemFactory()
    hold({item.pk: 40}, booking=1, firm=False)
    hold({item.pk: 40}, booking=2)
    hold({item.pk: 40}, booking=1)
    assert list(Reservation.objects.open().order_by("pk").values_list("booking", flat=True)) == [2, 1]


@pytest.mark.parametrize(
    ("needs", "changed", "sentence"),
    [
        pytest.param({1: -1}, {}, "Quantity must be 0 to 1,000,000 (got -1).", id="fewer than none"),
        pytest.param({1: 1_000_001}, {}, "Quantity must be 0 to 1,000,000 (got 1,000,001).", id="a slipped finger"),
        pytest.param({987: 1}, {}, "Item must be one on the shelf's list (got number 987).", id="no such item"),
        pytest.param(
            {}, {"lapses_on": SATURDAY}, "A firm promise does not lapse (got 2026-06-06).", id="firm, but with an end"
        ),
    ],
)
def test_a_promise_that_cannot_be_made_is_refused_and_changes_nothing(needs, changed, sentence):
    item = ItemFactory(pk=1)
    hold({item.pk: 40})
    with pytest.raises(actions.PromiseRefusal) as refusal:
        hold({item.pk: 10, **needs}, **changed)
    assert str(refusal.value) == sentence
    assert held() == {(item.pk, 40)}


@pytest.mark.parametrize(
    ("firm", "left"),
    [
        pytest.param(None, set(), id="all of it"),
        pytest.param(True, {(False, 60)}, id="the firm part"),
        pytest.param(False, {(True, 40)}, id="the tentative part"),
    ],
)
def test_a_booking_lets_go_of_what_it_holds(firm, left):
    item = ItemFactory()
    hold({item.pk: 40})
    hold({item.pk: 60}, firm=False)
    count = actions.release(booking=7, firm=firm, by=None, at=NOON)
    assert count == 2 - len(left)
    assert set(Reservation.objects.open().values_list("firm", "quantity")) == left


def test_letting_go_twice_lets_go_once():
    hold({ItemFactory().pk: 40})
    assert actions.release(booking=7, by=None, at=NOON) == 1
    assert actions.release(booking=7, by=None, at=NOON + dt.timedelta(hours=1)) == 0
    assert Reservation.objects.get().closed_at == NOON


def test_moving_the_day_keeps_the_place_in_the_queue():
    item = ItemFactory()
    (mine,) = hold({item.pk: 40})
    hold({item.pk: 40}, booking=8)
    sunday = SATURDAY + dt.timedelta(days=1)
    assert actions.move(booking=7, needed_on=sunday, booking_name="Ferry office, moved", by=None, at=NOON) == 1
    first = Reservation.objects.open().earliest("pk")
    assert (first.pk, first.needed_on, first.booking_name) == (mine.pk, sunday, "Ferry office, moved")


def test_a_move_to_nowhere_is_refused():
    with pytest.raises(actions.PromiseRefusal, match="changes the day or the name"):
        actions.move(booking=7, by=None, at=NOON)


def test_every_write_to_promises_locks_their_items_first():
    items = [ItemFactory() for _ in range(3)]
    for change in (
        lambda: hold({item.pk: 1 for item in reversed(items)}),
        lambda: actions.move(booking=7, booking_name="Later", by=None, at=NOON),
        lambda: actions.release(booking=7, by=None, at=NOON),
    ):
        with CaptureQueriesContext(
            connection,
        ) as asked:
            change()
        statements = [query["sql"] for query in asked.captured_queries]
        lock = next(n for n, sql in enumerate(statements) if 'FROM "stock_item"' in sql and "ORDER BY" in sql)
        write = next(n for n, sql in enumerate(statements) if sql.startswith(("UPDATE", "INSERT")))
        assert lock < write
        # By its first column, which is the key.
        assert statements[lock].startswith('SELECT "stock_item"."id"')
        assert "ORDER BY 1 ASC" in statements[lock]


# What can still be promised. The shelf has 100; day 5 takes 60; day 8 brings 50; day 12 takes 80.
#
#   day    0     5     8     12
#   holds  100   40    90    10


@pytest.mark.parametrize(
    ("after", "free"),
    [
        pytest.param(0, 10, id="today: the least of all later days"),
        pytest.param(5, 10, id="on the day of a need"),
        pytest.param(9, 10, id="after the delivery"),
        pytest.param(12, 10, id="on the last day"),
        pytest.param(400, 10, id="long after everything"),
        pytest.param(-3, 10, id="a day gone by is today"),
    ],
)
def test_what_is_free_on_a_day_is_the_least_from_then_on(after, free):
    item = MovementFactory(quantity=100).item
    for day, quantity in ((5, 60), (12, 80)):
        ReservationFactory(item=item, quantity=quantity, needed_on=TODAY + dt.timedelta(days=day))
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=TODAY + dt.timedelta(days=8))
    OrderLineFactory(order=order, item=item, pack_size=50)
    assert free_on([item.pk], TODAY + dt.timedelta(days=after), TODAY) == {item.pk: free}


def test_a_later_day_is_freer_once_a_delivery_has_come():
    item = MovementFactory(quantity=100).item
    ReservationFactory(item=item, quantity=60, needed_on=SATURDAY)
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=SATURDAY + dt.timedelta(days=2))
    OrderLineFactory(order=order, item=item, pack_size=50)
    assert free_on([item.pk], SATURDAY, TODAY) == {item.pk: 40}
    assert free_on([item.pk], SATURDAY + dt.timedelta(days=2), TODAY) == {item.pk: 90}


def test_free_goes_below_nothing_where_too_much_is_promised():
    item = MovementFactory(quantity=10).item
    ReservationFactory(item=item, quantity=60, needed_on=SATURDAY)
    assert free_on([item.pk], TODAY, TODAY) == {item.pk: -50}


def test_tentative_and_closed_holds_take_nothing_from_what_is_free():
    item = MovementFactory(quantity=10).item
    ReservationFactory(item=item, quantity=4, firm=False)
    ReservationFactory(item=item, quantity=4, closed_at=NOON)
    assert free_on([item.pk], TODAY, TODAY) == {item.pk: 10}


def test_an_overdue_promise_still_takes_from_today():
    item = MovementFactory(quantity=10).item
    ReservationFactory(item=item, quantity=4, needed_on=TODAY - dt.timedelta(days=3))
    assert free_on([item.pk], TODAY, TODAY) == {item.pk: 6}


def test_what_is_free_is_asked_in_as_few_statements_for_many_items(django_assert_num_queries):
    keys = [MovementFactory().item_id for _ in range(8)]
    with django_assert_num_queries(1):
        free_on(keys, TODAY, TODAY)


def test_an_overdue_delivery_counts_for_nothing_until_it_comes():
    item = MovementFactory(quantity=10).item
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=TODAY - dt.timedelta(days=1))
    OrderLineFactory(order=order, item=item)
    assert free_on([item.pk], TODAY, TODAY) == {item.pk: 10}


def test_what_a_booking_holds_firmly_is_asked_by_its_number():
    item = ItemFactory()
    hold({item.pk: 40})
    hold({item.pk: 60}, firm=False)
    hold({item.pk: 10}, booking=8)
    assert held_firmly(7) == {item.pk: 40}


def test_what_is_held_in_two_promises_is_one_sum():
    item = ItemFactory()
    hold({item.pk: 40})
    hold({item.pk: 60})
    assert Reservation.objects.open().count() == 2
    assert held_firmly(7) == {item.pk: 60}
