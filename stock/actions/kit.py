"""Kit: promised to bookings, taken out, brought back; bought, counted, broken and lost.

Two bookings may be promised the same frame for the same day: both are told, and whoever was promised later goes
without. What is out cannot be taken out twice. The rows of the kit are locked first, in the order of their keys.
"""

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from django.db import transaction
from django.db.models import Sum

from stock.models import Kit, KitMovement, KitPromise
from stock.models.kit import MOST_KIT
from studio.models import User

LONGEST_DAYS = 366
Days = tuple[date, date]
"""The day something goes out, and the day it comes back."""


class KitRefusal(Exception):
    """Something that cannot be done with kit; the message is a sentence for the page."""


def lock_kit(ids: Iterable[int]) -> dict[int, Kit]:
    """The kit of these keys, held until the transaction ends; always locked in the order of the keys."""
    found = Kit.objects.select_for_update(of=("self",), no_key=True).filter(pk__in=set(ids)).order_by("pk")
    return {kit.pk: kit for kit in found}


@transaction.atomic
def add_kit(*, kit: Kit, owned: int, by: User, at: datetime) -> Kit:
    """List new kit, with how many are owned. The form has checked it."""
    _check(owned, "Owned", least=0)
    kit.save(force_insert=True)
    if owned:
        KitMovement.objects.create(kit=kit, kind=KitMovement.Kind.GOT, quantity=owned, at=at, by=by, why="first listed")
    return kit


@transaction.atomic
def get_kit(*, kit: Kit, quantity: int, by: User, at: datetime, why: str = "") -> KitMovement:
    """So many more of it are owned."""
    _check(quantity, "Got")
    lock_kit([kit.pk])
    _check(_owned(kit) + quantity, "Owned")
    return KitMovement.objects.create(
        kit=kit, kind=KitMovement.Kind.GOT, quantity=quantity, at=at, by=by, why=why.strip()
    )


@transaction.atomic
def count_kit(*, kit: Kit, counted: int, by: User, at: datetime, why: str = "") -> KitMovement:
    """So many are owned, those that are out counted with the others: the difference is written down."""
    _check(counted, "Counted", least=0)
    lock_kit([kit.pk])
    if counted < (out := _out(kit)):
        raise KitRefusal(f"Counted must be {out:,} or more, for so many are out (got {counted:,}).")
    change = counted - _owned(kit)
    return KitMovement.objects.create(
        kit=kit, kind=KitMovement.Kind.COUNTED, quantity=change, at=at, by=by, why=why.strip()
    )


@transaction.atomic
def write_off_kit(
    *,
    kit: Kit,
    why: str,
    by: User,
    at: datetime,
    broken: int = 0,
    lost: int = 0,
    promise: KitPromise | None = None,
) -> list[KitMovement]:
    """So many fewer are owned, with the reason; at most as many as are at home."""
    if not why.strip():
        raise KitRefusal("Why must be said when kit is written off (got nothing).")
    _check(broken + lost, "Written off")
    lock_kit([kit.pk])
    home = _owned(kit) - _out(kit)
    if broken + lost > home:
        raise KitRefusal(f"Written off must be at most the {home:,} at home (got {broken + lost:,}).")
    return _written_off(kit, broken, lost, why, by=by, at=at, promise=promise)


@transaction.atomic
def retire_kit(*, kit: Kit, today: date, by: User, at: datetime) -> Kit:
    """Promise it to nobody any more. Refused while it is out, or promised for a day still to come."""
    kit = lock_kit([kit.pk])[kit.pk]
    waiting = kit.promises.standing().order_by("out_on", "pk")
    held = waiting.out().first() or waiting.filter(back_on__gte=today).first()
    if held is not None:
        raise KitRefusal(f"{kit} is {held.state} for {held.booking_name}; that must be over first.")
    if kit.retired_at is None:
        kit.retired_at = at
        kit.save(update_fields=["retired_at"])
    return kit


