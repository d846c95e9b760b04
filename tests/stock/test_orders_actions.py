"""Buying: planned, placed, received in parts, closed, called off."""

import datetime as dt

import pytest

from stock import actions
from stock.models import Order
from stock.queries import arriving, on_hand
from tests.factories import (
    NOON,
    TODAY,
    ColourFactory,
    ItemFactory,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    SupplierFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def done(owner):
    """Who does it, and when."""
    return {"by": owner, "at": NOON}


def black_by_100(**changed):
    item = ItemFactory(colour=ColourFactory(name="Black"))
    return OfferFactory(item=item, supplier=SupplierFactory(name="Pier Paper"), **changed)


@pytest.fixture
def placed(done):
    """Two packs of 100 black 11-inch, placed today."""
    order = actions.add_to_planned_order(offer=black_by_100(), packs=2, **done)
    return actions.place_order(order=order, on=TODAY, **done)


def lines_of(order) -> list[tuple[int, int, int]]:
    return list(order.lines.order_by("pk").values_list("packs", "pack_size", "price_minor"))


def test_an_order_is_planned_with_the_price_of_the_day(done):
    offer = black_by_100(price_minor=1450)
    order = actions.plan_order(supplier=offer.supplier, lines=[(offer, 3)], **done)
    assert (order.state, order.created_at, order.created_by) == ("planned", NOON, done["by"])
    assert lines_of(order) == [(3, 100, 1450)]


def test_the_same_pack_twice_is_one_line(done):
    offer = black_by_100()
    order = actions.plan_order(supplier=offer.supplier, lines=[(offer, 3), (offer, 2)], **done)
    assert lines_of(order) == [(5, 100, 1500)]


def test_packs_are_added_to_the_order_being_planned_with_that_supplier(done):
    offer = black_by_100()
    first = actions.add_to_planned_order(offer=offer, packs=1, **done)
    second = actions.add_to_planned_order(offer=OfferFactory(supplier=offer.supplier, pack_size=50), packs=2, **done)
    assert first == second
    assert lines_of(first) == [(1, 100, 1500), (2, 50, 1500)]


def test_another_order_is_started_once_the_last_one_is_placed(placed, done):
    offer = placed.supplier.offers.get()
    assert actions.add_to_planned_order(offer=offer, packs=1, **done) != placed


def test_an_order_of_nothing_is_refused(done):
    with pytest.raises(actions.OrderRefusal, match="at least one pack \\(got none\\)"):
        actions.plan_order(supplier=SupplierFactory(), lines=[], **done)


def test_an_order_holds_one_suppliers_offers_only(done):
    offer = black_by_100()
    with pytest.raises(actions.OrderRefusal) as refusal:
        actions.plan_order(supplier=SupplierFactory(name="Quay Goods"), lines=[(offer, 1)], **done)
    assert str(refusal.value) == "Every line must be Quay Goods's (got one of Pier Paper's)."
    assert not Order.objects.exists()


@pytest.mark.parametrize(
    ("packs", "told"),
    [pytest.param(0, "0", id="none"), pytest.param(-2, "-2", id="fewer"), pytest.param(10_001, "10,001", id="a slip")],
)
def test_a_number_of_packs_out_of_bounds_is_refused(packs, told, done):
    with pytest.raises(actions.OrderRefusal) as refusal:
        actions.add_to_planned_order(offer=black_by_100(), packs=packs, **done)
    assert str(refusal.value) == f"Packs must be 1 to 10,000 (got {told})."
    assert not Order.objects.exists()


def test_packs_of_a_planned_order_can_be_changed(done):
    order = actions.add_to_planned_order(offer=black_by_100(), packs=1, **done)
    actions.change_packs(line=order.lines.get(), packs=4, **done)
    assert lines_of(order) == [(4, 100, 1500)]


def test_a_line_of_no_packs_is_taken_off(done):
    order = actions.add_to_planned_order(offer=black_by_100(), packs=1, **done)
    assert actions.change_packs(line=order.lines.get(), packs=0, **done) is None
    assert lines_of(order) == []


def test_packs_of_a_line_that_was_taken_off_meanwhile_are_refused(done):
    offer = black_by_100()
    order = actions.plan_order(supplier=offer.supplier, lines=[(offer, 3)], **done)
    as_it_was_shown = order.lines.get()
    actions.change_packs(line=order.lines.get(), packs=0, **done)
    with pytest.raises(actions.OrderRefusal, match=f"Black 11-inch was taken off order {order.pk} meanwhile"):
        actions.change_packs(line=as_it_was_shown, packs=4, **done)
    assert lines_of(order) == []


def test_packs_of_a_placed_order_stay(placed, done):
    with pytest.raises(actions.OrderRefusal, match="this one is placed"):
        actions.change_packs(line=placed.lines.get(), packs=4, **done)
    assert lines_of(placed) == [(2, 100, 1500)]


def test_a_placed_order_comes_after_the_longest_lead_time(done):
    offer = black_by_100(lead_days=3)
    slow = OfferFactory(supplier=offer.supplier, lead_days=9)
    order = actions.plan_order(supplier=offer.supplier, lines=[(offer, 1), (slow, 1)], **done)
    actions.place_order(order=order, on=TODAY, **done)
    order.refresh_from_db()
    assert (order.state, order.placed_on, order.expected_on) == ("placed", TODAY, TODAY + dt.timedelta(days=9))


def test_a_day_that_is_said_wins_over_the_lead_time(done):
    order = actions.add_to_planned_order(offer=black_by_100(), packs=1, **done)
    day = TODAY + dt.timedelta(days=1)
    assert actions.place_order(order=order, on=TODAY, expected_on=day, **done).expected_on == day


def test_an_order_is_not_expected_before_it_is_placed(done):
    order = actions.add_to_planned_order(offer=black_by_100(), packs=1, **done)
    with pytest.raises(actions.OrderRefusal) as refusal:
        actions.place_order(order=order, on=TODAY, expected_on=TODAY - dt.timedelta(days=1), **done)
    assert str(refusal.value) == "Expected must be no earlier than 2026-06-01, when it was placed (got 2026-05-31)."
    order.refresh_from_db()
    assert order.state == "planned"


def test_the_day_must_be_said_once_the_offer_is_gone(done):
    offer = black_by_100()
    order = actions.add_to_planned_order(offer=offer, packs=1, **done)
    offer.delete()
    with pytest.raises(actions.OrderRefusal, match="Pier Paper no longer offers Black 11-inch by 100"):
        actions.place_order(order=order, on=TODAY, **done)


def test_an_empty_order_cannot_be_placed(done):
    order = actions.add_to_planned_order(offer=black_by_100(), packs=1, **done)
    order.lines.all().delete()
    with pytest.raises(actions.OrderRefusal, match="before it is placed"):
        actions.place_order(order=order, on=TODAY, **done)


def test_what_is_planned_is_not_on_its_way_and_what_is_placed_is(done):
    order = actions.add_to_planned_order(offer=black_by_100(), packs=2, **done)
    assert arriving() == []
    actions.place_order(order=order, on=TODAY, **done)
    (coming,) = arriving()
    assert (coming.day, coming.quantity, coming.label) == (TODAY + dt.timedelta(days=3), 200, f"Order {order.pk}")


def test_a_delivery_in_parts_ends_when_nothing_is_outstanding(placed, done):
    line = placed.lines.get()
    (movement,) = actions.receive_order(order=placed, quantities={line.pk: 150}, **done)
    assert (movement.quantity, movement.order_line, movement.kind) == (150, line, "received")
    assert (placed.state, arriving()[0].quantity) == ("placed", 50)
    actions.receive_order(order=placed, quantities={line.pk: 50}, **done)
    placed.refresh_from_db()
    assert (placed.state, arriving()) == ("received", [])
    assert on_hand([line.item_id]) == {line.item_id: 200}


def test_more_than_was_ordered_goes_on_the_shelf_too(placed, done):
    line = placed.lines.get()
    actions.receive_order(order=placed, quantities={line.pk: 210}, **done)
    assert (placed.state, on_hand([line.item_id])) == ("received", {line.item_id: 210})


@pytest.mark.parametrize(
    ("quantities", "sentence"),
    [
        pytest.param({}, "Received must be more than 0 on at least one line (got none).", id="nothing said"),
        pytest.param({1: 0}, "Received must be more than 0 on at least one line (got none).", id="nothing came"),
        pytest.param({1: -5}, "Received must be 0 to 1,000,000 (got -5).", id="fewer than nothing"),
        pytest.param({99: 5}, "Line must be one of this order's (got number 99).", id="another order's line"),
    ],
)
def test_a_delivery_that_makes_no_sense_is_refused(quantities, sentence, placed, done):
    line = placed.lines.get()
    with pytest.raises(actions.OrderRefusal) as refusal:
        actions.receive_order(
            order=placed,
            quantities={line.pk if key == 1 else line.pk + key: n for key, n in quantities.items()},
            **done,
        )
    assert str(refusal.value).replace(str(line.pk + 99), "99") == sentence
    assert on_hand([line.item_id]) == {line.item_id: 0}


def test_an_order_that_was_never_placed_cannot_be_received(done):
    order = actions.add_to_planned_order(offer=black_by_100(), packs=1, **done)
    with pytest.raises(actions.OrderRefusal, match="Only a placed order can be received; this one is planned"):
        actions.receive_order(order=order, quantities={order.lines.get().pk: 1}, **done)


def test_what_never_came_stops_counting_once_the_order_is_closed(placed, done):
    actions.receive_order(order=placed, quantities={placed.lines.get().pk: 150}, **done)
    actions.close_order(order=placed, **done)
    assert arriving() == []
    assert Order.objects.get().state == "received"


def test_an_order_of_which_something_came_is_closed_not_called_off(placed, done):
    actions.receive_order(order=placed, quantities={placed.lines.get().pk: 150}, **done)
    with pytest.raises(actions.OrderRefusal, match="got 150"):
        actions.cancel_order(order=placed, **done)
    assert Order.objects.get().state == "placed"


def test_a_placed_order_can_be_called_off(placed, done):
    actions.cancel_order(order=placed, **done)
    assert (Order.objects.get().state, arriving()) == ("cancelled", [])


@pytest.mark.parametrize(
    ("state", "move"),
    [
        pytest.param(state, move, id=f"{state} is not {word}")
        for state, move, word in [
            ("planned", actions.close_order, "closed"),
            ("received", actions.close_order, "closed again"),
            ("received", actions.cancel_order, "called off"),
            ("cancelled", actions.cancel_order, "called off again"),
            ("cancelled", actions.close_order, "closed"),
        ]
    ],
)
def test_an_order_moves_only_as_the_table_says(state, move, placed, done):
    Order.objects.filter(pk=placed.pk).update(state=state)
    with pytest.raises(actions.OrderRefusal, match=r"^This is "):
        move(order=placed, **done)
    assert Order.objects.get().state == state


def test_placing_twice_is_refused_the_second_time(placed, done):
    with pytest.raises(actions.OrderRefusal, match="already placed"):
        actions.place_order(order=placed, on=TODAY, **done)


def test_a_placed_order_can_be_expected_on_another_day(placed, done):
    day = TODAY + dt.timedelta(days=20)
    assert actions.change_expected(order=placed, day=day, **done).expected_on == day
    assert arriving()[0].day == day


def test_a_planned_order_is_expected_on_no_day(done):
    order = actions.add_to_planned_order(offer=black_by_100(), packs=1, **done)
    with pytest.raises(actions.OrderRefusal, match="this one is planned"):
        actions.change_expected(order=order, day=TODAY, **done)


# Two people at one delivery.


@pytest.fixture
def coming(db):
    """A bag of 100 on its way."""
    order = OrderFactory(state=Order.State.PLACED, placed_on=TODAY, expected_on=TODAY)
    return OrderLineFactory(order=order)


def test_the_second_to_put_a_whole_delivery_away_is_told_who_was_first(coming, owner, crew):
    receive = {"order": coming.order, "quantities": {coming.pk: 100}, "seen": {coming.pk: 0}, "at": NOON}
    actions.receive_order(**receive, by=owner)
    with pytest.raises(actions.OrderRefusal) as refusal:
        actions.receive_order(**receive, by=crew)
    assert str(refusal.value) == (
        f"Ana has put 100 of order {coming.order.pk} on the shelf, and that was all of it. "
        "Nothing was put there a second time."
    )
    assert on_hand([coming.item_id])[coming.item_id] == 100


def test_the_second_to_put_part_of_a_delivery_away_is_told_too(coming, owner, crew):
    actions.receive_order(order=coming.order, quantities={coming.pk: 60}, seen={coming.pk: 0}, by=crew, at=NOON)
    with pytest.raises(actions.OrderRefusal, match=r"^Bo has put 60 of order \d+ on the shelf since you opened this"):
        actions.receive_order(order=coming.order, quantities={coming.pk: 60}, seen={coming.pk: 0}, by=owner, at=NOON)
    assert on_hand([coming.item_id])[coming.item_id] == 60


def test_what_came_since_may_be_followed_by_the_rest(coming, owner, crew):
    actions.receive_order(order=coming.order, quantities={coming.pk: 60}, seen={coming.pk: 0}, by=crew, at=NOON)
    actions.receive_order(order=coming.order, quantities={coming.pk: 40}, seen={coming.pk: 60}, by=owner, at=NOON)
    assert on_hand([coming.item_id])[coming.item_id] == 100


def test_more_may_come_than_was_ordered(coming, owner):
    actions.receive_order(order=coming.order, quantities={coming.pk: 130}, by=owner, at=NOON)
    assert on_hand([coming.item_id])[coming.item_id] == 130
