"""A walk: whatever can happen to a shelf, thousands of times, in an order that a seed decides.

After each step the shelf is compared with a plain model of it. A walk that goes wrong says its seed, its step and what
came before, and the same seed walks the same way again.
"""

import datetime as dt
import uuid
from collections import Counter
from collections.abc import Callable
from random import Random
from typing import Any

from django.db import connection

from stock import actions
from stock.actions import OrderRefusal, PromiseRefusal, StockRefusal
from stock.models import CountSheet, Item, Offer, Order
from stock.queries import cover_board, free_on, held_firmly, lots_on_hand, on_hand, taken_for
from studio.once import act_once
from tests.factories import NOON, TODAY, ItemFactory, OfferFactory, SupplierFactory, UserFactory
from tests.stock.walks.model import Model, Ordered
from tests.stock.walks.refusing import Refusing

ITEMS, BOOKINGS = 3, 5
MOST_OPEN_ORDERS = 6


class WentWrongError(AssertionError):
    """A step after which the shelf is not as it should be."""


class Walk:
    """One walk on a shelf of its own. `step` takes a step and looks; `said` is what was done."""

    def __init__(self, seed: int) -> None:
        self.seed, self.chance = seed, Random(seed)
        self.by = UserFactory()
        self.items: list[Item] = [ItemFactory() for _ in range(ITEMS)]
        supplier = SupplierFactory()
        self.offers: list[Offer] = [OfferFactory(item=item, supplier=supplier, pack_size=20) for item in self.items]
        self.place = {item.pk: number for number, item in enumerate(self.items)}
        self.keys = list(self.place)
        self.model = Model(ITEMS, TODAY)
        self.orders: list[Order] = []
        self.clock = NOON
        self.said: list[str] = []
        self.last_form: tuple[uuid.UUID, Callable[[], str]] | None = None
        self.kinds: list[Callable[[], None]] = [
            self.receive, self.use, self.write_off, self.count, self.count_the_shelf, self.load, self.bring_home,
            self.quote, self.quote, self.revise, self.confirm, self.confirm, self.call_off, self.move, self.swap,
            self.plan_and_place, self.expect_another_day, self.receive_an_order, self.receive_an_order,
            self.end_an_order, self.a_day_passes, self.replay,
        ]  # fmt: skip

    def steps(self, many: int) -> None:
        """Take so many steps, and look after each."""
        for number in range(many):
            kind = self.chance.choice(self.kinds)
            try:
                kind()
                self.look()
            except Exception as error:
                latest = "\n  ".join(self.said[-6:])
                raise WentWrongError(
                    f"GARLANDRY_SEED={self.seed} goes wrong in {kind.__name__}, step {number}: {error!r}\n  {latest}"
                ) from error

    # What happens

    def receive(self) -> None:
        which, quantity, ahead = self.item(), self.quantity(), self.chance.choice([None, 3, 40])
        good_until = None if ahead is None else self.model.today + dt.timedelta(days=ahead)
        with self.may_refuse(StockRefusal, quantity == 0, f"receive {quantity} of {which}"):
            actions.receive(item=self.items[which], quantity=quantity, best_before=good_until, **self.done())
            self.model.have[which] += quantity

    def use(self) -> None:
        which, quantity, booking = self.item(), self.quantity(), self.booking()
        too_many = quantity == 0 or quantity > self.model.have[which]
        with self.may_refuse(StockRefusal, too_many, f"use {quantity} of {which} for {booking}"):
            actions.use(item=self.items[which], quantity=quantity, booking=booking, **self.done())
            self.model.have[which] -= quantity
            self.model.out[booking, which] += quantity

    def write_off(self) -> None:
        which, quantity = self.item(), self.quantity()
        too_many = quantity == 0 or quantity > self.model.have[which]
        with self.may_refuse(StockRefusal, too_many, f"write {quantity} of {which} off"):
            actions.write_off(item=self.items[which], quantity=quantity, why="popped", **self.done())
            self.model.have[which] -= quantity

    def count(self) -> None:
        which, counted = self.item(), self.quantity()
        self.say(f"count {counted} of {which}")
        actions.count(item=self.items[which], counted=counted, **self.done())
        self.model.have[which] = counted

    def count_the_shelf(self) -> None:
        """Counted, and then something is taken before the count is finished: the difference found still goes."""
        which, counted, taken = self.item(), self.quantity() + 10, self.chance.randrange(10)
        before = self.model.have[which]
        taken = min(taken, before)
        self.say(f"count {counted} of {which} onto the sheet, take {taken}, finish")
        actions.write_count(item=self.items[which], counted=counted, **self.done())
        actions.explain_count(item=self.items[which], why="counted", **self.done())
        if taken:
            actions.use(item=self.items[which], quantity=taken, **self.done())
        actions.finish_count(sheet=CountSheet.objects.get(is_open=True), **self.done())
        self.model.have[which] = counted - taken

    def load(self) -> None:
        booking = self.booking()
        taken = self.needs()
        takings = []
        for which, quantity in taken.items():
            lots = [None, *self.items[which].lots.order_by("pk").values_list("pk", flat=True)]
            # In two parts, as a pull list has a line for every lot.
            parts = [quantity - quantity // 3, quantity // 3]
            takings += [actions.Taking(self.keys[which], self.chance.choice(lots), part) for part in parts if part]
        too_many = any(quantity > self.model.have[which] for which, quantity in taken.items())
        with self.may_refuse(StockRefusal, too_many, f"load {taken} for {booking}"):
            actions.issue(booking=booking, takings=takings, **self.done())
            for which, quantity in taken.items():
                self.model.have[which] -= quantity
                self.model.out[booking, which] += quantity
            self.model.settle(booking, taken)

    def bring_home(self) -> None:
        booking, home = self.booking(), self.needs()
        too_many = any(quantity > self.model.out[booking, which] for which, quantity in home.items())
        with self.may_refuse(StockRefusal, too_many, f"bring {home} home from {booking}"):
            actions.bring_home(booking=booking, home={self.keys[which]: n for which, n in home.items()}, **self.done())
            for which, quantity in home.items():
                self.model.have[which] += quantity
                self.model.out[booking, which] -= quantity

    def quote(self) -> None:
        self.reserve(self.booking(), self.needs(), self.day(), firm=False)

    def revise(self) -> None:
        """A booking that holds something wants it all for the same day, and a little more or less of it."""
        (booking, firm), hold = self.chance.choice([*self.model.holds.items(), ((1, False), None)])
        if hold is not None:
            needs = {item: max(quantity + self.chance.randint(-9, 9), 0) for item, quantity in hold.sums().items()}
            self.reserve(booking, needs, hold.day, firm=firm)

    def confirm(self) -> None:
        self.reserve(self.booking(), self.needs(), self.day(), firm=True)

    def call_off(self) -> None:
        booking, firm = self.booking(), self.chance.choice([None, True, False])
        self.say(f"call {booking} off ({firm})")
        actions.release(booking=booking, firm=firm, **self.done())
        for which in [True, False] if firm is None else [firm]:
            self.model.holds.pop((booking, which), None)

    def move(self) -> None:
        booking, day = self.booking(), self.day()
        self.say(f"move {booking} to {day}")
        actions.move(booking=booking, needed_on=day, **self.done())
        for firm in (True, False):
            if (booking, firm) in self.model.holds:
                self.model.holds[booking, firm].day = day

    def swap(self) -> None:
        """One colour for another: only of what is held firmly, and only what is free that day."""
        holding = sorted(number for number, firm in self.model.holds if firm)
        booking = self.chance.choice(holding) if holding else self.booking()
        hold = self.model.holds.get((booking, True))
        wanted = self.chance.choice(sorted(hold.sums())) if hold else self.item()
        instead = self.chance.choice([item for item in range(ITEMS) if item != wanted])
        quantity = self.chance.randint(1, 20)
        held = hold.of(wanted) if hold else 0
        cannot = quantity > held or hold is None or quantity > self.model.free(instead, hold.day)
        with self.may_refuse(PromiseRefusal, cannot, f"{booking} swaps {quantity} of {wanted} for {instead}"):
            actions.swap(
                booking=booking,
                booking_name="A job",
                give_up=self.keys[wanted],
                take=self.keys[instead],
                quantity=quantity,
                today=self.model.today,
                **self.done(),
            )
            assert hold is not None
            needs = hold.sums()
            needs[wanted] -= quantity
            needs[instead] += quantity
            open_one = self.model.holds.get((booking, False))
            self.model.reserve(booking, dict(needs), hold.day, firm=True)
            if open_one is not None:
                again = open_one.sums()
                self.model.reserve(booking, dict(again), hold.day, firm=False, lapses_on=open_one.lapses_on)

    def plan_and_place(self) -> None:
        if sum(order.state == "placed" for order in self.model.orders) >= MOST_OPEN_ORDERS:
            return
        packs = [self.chance.randint(1, 3) for _ in self.offers]
        expected_on = self.model.today + dt.timedelta(days=self.chance.randrange(20))
        self.say(f"order {packs} for {expected_on}")
        lines = list(zip(self.offers, packs, strict=True))
        planned = actions.plan_order(supplier=self.offers[0].supplier, lines=lines, **self.done())
        placed = actions.place_order(order=planned, on=self.model.today, expected_on=expected_on, **self.done())
        self.orders.append(placed)
        wanted = Counter({which: 20 * number for which, number in enumerate(packs)})
        self.model.orders.append(Ordered("placed", expected_on, wanted))

    def expect_another_day(self) -> None:
        if not self.orders:
            return
        order, known = self.an_order()
        day = self.model.today + dt.timedelta(days=self.chance.randrange(20))
        with self.may_refuse(OrderRefusal, known.state != "placed", f"expect order {order.pk} on {day}"):
            actions.change_expected(order=order, day=day, **self.done())
            known.expected_on = day

    def receive_an_order(self) -> None:
        if not self.orders:
            return
        order, known = self.an_order()
        came = {which: self.chance.choice([0, 10, 20, known.outstanding(which)]) for which in range(ITEMS)}
        lines = {self.place[line.item_id]: line.pk for line in order.lines.all()}
        cannot = known.state != "placed" or not any(came.values())
        with self.may_refuse(OrderRefusal, cannot, f"receive {came} of order {order.pk}"):
            actions.receive_order(order=order, quantities={lines[which]: n for which, n in came.items()}, **self.done())
            self.model.have.update(came)
            known.came.update(came)
            if not any(known.outstanding(which) for which in came):
                known.state = "received"

    def end_an_order(self) -> None:
        if not self.orders:
            return
        order, known = self.an_order()
        calls_off = self.chance.random() < 0.5
        cannot = known.state != "placed" or (calls_off and known.came.total() > 0)
        end = actions.cancel_order if calls_off else actions.close_order
        with self.may_refuse(OrderRefusal, cannot, f"{end.__name__} {order.pk}"):
            end(order=order, **self.done())
            known.state = "cancelled" if calls_off else "received"

    def a_day_passes(self) -> None:
        """Open quotes lapse by themselves; nothing runs for it."""
        self.model.today += dt.timedelta(days=1)
        self.clock = max(self.clock, dt.datetime.combine(self.model.today, NOON.timetz()))
        self.say(f"it is {self.model.today}")

    def replay(self) -> None:
        """A form is sent once more, under the key it had."""
        which, key = self.item(), uuid.UUID(int=self.chance.getrandbits(128), version=4)
        quantity = self.chance.randint(1, 30)

        def act() -> str:
            actions.receive(item=self.items[which], quantity=quantity, **self.done())
            return f"{which}"

        self.say(f"receive {quantity} of {which}, sent three times")
        assert [act_once(key, "a form", act) for _ in range(3)] == [f"{which}"] * 3
        self.model.have[which] += quantity

    # What must be so after each of them

    def look(self) -> None:
        """Compare every line and every promise with the model, by bare SQL; and one of our own answers in its turn."""
        self.the_ledger_adds_up()
        self.no_promise_is_lost()
        turns = [self.what_is_on_hand, self.what_is_out_and_held, self.what_is_free, self.what_is_covered]
        turns[len(self.said) % len(turns)]()

    def the_ledger_adds_up(self) -> None:
        found: Counter[int] = Counter()
        for item, lot, quantity in rows(
            "SELECT item_id, lot_id, SUM(quantity) FROM stock_movement GROUP BY item_id, lot_id"
        ):
            if item in self.place:
                assert lot is None or quantity >= 0, f"lot {lot} has given more than it held"
                found[self.place[item]] += int(quantity)
        assert found == self.model.have, "the ledger does not add up"

    def no_promise_is_lost(self) -> None:
        queue: dict[tuple[int, bool], list[tuple[int, int, str, str]]] = {}
        for item, booking, firm, *said in rows(
            "SELECT item_id, booking, firm, quantity, needed_on, lapses_on FROM stock_reservation"
            " WHERE closed_at IS NULL ORDER BY item_id, id"
        ):
            if item in self.place:
                quantity, day, lapses_on = said
                queue.setdefault((booking, bool(firm)), []).append(
                    (self.place[item], quantity, str(day), str(lapses_on))
                )
        # Of one item, the order of a booking's rows is its place in the queue.
        assert queue == {
            key: sorted(
                ((item, quantity, str(hold.day), str(hold.lapses_on)) for item, quantity in hold.rows),
                key=lambda row: row[0],
            )
            for key, hold in self.model.holds.items()
        }, "a promise is lost, or made up"

    def what_is_on_hand(self) -> None:
        have = {key: self.model.have[which] for key, which in self.place.items()}
        lots = lots_on_hand(self.keys)
        assert on_hand(self.keys) == have
        assert {key: sum(lot.left for lot in lots.get(key, [])) for key in self.keys} == have
        assert all(lot.left > 0 for of_one in lots.values() for lot in of_one)

    def what_is_out_and_held(self) -> None:
        booking = self.booking()
        out = {self.keys[n]: self.model.out[booking, n] for n in range(ITEMS) if self.model.out[booking, n]}
        assert taken_for(booking) == out
        hold = self.model.holds.get((booking, True))
        assert held_firmly(booking) == {self.keys[n]: many for n, many in (hold.sums() if hold else Counter()).items()}

    def what_is_free(self) -> None:
        day = self.day()
        free = {key: self.model.free(which, day) for key, which in self.place.items()}
        assert free_on(self.keys, day, self.model.today) == free

    def what_is_covered(self) -> None:
        model, which = self.model, self.item()
        day = max(self.day(), model.today)
        (row,) = cover_board(model.today, item_ids=[self.keys[which]]).rows
        assert row.cover.on_hand == model.have[which]
        assert row.cover.available(day) == model.free(which, day)
        assert row.cover.balance_on(day) == model.evening(which, day)
        # Within its weeks, which every promise here is.
        assert sum(hit.short for hit in row.cover.hit) == model.lacking(which)

    # How a step is drawn

    def reserve(self, booking: int, needs: dict[int, int], day: dt.date, *, firm: bool) -> None:
        lapses_on = None if firm else self.model.today + dt.timedelta(days=self.chance.randrange(4))
        self.say(f"{'confirm' if firm else 'quote'} {needs} to {booking} for {day}, until {lapses_on}")
        actions.reserve(
            needs={self.keys[which]: quantity for which, quantity in needs.items()},
            needed_on=day,
            booking=booking,
            booking_name="A job",
            firm=firm,
            lapses_on=lapses_on,
            **self.done(),
        )
        self.model.reserve(booking, needs, day, firm=firm, lapses_on=lapses_on)

    def item(self) -> int:
        return self.chance.randrange(ITEMS)

    def booking(self) -> int:
        return self.chance.randint(1, BOOKINGS)

    def quantity(self) -> int:
        return self.chance.choice([0, self.chance.randint(1, 60)])

    def needs(self) -> dict[int, int]:
        chosen = self.chance.sample(range(ITEMS), self.chance.randint(1, ITEMS))
        return {which: self.chance.randint(1, 30) for which in chosen}

    def day(self) -> dt.date:
        """Now and then one that is over: what is still held from then counts from today."""
        return self.model.today + dt.timedelta(days=self.chance.randint(-2, 30))

    def an_order(self) -> tuple[Order, Ordered]:
        """One of the latest, as it is now."""
        number = self.chance.randrange(max(len(self.orders) - 8, 0), len(self.orders))
        return Order.objects.get(pk=self.orders[number].pk), self.model.orders[number]

    def done(self) -> dict[str, Any]:
        """By whom, and a little later every time."""
        self.clock += dt.timedelta(seconds=1)
        return {"by": self.by, "at": self.clock}

    def say(self, what: str) -> None:
        self.said.append(what)

    def may_refuse(self, refusal: type[Exception], must: bool, what: str) -> Refusing:
        """A block that must be refused where `must`, with all it did undone, and must not be otherwise."""
        self.say(f"{what}{' (refused)' if must else ''}")
        return Refusing(refusal, must)


def rows(sql: str) -> list[tuple[Any, ...]]:
    """What bare SQL finds."""
    with connection.cursor() as cursor:
        cursor.execute(sql)
        return list(cursor.fetchall())
