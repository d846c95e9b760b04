"""From a plan to orders, all of them or none."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from stock.actions.orders import OrderRefusal, plan_order
from stock.models import Offer, Order
from stock.queries import shortfall
from studio.models import User


@dataclass(frozen=True)
class ChosenLine:
    """A line of a plan as it was shown: so many packs of an offer, at the price it had then."""

    offer: int
    packs: int
    price_minor: int


@transaction.atomic
def make_orders(
    *,
    orders: Sequence[Sequence[ChosenLine]],
    made_for: str,
    with_open: bool,
    today: date,
    by: User,
    at: datetime,
) -> list[Order]:
    """Plan an order for each list of lines, as they were shown for the shortfall of digest `made_for`.

    Raises OrderRefusal, and makes none of them, where what is short or a price has changed since.
    """
    if not any(orders):
        raise OrderRefusal("There is nothing to order: no line was sent.")
    if shortfall(today, with_open=with_open).digest != made_for:
        raise OrderRefusal("What is short has changed since this was planned. This is the plan as it stands now.")
    wanted = {line.offer for lines in orders for line in lines}
    offers = {
        offer.pk: offer for offer in Offer.objects.filter(pk__in=wanted).select_related("supplier", "item__colour")
    }
    made = []
    for lines in orders:
        for line in lines:
            offer = offers.get(line.offer)
            if offer is None or offer.price_minor != line.price_minor:
                raise OrderRefusal("An offer has changed since this was planned. This is the plan as it stands now.")
        first = offers[lines[0].offer]
        chosen = [(offers[line.offer], line.packs) for line in lines]
        made.append(plan_order(supplier=first.supplier, lines=chosen, by=by, at=at))
    return made
