"""The ten anomalies by which isolation levels are told apart, over jobs, the shelf and deliveries, by our own actions.

Their names are those of A. Adya, "Weak Consistency: A Generalized Theory and Optimistic Implementations for Distributed
Transactions" (1999), and of the isolation tests that follow it. In each, one act stands before every statement it makes
in turn while the other goes as far as it can.
"""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest
from django.db import transaction
from django.db.models import QuerySet

from stock import actions as stock
from stock.models import CountLine, CountSheet, Item, Kit, KitPromise, Movement, Offer, Order
from stock.queries import on_hand
from tests.factories import (
    TODAY,
    KitFactory,
    OfferFactory,
    SupplierFactory,
)
from tests.races.scenes.counting import a_sheet
from tests.races.scenes.ground import SOON, Done, have, held, hold, next_job, stocked
from tests.races.scenes.orders import an_order
from tests.races.schedules import Scene, Stage


class GaveUpError(Exception):
    """Whatever keeps a transaction from being committed."""


@pytest.fixture
def done(by) -> Done:
    return Done(by)


def test_what_two_write_is_of_one_of_them(done: Done, stage: Stage):
    """G0, a dirty write: of two changes to two promises, one stands whole."""

    def make() -> Scene:
        items, job = stocked(done, 50, 50), next_job()
        hold(done, job, {items[0]: 5, items[1]: 5})
        return Scene(
            lambda: hold(done, job, {items[0]: 10, items[1]: 10}),
            lambda: hold(done, job, {items[1]: 25, items[0]: 25}),
            lambda: [sum(n for item, _, n, _ in held(job, items) if item == which) for which in (0, 1)],
        )

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("done", "done")
        assert scene.seen() in ([10, 10], [25, 25])


def test_nobody_takes_what_was_never_put_there(done: Done, stage: Stage):
    """G1a, an aborted read: a delivery that is undone was never there to be taken."""

    def make() -> Scene:
        items = stocked(done, 0)

        def receive_and_give_up() -> None:
            with transaction.atomic():
                stock.receive(item=items[0], quantity=50, **done.said)
                raise GaveUpError

        return Scene(
            receive_and_give_up,
            lambda: stock.use(item=items[0], quantity=50, **done.said),
            lambda: have(items),
        )

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("GaveUpError", "StockRefusal")
        assert scene.seen() == [0]


def test_nobody_takes_what_was_there_between_two_lines_of_one_change(done: Done, stage: Stage):
    """G1b, an intermediate read: what comes and goes in one transaction is never there for another."""

    def make() -> Scene:
        items = stocked(done, 0)

        def come_and_go() -> None:
            with transaction.atomic():
                stock.receive(item=items[0], quantity=50, **done.said)
                stock.use(item=items[0], quantity=50, **done.said)

        seen: list[int] = []
        return Scene(
            come_and_go,
            lambda: stock.use(item=items[0], quantity=50, **done.said),
            lambda: (have(items), seen),
            meanwhile=lambda: seen.extend(have(items)),
        )

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("done", "StockRefusal")
        assert scene.seen() == ([0], [0])


def test_of_two_who_write_and_look_at_each_other_at_most_one_sees_the_other(done: Done, stage: Stage):
    """G1c, a circular flow: each receives something and looks for what the other received."""

    def make() -> Scene:
        items = stocked(done, 0, 0)

        def receive_and_look(mine: Item, other: Item) -> int:
            with transaction.atomic():
                stock.receive(item=mine, quantity=50, **done.said)
                return on_hand([other.pk])[other.pk]

        return Scene(
            lambda: receive_and_look(items[0], items[1]),
            lambda: receive_and_look(items[1], items[0]),
            lambda: have(items),
        )

    for scene, ended in stage.in_every_place(make):
        assert {ended.first, ended.second} <= {0, 50}
        assert (ended.first, ended.second) != (50, 50)
        assert scene.seen() == [50, 50]


