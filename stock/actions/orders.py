"""Buying: an order is planned, placed, received, or called off."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta

from django.db import transaction

from stock.actions.ledger import MOST, lock_items, put_away
from stock.models import Movement, Offer, Order, OrderLine, ShelfRules, Supplier
from studio import transitions
from studio.models import User
from studio.transitions import MoveRefused

MOST_PACKS = 10_000
NEXT: Mapping[str, Sequence[str]] = {
    Order.State.PLANNED.value: [Order.State.PLACED.value, Order.State.CANCELLED.value],
    Order.State.PLACED.value: [Order.State.RECEIVED.value, Order.State.CANCELLED.value],
    Order.State.RECEIVED.value: [],
    Order.State.CANCELLED.value: [],
}


class OrderRefusal(Exception):
    """Something an order cannot take; the message is a sentence for the page."""


@transaction.atomic
def plan_order(*, supplier: Supplier, lines: Sequence[tuple[Offer, int]], by: User, at: datetime) -> Order:
    """Start an order with one supplier, of so many packs of each offer, not placed yet."""
    if not lines:
        raise OrderRefusal("An order needs at least one pack (got none).")
    order = Order.objects.create(supplier=supplier, created_at=at, created_by=by)
    add_lines(order, lines)
    return order


@transaction.atomic
def add_to_planned_order(*, offer: Offer, packs: int, by: User, at: datetime) -> Order:
    """Add packs to the order being planned with the offer's supplier, or start one."""
    planned = lock_planned([offer.supplier_id])
    order = planned[0] if planned else Order.objects.create(supplier_id=offer.supplier_id, created_at=at, created_by=by)
    add_lines(order, [(offer, packs)])
    return order


@transaction.atomic
def change_packs(*, line: OrderLine, packs: int, by: User, at: datetime) -> OrderLine | None:
    """Buy another number of packs on an order being planned; none takes the line off and returns None."""
    order = _locked(line.order_id)
    if order.state != Order.State.PLANNED:
        raise OrderRefusal(f"Packs can be changed while an order is planned; this one is {order.state}.")
    _check_packs(packs, least=0)
    still = order.lines.filter(pk=line.pk)
    if packs == 0:
        still.delete()
        return None
    if not still.exists():
        raise OrderRefusal(f"{line.item.label} was taken off order {order.pk} meanwhile; it must be added again.")
    line.packs = packs
    line.save(update_fields=["packs"])
    return line


@transaction.atomic
def place_order(*, order: Order, on: date, expected_on: date | None = None, by: User, at: datetime) -> Order:
    """Say the order was placed `on` a day, and when it should come.

    Without `expected_on` it comes after the longest lead time among what was ordered, in calendar days.
    """
    order = _moved(order, Order.State.PLACED)
    lines = list(order.lines.order_by("pk"))
    if not lines:
        raise OrderRefusal("An order needs at least one pack before it is placed (got none).")
    expected_on = expected_on or on + timedelta(days=_lead_days(order, lines))
    _check_expected(expected_on, on)
    order.placed_on, order.expected_on = on, expected_on
    order.save(update_fields=["state", "placed_on", "expected_on"])
    return order


@transaction.atomic
def receive_order(
    *,
    order: Order,
    quantities: Mapping[int, int],
    by: User,
    at: datetime,
    best_before: Mapping[int, date | None] | None = None,
    seen: Mapping[int, int] | None = None,
) -> list[Movement]:
    """Put what arrived onto the shelf, each line as a lot: order line key to a number of items, not packs.

    A line may come short, in parts, or with more than was ordered. `best_before` has the last good day of a line where
    it is printed on the bag; the usual one goes for the others. `seen` has how many of a line had come when somebody
    looked: where more have since, somebody else is putting the same delivery away, and this is refused. The order is
    received once nothing is outstanding.
    """
    locked = _locked(order.pk)
    if locked.state == Order.State.RECEIVED and seen:
        raise OrderRefusal(f"{_last_received(locked)}, and that was all of it. Nothing was put there a second time.")
    if locked.state != Order.State.PLACED:
        raise OrderRefusal(f"Only a placed order can be received; this one is {locked.state}.")
    lines = {line.pk: line for line in locked.lines.order_by("pk")}
    for key, quantity in quantities.items():
        if key not in lines:
            raise OrderRefusal(f"Line must be one of this order's (got number {key}).")
        if not 0 <= quantity <= MOST:
            raise OrderRefusal(f"Received must be 0 to {MOST:,} (got {quantity:,}).")
    if any(key in lines and lines[key].received != had for key, had in (seen or {}).items()):
        raise OrderRefusal(f"{_last_received(locked)} since you opened this page. See what is still to come.")
    arrived = [(lines[key], quantity) for key, quantity in sorted(quantities.items()) if quantity]
    if not arrived:
        raise OrderRefusal("Received must be more than 0 on at least one line (got none).")
    items = lock_items(line.item_id for line, _ in arrived)
    good_until, rules = best_before or {}, ShelfRules.objects.current()
    movements = []
    for line, quantity in arrived:
        line.received += quantity
        line.save(update_fields=["received"])
        movements.append(
            put_away(
                item=items[line.item_id],
                quantity=quantity,
                by=by,
                at=at,
                order_line=line,
                best_before=good_until.get(line.pk),
                rules=rules,
            )
        )
    if not any(line.outstanding for line in lines.values()):
        locked.state = Order.State.RECEIVED
        locked.save(update_fields=["state"])
    order.state = locked.state
    return movements


