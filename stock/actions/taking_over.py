"""Taking over a spreadsheet of items, colours, suppliers, offers or kit: all of it or nothing, and once."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction
from django.db.models import Max, Model

from stock.actions.kit import lock_kit
from stock.actions.ledger import differences, lock_items
from stock.actions.shelf import usual_unit
from stock.models import Colour, Item, Kit, KitMovement, Movement, Spreadsheet
from stock.queries import DryRun, dry_run, lots_on_hand
from studio.models import User

_AT_A_TIME = 500
_KEPT = ("unit", "keep_back", "place", "best_before_months", "piece_milligrams", "room_millilitres", "barcode")


class SpreadsheetRefusal(Exception):
    """A spreadsheet that cannot be taken over; the message is a sentence for the page."""


@transaction.atomic
def send_in(*, name: str, rows: Sequence[Sequence[str]], by: User, at: datetime) -> Spreadsheet:
    """Keep a spreadsheet to be looked over; earlier ones of the same person that were not taken over are forgotten."""
    Spreadsheet.objects.filter(sent_by=by, taken_over_at__isnull=True).delete()
    kept = [list(row) for row in rows]
    return Spreadsheet.objects.create(name=name[:120] or "spreadsheet", rows=kept, sent_at=at, sent_by=by)


@transaction.atomic
def take_over(*, spreadsheet: Spreadsheet, by: User, at: datetime) -> str:
    """Do everything the spreadsheet says, or nothing where a cell is wrong by now; what was done, in words.

    Twice is once: a second time answers with what the first did.
    """
    sheet = Spreadsheet.objects.select_for_update(of=("self",)).get(pk=spreadsheet.pk)
    if sheet.taken_over_at is not None:
        return sheet.said
    # Every balance is about to be read: nothing may move until this is done.
    lock_items(None)
    lock_kit(Kit.objects.values_list("pk", flat=True))
    found = dry_run(sheet.rows)
    if found.faults:
        many = f"{len(found.faults):,} cells are" if len(found.faults) > 1 else "A cell is"
        raise SpreadsheetRefusal(f"{many} wrong, so nothing was taken over. {found.faults[0]}")
    _put_records(found)
    _put_colours(found)
    _put_items(found)
    _put_counts(found, by=by, at=at, why=f"spreadsheet {sheet.pk}")
    _put_kit(found, by=by, at=at, why=f"spreadsheet {sheet.pk}")
    sheet.taken_over_at = at
    sheet.said = f"{found.new:,} new, {found.changed:,} changed, {found.counted:,} counted."
    if found.table != "items":
        counted = f", {found.counted:,} counted" if found.table == "kit" else ""
        sheet.said = f"{found.table.capitalize()}: {found.new:,} new, {found.changed:,} changed{counted}."
    # The rows have done their work; what they did is in the ledger.
    sheet.rows = []
    sheet.save(update_fields=["taken_over_at", "said", "rows"])
    return sheet.said


def _put_records(found: DryRun) -> None:
    """Colours, suppliers, offers or kit: write what is new and what is kept differently."""
    if not found.records:
        return
    model: type[Model] = type(found.records[0].record)
    changed = [row for row in found.records if row.changed and not row.is_new]
    fields = sorted({name for row in changed for name in row.changed})
    if changed:
        model._default_manager.bulk_update([row.record for row in changed], fields, batch_size=_AT_A_TIME)
    new = [row.record for row in found.records if row.is_new]
    model._default_manager.bulk_create(new, batch_size=_AT_A_TIME)


def _put_colours(found: DryRun) -> None:
    """List the new colours, and give every new item the key of its colour."""
    last = Colour.objects.aggregate(last=Max("position"))["last"]
    position = -1 if last is None else last
    for colour in found.new_colours.values():
        position += 1
        colour.position = position
        colour.save()
    by_key = {(colour.name.casefold(), colour.finish, colour.form): colour for colour in Colour.objects.all()}
    for row in found.planned:
        if row.is_new and row.colour is not None:
            row.item.colour = by_key[row.colour]


def _put_items(found: DryRun) -> None:
    for row in found.planned:
        if row.is_new and "unit" not in row.changed:
            row.item.unit = usual_unit(row.item.sort)
    changed = [row.item for row in found.planned if row.changed and not row.is_new]
    Item.objects.bulk_update(changed, _KEPT, batch_size=_AT_A_TIME)
    Item.objects.bulk_create([row.item for row in found.planned if row.is_new], batch_size=_AT_A_TIME)


def _put_counts(found: DryRun, *, by: User, at: datetime, why: str) -> None:
    counted = [row for row in found.planned if row.difference is not None]
    lots = lots_on_hand()
    Movement.objects.bulk_create(
        [
            movement
            for row in counted
            for movement in differences(
                row.item.pk, row.difference or 0, lots.get(row.item.pk, []), by=by, at=at, why=why
            )
        ],
        batch_size=_AT_A_TIME,
    )


def _put_kit(found: DryRun, *, by: User, at: datetime, why: str) -> None:
    """How many are owned of kit, and what is retired or taken up again."""
    rows = [(row, row.record) for row in found.records if isinstance(row.record, Kit)]
    retiring = []
    for row, kit in rows:
        if row.retires is not None:
            kit.retired_at = at if row.retires else None
            retiring.append(kit)
    Kit.objects.bulk_update(retiring, ["retired_at"], batch_size=_AT_A_TIME)
    KitMovement.objects.bulk_create(
        [
            KitMovement(
                kit=kit,
                kind=KitMovement.Kind.GOT if row.is_new else KitMovement.Kind.COUNTED,
                quantity=row.difference,
                at=at,
                by=by,
                why=why,
            )
            for row, kit in rows
            if row.difference is not None
        ],
        batch_size=_AT_A_TIME,
    )