def test_who_has_seen_a_change_sees_all_of_it(done: Done, stage: Stage):
    """OTV, an observed transaction vanishes: two jobs are loaded one after the other, and somebody looks meanwhile."""

    looks: list[list[int]] = []

    def make() -> Scene:
        items = stocked(done, 90, 90)

        def load(quantity: int) -> Callable[[], object]:
            takings = [stock.Taking(item.pk, None, quantity) for item in items]
            return lambda: stock.issue(booking=next_job(), takings=takings, **done.said)

        def look() -> None:
            looks.append([*have(items[:1]), *have(items[1:])])

        return Scene(load(10), load(20), lambda: have(items), meanwhile=look)

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("done", "done")
        assert scene.seen() == [60, 60]
    # The second item was looked at later, so it may have been taken from since, and never be as it was before.
    assert all(second <= first for first, second in looks)


def check_one_order_is_begun(done: Done, stage: Stage) -> None:
    def make() -> Scene:
        supplier = SupplierFactory()
        offers: list[Offer] = [OfferFactory(supplier=supplier, pack_size=20) for _ in range(2)]
        add = lambda offer: lambda: stock.add_to_planned_order(offer=offer, packs=3, **done.said)  # noqa: E731
        return Scene(
            add(offers[0]),
            add(offers[1]),
            lambda: [order.lines.count() for order in Order.objects.filter(supplier=supplier)],
        )

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("done", "done")
        assert scene.seen() == [2]


def test_two_who_find_no_order_begin_one(done: Done, stage: Stage):
    """PMP, a predicate with many preceders: both look for the order being planned, and there is none."""
    check_one_order_is_begun(done, stage)


def check_both_parts_of_a_delivery_count(done: Done, stage: Stage) -> None:
    def make() -> Scene:
        order, (line,), _ = an_order(done, placed=True)

        def receive() -> object:
            mine = Order.objects.get(pk=order.pk)
            return stock.receive_order(order=mine, quantities={line.pk: 20}, **done.said)

        def seen() -> object:
            now = Order.objects.get(pk=order.pk)
            came = Movement.objects.filter(order_line=line).values_list("quantity", flat=True)
            return now.state, now.lines.get().received, sum(came)

        return Scene(receive, receive, seen)

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("done", "done")
        assert scene.seen() == ("received", 40, 40)


def test_both_parts_of_a_delivery_put_away_at_once_count(done: Done, stage: Stage):
    """P4, a lost update: each adds what came to how many had come."""
    check_both_parts_of_a_delivery_count(done, stage)


def check_a_delivery_is_not_counted_twice(done: Done, stage: Stage) -> None:
    """Forty are on their way and sixty are wanted: too few, whether they have come already or not."""

    def make() -> Scene:
        order, (line,), offers = an_order(done, placed=True)
        wanted, job = stocked(done, 0)[0], next_job()
        hold(done, job, {wanted: 60})
        said: dict[str, Any] = {"booking": job, "booking_name": "A job", "today": TODAY, **done.said}
        return Scene(
            lambda: stock.swap(give_up=wanted.pk, take=offers[0].item.pk, quantity=60, **said),
            lambda: stock.receive_order(order=Order.objects.get(pk=order.pk), quantities={line.pk: 40}, **done.said),
            lambda: held(job, [wanted, offers[0].item]),
        )

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("PromiseRefusal", "done")
        assert scene.seen() == [(0, True, 60, SOON)]


def test_who_looks_while_a_delivery_is_put_away_sees_it_once(done: Done, stage: Stage):
    """G-single, a read skew: a swap asks what is on its way and what is on hand, in one statement."""
    check_a_delivery_is_not_counted_twice(done, stage)


def check_an_order_comes_when_its_last_line_does(done: Done, stage: Stage) -> None:
    def make() -> Scene:
        order, _, offers = an_order(done, placed=False)

        def seen() -> object:
            now = Order.objects.get(pk=order.pk)
            days = {offer.item_id: offer.lead_days for offer in offers}
            assert now.expected_on is not None
            return (now.expected_on - TODAY).days == max(days[line.item_id] for line in now.lines.all())

        return Scene(
            lambda: stock.add_to_planned_order(offer=offers[1], packs=3, **done.said),
            lambda: stock.place_order(order=Order.objects.get(pk=order.pk), on=TODAY, **done.said),
            seen,
        )

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("done", "done")
        assert scene.seen() is True


