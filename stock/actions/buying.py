"""From a plan to orders, all of them or none."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from stock.actions.orders import OrderRefusal, add_to_planned_order, lock_planned
from stock.models import Offer, Order
from stock.queries import shortfall
from studio.models import User


@dataclass(frozen=True)
class ChosenLine:
    """A line of a plan as it was shown: so many packs of an offer, at the price it had then."""

    offer: int
    packs: int
    price_minor: int


@dataclass(frozen=True)
class MadeOrder:
    """An order the plan went to; `joined` where one was being planned with that supplier already."""

    order: Order
    joined: bool


@transaction.atomic
def make_orders(
    *,
    orders: Sequence[Sequence[ChosenLine]],
    made_for: str,
    with_open: bool,
    today: date,
    by: User,
    at: datetime,
) -> list[MadeOrder]:
    """Plan the lines of each list, as they were shown for the shortfall of digest `made_for`.

    They join the order that is being planned with the supplier, or start one. Raises OrderRefusal, and plans
    none of them, where what is short or a price has changed since.
    """
    if not any(orders):
        raise OrderRefusal("There is nothing to order: no line was sent.")
    wanted = {line.offer for lines in orders for line in lines}
    offers = {
        offer.pk: offer for offer in Offer.objects.filter(pk__in=wanted).select_related("supplier", "item__colour")
    }
    # Locked before asking what is short and what is being planned: of two plans made at once the second is refused, and
    # so is one whose draft was placed meanwhile.
    drafts = {order.supplier_id for order in lock_planned(offer.supplier_id for offer in offers.values())}
    if shortfall(today, with_open=with_open).digest != made_for:
        raise OrderRefusal("What is short has changed since this was planned. This is the plan as it stands now.")
    made: dict[int, MadeOrder] = {}
    for lines in orders:
        for line in lines:
            offer = offers.get(line.offer)
            if offer is None or offer.price_minor != line.price_minor:
                raise OrderRefusal("An offer has changed since this was planned. This is the plan as it stands now.")
        for line in lines:
            offer = offers[line.offer]
            order = add_to_planned_order(offer=offer, packs=line.packs, by=by, at=at)
            made.setdefault(order.pk, MadeOrder(order, joined=offer.supplier_id in drafts))
    return list(made.values())
