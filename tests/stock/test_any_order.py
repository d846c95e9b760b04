"""Everything that can happen to the shelf, in any order: the ledger adds up, and no promise is lost."""

import datetime as dt
from collections import Counter
from typing import Any

import pytest
from django.db import connection, transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from stock import actions
from stock.models import CountSheet, Item, Movement, Offer, Order, Reservation
from stock.queries import cover_board, lots_on_hand, on_hand, taken_for
from tests.factories import NOON, TODAY, ItemFactory, OfferFactory, SupplierFactory, UserFactory

ITEMS = st.integers(0, 1)
BOOKINGS = st.integers(1, 3)
QUANTITIES = st.integers(0, 60)


class Shelf(RuleBasedStateMachine):
    """Two items and three bookings. `have`, `held` and `out` are what should be, reckoned in the plainest way."""

    def __init__(self) -> None:
        super().__init__()
        self.block = transaction.atomic()
        self.block.__enter__()

    def teardown(self) -> None:
        """Leave nothing behind."""
        transaction.set_rollback(True)
        self.block.__exit__(None, None, None)

    @initialize()
    def begin(self) -> None:
        self.by = UserFactory()
        self.items: list[Item] = [ItemFactory(), ItemFactory()]
        supplier = SupplierFactory()
        self.offers: list[Offer] = [OfferFactory(item=item, supplier=supplier, pack_size=20) for item in self.items]
        self.have = [0, 0]
        self.out: Counter[tuple[int, int]] = Counter()
        self.held: dict[tuple[int, bool], dict[int, int]] = {}
        self.orders: list[Order] = []
        self.clock = NOON

    def now(self) -> dt.datetime:
        """A little later every time."""
        self.clock += dt.timedelta(minutes=1)
        return self.clock

    @rule(which=ITEMS, quantity=QUANTITIES, ahead=st.none() | st.integers(1, 90))
    def receive(self, which: int, quantity: int, ahead: int | None) -> None:
        best_before = None if ahead is None else TODAY + dt.timedelta(days=ahead)
        said: dict[str, Any] = {"item": self.items[which], "quantity": quantity, "best_before": best_before}
        try:
            actions.receive(**said, by=self.by, at=self.now())
            self.have[which] += quantity
        except actions.StockRefusal:
            assert quantity == 0

    @rule(which=ITEMS, quantity=QUANTITIES, booking=BOOKINGS)
    def use(self, which: int, quantity: int, booking: int) -> None:
        try:
            actions.use(item=self.items[which], quantity=quantity, booking=booking, by=self.by, at=self.now())
            self.have[which] -= quantity
            self.out[booking, which] += quantity
        except actions.StockRefusal:
            assert quantity == 0 or quantity > self.have[which]

    @rule(which=ITEMS, quantity=QUANTITIES)
    def write_off(self, which: int, quantity: int) -> None:
        try:
            actions.write_off(item=self.items[which], quantity=quantity, why="popped", by=self.by, at=self.now())
            self.have[which] -= quantity
        except actions.StockRefusal:
            assert quantity == 0 or quantity > self.have[which]

    @rule(booking=BOOKINGS, quantities=st.tuples(QUANTITIES, QUANTITIES), lot_no=st.integers(0, 3))
    def issue(self, booking: int, quantities: tuple[int, int], lot_no: int) -> None:
        takings = []
        for item, quantity in zip(self.items, quantities, strict=True):
            lots = [None, *item.lots.order_by("pk").values_list("pk", flat=True)]
            # In two parts, as a pull list has a line for every lot.
            parts = [quantity - quantity // 3, quantity // 3]
            named = [lots[lot_no % len(lots)], lots[-1]]
            takings += [actions.Taking(item.pk, lot, part) for lot, part in zip(named, parts, strict=True) if part]
        try:
            actions.issue(booking=booking, takings=takings, by=self.by, at=self.now())
        except actions.StockRefusal:
            assert any(quantity > have for quantity, have in zip(quantities, self.have, strict=True))
            return
        held = self.held.get((booking, True), {})
        for which, quantity in enumerate(quantities):
            self.have[which] -= quantity
            self.out[booking, which] += quantity
            if which in held:
                held[which] = max(held[which] - quantity, 0)
        if held:
            self.held[booking, True] = {which: quantity for which, quantity in held.items() if quantity}

    @rule(booking=BOOKINGS, quantities=st.tuples(QUANTITIES, QUANTITIES))
    def bring_home(self, booking: int, quantities: tuple[int, int]) -> None:
        home = {item.pk: quantity for item, quantity in zip(self.items, quantities, strict=True)}
        try:
            actions.bring_home(booking=booking, home=home, by=self.by, at=self.now())
        except actions.StockRefusal:
            assert any(quantity > self.out[booking, which] for which, quantity in enumerate(quantities))
            return
        for which, quantity in enumerate(quantities):
            self.have[which] += quantity
            self.out[booking, which] -= quantity

    @rule(which=ITEMS, quantity=QUANTITIES)
    def count(self, which: int, quantity: int) -> None:
        actions.count(item=self.items[which], counted=quantity, by=self.by, at=self.now())
        self.have[which] = quantity

    @rule(quantities=st.tuples(QUANTITIES, QUANTITIES))
    def count_the_shelf(self, quantities: tuple[int, int]) -> None:
        for item, quantity in zip(self.items, quantities, strict=True):
            actions.write_count(item=item, counted=quantity, by=self.by, at=self.now())
            actions.explain_count(item=item, why="counted", by=self.by, at=self.now())
        actions.finish_count(sheet=CountSheet.objects.get(is_open=True), by=self.by, at=self.now())
        self.have = list(quantities)

    @rule(booking=BOOKINGS, needs=st.dictionaries(ITEMS, QUANTITIES), firm=st.booleans(), ahead=st.integers(0, 30))
    def reserve(self, booking: int, needs: dict[int, int], firm: bool, ahead: int) -> None:
        actions.reserve(
            needs={self.items[which].pk: quantity for which, quantity in needs.items()},
            needed_on=TODAY + dt.timedelta(days=ahead),
            booking=booking,
            booking_name=f"Job {booking}",
            firm=firm,
            by=self.by,
            at=self.now(),
        )
        self.held[booking, firm] = {which: quantity for which, quantity in needs.items() if quantity}
        if firm:
            self.held.pop((booking, False), None)

    @rule(booking=BOOKINGS, firm=st.sampled_from([None, True, False]))
    def release(self, booking: int, firm: bool | None) -> None:
        actions.release(booking=booking, firm=firm, by=self.by, at=self.now())
        for which in [True, False] if firm is None else [firm]:
            self.held.pop((booking, which), None)

    @rule(packs=st.tuples(st.integers(1, 3), st.integers(1, 3)))
    def order(self, packs: tuple[int, int]) -> None:
        lines = list(zip(self.offers, packs, strict=True))
        planned = actions.plan_order(supplier=self.offers[0].supplier, lines=lines, by=self.by, at=self.now())
        self.orders.append(actions.place_order(order=planned, on=TODAY, by=self.by, at=self.now()))

    @rule(data=st.data(), quantities=st.tuples(QUANTITIES, QUANTITIES))
    def receive_an_order(self, data: st.DataObject, quantities: tuple[int, int]) -> None:
        if not self.orders:
            return
        order = data.draw(st.sampled_from(self.orders))
        lines = list(order.lines.order_by("pk"))
        came = dict(zip((line.pk for line in lines), quantities, strict=True))
        was_placed = Order.objects.get(pk=order.pk).state == Order.State.PLACED
        try:
            actions.receive_order(order=order, quantities=came, by=self.by, at=self.now())
            self.have = [have + quantity for have, quantity in zip(self.have, quantities, strict=True)]
        except actions.OrderRefusal:
            assert not was_placed or not any(quantities)

    @rule(data=st.data())
    def call_an_order_off(self, data: st.DataObject) -> None:
        if not self.orders:
            return
        order = data.draw(st.sampled_from(self.orders))
        stood = Order.objects.get(pk=order.pk)
        came = any(order.lines.values_list("received", flat=True))
        try:
            actions.cancel_order(order=order, by=self.by, at=self.now())
        except actions.OrderRefusal:
            assert came or stood.state != Order.State.PLACED

    @invariant()
    def the_ledger_adds_up(self) -> None:
        keys = [item.pk for item in self.items]
        by_orm = [on_hand(keys)[key] for key in keys]
        with connection.cursor() as cursor:
            asked = "SELECT COALESCE(SUM(quantity), 0) FROM stock_movement WHERE item_id = %s"
            by_sql = []
            for key in keys:
                cursor.execute(asked, [key])
                by_sql.append(cursor.fetchone()[0])
        lots = lots_on_hand(keys)
        assert by_orm == by_sql == self.have == [sum(lot.left for lot in lots.get(key, [])) for key in keys]
        assert all(lot.left > 0 for of_one in lots.values() for lot in of_one)

    @invariant()
    def what_is_out_is_known_for_every_booking(self) -> None:
        which = {item.pk: n for n, item in enumerate(self.items)}
        for booking in (1, 2, 3):
            out = {which[item]: quantity for item, quantity in taken_for(booking).items()}
            assert out == {n: self.out[booking, n] for n in (0, 1) if self.out[booking, n]}

    @invariant()
    def no_promise_is_lost(self) -> None:
        held: dict[tuple[int, bool], Counter[int]] = {}
        which = {item.pk: n for n, item in enumerate(self.items)}
        for row in Reservation.objects.open():
            held.setdefault((row.booking, row.firm), Counter())[which[row.item_id]] += row.quantity
        assert held == {key: needs for key, needs in self.held.items() if needs}

    @invariant()
    def cover_says_what_is_missing(self) -> None:
        for row in cover_board(TODAY, item_ids=[item.pk for item in self.items]).rows:
            which = self.items.index(row.item)
            firm = sum(needs.get(which, 0) for (_, is_firm), needs in self.held.items() if is_firm)
            coming = sum(step.change for step in row.cover.steps if step.change > 0)
            assert row.cover.on_hand == self.have[which]
            assert sum(hit.short for hit in row.cover.hit) >= firm - self.have[which] - coming


class TestShelf(Shelf.TestCase, TestCase):  # type: ignore[valid-type, misc]
    """Runs the machine."""


TestShelf.settings = settings(  # type: ignore[method-assign, assignment]
    max_examples=8, stateful_step_count=25, deadline=None, suppress_health_check=list(HealthCheck)
)


@pytest.mark.django_db
def test_movements_are_never_made_by_a_promise():
    item = ItemFactory()
    actions.reserve(needs={item.pk: 5}, needed_on=TODAY, booking=1, booking_name="Job", firm=True, by=None, at=NOON)
    assert not Movement.objects.exists()
