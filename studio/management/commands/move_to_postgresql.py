"""`manage.py move_to_postgresql`: the books, from the file in the data folder to the PostgreSQL in DATABASE_URL."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection, connections

from studio.database import sqlite_in
from studio.moving import MoveRefused, is_empty, move

SOURCE = "file"


class Command(BaseCommand):
    help = (
        "Move the studio from the SQLite file in the data folder into the empty PostgreSQL that DATABASE_URL names. "
        "Every table is compared afterwards, row by row. All or nothing: the file stays where and as it is. "
        "Stop the server first, and start it with the same DATABASE_URL afterwards."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Where the file is, if it is not where it always is."""
        usual = Path(settings.DATA_DIR) / settings.SQLITE_FILE
        parser.add_argument("--from", dest="source", type=Path, default=usual, help="the file (default %(default)s)")

    def handle(self, *args: Any, **options: Any) -> None:
        """Check both ends, move, and say what was moved."""
        source: Path = options["source"]
        if connection.vendor != "postgresql":
            raise CommandError("DATABASE_URL must name the PostgreSQL to move to (it names none).")
        if not source.is_file():
            raise CommandError(f"There is no studio to move: no file at {source}.")
        if not is_empty("default"):
            raise CommandError("The PostgreSQL in DATABASE_URL must be empty (there are rows of a studio in it).")
        connections.settings[SOURCE] = connections.configure_settings({"default": {}, SOURCE: sqlite_in(source)})[
            SOURCE
        ]
        try:
            # Both at the newest version; on the file it is what the next start would do.
            for database in (SOURCE, "default"):
                call_command("migrate", database=database, interactive=False, verbosity=0)
            moved = move(SOURCE, "default")
        except MoveRefused as refusal:
            raise CommandError(str(refusal)) from refusal
        finally:
            connections[SOURCE].close()
            del connections[SOURCE], connections.settings[SOURCE]
        width = max(len(table.table) for table in moved)
        for table in moved:
            self.stdout.write(f"{table.table:{width}}  {table.rows:>9,} rows  {table.sha256[:16]}  the same on both")
        self.stdout.write(
            f"Moved {sum(table.rows for table in moved):,} rows in {len(moved)} tables; every one came out the same.\n"
            f"Keep DATABASE_URL set from now on, keep the keys, and keep {source.name} until you are sure."
        )