@transaction.atomic
def take_kit_up(*, kit: Kit, by: User, at: datetime) -> Kit:
    """Promise it again, after it was retired."""
    kit = lock_kit([kit.pk])[kit.pk]
    kit.retired_at = None
    kit.save(update_fields=["retired_at"])
    return kit


@transaction.atomic
def promise_kit(
    *,
    kit: Kit,
    quantity: int,
    out_on: date,
    back_on: date,
    booking: int,
    booking_name: str,
    firm: bool,
    by: User,
    at: datetime,
) -> KitPromise:
    """Promise so many of it to a booking for a period; what it was promised of it already is changed to that.

    More may be promised than is owned: the queries then say who goes without. A change keeps the place in the queue.
    What is out already can only be kept for longer or shorter.
    """
    _check(quantity, "Quantity")
    if back_on < out_on:
        raise KitRefusal(f"Back must be on or after the day it goes out, {out_on:%Y-%m-%d} (got {back_on:%Y-%m-%d}).")
    if (back_on - out_on).days >= LONGEST_DAYS:
        raise KitRefusal(f"Back must be within a year of the day it goes out (got {back_on:%Y-%m-%d}).")
    kit = lock_kit([kit.pk])[kit.pk]
    standing = kit.promises.standing().filter(booking=booking).first()
    if standing is None:
        if kit.retired_at is not None:
            raise KitRefusal(f"{kit} is retired: take it up again, or choose something else.")
        return KitPromise.objects.create(
            kit=kit,
            quantity=quantity,
            out_on=out_on,
            back_on=back_on,
            booking=booking,
            booking_name=booking_name,
            firm=firm,
            made_at=at,
            made_by=by,
        )
    if standing.taken_out_at is not None and (quantity, out_on) != (standing.quantity, standing.out_on):
        raise KitRefusal(f"{standing.quantity:,} of {kit} are out already: only the day back can change.")
    standing.quantity, standing.out_on, standing.back_on = quantity, out_on, back_on
    standing.booking_name, standing.firm = booking_name, firm
    standing.save(update_fields=["quantity", "out_on", "back_on", "booking_name", "firm"])
    return standing


@transaction.atomic
def let_kit_go(*, booking: int, kit: Kit | None = None, by: User | None, at: datetime) -> int:
    """Let go of the kit a booking was promised, or of one of it; how many promises. What is out stays out."""
    held = KitPromise.objects.standing().filter(booking=booking, taken_out_at__isnull=True)
    if kit is not None:
        held = held.filter(kit=kit)
    lock_kit(held.values_list("kit_id", flat=True))
    return held.update(closed_at=at)


@transaction.atomic
def make_kit_firm(*, booking: int, by: User | None, at: datetime) -> int:
    """What the booking was promised is firm from now on: it was accepted. How many promises."""
    held = KitPromise.objects.standing().filter(booking=booking, firm=False)
    lock_kit(held.values_list("kit_id", flat=True))
    return held.update(firm=True)


@transaction.atomic
def move_kit(
    *, booking: int, booking_name: str, before: Days | None, after: Days | None, by: User | None, at: datetime
) -> int:
    """The booking has other days or another name: what it was promised moves by as many days; how many promises.

    Each keeps its place in the queue. Without days before or after, only the name changes. What is out stays out
    since the day it went, and nothing comes back before it went.
    """
    held = KitPromise.objects.standing().filter(booking=booking)
    lock_kit(held.values_list("kit_id", flat=True))
    promises = list(held.order_by("pk"))
    for promise in promises:
        promise.booking_name = booking_name
        if before is not None and after is not None:
            if promise.taken_out_at is None:
                promise.out_on += after[0] - before[0]
            promise.back_on = max(promise.back_on + (after[1] - before[1]), promise.out_on)
        promise.save(update_fields=["booking_name", "out_on", "back_on"])
    return len(promises)