@transaction.atomic
def close_order(*, order: Order, by: User, at: datetime) -> Order:
    """Say nothing more will come of a placed order, so what is outstanding stops counting as on its way."""
    order = _moved(order, Order.State.RECEIVED)
    order.save(update_fields=["state"])
    return order


@transaction.atomic
def cancel_order(*, order: Order, by: User, at: datetime) -> Order:
    """Call off an order of which nothing has arrived."""
    order = _moved(order, Order.State.CANCELLED)
    arrived = sum(order.lines.values_list("received", flat=True))
    if arrived:
        raise OrderRefusal(f"Nothing may have arrived of an order that is called off (got {arrived:,}): close it.")
    order.save(update_fields=["state"])
    return order


@transaction.atomic
def change_expected(*, order: Order, day: date, by: User, at: datetime) -> Order:
    """Expect a placed order on another day."""
    locked = _locked(order.pk)
    if locked.state != Order.State.PLACED or locked.placed_on is None:
        raise OrderRefusal(f"Only a placed order is expected on a day; this one is {locked.state}.")
    _check_expected(day, locked.placed_on)
    locked.expected_on = order.expected_on = day
    locked.save(update_fields=["expected_on"])
    return locked


def lock_planned(suppliers: Iterable[int]) -> list[Order]:
    """The orders being planned with some suppliers, held with the suppliers until the transaction ends, oldest first.

    The suppliers first, so that nobody begins another order meanwhile; then the orders, so that none is placed.
    """
    keys = set(suppliers)
    list(Supplier.objects.select_for_update(of=("self",)).filter(pk__in=keys).order_by("pk"))
    planned = Order.objects.filter(supplier__in=keys, state=Order.State.PLANNED).order_by("pk")
    return list(planned.select_for_update(of=("self",)))


def add_lines(order: Order, lines: Iterable[tuple[Offer, int]]) -> None:
    """So many packs of each offer more on an order being planned, which is held already."""
    for offer, packs in lines:
        _add(order, offer, packs)


def _locked(key: int) -> Order:
    return Order.objects.select_for_update(of=("self",)).select_related("supplier").get(pk=key)


def _moved(order: Order, to: Order.State) -> Order:
    """The order as it stands, locked, at its new state but not saved; the caller's own copy follows."""
    locked = _locked(order.pk)
    try:
        transitions.check(NEXT, locked.state, to.value)
    except MoveRefused as refusal:
        raise OrderRefusal(refusal.sentence) from refusal
    locked.state = to
    return locked


def _add(order: Order, offer: Offer, packs: int) -> None:
    if offer.supplier_id != order.supplier_id:
        raise OrderRefusal(f"Every line must be {order.supplier}'s (got one of {offer.supplier}'s).")
    _check_packs(packs)
    line = order.lines.filter(item_id=offer.item_id, pack_size=offer.pack_size).first()
    if line is None:
        order.lines.create(
            item_id=offer.item_id,
            packs=packs,
            pack_size=offer.pack_size,
            price_minor=offer.price_minor,
            their_name=offer.their_name,
            their_code=offer.their_code,
        )
        return
    _check_packs(line.packs + packs)
    line.packs += packs
    # A planned line follows the offer: what it costs is settled when the order is placed.
    line.price_minor = offer.price_minor
    line.their_name, line.their_code = offer.their_name, offer.their_code
    line.save(update_fields=["packs", "price_minor", "their_name", "their_code"])


def _check_packs(packs: int, *, least: int = 1) -> None:
    if not least <= packs <= MOST_PACKS:
        raise OrderRefusal(f"Packs must be {least} to {MOST_PACKS:,} (got {packs:,}).")


def _check_expected(expected_on: date, placed_on: date) -> None:
    if expected_on < placed_on:
        raise OrderRefusal(
            f"Expected must be no earlier than {placed_on:%Y-%m-%d}, when it was placed (got {expected_on:%Y-%m-%d})."
        )


def _lead_days(order: Order, lines: Sequence[OrderLine]) -> int:
    offers = {(offer.item_id, offer.pack_size): offer.lead_days for offer in order.supplier.offers.all()}
    missing = [line for line in lines if (line.item_id, line.pack_size) not in offers]
    if missing:
        pack = f"{missing[0].item.label} by {missing[0].pack_size}"
        raise OrderRefusal(f"Expected must be said: {order.supplier} no longer offers {pack}.")
    return max(offers[line.item_id, line.pack_size] for line in lines)


def _last_received(order: Order) -> str:
    """Who put away what came last of an order: "Jan has put 100 of order 3 on the shelf"."""
    last = Movement.objects.filter(order_line__order=order).select_related("by").order_by("-pk").first()
    if last is None:
        return f"Order {order.pk} was closed"
    return f"{last.by.shown_name} has put {last.quantity:,} of order {order.pk} on the shelf"