def test_no_line_slips_onto_an_order_that_is_being_placed(done: Done, stage: Stage):
    """G2-item, a write skew: one reads the state and writes a line, the other reads the lines and writes the state."""
    check_an_order_comes_when_its_last_line_does(done, stage)


def check_no_retired_frame_is_promised(done: Done, stage: Stage) -> None:
    def make() -> Scene:
        frame: Kit = KitFactory()
        return Scene(
            lambda: stock.promise_kit(
                kit=frame,
                quantity=1,
                out_on=SOON,
                back_on=SOON + dt.timedelta(days=1),
                booking=next_job(),
                booking_name="A job",
                firm=True,
                **done.said,
            ),
            lambda: stock.retire_kit(kit=frame, today=TODAY, **done.said),
            lambda: (
                Kit.objects.get(pk=frame.pk).retired_at is not None,
                KitPromise.objects.standing().filter(kit=frame).exists(),
            ),
        )

    for scene, ended in stage.in_every_place(make):
        assert sorted(ended.answers) == ["KitRefusal", "done"]
        assert scene.seen() in ((True, False), (False, True))


def test_a_frame_is_promised_or_retired_and_never_both(done: Done, stage: Stage):
    """G2-item again, over kit."""
    check_no_retired_frame_is_promised(done, stage)


def check_every_line_of_a_finished_count_is_written(done: Done, stage: Stage) -> None:
    def make() -> Scene:
        items = stocked(done, 10, 10)
        sheet = a_sheet(done, items[:1])

        def seen() -> object:
            finished = CountLine.objects.filter(sheet=sheet, sheet__is_open=False).values_list("item", "counted")
            return CountSheet.objects.get(pk=sheet.pk).is_open, on_hand(dict(finished)) == dict(finished)

        return Scene(
            lambda: stock.write_count(item=items[1], counted=7, **done.said),
            lambda: stock.finish_count(sheet=sheet, **done.said),
            seen,
        )

    for scene, ended in stage.in_every_place(make):
        assert ended.answers == ("done", "done")
        assert scene.seen() == (False, True)


def test_no_line_slips_onto_a_count_that_is_being_finished(done: Done, stage: Stage):
    """G2, a write skew over what is looked for: one adds a line to the open sheet, the other reads it and closes it."""
    check_every_line_of_a_finished_count_is_written(done, stage)


# Without the locks each check finds the fault it is there for. G0, G1 and OTV are kept out by the database itself.


@pytest.mark.postgresql
@pytest.mark.parametrize(
    "check",
    [
        check_one_order_is_begun,
        check_both_parts_of_a_delivery_count,
        check_an_order_comes_when_its_last_line_does,
        check_no_retired_frame_is_promised,
        check_every_line_of_a_finished_count_is_written,
    ],
    ids=lambda check: check.__name__,
)
def test_without_the_locks_the_fault_is_found(check, done, stage, monkeypatch):
    monkeypatch.setattr(QuerySet, "select_for_update", lambda self, **how: self.all())
    with pytest.raises(AssertionError):
        check(done, stage)


def one_after_the_other(self: QuerySet[Any], *others: QuerySet[Any], **how: bool) -> list[Any]:
    """In place of a union: the rows of each query, asked by itself."""
    return [row for asked in (self, *others) for row in asked]


@pytest.mark.postgresql
def test_asked_one_after_the_other_a_delivery_is_counted_twice_without_the_locks(done, stage, monkeypatch):
    """What is asked in one statement is of one moment, with the locks or without."""
    monkeypatch.setattr(QuerySet, "union", one_after_the_other)
    check_a_delivery_is_not_counted_twice(done, stage)
    monkeypatch.setattr(QuerySet, "select_for_update", lambda self, **how: self.all())
    with pytest.raises(AssertionError, match=r"^assert \('done', 'done'\) =="):
        check_a_delivery_is_not_counted_twice(done, stage)
