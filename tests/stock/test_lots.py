"""Lots: what is used first, until when it is good, and what is too old by its job."""

import datetime as dt
from importlib import import_module

import pytest
from django.db import connection
from hypothesis import given, settings
from hypothesis import strategies as st

from stock import actions
from stock.cover import Arrival, Need
from stock.lots import (
    Ageing,
    Expiring,
    LotLeft,
    LotsFault,
    TooOld,
    ageing,
    in_few_words,
    in_sentences,
    months_after,
    take,
)
from stock.models import Colour, Lot, ShelfRules
from stock.queries import cover_board, on_hand
from tests.factories import (
    NOON,
    TODAY,
    ColourFactory,
    ItemFactory,
    MovementFactory,
    OrderFactory,
    OrderLineFactory,
    ReservationFactory,
)
from tests.stock.lots_in_the_ledger import day, left, left_of, receive


def need(ahead: int, quantity: int, no: int = 1) -> Need:
    return Need(no, day(ahead), no, f"Job {no}", quantity, True)


def aged(lots, needs=(), arrivals=(), until=200) -> Ageing:
    return ageing(lots, arrivals, needs, today=TODAY, until=day(until))


@pytest.mark.parametrize(
    ("start", "months", "end"),
    [
        pytest.param("2026-06-01", 24, "2028-06-01", id="two years"),
        pytest.param("2026-01-31", 1, "2026-02-28", id="a month too short"),
        pytest.param("2028-01-31", 1, "2028-02-29", id="in a leap year"),
        pytest.param("2026-12-15", 1, "2027-01-15", id="over new year"),
        pytest.param("2026-06-01", 0, "2026-06-01", id="no time at all"),
    ],
)
def test_so_many_months_on_is_the_same_day_or_the_last(start, months, end):
    assert months_after(dt.date.fromisoformat(start), months) == dt.date.fromisoformat(end)


@pytest.mark.parametrize("months", [-1, 241])
def test_months_beyond_reason_are_refused(months):
    with pytest.raises(ValueError, match=f"Months must be 0 to 240 \\(got {months}\\)"):
        months_after(TODAY, months)


def test_more_than_the_lots_hold_is_refused():
    with pytest.raises(LotsFault, match="The lots hold 10; 11 cannot be taken"):
        take([LotLeft(1, 10)], 11)


LOTS = st.lists(
    st.builds(
        LotLeft,
        key=st.integers(1, 10**6),
        left=st.integers(1, 50),
        received_on=st.dates(dt.date(2020, 1, 1), dt.date(2027, 1, 1)),
        best_before=st.none() | st.dates(dt.date(2024, 1, 1), dt.date(2029, 1, 1)),
    ),
    max_size=8,
    unique_by=lambda lot: lot.key,
)


@given(lots=LOTS, share=st.floats(0, 1))
@settings(max_examples=200, deadline=None)
def test_nothing_is_left_that_expires_sooner_than_what_was_taken(lots, share):
    wanted = int(sum(lot.left for lot in lots) * share)
    taken = take(lots, wanted)
    assert sum(part for _, part in taken) == wanted
    assert all(0 < part <= lot.left for lot, part in taken)
    gone = {lot.key: part for lot, part in taken}
    untouched = [lot.best_before or dt.date.max for lot in lots if gone.get(lot.key, 0) < lot.left]
    if untouched and taken:
        assert max(lot.best_before or dt.date.max for lot, _ in taken) <= min(untouched)


# A bag of 100 good until day 20, another until day 300.


def test_what_no_job_takes_before_its_last_day_expires():
    found = aged([LotLeft(1, 100, best_before=day(20)), LotLeft(2, 100, best_before=day(300))], [need(10, 30)])
    assert found == Ageing(expiring=(Expiring(day(20), 70),))


def test_what_is_good_on_the_day_itself_serves_its_job():
    assert aged([LotLeft(1, 100, best_before=day(10))], [need(10, 100)]) == Ageing()
    assert aged([LotLeft(1, 100, best_before=day(9))], [need(10, 100)]).too_old == (TooOld(1, "Job 1", day(10), 100),)


def test_a_later_job_gets_the_fresher_lot_and_nothing_is_too_old():
    lots = [LotLeft(1, 100, best_before=day(20)), LotLeft(2, 100, best_before=day(300))]
    assert aged(lots, [need(5, 100, 1), need(40, 100, 2)]) == Ageing()


def test_a_delivery_serves_what_the_shelf_is_too_old_for():
    lots = [LotLeft(1, 100, best_before=day(20))]
    found = aged(lots, [need(40, 60)], [Arrival(day(30), 50, "Order 1")])
    assert found.too_old == (TooOld(1, "Job 1", day(40), 10),)
    assert found.expiring == (Expiring(day(20), 90),)


def test_what_is_short_anyway_is_not_called_too_old():
    assert aged([], [need(40, 60)]) == Ageing()


