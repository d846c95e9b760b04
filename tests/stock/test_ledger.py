"""The stock ledger: on hand is the sum of its movements, and a movement is written once."""

import datetime as dt

import pytest
from django.db import DatabaseError, connection, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stock import actions
from stock.models import Item, LedgerRefusal, Movement
from stock.queries import on_hand
from tests.factories import NOON, ColourFactory, ItemFactory, MovementFactory, OrderLineFactory, UserFactory

pytestmark = pytest.mark.django_db


def sum_in_sql(item) -> int:
    """On hand as the database reckons it, asked without the ORM."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT COALESCE(SUM(quantity), 0) FROM stock_movement WHERE item_id = %s", [item.pk])
        return cursor.fetchone()[0]


def black_11() -> Item:
    return ItemFactory(colour=ColourFactory(name="Black"), size=11)


def test_an_item_without_movements_has_none_on_hand():
    item = ItemFactory()
    assert on_hand([item.pk]) == {item.pk: 0}


def test_on_hand_of_every_item_is_asked_for_without_naming_one():
    full, empty = MovementFactory(quantity=40).item, ItemFactory()
    assert on_hand() == {full.pk: 40, empty.pk: 0}


def test_an_item_that_does_not_exist_has_no_answer():
    assert on_hand([1]) == {}


STEPS = st.lists(
    st.tuples(st.sampled_from(["receive", "use", "write_off", "count"]), st.integers(0, 60), st.integers(0, 1)),
    max_size=12,
)


@given(steps=STEPS)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_on_hand_is_the_sum_of_what_was_done_whatever_was_done(db, steps):
    with transaction.atomic():
        by = UserFactory()
        items = [ItemFactory(), ItemFactory()]
        expected = [0, 0]
        for what, quantity, which in steps:
            done = {"item": items[which], "by": by, "at": NOON}
            try:
                if what == "receive":
                    actions.receive(**done, quantity=quantity)
                    expected[which] += quantity
                elif what == "use":
                    actions.use(**done, quantity=quantity)
                    expected[which] -= quantity
                elif what == "write_off":
                    actions.write_off(**done, quantity=quantity, why="popped")
                    expected[which] -= quantity
                else:
                    actions.count(**done, counted=quantity)
                    expected[which] = quantity
            except actions.StockRefusal:
                assert quantity == 0 or quantity > expected[which]
        assert on_hand([item.pk for item in items]) == dict(zip((i.pk for i in items), expected, strict=True))
        assert [sum_in_sql(item) for item in items] == expected
        assert min(expected) >= 0
        transaction.set_rollback(True)


def test_what_is_received_is_put_on_the_shelf_with_who_and_when(owner, noon):
    item = black_11()
    movement = actions.receive(item=item, quantity=100, by=owner, at=noon, why="left over")
    assert (movement.kind, movement.quantity, movement.by, movement.at, movement.why) == (
        "received",
        100,
        owner,
        noon,
        "left over",
    )


def test_what_is_received_names_the_order_line_it_came_on(owner, noon):
    line = OrderLineFactory()
    movement = actions.receive(item=line.item, quantity=100, by=owner, at=noon, order_line=line)
    assert movement.order_line == line


def test_what_is_used_leaves_the_shelf_for_its_booking(owner, noon):
    item = MovementFactory(quantity=12).item
    (movement,) = actions.use(item=item, quantity=12, booking=7, by=owner, at=noon)
    assert (movement.kind, movement.quantity, movement.booking) == ("used", -12, 7)
    assert on_hand([item.pk])[item.pk] == 0


@pytest.mark.parametrize(
    ("take", "word"),
    [
        pytest.param(actions.use, "used", id="used"),
        pytest.param(actions.write_off, "written off", id="written off"),
    ],
)
def test_more_than_is_on_hand_cannot_leave_the_shelf(take, word, owner, noon):
    item = black_11()
    MovementFactory(item=item, quantity=12)
    with pytest.raises(actions.StockRefusal, match=f"^Black 11-inch has 12 on hand; 30 cannot be {word}\\.$"):
        take(item=item, quantity=30, why="gone", by=owner, at=noon)
    assert on_hand([item.pk])[item.pk] == 12


@pytest.mark.parametrize(
    ("done", "sentence"),
    [
        pytest.param(
            lambda **by: actions.receive(quantity=0, **by),
            "Received must be 1 to 1,000,000 (got 0).",
            id="nothing received",
        ),
        pytest.param(
            lambda **by: actions.receive(quantity=1_000_001, **by),
            "Received must be 1 to 1,000,000 (got 1,000,001).",
            id="a slipped finger",
        ),
        pytest.param(
            lambda **by: actions.use(quantity=-1, **by), "Used must be 1 to 1,000,000 (got -1).", id="used backwards"
        ),
        pytest.param(
            lambda **by: actions.write_off(quantity=0, why="x", **by),
            "Written off must be 1 to 1,000,000 (got 0).",
            id="nothing written off",
        ),
        pytest.param(
            lambda **by: actions.write_off(quantity=1, why=" ", **by),
            "Why must be said when something is written off (got nothing).",
            id="written off for no reason",
        ),
        pytest.param(
            lambda **by: actions.count(counted=-1, **by),
            "Counted must be 0 to 1,000,000 (got -1).",
            id="fewer than none counted",
        ),
    ],
)
def test_a_movement_that_makes_no_sense_is_refused_in_a_sentence(done, sentence, owner, noon):
    item = ItemFactory()
    with pytest.raises(actions.StockRefusal) as refusal:
        done(item=item, by=owner, at=noon)
    assert str(refusal.value) == sentence
    assert not Movement.objects.exists()


@pytest.mark.parametrize(
    ("counted", "difference"),
    [
        pytest.param(130, 30, id="more than the ledger said"),
        pytest.param(0, -100, id="none left"),
        pytest.param(100, 0, id="just what the ledger said"),
    ],
)
def test_a_count_writes_the_difference_even_of_nothing(counted, difference, owner, noon):
    item = MovementFactory(quantity=100).item
    (movement,) = actions.count(item=item, counted=counted, by=owner, at=noon)
    assert (movement.kind, movement.quantity) == ("counted", difference)
    assert on_hand([item.pk])[item.pk] == counted


def test_items_are_locked_in_the_order_of_their_keys_whoever_asks(django_assert_num_queries):
    keys = [ItemFactory().pk for _ in range(3)]
    with django_assert_num_queries(1):
        locked = actions.lock_items([keys[2], keys[0], keys[2], keys[1]])
    assert list(locked) == sorted(keys)


def _saved_again(movement):
    movement.quantity = 999
    movement.save()


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(_saved_again, id="saved again"),
        pytest.param(lambda movement: movement.delete(), id="deleted"),
        pytest.param(
            lambda movement: Movement.objects.filter(pk=movement.pk).update(quantity=999), id="queryset update"
        ),
        pytest.param(lambda movement: Movement.objects.filter(pk=movement.pk).delete(), id="queryset delete"),
        pytest.param(lambda movement: Movement.objects.bulk_update([movement], ["quantity"]), id="bulk update"),
        pytest.param(lambda movement: movement.item.movements.all().delete(), id="deleted through its item"),
    ],
)
def test_a_movement_is_not_changed_through_the_models(change):
    movement = MovementFactory(quantity=40)
    with pytest.raises(LedgerRefusal), transaction.atomic():
        change(movement)
    assert sum_in_sql(movement.item) == 40


@pytest.mark.parametrize(
    "statement",
    [
        pytest.param("UPDATE stock_movement SET quantity = 999", id="changed"),
        pytest.param("UPDATE stock_movement SET why = 'nothing'", id="one word changed"),
        pytest.param("DELETE FROM stock_movement", id="deleted"),
    ],
)
def test_the_database_itself_refuses_to_change_a_movement(statement):
    movement = MovementFactory(quantity=40)
    with pytest.raises(DatabaseError, match="movement"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)
    assert sum_in_sql(movement.item) == 40


def test_without_its_triggers_the_database_would_let_a_movement_be_changed():
    """The refusal above is the triggers' work and nobody else's."""
    movement = MovementFactory(quantity=40)
    on = " ON stock_movement" if connection.vendor == "postgresql" else ""
    with connection.cursor() as cursor:
        for event in ("update", "delete"):
            cursor.execute(f"DROP TRIGGER stock_movement_no_{event}{on}")
        cursor.execute("UPDATE stock_movement SET quantity = 999")
    assert sum_in_sql(movement.item) == 999


def test_an_item_with_movements_cannot_be_deleted():
    item = MovementFactory().item
    with pytest.raises(DatabaseError):
        item.delete()


def test_a_movement_may_not_go_against_its_kind(owner):
    with pytest.raises(DatabaseError), transaction.atomic():
        Movement.objects.create(item=ItemFactory(), kind="used", quantity=5, at=NOON, by=owner)


def test_movements_are_told_apart_by_when_they_were_written_not_by_the_clock(owner, noon):
    item = ItemFactory()
    actions.receive(item=item, quantity=10, by=owner, at=noon)
    actions.use(item=item, quantity=10, by=owner, at=noon - dt.timedelta(days=2))
    assert on_hand([item.pk])[item.pk] == 0
