"""What a booking takes off the shelf: gone by lot, promised no more, and home again into the lots it came from."""

import datetime as dt

import pytest

from stock import actions
from stock.actions import Taking
from stock.models import Lot, Movement, Reservation
from stock.queries import cover_board, held_firmly, lots_on_hand, on_hand, taken_for
from tests.factories import NOON, TODAY, ItemFactory, MovementFactory, ReservationFactory

pytestmark = pytest.mark.django_db


def lot_of(item, quantity, *, ahead=None):
    """A lot with so many left, good for so many days."""
    best_before = None if ahead is None else TODAY + dt.timedelta(days=ahead)
    lot = Lot.objects.create(item=item, received_on=TODAY, best_before=best_before)
    MovementFactory(item=item, lot=lot, kind="received", quantity=quantity)
    return lot


def lots_of(item):
    return {lot.key: lot.left for lot in lots_on_hand([item.pk]).get(item.pk, [])}


def issue(owner, *takings, booking=7):
    return actions.issue(booking=booking, takings=takings, by=owner, at=NOON)


def test_what_is_taken_leaves_the_lot_it_was_taken_out_of(owner):
    item = ItemFactory()
    old, new = lot_of(item, 40, ahead=10), lot_of(item, 60, ahead=90)
    made = issue(owner, Taking(item.pk, old.pk, 40), Taking(item.pk, new.pk, 10))
    assert [(one.kind, one.lot_id, one.quantity, one.booking) for one in made] == [
        ("used", old.pk, -40, 7),
        ("used", new.pk, -10, 7),
    ]
    assert lots_of(item) == {new.pk: 50}


def test_a_lot_that_holds_less_than_was_found_in_it_leaves_the_rest_to_the_others(owner):
    item = ItemFactory()
    old, new = lot_of(item, 5, ahead=10), lot_of(item, 60, ahead=90)
    issue(owner, Taking(item.pk, old.pk, 20))
    assert lots_of(item) == {new.pk: 45}


def test_more_than_is_on_hand_is_refused_and_nothing_is_taken(owner):
    some, few = ItemFactory(), ItemFactory(colour__name="Sand")
    MovementFactory(item=some, quantity=50)
    MovementFactory(item=few, quantity=4)
    with pytest.raises(actions.StockRefusal, match="Sand 11-inch has 4 on hand; 5 cannot be taken"):
        issue(owner, Taking(some.pk, None, 50), Taking(few.pk, None, 5))
    assert on_hand([some.pk, few.pk]) == {some.pk: 50, few.pk: 4}
    assert taken_for(7) == {}


@pytest.mark.parametrize("quantity", [0, -3, 1_000_001])
def test_a_quantity_nobody_can_carry_is_refused(owner, quantity):
    item = ItemFactory()
    MovementFactory(item=item, quantity=50)
    with pytest.raises(actions.StockRefusal, match="Taken must be 1 to 1,000,000"):
        issue(owner, Taking(item.pk, None, quantity))


@pytest.mark.parametrize(
    ("taken", "still_held"),
    [
        pytest.param(30, 30, id="some of it"),
        pytest.param(50, 10, id="all of the first promise"),
        pytest.param(60, 0, id="all"),
        pytest.param(100, 0, id="the whole bag"),
    ],
)
def test_what_is_taken_is_promised_no_more(owner, taken, still_held):
    item = ItemFactory()
    MovementFactory(item=item, quantity=200)
    ReservationFactory(item=item, booking=7, quantity=50)
    ReservationFactory(item=item, booking=7, quantity=10, made_at=NOON + dt.timedelta(hours=1))
    other = ReservationFactory(item=item, booking=8, quantity=25)
    issue(owner, Taking(item.pk, None, taken))
    assert held_firmly(7).get(item.pk, 0) == still_held
    assert held_firmly(8) == {item.pk: other.quantity}


def test_what_was_promised_first_is_fulfilled_first(owner):
    item = ItemFactory()
    MovementFactory(item=item, quantity=200)
    first = ReservationFactory(item=item, booking=7, quantity=50)
    second = ReservationFactory(item=item, booking=7, quantity=10, made_at=NOON + dt.timedelta(hours=1))
    issue(owner, Taking(item.pk, None, 52))
    assert list(Reservation.objects.open().values_list("pk", "quantity")) == [(second.pk, 8)]
    first.refresh_from_db()
    assert (first.closed_at, first.quantity) == (NOON, 50)


def test_cover_is_the_same_before_and_after_what_was_promised_is_taken(owner):
    item = ItemFactory()
    MovementFactory(item=item, quantity=100)
    ReservationFactory(item=item, booking=7, quantity=60, needed_on=TODAY + dt.timedelta(days=2))
    ReservationFactory(item=item, booking=8, quantity=55, needed_on=TODAY + dt.timedelta(days=9))

    def short():
        (row,) = cover_board(TODAY, item_ids=[item.pk]).rows
        return [(hit.booking, hit.short) for hit in row.cover.hit]

    before = short()
    issue(owner, Taking(item.pk, None, 60))
    assert short() == before
    assert before == [(8, 15)]


def test_what_comes_home_goes_into_the_lots_it_came_from_the_last_first(owner):
    item = ItemFactory()
    old, new = lot_of(item, 40, ahead=10), lot_of(item, 60, ahead=90)
    issue(owner, Taking(item.pk, old.pk, 40), Taking(item.pk, new.pk, 20))
    actions.bring_home(booking=7, home={item.pk: 25}, by=owner, at=NOON)
    assert lots_of(item) == {new.pk: 60, old.pk: 5}
    assert taken_for(7) == {item.pk: 35}


def test_nothing_comes_home_where_one_line_says_more_than_was_taken(owner):
    some, few = ItemFactory(), ItemFactory(colour__name="Sand")
    MovementFactory(item=some, quantity=50)
    MovementFactory(item=few, quantity=50)
    issue(owner, Taking(some.pk, None, 30), Taking(few.pk, None, 5))
    with pytest.raises(actions.StockRefusal, match="Booking 7 took 5 of Sand 11-inch; 6 cannot come back"):
        actions.bring_home(booking=7, home={some.pk: 30, few.pk: 6}, by=owner, at=NOON)
    assert taken_for(7) == {some.pk: 30, few.pk: 5}
    assert Movement.objects.filter(kind="received").count() == 0


def test_a_job_is_issued_in_as_many_statements_however_many_lines_it_has(owner, django_assert_max_num_queries):
    items = [ItemFactory() for _ in range(40)]
    for item in items:
        MovementFactory(item=item, quantity=50)
        ReservationFactory(item=item, booking=7, quantity=50)
    with django_assert_max_num_queries(12):
        issue(owner, *[Taking(item.pk, None, 50) for item in items])
