"""Many hands on one shelf: nothing is sold twice, nothing is lost, nobody waits for ever."""

import contextlib
import random
import threading

import pytest
from django.db import connection, transaction

from stock import actions
from stock.actions import ledger, promises
from stock.models import Item, Movement, Reservation
from stock.queries import on_hand
from tests.factories import NOON, TODAY, ReservationFactory
from tests.races.conftest import OFTEN

SHELF, EACH, BUYERS = 100, 7, 64


def stocked(item: Item, by, quantity: int = SHELF) -> Item:
    actions.receive(item=item, quantity=quantity, by=by, at=NOON)
    return item


def sum_of(item: Item) -> int:
    """What is on hand by the ledger's own lines."""
    return sum(Movement.objects.filter(item=item).values_list("quantity", flat=True))


def check_nothing_is_sold_twice(item, by, together, buyers=BUYERS):
    stocked(item, by)
    taken = together([lambda: actions.use(item=item, quantity=EACH, by=by, at=NOON)] * buyers)
    refused = [answer for answer in taken if isinstance(answer, actions.StockRefusal)]
    sold = [answer for answer in taken if not isinstance(answer, Exception)]

    assert (len(sold), len(refused)) == (SHELF // EACH, buyers - SHELF // EACH), taken
    assert sum_of(item) == on_hand([item.pk])[item.pk] == SHELF % EACH


def test_sixty_four_hands_take_no_more_than_there_is_and_no_fewer(new_item, by, together):
    check_nothing_is_sold_twice(new_item(), by, together)


def check_a_count_holds(item, by, together):
    stocked(item, by)
    answers = together([lambda: actions.count(item=item, counted=60, by=by, at=NOON)] * 32)

    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    assert sum_of(item) == 60


def test_the_same_count_written_by_many_at_once_is_what_is_there(new_item, by, together):
    check_a_count_holds(new_item(), by, together)


def test_what_comes_and_what_goes_at_once_all_counts(new_item, by, together):
    item = stocked(new_item(), by, 1000)
    comes = [lambda: actions.receive(item=item, quantity=5, by=by, at=NOON)] * 20
    goes = [lambda: actions.use(item=item, quantity=3, by=by, at=NOON)] * 20
    spoils = [lambda: actions.write_off(item=item, quantity=2, why="popped", by=by, at=NOON)] * 20
    answers = together([*comes, *goes, *spoils])

    assert [answer for answer in answers if isinstance(answer, Exception)] == []
    assert sum_of(item) == 1000


def test_no_more_comes_home_than_was_taken_however_many_bring_it(new_item, by, together):
    item = stocked(new_item(), by)
    actions.use(item=item, quantity=30, booking=9, by=by, at=NOON)
    answers = together([lambda: actions.bring_back(item=item, quantity=7, booking=9, by=by, at=NOON)] * 16)

    assert sum(not isinstance(answer, Exception) for answer in answers) == 4
    assert sum_of(item) == 98


CLIENTS, ITEMS, TIMES = 16, 20, 3


def check_shuffled_promises(items, by, together, first_booking):
    """Sixteen clients hold the same twenty items, each in an order of their own, three times over."""

    def hold(client: int) -> None:
        for _ in range(TIMES):
            needs = [(item.pk, 1 + place % 5) for place, item in enumerate(items)]
            random.Random(client).shuffle(needs)
            actions.reserve(
                needs=dict(needs),
                needed_on=TODAY,
                booking=first_booking + client,
                booking_name="A job",
                firm=True,
                by=by,
                at=NOON,
            )

    answers = together([lambda client=client: hold(client) for client in range(CLIENTS)])

    assert answers == [None] * CLIENTS
    for place, item in enumerate(items):
        held = Reservation.objects.open().filter(item=item).values_list("quantity", flat=True)
        assert sum(held) == CLIENTS * (1 + place % 5)


def test_promises_of_shuffled_items_never_wait_for_each_other_in_a_ring(new_item, by, together):
    check_shuffled_promises([new_item() for _ in range(ITEMS)], by, together, 1000)


def check_a_kit_is_taken_once(items, by, together):
    """A kit needs 100 over two items together; two hands each take it out of the other item.

    Whoever looks waits for the other: where the lock holds, in vain.
    """
    for item in items:
        stocked(item, by, 50)
    both = [item.pk for item in items]
    looked = threading.Barrier(2)

    def take(item: Item) -> bool:
        with transaction.atomic():
            ledger.lock_items(both)
            enough = sum(on_hand(both).values()) >= 100
            with contextlib.suppress(threading.BrokenBarrierError):
                looked.wait(timeout=2)
            if enough:
                Movement.objects.create(item=item, kind="used", quantity=-50, at=NOON, by=by)
            return enough

    taken = together([lambda item=item: take(item) for item in items])

    assert sorted(taken, key=str) == [False, True]
    assert sum(sum_of(item) for item in items) == 50


def test_two_who_look_at_both_and_take_one_each_do_not_both_go_ahead(new_item, by, together):
    check_a_kit_is_taken_once([new_item(), new_item()], by, together)


# Tests that cannot fail prove nothing: without the lock, each of the checks above finds the fault it is there for.


@pytest.fixture
def unlocked(monkeypatch):
    """The shelf without its lock."""

    def looked_up(ids):
        return {item.pk: item for item in Item.objects.with_colour().filter(pk__in=list(ids))}

    monkeypatch.setattr(ledger, "lock_items", looked_up)
    monkeypatch.setattr(promises, "lock_keys", lambda ids: set(looked_up(ids)))


@pytest.mark.postgresql
def test_without_the_lock_more_is_sold_than_there_is(new_item, by, together, unlocked):
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_nothing_is_sold_twice(new_item(), by, together)


@pytest.mark.postgresql
def test_without_the_lock_a_count_is_written_twice(new_item, by, together, unlocked):
    with pytest.raises(AssertionError):
        for _ in range(OFTEN):
            check_a_count_holds(new_item(), by, together)


@pytest.mark.postgresql
def test_without_the_lock_a_kit_is_taken_twice(new_item, by, together, unlocked):
    with pytest.raises(AssertionError):
        check_a_kit_is_taken_once([new_item(), new_item()], by, together)


@pytest.mark.postgresql
def test_locked_in_no_order_promises_wait_for_each_other_in_a_ring(new_item, by, together, monkeypatch):
    def as_they_come(ids):
        return {Item.objects.select_for_update().get(pk=pk).pk for pk in dict.fromkeys(ids)}

    monkeypatch.setattr(promises, "lock_keys", as_they_come)
    with pytest.raises(AssertionError, match="deadlock detected"):
        for round_ in range(OFTEN):
            check_shuffled_promises([new_item() for _ in range(ITEMS)], by, together, 2000 + 100 * round_)


@pytest.mark.postgresql
def test_a_reader_of_the_shelf_waits_for_nobody(new_item, by, together):
    item = stocked(new_item(), by)
    with transaction.atomic():
        ledger.lock_items([item.pk])
        assert together([lambda: on_hand([item.pk])[item.pk]]) == [SHELF]


@pytest.mark.postgresql
def test_a_line_that_only_names_an_item_does_not_wait_for_its_lock(new_item, by, together):
    """Otherwise two quotes that list what the other one holds would wait for each other at the very end."""
    item = stocked(new_item(), by)

    def name_it() -> int:
        with connection.cursor() as cursor:
            cursor.execute("SET lock_timeout = '3s'")
        return ReservationFactory(item=item, quantity=4).quantity

    with transaction.atomic():
        ledger.lock_items([item.pk])
        assert together([name_it]) == [4]
