"""Holding one item for a booking in place of another."""

from datetime import date, datetime
from functools import partial

from django.db import transaction

from stock.actions.ledger import lock_items
from stock.actions.promises import PromiseRefusal, reserve
from stock.models import DoubleRecipe, Item, Reservation
from stock.queries import free_on, held_firmly
from studio.models import User


@transaction.atomic
def swap(
    *,
    booking: int,
    booking_name: str,
    give_up: int,
    take: int,
    quantity: int,
    today: date,
    by: User,
    at: datetime,
    inside: int | None = None,
) -> date:
    """Let go of `quantity` of what a booking holds firmly and hold as many of another item for the same day; which day.

    What is kept keeps its place in the queue, what is taken goes to its end. Raises PromiseRefusal where the booking
    holds less, or less is free that day: nobody who was promised first goes without for a swap.

    With `inside`, two balloons stand in for each: as many of it are held too, by a recipe of the studio's.
    """
    taken = [take] if inside is None else [take, inside]
    items = lock_items([give_up, *taken])
    if len(items) < 1 + len(taken):
        raise PromiseRefusal("A swap needs items of the shelf's list, each another.")
    if inside is not None:
        _check_recipe(items[give_up], items[take], items[inside])
    held = held_firmly(booking)
    have = held.get(give_up, 0)
    if not 1 <= quantity <= have:
        raise PromiseRefusal(
            f"Quantity must be 1 to {have:,}, what is held of {items[give_up].label} (got {quantity:,})."
        )
    firm = Reservation.objects.open().firm().of_bookings([booking]).filter(item=give_up).order_by("pk")
    needed_on = firm.values_list("needed_on", flat=True)[0]
    for item, free in free_on(taken, needed_on, today).items():
        if quantity > free:
            raise PromiseRefusal(
                f"{items[item].label} has {max(free, 0):,} free on {needed_on:%Y-%m-%d} (got {quantity:,})."
            )
    tentative = list(Reservation.objects.open().of_bookings([booking]).filter(firm=False).order_by("pk"))
    held[give_up] -= quantity
    for item in taken:
        held[item] = held.get(item, 0) + quantity
    hold = partial(reserve, booking=booking, booking_name=booking_name, needed_on=needed_on, by=by, at=at)
    hold(needs=held, firm=True)
    # A firm promise ends the tentative ones: what an open quote holds beyond it is held again.
    if tentative:
        again: dict[int, int] = {}
        for asked in tentative:
            again[asked.item_id] = again.get(asked.item_id, 0) + asked.quantity
        hold(needs=again, firm=False, lapses_on=tentative[0].lapses_on)
    return needed_on


def _check_recipe(wanted: Item, outer: Item, inner: Item) -> None:
    recipes = DoubleRecipe.objects.filter(
        outer=outer.colour_id, inner=inner.colour_id, looks_like=wanted.colour_id, looks_like__items=wanted.pk
    )
    same_size = wanted.size == outer.size == inner.size
    if not (same_size and recipes.exists()):
        raise PromiseRefusal(f"No recipe says that {outer.label} over {inner.label} looks like {wanted.label}.")
