"""`manage.py backup`: the whole studio in one file, while people work."""

import argparse
import json
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from studio.backup import Backup, BackupRefused, make_backup

MOST_KEPT = 9_999


def kept(text: str) -> int:
    """A number of backups as it was typed."""
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:9]) <= MOST_KEPT:
        raise argparse.ArgumentTypeError(f"keep must be a whole number from 1 to {MOST_KEPT} (got {text!r}).")
    return int(text)


class Command(BaseCommand):
    """Back the studio up."""

    # Whatever else is wrong with it, a studio can be backed up.
    requires_system_checks = ()

    help = (
        "Back the whole studio up into one file: the database and the keys. People can go on working meanwhile. The "
        "file is named by the time in UTC and read again before it counts, and `manage.py restore` puts it back. It "
        "holds keys and clients' addresses: keep it where nobody else reads it, and a copy on another disk. "
        "Exits with 0 when there is a backup, 1 when there is none, 2 when asked wrongly. "
        "--json prints one object: file, bytes, tables, rows, on_hand (the sum of all movements), keys and removed "
        "(lists)."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Where to, and how many to keep."""
        usual = Path(settings.DATA_DIR) / "backups"
        parser.add_argument("folder", nargs="?", type=Path, default=usual, help="where to put it (default %(default)s)")
        parser.add_argument(
            "--keep", type=kept, default=30, metavar="N", help="delete all but the N newest there (default %(default)s)"
        )
        parser.add_argument("--json", action="store_true", help="print JSON and nothing else")
        # Taken off the line by manage.py before the settings are read; listed here for --help.
        parser.add_argument("--demo", action="store_true", help="back the demo studio up instead of yours")

    def handle(self, *args: Any, **options: Any) -> None:
        """Make it, and say where it is."""
        try:
            made = make_backup(options["folder"], keep=options["keep"], at=timezone.now())
        except BackupRefused as refusal:
            raise CommandError(str(refusal)) from refusal
        if options["json"]:
            self.stdout.write(json.dumps(as_json(made), ensure_ascii=False, indent=2))
            return
        self.stdout.write(
            f"Backed up to {made.path} ({made.size:,} bytes).\n"
            f"{made.rows:,} rows in {made.tables} tables were read again and are the same; "
            f"the movements add up to {made.on_hand:,} on hand."
        )
        self.stdout.write(f"With it: {' and '.join(made.keys)}." if made.keys else "No key is kept in the data folder.")
        if made.removed:
            self.stdout.write(f"Deleted, to keep {options['keep']}: {', '.join(path.name for path in made.removed)}.")


def as_json(made: Backup) -> dict[str, Any]:
    """What was made, as the help describes it."""
    return {
        "file": str(made.path),
        "bytes": made.size,
        "tables": made.tables,
        "rows": made.rows,
        "on_hand": made.on_hand,
        "keys": list(made.keys),
        "removed": [str(path) for path in made.removed],
    }