def test_what_is_past_already_is_said_and_serves_last():
    found = aged([LotLeft(1, 40, best_before=day(-1)), LotLeft(2, 40)], [need(3, 60)])
    assert (found.past, found.too_old) == (20, (TooOld(1, "Job 1", day(3), 20),))


def test_what_expires_after_the_horizon_is_not_said_yet():
    assert aged([LotLeft(1, 40, best_before=day(201))], until=200) == Ageing()


MARCH = dt.date(2027, 3, 5)


@pytest.mark.parametrize(
    ("found", "words"),
    [
        pytest.param(Ageing(), "", id="nothing"),
        pytest.param(Ageing(expiring=(Expiring(MARCH, 200),)), "2 bags past best-before in March", id="bags"),
        pytest.param(Ageing(expiring=(Expiring(MARCH, 70),)), "70 past best-before in March", id="loose"),
        pytest.param(
            Ageing(expiring=(Expiring(MARCH, 60), Expiring(dt.date(2027, 3, 9), 40))),
            "1 bag past best-before in March",
            id="two lots of one month",
        ),
        pytest.param(Ageing(past=30), "30 past best-before", id="already"),
        pytest.param(
            Ageing(too_old=(TooOld(7, "Gala", dt.date(2026, 12, 12), 40),), past=30),
            "40 too old by 12 Dec",
            id="for a job",
        ),
        pytest.param(
            Ageing(expiring=(Expiring(dt.date(2028, 3, 5), 70),)), "70 past best-before in March 2028", id="far"
        ),
    ],
)
def test_ageing_is_said_in_a_few_words(found, words):
    assert in_few_words(found, today=dt.date(2026, 12, 1), pack_size=100) == words


def test_ageing_is_said_in_full_sentences():
    found = Ageing((TooOld(7, "Gala", day(11), 40),), (Expiring(day(20), 1), Expiring(day(21), 5)), 3)
    assert in_sentences(found, today=TODAY) == (
        "3 are past best-before already. 40 will be past best-before for Gala on 12 Jun. "
        "1 is good until 21 Jun and no job takes it. 5 are good until 22 Jun and no job takes them."
    )


# In the ledger.

pytestmark = pytest.mark.django_db


def test_latex_is_good_for_two_years_unless_somebody_says_otherwise(owner):
    movement = receive(ItemFactory(), 100, owner)
    assert movement.lot is not None
    assert (movement.lot.received_on, movement.lot.best_before) == (TODAY, dt.date(2028, 6, 1))


@pytest.mark.parametrize(
    ("kept", "months", "best_before"),
    [
        pytest.param({"best_before_months": 6}, 24, dt.date(2026, 12, 1), id="the item's own"),
        pytest.param({"best_before_months": 0}, 24, None, id="an item that keeps"),
        pytest.param({}, 12, dt.date(2027, 6, 1), id="the studio's rule"),
        pytest.param({"sort": "tie", "name": "260s"}, 24, dt.date(2028, 6, 1), id="ties are latex"),
        pytest.param({"sort": "hook", "name": "Hooks"}, 24, None, id="hooks keep"),
        pytest.param({"sort": "hook", "name": "Tape", "best_before_months": 12}, 24, dt.date(2027, 6, 1), id="tape"),
    ],
)
def test_how_long_an_item_is_good(owner, kept, months, best_before):
    ShelfRules.objects.create(pk=1, latex_months=months)
    item = ItemFactory(**({"colour": None, "size": None} if "sort" in kept else {}) | kept)
    assert left_of(receive(item, 100, owner)) == best_before


def test_foil_keeps(owner):
    item = ItemFactory(colour=ColourFactory(finish=Colour.Finish.FOIL))
    assert left_of(receive(item, 10, owner)) is None


def test_what_the_bag_says_counts_more_than_the_rule(owner):
    assert left_of(receive(ItemFactory(), 10, owner, best_before=dt.date(2027, 1, 31))) == dt.date(2027, 1, 31)


def test_a_best_before_of_another_century_is_refused(owner):
    with pytest.raises(actions.StockRefusal, match="Best-before must be within 20 years \\(got 1926-06-01\\)"):
        receive(ItemFactory(), 10, owner, best_before=dt.date(1926, 6, 1))
    assert not Lot.objects.exists()


def test_an_order_is_put_away_as_lots_with_what_the_bags_say(owner):
    order = OrderFactory(state="placed", placed_on=TODAY, expected_on=TODAY)
    first, second = OrderLineFactory(order=order), OrderLineFactory(order=order)
    printed = dt.date(2027, 5, 31)
    actions.receive_order(
        order=order, quantities={first.pk: 100, second.pk: 100}, best_before={first.pk: printed}, by=owner, at=NOON
    )
    assert left(first.item) == [(printed, 100)]
    assert left(second.item) == [(dt.date(2028, 6, 1), 100)]


