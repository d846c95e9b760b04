"""From a plan to orders, all of them or none."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from stock.actions.orders import OrderRefusal, add_lines, lock_planned, plan_order
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
class ChosenOrder:
    """The lines of one order of a plan; `joins` where it was shown as joining the one being planned."""

    lines: Sequence[ChosenLine]
    joins: bool = False


@dataclass(frozen=True)
class MadeOrder:
    """An order the plan went to; `joined` where one was being planned with that supplier already."""

    order: Order
    joined: bool


@transaction.atomic
def make_orders(
    *,
    orders: Sequence[ChosenOrder],
    made_for: str,
    with_open: bool,
    today: date,
    by: User,
    at: datetime,
) -> list[MadeOrder]:
    """Plan the lines of each order, as they were shown for the shortfall of digest `made_for`.

    One joins the order that is being planned with its supplier, any other starts one: they come on different days.
    Raises OrderRefusal, and plans none, where what is short, what is being planned or a price has changed since.
    """
    if not any(order.lines for order in orders):
        raise OrderRefusal("There is nothing to order: no line was sent.")
    wanted = {line.offer for order in orders for line in order.lines}
    offers = {
        offer.pk: offer for offer in Offer.objects.filter(pk__in=wanted).select_related("supplier", "item__colour")
    }
    # Locked before asking what is short and what is being planned: of two plans made at once the second is refused, and
    # so is one whose draft was placed meanwhile.
    planned = lock_planned(offer.supplier_id for offer in offers.values())
    if shortfall(today, with_open=with_open).digest != made_for:
        raise OrderRefusal("What is short has changed since this was planned. This is the plan as it stands now.")
    begun = [order for order in planned if order.lines.exists()]
    # Nobody places an order without a line: it is as good as none, and is filled before another is started.
    empty = [order for order in planned if order not in begun]
    made = []
    for chosen in orders:
        lines = [(_offer_as_shown(offers, line), line.packs) for line in chosen.lines]
        supplier = lines[0][0].supplier
        order = next((o for o in (begun if chosen.joins else empty) if o.supplier_id == supplier.pk), None)
        if order is None and chosen.joins:
            raise OrderRefusal("The order it was to join is not planned any more. This is the plan as it stands now.")
        if order is None:
            order = plan_order(supplier=supplier, lines=lines, by=by, at=at)
        else:
            add_lines(order, lines)
            empty = [o for o in empty if o != order]
        made.append(MadeOrder(order, joined=chosen.joins))
    return made


def _offer_as_shown(offers: Mapping[int, Offer], line: ChosenLine) -> Offer:
    offer = offers.get(line.offer)
    if offer is None or offer.price_minor != line.price_minor:
        raise OrderRefusal("An offer has changed since this was planned. This is the plan as it stands now.")
    return offer
