"""Counting the shelf: line by line onto a sheet, and all differences into the ledger at the end, once."""

import contextlib
from datetime import datetime

from django.db import IntegrityError, transaction
from django.db.models import Max

from stock.actions.ledger import check_quantity, lock_items, put_right
from stock.models import CountLine, CountSheet, Item, Movement, ShelfRules
from stock.queries import lots_on_hand, on_hand
from stock.weighing import piece_room, piece_weight
from studio.models import User


class CountRefusal(Exception):
    """Something a count cannot do; the message is a sentence for the page."""


@transaction.atomic
def write_count(
    *, item: Item, counted: int, by: User, at: datetime, weighed_milligrams: int | None = None
) -> CountLine:
    """Put what was counted of an item on the sheet, starting one where none is open; a second count replaces the first.

    What the ledger says at this moment is kept beside it.
    """
    check_quantity("Counted", counted, least=0)
    sheet = _open_sheet(by, at)
    lock_items([item.pk])
    newest = Movement.objects.filter(item=item).aggregate(pk=Max("pk"))["pk"]
    line, _ = CountLine.objects.update_or_create(
        sheet=sheet,
        item=item,
        defaults={
            "counted": counted,
            "expected": on_hand([item.pk])[item.pk],
            "newest_movement": newest or 0,
            "weighed_milligrams": weighed_milligrams,
            "why": "",
            "at": at,
            "by": by,
        },
    )
    return line


@transaction.atomic
def explain_count(*, item: Item, why: str, by: User, at: datetime) -> CountLine:
    """Say why a count differs."""
    sheet = _held_sheet()
    line = None if sheet is None else sheet.lines.filter(item=item).first()
    if line is None:
        raise CountRefusal(f"{item.label} is not on the count any more: it was finished, or taken off.")
    if not why.strip():
        raise CountRefusal("Why must be said (got nothing).")
    line.why = why.strip()
    line.save(update_fields=["why"])
    return line


@transaction.atomic
def take_off_count(*, item: Item, by: User, at: datetime) -> int:
    """Take an item off the sheet again, as if it had not been counted; how many lines that was, 0 or 1."""
    sheet = _held_sheet()
    return 0 if sheet is None else sheet.lines.filter(item=item).delete()[0]


@transaction.atomic
def finish_count(*, sheet: CountSheet, by: User, at: datetime) -> int:
    """Write every line's difference to the ledger as a count, all or none; how many items that was.

    Refused for a sheet somebody has finished, an empty one, a large difference without a reason, an item counted
    again elsewhere since, and one of which more is gone since than was counted.
    """
    sheet = CountSheet.objects.select_for_update(of=("self",)).select_related("finished_by").get(pk=sheet.pk)
    if not sheet.is_open:
        who = sheet.finished_by.shown_name if sheet.finished_by else "Somebody"
        raise CountRefusal(f"{who} has finished this count already. Nothing was written a second time.")
    lines = list(sheet.lines.select_related("item__colour").order_by("item"))
    if not lines:
        raise CountRefusal("Nothing has been counted yet, so there is nothing to finish.")
    most = ShelfRules.objects.current().most_unexplained
    items = lock_items(line.item_id for line in lines)
    counted_since = dict(
        Movement.objects.filter(item__in=items, kind=Movement.Kind.COUNTED)
        .values_list("item_id")
        .annotate(newest=Max("pk"))
        .order_by()
    )
    lots = lots_on_hand(items)
    for line in lines:
        left = sum(lot.left for lot in lots.get(line.item_id, []))
        if line.lacks_reason(most):
            raise CountRefusal(
                f"{line.item.label} differs by {abs(line.difference):,}; more than {most:,} needs a reason."
            )
        if counted_since.get(line.item_id, 0) > line.newest_movement:
            raise CountRefusal(f"{line.item.label} was counted on its own page since: count it again, or take it off.")
        if left + line.difference < 0:
            raise CountRefusal(f"{line.item.label} has only {left:,} left by now: count it again.")
    for line in lines:
        held = lots.get(line.item_id, [])
        put_right(line.item_id, line.difference, held, by=by, at=at, why=line.why or f"count {sheet.pk}")
    sheet.is_open, sheet.finished_at, sheet.finished_by = False, at, by
    sheet.save(update_fields=["is_open", "finished_at", "finished_by"])
    return len(lines)


@transaction.atomic
def drop_count(*, sheet: CountSheet, by: User, at: datetime) -> None:
    """Throw an unfinished sheet away with everything on it."""
    sheet = CountSheet.objects.select_for_update().get(pk=sheet.pk)
    if not sheet.is_open:
        raise CountRefusal("This count is finished: what it wrote stays written.")
    sheet.delete()


@transaction.atomic
def learn_weight(*, item: Item, pieces: int, milligrams: int, by: User, at: datetime) -> Item:
    """Keep what one of an item weighs, from a known number on the scale."""
    check_quantity("Weighed", pieces)
    if milligrams <= 0:
        raise CountRefusal("Weight must be more than nothing (got 0 g).")
    item.piece_milligrams = piece_weight(milligrams, pieces)
    item.save(update_fields=["piece_milligrams"])
    return item


@transaction.atomic
def learn_room(*, item: Item, pieces: int, millilitres: int, by: User, at: datetime) -> Item:
    """Keep how much room one of an item takes, from a known number packed as they travel."""
    check_quantity("Packed", pieces)
    if millilitres <= 0:
        raise CountRefusal("Room must be more than nothing (got 0 l).")
    item.room_millilitres = piece_room(millilitres, pieces)
    item.save(update_fields=["room_millilitres"])
    return item


@transaction.atomic
def change_rules(*, latex_months: int, most_unexplained: int, by: User, at: datetime) -> ShelfRules:
    """Say how long latex is good and how far a count may differ without a reason."""
    rules, _ = ShelfRules.objects.update_or_create(
        pk=1, defaults={"latex_months": latex_months, "most_unexplained": most_unexplained}
    )
    return rules


def _open_sheet(by: User, at: datetime) -> CountSheet:
    """The sheet being filled in, held; two people who start at once share it."""
    while True:
        sheet = _held_sheet()
        if sheet is not None:
            return sheet
        # Where somebody else starts one at this moment, theirs is waited for and looked for again.
        with contextlib.suppress(IntegrityError), transaction.atomic():
            return CountSheet.objects.create(started_at=at, started_by=by)


def _held_sheet() -> CountSheet | None:
    """The open sheet, held first and its lines after: a line written while the count is finished would be lost."""
    return CountSheet.objects.select_for_update(of=("self",)).filter(is_open=True).first()
