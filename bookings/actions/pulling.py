"""Taking what a job holds off the shelf: ticked line by line by whoever loads, then written to the ledger."""

from datetime import datetime

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.models import Booking, PullTick
from bookings.queries import pull_list
from bookings.queries.pulling import PullLine
from stock import actions as stock
from studio.models import User


class PullRefused(Exception):
    """The line cannot be ticked, or the list not be issued; the message is a sentence for the page."""


@transaction.atomic
def tick_line(
    *, booking: Booking, item: int, lot: int | None, taken: int | None = None, by: User, at: datetime
) -> PullTick:
    """Say that a line was taken: as many as it asks for, or `taken`. A line that is ticked already stays as it was.

    With `taken` a tick is put right, by whoever counted again. No more than the lot holds is taken out of it.
    """
    booking = _locked(booking)
    line = next((line for line in pull_list(booking).lines if (line.item.pk, line.lot) == (item, lot)), None)
    if line is None:
        raise PullRefused("This line is not on the list any more: the shelf has changed. Look at the list again.")
    if line.tick is not None and line.is_ticked and taken is None:
        return line.tick
    if taken is not None and not 0 <= taken <= line.left:
        raise PullRefused(f"{line.item.label}: taken must be 0 to {line.left:,}, what is there (got {taken:,}).")
    return _tick(booking, line, line.asked if taken is None else taken, by=by, at=at)


@transaction.atomic
def tick_rest(*, booking: Booking, by: User, at: datetime) -> int:
    """Tick every line that is not, each as many as it asks for; how many lines that were."""
    booking = _locked(booking)
    left = [line for line in pull_list(booking).lines if not line.is_ticked]
    for line in left:
        _tick(booking, line, line.asked, by=by, at=at)
    return len(left)


@transaction.atomic
def untick_line(*, booking: Booking, item: int, lot: int | None, by: User, at: datetime) -> None:
    """Say that a line was not taken after all; nothing happens where it is not ticked."""
    booking = _locked(booking)
    PullTick.objects.waiting().filter(booking=booking, item=item, lot=lot).delete()


@transaction.atomic
def issue_materials(*, booking: Booking, by: User, at: datetime) -> int:
    """Write what is ticked to the ledger and settle what the job holds for as much; how many lines were taken.

    Where everything ticked is off the shelf already, or nothing was ticked, nothing is written and 0 is returned. A
    line that was missing can be ticked and issued later. Raises StockRefusal where more was taken than is on hand.
    """
    booking = _locked(booking)
    # Ticks come and go only while the booking is held, so that nothing is ticked between reading and writing.
    ticks = list(PullTick.objects.waiting().filter(booking=booking).order_by("item_id", "pk"))
    takings = [stock.Taking(tick.item_id, tick.lot_id, tick.taken) for tick in ticks if tick.taken]
    if not takings:
        return 0
    stock.issue(booking=booking.pk, takings=takings, by=by, at=at)
    PullTick.objects.filter(pk__in=[tick.pk for tick in ticks]).update(issued_at=at)
    lines = len(takings)
    write_history(booking, f"{lines:,} line{'' if lines == 1 else 's'} taken off the shelf.", at=at, by=by)
    return lines


def _locked(booking: Booking) -> Booking:
    """The booking, held until the transaction ends. Raises PullRefused where it is not going ahead."""
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    if booking.stage != Booking.Stage.BOOKED:
        raise PullRefused(f"Only a booked job is taken off the shelf; this one is {booking.stage}.")
    return booking


def _tick(booking: Booking, line: PullLine, taken: int, *, by: User, at: datetime) -> PullTick:
    waiting = PullTick.objects.waiting().filter(booking=booking, item=line.item, lot=line.lot)
    tick = waiting.first() or PullTick(booking=booking, item=line.item, lot_id=line.lot)
    tick.asked, tick.taken, tick.by, tick.at = line.asked, taken, by, at
    tick.save()
    return tick
