"""`manage.py restore`: put a backup back."""

import json
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from studio.restoring import Restored, RestoreRefused, restore


class Command(BaseCommand):
    """Put a backup back."""

    requires_system_checks = ()

    help = (
        "Put a backup made by `manage.py backup` back. Stop the server first. Every byte is checked before anything is "
        "touched, and an older backup is brought up to date. Where there is a studio already nothing is done, unless "
        "--replace is given: what is there is then kept aside under another name. "
        "Exits with 0 when it is restored, 1 when nothing was done, 2 when asked wrongly. "
        "--json prints one object: made_at, tables, rows, on_hand (the sum of all movements), migrated, keys and "
        "kept_aside (lists), and link_key_differs."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Which file, and whether it may take another's place."""
        parser.add_argument("file", type=Path, help="the backup, garlandry-….tar")
        parser.add_argument("--replace", action="store_true", help="put it in the place of the studio that is there")
        parser.add_argument("--json", action="store_true", help="print JSON and nothing else")
        # Taken off the line by manage.py before the settings are read; listed here for --help.
        parser.add_argument("--demo", action="store_true", help="restore the demo studio instead of yours")

    def handle(self, *args: Any, **options: Any) -> None:
        """Restore it, and say what there is now."""
        try:
            found = restore(options["file"], replace=options["replace"], at=timezone.now())
        except RestoreRefused as refusal:
            raise CommandError(str(refusal)) from refusal
        if options["json"]:
            self.stdout.write(json.dumps(as_json(found), ensure_ascii=False, indent=2))
        else:
            self.stdout.write("\n".join(sentences(found)))


def sentences(found: Restored) -> list[str]:
    """What was put back, and what else there is to know."""
    lines = [
        f"Restored the backup of {found.made_at:%Y-%m-%d %H:%M} UTC: {found.rows:,} rows in {found.tables} tables, "
        f"every one as it was backed up; {found.on_hand:,} on hand."
    ]
    if found.migrated:
        lines.append(f"It was of an older Garlandry and was brought up to date: {', '.join(found.migrated)}.")
    if found.keys:
        lines.append(f"With it: {' and '.join(found.keys)}.")
    lines += [f"What was there is kept as {path}." for path in found.kept_aside]
    if found.link_key_differs:
        lines.append(
            "The key of quote links in force is not the one this backup was made with: links already sent stay closed "
            "until that key is back (link.key in the data folder, or GARLANDRY_LINK_KEY)."
        )
    return lines


def as_json(found: Restored) -> dict[str, Any]:
    """The same, as the help describes it."""
    return {
        "made_at": found.made_at.isoformat(),
        "tables": found.tables,
        "rows": found.rows,
        "on_hand": found.on_hand,
        "migrated": list(found.migrated),
        "keys": list(found.keys),
        "kept_aside": [str(path) for path in found.kept_aside],
        "link_key_differs": found.link_key_differs,
    }
