"""Counting what became of what a job took along: once, and put right only by further movements."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

from django.db import transaction

from bookings.actions.jobs import write_history
from bookings.lifecycle import check_move
from bookings.models import Booking, JobEarnings, WrapUp, WrapUpFigure, WrapUpLine
from bookings.queries import stands_outdoors, wrap_up_page
from bookings.queries.expected import earnings_of, expected_of, figures_of
from bookings.queries.wrapup import WrapUpRow
from estimating.hours import PART_NAMES
from stock import actions as stock
from stock.models import Item, KitPromise
from studio.models import Studio, User

MOST_MINUTES = 200 * 60
"""Of one part of a job, everybody's together."""


class WrapUpRefused(Exception):
    """The job cannot be wrapped up, or not so; the message is a sentence for the page.

    `item` is the key of the item whose figures are wrong, and `field` the field; None where it is not about one.
    """

    def __init__(self, sentence: str, *, item: int | None = None, field: str | None = None) -> None:
        super().__init__(sentence)
        self.item = item
        self.field = field if item is None else f"home_{item}"


class Counted(NamedTuple):
    """What became of one item: so many used in the job, popped, and brought home."""

    used: int
    popped: int
    home: int


class KitBack(NamedTuple):
    """What became of kit that was out: of one promise so many broken and lost, and what was found, in words."""

    broken: int = 0
    lost: int = 0
    damage: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """How a job went, as whoever was there tells it.

    `hours` are everybody's minutes in each part of the work (a part of `estimating.hours`), None where nobody says;
    they teach where they were `timed`. `kit` is what came back, by the number of its promise; what is not in it is
    still out.
    """

    hours: Mapping[str, int] | None = None
    timed: bool = False
    went: str = WrapUp.Went.WELL
    note: str = ""
    kit: Mapping[int, KitBack] = field(default_factory=dict)
    found_us: str = ""


NOTHING_TOLD = Told()


@transaction.atomic
def wrap_up(
    *,
    booking: Booking,
    counted: Mapping[int, Counted],
    told: Told = NOTHING_TOLD,
    stage_seen: str = "",
    by: User,
    at: datetime,
) -> WrapUp:
    """Write down what became of all a job took, put what came home back, free what is still held; the job is done.

    `counted` has every item that was taken, by key. `stage_seen` is where the job stood when it was counted, as far as
    that is known: of one that was called off other figures are likely. What the job came to is kept beside what was
    expected of it, and teaches the next estimate; what it earned is kept too. A cancelled job is counted likewise and
    stays cancelled, and teaches nothing. Raises WrapUpRefused where it was done already or has changed, where more is
    counted of an item than was taken, or for hours that cannot be; KitRefusal for more kit broken or lost than was out.
    """
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    earlier = WrapUp.objects.filter(booking=booking).select_related("by").first()
    if earlier is not None:
        raise WrapUpRefused(f"{earlier.by.shown_name} has wrapped this job up already.")
    if booking.stage not in (Booking.Stage.BOOKED, Booking.Stage.CANCELLED):
        raise WrapUpRefused(f"Only a booked job is wrapped up; this one is {booking.stage}.")
    if stage_seen and stage_seen != booking.stage:
        raise WrapUpRefused(
            f"The job was {booking.stage} after you opened this. Nothing is put back yet: look at the figures again, "
            "and at what comes home."
        )
    page = wrap_up_page(booking)
    if page.ticked:
        raise WrapUpRefused(
            f"{page.ticked:,} line{' is' if page.ticked == 1 else 's are'} ticked on the pull list and not off the "
            "shelf yet. Take them off the shelf there, or untick them."
        )
    for row in page.rows:
        _check(row, counted.get(row.item.pk))
    _check_hours(told.hours)
    made = WrapUp(booking=booking, at=at, by=by, outdoors=stands_outdoors(booking))
    made.went, made.note, made.timed = told.went, told.note.strip(), told.timed and told.hours is not None
    made.save()
    lines = [
        WrapUpLine(wrap_up=made, item=row.item, needed=row.needed, taken=row.taken, **counted[row.item.pk]._asdict())
        for row in page.rows
    ]
    WrapUpLine.objects.bulk_create(lines)
    if booking.stage == Booking.Stage.BOOKED:
        _keep_what_it_came_to(made, booking, lines, told.hours)
    _bring_kit_back(booking, told.kit, by=by, at=at)
    if told.found_us and not booking.client.found_us and booking.client.erased_at is None:
        booking.client.found_us = told.found_us
        booking.client.save(update_fields=["found_us"])
    stock.bring_home(
        booking=booking.pk,
        home={line.item_id: line.home for line in lines},
        by=by,
        at=at,
        why="brought home",
    )
    stock.release(booking=booking.pk, by=by, at=at)
    if booking.stage == Booking.Stage.BOOKED:
        check_move(booking.stage, Booking.Stage.DONE)
        booking.stage = Booking.Stage.DONE
        booking.save(update_fields=["stage"])
    write_history(booking, _told(booking, lines), at=at, by=by)
    return made


