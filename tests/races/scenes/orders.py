"""Orders, while they are planned, placed and put away."""

import datetime as dt
from collections.abc import Callable

from stock import actions as stock
from stock.models import Offer, Order, OrderLine
from stock.queries import shortfall
from tests.factories import (
    TODAY,
    OfferFactory,
    OrderFactory,
    OrderLineFactory,
    SupplierFactory,
)
from tests.races.scenes.ground import SOON, Done, have, hold, next_job
from tests.races.schedules import Scene


def an_order(done: Done, *, placed: bool) -> tuple[Order, list[OrderLine], list[Offer]]:
    """An order of two packs of one item, its line, and what its supplier offers: that item and another."""
    supplier = SupplierFactory()
    offers: list[Offer] = [OfferFactory(supplier=supplier, pack_size=20, lead_days=days) for days in (3, 9)]
    order: Order = OrderFactory(supplier=supplier, created_by=done.by)
    lines: list[OrderLine] = [OrderLineFactory(order=order, item=offers[0].item, pack_size=20, packs=2)]
    if placed:
        stock.place_order(order=order, on=TODAY, **done.said)
    return order, lines, offers


def of_the_orders(offers: list[Offer]) -> Callable[[], object]:
    """Every order of the supplier with its lines, and what came of them."""
    items = [offer.item for offer in offers]
    place = {item.pk: n for n, item in enumerate(items)}

    def seen() -> object:
        orders = Order.objects.filter(supplier=offers[0].supplier).order_by("pk").prefetch_related("lines")
        return have(items), [
            (
                order.state,
                order.expected_on,
                sorted((place[line.item_id], line.packs, line.received) for line in order.lines.all()),
            )
            for order in orders
        ]

    return seen


def two_put_one_delivery_away(done: Done) -> Scene:
    order, lines, offers = an_order(done, placed=True)

    def receive() -> object:
        mine = Order.objects.get(pk=order.pk)
        return stock.receive_order(order=mine, quantities={lines[0].pk: 40}, seen={lines[0].pk: 0}, **done.said)

    return Scene(receive, receive, of_the_orders(offers))


def a_delivery_comes_in_two_parts(done: Done) -> Scene:
    order, lines, offers = an_order(done, placed=True)

    def receive() -> object:
        mine = Order.objects.get(pk=order.pk)
        return stock.receive_order(order=mine, quantities={lines[0].pk: 20}, **done.said)

    return Scene(receive, receive, of_the_orders(offers))


def a_delivery_comes_while_its_order_is_called_off(done: Done) -> Scene:
    order, lines, offers = an_order(done, placed=True)
    return Scene(
        lambda: stock.receive_order(order=Order.objects.get(pk=order.pk), quantities={lines[0].pk: 20}, **done.said),
        lambda: stock.cancel_order(order=Order.objects.get(pk=order.pk), **done.said),
        of_the_orders(offers),
    )


def a_line_is_added_while_its_order_is_placed(done: Done) -> Scene:
    order, _, offers = an_order(done, placed=False)
    return Scene(
        lambda: stock.add_to_planned_order(offer=offers[1], packs=3, **done.said),
        lambda: stock.place_order(order=Order.objects.get(pk=order.pk), on=TODAY, **done.said),
        of_the_orders(offers),
    )


def a_line_is_added_to_while_its_packs_are_changed(done: Done) -> Scene:
    _, lines, offers = an_order(done, placed=False)
    return Scene(
        lambda: stock.add_to_planned_order(offer=offers[0], packs=3, **done.said),
        lambda: stock.change_packs(line=OrderLine.objects.get(pk=lines[0].pk), packs=5, **done.said),
        of_the_orders(offers),
    )


def a_line_is_added_to_while_it_is_taken_off(done: Done) -> Scene:
    _, lines, offers = an_order(done, placed=False)
    return Scene(
        lambda: stock.add_to_planned_order(offer=offers[0], packs=3, **done.said),
        lambda: stock.change_packs(line=OrderLine.objects.get(pk=lines[0].pk), packs=0, **done.said),
        of_the_orders(offers),
    )


def two_change_one_line(done: Done) -> Scene:
    _, lines, offers = an_order(done, placed=False)

    def change(packs: int) -> Callable[[], object]:
        # As it was on the page that both had open.
        line = OrderLine.objects.get(pk=lines[0].pk)
        return lambda: stock.change_packs(line=line, packs=packs, **done.said)

    return Scene(change(0), change(5), of_the_orders(offers))


def two_begin_an_order(done: Done) -> Scene:
    supplier = SupplierFactory()
    offers: list[Offer] = [OfferFactory(supplier=supplier, pack_size=20) for _ in range(2)]
    add = lambda offer: lambda: stock.add_to_planned_order(offer=offer, packs=3, **done.said)  # noqa: E731
    return Scene(add(offers[0]), add(offers[1]), of_the_orders(offers))


def a_plan_is_made_while_what_it_joins_is_placed(done: Done) -> Scene:
    """What is short was reckoned with the draft; placed meanwhile, its balloons may come too late."""
    order, _, offers = an_order(done, placed=False)
    job = next_job()
    hold(done, job, {offers[0].item: 100})

    def plan() -> object:
        chosen = stock.ChosenOrder([stock.ChosenLine(offers[0].pk, 3, offers[0].price_minor)], joins=True)
        return stock.make_orders(orders=[chosen], made_for=digest, with_open=False, today=TODAY, **done.said)

    digest = shortfall(TODAY, with_open=False).digest

    def seen() -> object:
        found = of_the_orders(offers)()
        stock.release(booking=job, **done.said)
        return found

    # Too late for the job, so that a placed order counts for less than a planned one.
    late = SOON + dt.timedelta(days=1)
    return Scene(
        plan,
        lambda: stock.place_order(order=Order.objects.get(pk=order.pk), on=TODAY, expected_on=late, **done.said),
        seen,
    )


SCENES = [
    two_put_one_delivery_away,
    a_delivery_comes_in_two_parts,
    a_delivery_comes_while_its_order_is_called_off,
    a_line_is_added_while_its_order_is_placed,
    a_line_is_added_to_while_its_packs_are_changed,
    a_line_is_added_to_while_it_is_taken_off,
    two_change_one_line,
    two_begin_an_order,
    a_plan_is_made_while_what_it_joins_is_placed,
]