@transaction.atomic
def take_kit_out(*, promises: Sequence[int], by: User, at: datetime) -> list[KitPromise]:
    """These promises' kit goes out, all of it or none; what is out already stays as it is.

    Refused where it was let go or is back, and where more would be out than is owned.
    """
    found = _locked_promises(promises)
    taken = []
    for promise in found:
        if promise.state == "out":
            continue
        if promise.state != "promised":
            raise KitRefusal(f"{promise.kit} for {promise.booking_name} cannot go out: it is {promise.state}.")
        home = _owned(promise.kit) - _out(promise.kit)
        if promise.quantity > home:
            raise KitRefusal(_not_at_home(promise, home))
        promise.taken_out_at, promise.taken_out_by = at, by
        promise.save(update_fields=["taken_out_at", "taken_out_by"])
        taken.append(promise)
    return taken


@transaction.atomic
def bring_kit_back(
    *, promises: Sequence[int], by: User, at: datetime, broken: int = 0, lost: int = 0, damage: str = ""
) -> list[KitPromise]:
    """These promises' kit is back; what is back already stays as it is.

    `broken` and `lost` are how many of it are owned no more, and `damage` what was found, in words: they are said of
    one promise, not of several. Refused where it never went out, and for more than went out.
    """
    found = _locked_promises(promises)
    if (broken or lost or damage) and len(found) != 1:
        raise KitRefusal("What is broken or lost is said of one kit at a time.")
    _check(broken + lost, "Broken and lost", least=0)
    came = []
    for promise in found:
        if promise.state == "back":
            continue
        if promise.state != "out":
            raise KitRefusal(f"{promise.kit} for {promise.booking_name} cannot come back: it never went out.")
        if broken + lost > promise.quantity:
            raise KitRefusal(
                f"Broken and lost must be at most the {promise.quantity:,} that went out (got {broken + lost:,})."
            )
        promise.came_back_at, promise.came_back_by = max(at, promise.taken_out_at or at), by
        promise.damage = damage.strip()
        promise.save(update_fields=["came_back_at", "came_back_by", "damage"])
        # The line can never be changed, so it says no name: a client who is erased must leave none behind.
        why = promise.damage or f"Booking {promise.booking}"
        _written_off(promise.kit, broken, lost, why, by=by, at=at, promise=promise)
        came.append(promise)
    return came


def _check(quantity: int, field: str, *, least: int = 1) -> None:
    if not least <= quantity <= MOST_KIT:
        raise KitRefusal(f"{field} must be {least:,} to {MOST_KIT:,} (got {quantity:,}).")


def _locked_promises(keys: Sequence[int]) -> list[KitPromise]:
    """The promises of these keys in that order, their kit locked before they are read again."""
    lock_kit(KitPromise.objects.filter(pk__in=keys).values_list("kit_id", flat=True))
    found = KitPromise.objects.select_for_update(of=("self",), no_key=True).select_related("kit").filter(pk__in=keys)
    return list(found.order_by("pk"))


def _owned(kit: Kit) -> int:
    return KitMovement.objects.filter(kit=kit).aggregate(sum=Sum("quantity"))["sum"] or 0


def _out(kit: Kit) -> int:
    return KitPromise.objects.out().filter(kit=kit).aggregate(sum=Sum("quantity"))["sum"] or 0


def _not_at_home(promise: KitPromise, home: int) -> str:
    names = KitPromise.objects.out().filter(kit=promise.kit).order_by("pk").values_list("booking_name", flat=True)
    away = f" The others are out with {', '.join(names[:3])}: write those as back first." if names else ""
    return f"{promise.kit} has {max(home, 0):,} at home, and {promise.quantity:,} were to go out.{away}"


def _written_off(
    kit: Kit, broken: int, lost: int, why: str, *, by: User, at: datetime, promise: KitPromise | None
) -> list[KitMovement]:
    """The lines that take away what is broken and lost."""
    kinds = ((KitMovement.Kind.BROKEN, broken), (KitMovement.Kind.LOST, lost))
    return [
        KitMovement.objects.create(
            kit=kit, kind=kind, quantity=-quantity, at=at, by=by, why=why.strip()[:200], promise=promise
        )
        for kind, quantity in kinds
        if quantity
    ]
