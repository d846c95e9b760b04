"""Putting kit and things in the van, ticked by whoever loads; and the studio's rules for what goes along."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.bringing import Rule
from bookings.models import Booking, BringingRules, BringTick
from bookings.queries.bringing import KIT, bring_list
from stock import actions as stock
from stock.models import KitPromise
from studio.models import User


class BringRefused(Exception):
    """The thing cannot be ticked; the message is a sentence for the page."""


@transaction.atomic
def tick_thing(*, booking: Booking, key: str, by: User, at: datetime) -> BringTick:
    """Say that a thing is in the van. What is ticked already stays as it was. Raises BringRefused."""
    booking = Booking.objects.select_for_update(of=("self",)).get(pk=booking.pk)
    line = next((line for line in bring_list(booking).lines if line.key == key), None)
    if line is None:
        raise BringRefused("This is not on the list any more. Look at the list again.")
    return line.tick or BringTick.objects.create(booking=booking, key=key, by=by, at=at)


@transaction.atomic
def untick_thing(*, booking: Booking, key: str, by: User, at: datetime) -> None:
    """Say that a thing is not in the van after all. Kit that is out by the books is brought back on its own page."""
    BringTick.objects.filter(booking=booking, key=key).delete()


@transaction.atomic
def load_ticked_kit(*, booking: Booking, by: User, at: datetime) -> list[KitPromise]:
    """The kit that is ticked goes out by the books. Raises KitRefusal where it is not at home."""
    booking = Booking.objects.select_for_update(of=("self",)).get(pk=booking.pk)
    waiting = [line for line in bring_list(booking).lines if line.tick and line.promise and not line.is_out]
    keys = [line.promise.pk for line in waiting if line.promise]
    taken = stock.take_kit_out(promises=keys, by=by, at=at) if keys else []
    if taken:
        named = ", ".join(f"{promise.quantity:,} {promise.kit}" for promise in taken)
        write_history(booking, f"Kit went out: {named}.", at=at, by=by)
        BringTick.objects.filter(booking=booking, key__in=[f"{KIT}{promise.pk}" for promise in taken]).update(at=at)
    return taken


@transaction.atomic
def keep_bringing_rules(*, rules: Sequence[Rule], by: User, at: datetime) -> BringingRules:
    """These are the studio's rules from now on. Ticks of things that are on no list any more do no harm."""
    kept, _ = BringingRules.objects.update_or_create(pk=1, defaults={"rules": [rule.to_json() for rule in rules]})
    return kept
