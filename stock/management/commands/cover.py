"""The weekly check in a terminal, or for a script."""

import argparse
import json
from datetime import date
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from stock.queries import MOST_WEEKS, Board, BoardRow, cover_board
from stock.queries.kit import KitClash, kit_clashes
from studio.models import Studio


def weeks(text: str) -> int:
    """A number of weeks as it was typed."""
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:9]) <= MOST_WEEKS:
        raise argparse.ArgumentTypeError(f"weeks must be a whole number from 1 to {MOST_WEEKS} (got {text!r}).")
    return int(text)


class Command(BaseCommand):
    """Does the shelf cover the booked jobs?"""

    help = (
        "Say which items run short of the booked jobs, whom that hits, and by when to order; and which kit is promised "
        "too often. Exits with 1 when something runs short or is, 0 when everything is covered, 2 when asked wrongly. "
        "--json prints one object: today, from, until (days), weeks, with_open, items, covered (counts), and short: "
        "a list of item, label, on_hand, short_on, short_by, order_by, too_late, planned, weekly (the least in each "
        "week), bookings (booking, name, day, quantity), late (label, day, quantity) and buy (supplier, packs, "
        "pack_size, quantity, order_by, or null); and kit: a list of kit, name, from, until, short_by, firm, sentence "
        "and bookings (booking, name, quantity). No prices are told."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """What can be asked for."""
        parser.add_argument("--with-open", action="store_true", help="count open quotes too, not booked jobs only")
        parser.add_argument("--weeks", type=weeks, default=8, metavar="N", help="how far to look ahead (default 8)")
        parser.add_argument("--json", action="store_true", help="print JSON and nothing else")
        # Taken off the line by manage.py before the settings are read; listed here for --help.
        parser.add_argument("--demo", action="store_true", help="look at the demo studio instead of yours")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the check; end with 1 where something runs short."""
        today = timezone.localdate(timezone=Studio.objects.current().zone)
        board = cover_board(today, weeks=options["weeks"], with_open=options["with_open"])
        clashes = kit_clashes(today, until=board.until, with_open=board.with_open)
        if options["json"]:
            self.stdout.write(json.dumps(as_json(board, clashes), ensure_ascii=False, indent=2))
        else:
            for sentence in [*(clash.sentence for clash in clashes), *sentences(board)]:
                self.stdout.write(sentence)
        if board.short_rows or clashes:
            raise SystemExit(1)


def sentences(board: Board) -> list[str]:
    """The check as lines of plain text: each short item, then one line on the rest."""
    lines = [line for row in board.short_rows for line in row.told]
    counted = "booked jobs and open quotes" if board.with_open else "booked jobs"
    span = f"over {board.weeks} week{'' if board.weeks == 1 else 's'}"
    rest, short = board.covered_count, len(board.short_rows)
    if not board.rows:
        return ["Nothing is listed on the shelf yet."]
    if not short:
        return [f"The shelf covers the {counted} {span}: {_items(rest)} checked."]
    if not rest:
        return [*lines, f"Nothing else is listed; {counted} were checked {span}."]
    return [*lines, f"The other {_items(rest)} cover{'s' if rest == 1 else ''} the {counted} {span}."]


def _items(count: int) -> str:
    return f"{count:,} item{'' if count == 1 else 's'}"


def as_json(board: Board, clashes: list[KitClash]) -> dict[str, Any]:
    """The check as the help describes it; days are written 2026-06-01."""
    return {
        "today": board.today.isoformat(),
        "from": board.first_monday.isoformat(),
        "until": board.until.isoformat(),
        "weeks": board.weeks,
        "with_open": board.with_open,
        "items": len(board.rows),
        "covered": board.covered_count,
        "short": [_row_as_json(row) for row in board.short_rows],
        "kit": [_clash_as_json(clash) for clash in clashes],
    }


def _clash_as_json(clash: KitClash) -> dict[str, Any]:
    return {
        "kit": clash.kit.pk,
        "name": clash.kit.name,
        "from": _iso(clash.first),
        "until": _iso(clash.last),
        "short_by": clash.short_by,
        "firm": clash.firm,
        "sentence": clash.sentence,
        "bookings": [
            {"booking": gone.period.booking, "name": gone.period.name, "quantity": gone.short} for gone in clash.without
        ],
    }


def _row_as_json(row: BoardRow) -> dict[str, Any]:
    found, buy = row.cover, row.buy
    return {
        "item": row.item.pk,
        "label": row.item.label,
        "on_hand": found.on_hand,
        "short_on": _iso(row.short_on),
        "short_by": found.short_by,
        "order_by": _iso(found.order_by),
        "too_late": found.too_late,
        "planned": row.planned,
        "weekly": list(row.weekly),
        "bookings": [
            {"booking": hit.booking, "name": hit.name, "day": _iso(hit.day), "quantity": hit.short} for hit in found.hit
        ],
        "late": [
            {"label": arrival.label, "day": _iso(arrival.day), "quantity": arrival.quantity} for arrival in found.late
        ],
        "buy": buy
        and {
            "supplier": buy.offer.supplier.name,
            "packs": buy.packs,
            "pack_size": buy.offer.pack_size,
            "quantity": buy.quantity,
            "order_by": _iso(buy.order_by),
        },
    }


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