@transaction.atomic
def correct_home(
    *, booking: Booking, item: Item, came_home: int = 0, not_home: int = 0, why: str, by: User, at: datetime
) -> None:
    """After the wrap-up: so many more came home, or are not there after all. The wrap-up stays; a movement is added.

    Raises StockRefusal where more would come home than was taken, or more is missing than is on hand.
    """
    booking = Booking.objects.select_for_update().get(pk=booking.pk)
    if not WrapUp.objects.filter(booking=booking).exists():
        raise WrapUpRefused("This job is not wrapped up yet: count it first.")
    if came_home:
        stock.bring_back(item=item, quantity=came_home, booking=booking.pk, why=why, by=by, at=at)
        write_history(booking, f"{came_home:,} more {item.label} came home. {why}".strip(), at=at, by=by)
    if not_home:
        stock.use(item=item, quantity=not_home, booking=booking.pk, why=why, by=by, at=at)
        write_history(booking, f"{not_home:,} {item.label} did not come home. {why}".strip(), at=at, by=by)


def _keep_what_it_came_to(
    made: WrapUp, booking: Booking, lines: list[WrapUpLine], hours: Mapping[str, int] | None
) -> None:
    """What was expected beside what it came to, and what was earned, where the hours are known."""
    expected = expected_of(booking, currency=Studio.objects.current().currency)
    if expected is None:
        return
    WrapUpFigure.objects.bulk_create(figures_of(made, expected, lines, hours))
    if hours is None:
        return
    earned = earnings_of(made, booking, expected, lines, hours)
    if earned is not None:
        JobEarnings.objects.bulk_create([earned])


def _bring_kit_back(booking: Booking, kit: Mapping[int, KitBack], *, by: User, at: datetime) -> None:
    """What came back is home; what was promised and never went out is let go."""
    own = KitPromise.objects.out().filter(booking=booking.pk, pk__in=kit).order_by("kit_id")
    for key in list(own.values_list("pk", flat=True)):
        stock.bring_kit_back(promises=[key], by=by, at=at, **kit[key]._asdict())
    stock.let_kit_go(booking=booking.pk, by=by, at=at)


def _check_hours(hours: Mapping[str, int] | None) -> None:
    """Refuse hours nobody can have worked."""
    if not hours:
        return
    for part, minutes in hours.items():
        if part not in PART_NAMES or not 0 <= minutes <= MOST_MINUTES:
            name = PART_NAMES.get(part, part)
            raise WrapUpRefused(
                f"{name} must take from 0 to {MOST_MINUTES // 60} hours (got {minutes / 60:,.2f}).",
                field=f"hours_{part}",
            )
    if not sum(hours.values()):
        raise WrapUpRefused("The hours must be above 0 in all (got 0:00).", field=f"hours_{next(iter(hours))}")


def _check(row: WrapUpRow, counted: Counted | None) -> None:
    """Refuse figures that cannot be true of a row."""
    label = row.item.label
    if counted is None:
        raise WrapUpRefused(f"{label} was taken since you opened this: count it too.", item=row.item.pk)
    for word, figure in zip(("used", row.item.lost_word, "brought home"), counted, strict=True):
        if figure < 0:
            raise WrapUpRefused(f"{label}: {word} must be 0 or more (got {figure:,}).", item=row.item.pk)
    if sum(counted) > row.taken:
        raise WrapUpRefused(
            f"{label}: used, {row.item.lost_word} and brought home must be at most {row.taken:,} together, "
            f"what was taken (got {sum(counted):,}).",
            item=row.item.pk,
        )


def _told(booking: Booking, lines: list[WrapUpLine]) -> str:
    """What the job's story says of it."""
    if booking.stage == Booking.Stage.CANCELLED:
        return "What was taken for it is brought home."
    popped = sum(line.popped for line in lines if line.item.lost_word == "popped")
    lost = [line for line in lines if line.lost]
    said = f"Wrapped up. {popped:,} popped." if popped else "Wrapped up."
    if lost:
        said += f" Not accounted for: {', '.join(f'{line.lost:,} {line.item.label}' for line in lost[:4])}."
    return said