def test_what_is_used_comes_out_of_the_soonest_to_expire(owner):
    item = ItemFactory()
    receive(item, 50, owner, best_before=day(300))
    receive(item, 50, owner, best_before=day(30))
    taken = actions.use(item=item, quantity=70, booking=7, by=owner, at=NOON)
    assert [movement.quantity for movement in taken] == [-50, -20]
    assert left(item) == [(day(300), 30)]
    assert on_hand([item.pk])[item.pk] == 30


def test_a_lot_can_be_written_off_alone(owner):
    item = ItemFactory()
    receive(item, 50, owner, best_before=day(30))
    later = receive(item, 50, owner, best_before=day(300))
    actions.write_off(item=item, quantity=50, why="sticky", lot=later.lot_id, by=owner, at=NOON)
    assert left(item) == [(day(30), 50)]


def test_more_than_is_left_of_a_lot_cannot_be_written_off(owner):
    item = ItemFactory(colour=ColourFactory(name="Black"))
    lot = receive(item, 50, owner).lot_id
    receive(item, 50, owner)
    with pytest.raises(actions.StockRefusal, match="Of that lot of Black 11-inch 50 are left; 51 cannot"):
        actions.write_off(item=item, quantity=51, why="sticky", lot=lot, by=owner, at=NOON)


def test_what_was_there_before_lots_were_told_apart_goes_first_of_what_keeps(owner):
    item = ItemFactory(best_before_months=0)
    receive(item, 50, owner)
    MovementFactory(item=item, quantity=10)
    assert [movement.quantity for movement in actions.use(item=item, quantity=20, by=owner, at=NOON)] == [-10, -10]


def test_what_a_count_misses_comes_out_of_the_lots_and_what_it_finds_is_of_none(owner):
    item = ItemFactory()
    receive(item, 50, owner, best_before=day(30))
    receive(item, 50, owner, best_before=day(300))
    actions.count(item=item, counted=40, by=owner, at=NOON)
    assert left(item) == [(day(300), 40)]
    actions.count(item=item, counted=45, by=owner, at=NOON)
    assert left(item) == [(day(300), 40), (None, 5)]


def test_what_comes_home_goes_back_into_its_lots(owner):
    item = ItemFactory()
    receive(item, 50, owner, best_before=day(30))
    receive(item, 50, owner, best_before=day(300))
    actions.use(item=item, quantity=70, booking=7, by=owner, at=NOON)
    actions.bring_back(item=item, quantity=30, booking=7, by=owner, at=NOON)
    assert left(item) == [(day(30), 10), (day(300), 50)]


def test_more_cannot_come_home_than_went_out(owner):
    item = ItemFactory(colour=ColourFactory(name="Black"))
    receive(item, 50, owner)
    actions.use(item=item, quantity=20, booking=7, by=owner, at=NOON)
    actions.bring_back(item=item, quantity=15, booking=7, by=owner, at=NOON)
    with pytest.raises(actions.StockRefusal, match="Booking 7 took 5 of Black 11-inch; 6 cannot come back"):
        actions.bring_back(item=item, quantity=6, booking=7, by=owner, at=NOON)


def test_a_lot_found_to_say_otherwise_is_put_right(owner):
    lot = receive(ItemFactory(), 50, owner).lot
    assert lot is not None
    actions.change_lot(lot=lot, best_before=day(9), place=" Box 3 ", by=owner, at=NOON)
    lot.refresh_from_db()
    assert (lot.best_before, lot.place) == (day(9), "Box 3")


def test_the_weekly_check_says_what_grows_too_old(owner):
    item = ItemFactory(colour=ColourFactory(name="Black"))
    receive(item, 200, owner, best_before=day(40))
    ReservationFactory(item=item, quantity=150, needed_on=day(50), booking_name="Gala")
    (row,) = cover_board(TODAY).rows
    assert row.what_to_do == "Covered · 150 too old by 21 Jul"
    assert row.sentence == (
        "Black 11-inch is covered. 150 will be past best-before for Gala on 21 Jul. "
        "50 are good until 11 Jul and no job takes them."
    )


TABLE = "stock_movement"


@pytest.mark.parametrize("event", ["update", "delete"])
def test_after_every_migration_the_ledger_still_refuses_changes(event):
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = %s", [TABLE])
        else:
            cursor.execute("SELECT tgname FROM pg_trigger WHERE tgrelid = %s::regclass AND NOT tgisinternal", [TABLE])
        names = {name for (name,) in cursor.fetchall()}
    assert f"{TABLE}_no_{event}" in names


def test_the_migration_that_gives_movements_their_lot_locks_the_ledger_again():
    migration = import_module("stock.migrations.0007_lots_counts_and_spreadsheets").Migration
    assert type(migration.operations[-1]).__name__ == "RunPython"
