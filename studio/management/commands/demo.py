"""`manage.py demo`: a whole invented studio, in a folder of its own."""

import sqlite3
from argparse import ArgumentParser
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.utils import timezone

from studio.demo import CREW, OWNER, PASSWORD, make_demo
from studio.folders import alone_in
from studio.serving import serve
from studio.setting_up import is_set_up

STALE_AFTER_DAYS = 7


class Command(BaseCommand):
    help = (
        "Make the demo studio, Tern & Tide Balloons of Port Alder, if it is not there, and serve it. "
        "It has its own folder and never touches your studio."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        """How to serve it, or not."""
        parser.add_argument("--no-serve", action="store_true", help="only make it")
        parser.add_argument("--fresh", action="store_true", help="put the old demo aside and make a new one")
        parser.add_argument("--host", default="127.0.0.1", help="where to answer (default: %(default)s)")
        parser.add_argument("--port", type=int, default=8000, help="at which port (default: %(default)s)")

    def handle(self, *args: Any, **options: Any) -> None:
        """Make it where it is missing or its days have gone by, say how to look, and serve."""
        if not settings.DEMO:
            raise CommandError("Run it as `manage.py demo`: only then is the demo's own folder used.")
        now = timezone.now()
        today = now.astimezone(ZoneInfo("America/New_York")).date()
        where = f"http://{options['host']}:{options['port']}"
        # Whoever starts a second one meanwhile waits, and finds it made.
        with alone_in(settings.DATA_DIR):
            self._put_aside(today, anyway=options["fresh"])
            call_command("migrate", interactive=False, verbosity=0)
            if not is_set_up():
                self.stdout.write("Making the demo studio: five jobs, a shelf, two suppliers…")
                make_demo(today=today, at=now, base=where)
                _made_on().write_text(today.isoformat())
        self.stdout.write(
            f"Tern & Tide Balloons, Port Alder\n"
            f"  Look at     {where}/\n"
            f"  Sign in as  {OWNER} (owner) or {CREW} (crew), password {PASSWORD}\n"
            f"  The check   .venv/bin/python manage.py cover --demo"
        )
        if not options["no_serve"]:
            serve(options["host"], options["port"])

    def _put_aside(self, today: date, *, anyway: bool) -> None:
        """Rename a demo whose days have gone by, so that nothing in it is lost and the new one is near today."""
        database = Path(settings.DATA_DIR) / "garlandry.sqlite3"
        if not database.exists():
            return
        made = date.fromisoformat(_made_on().read_text()) if _made_on().exists() else None
        stale = made is None or (today - made).days > STALE_AFTER_DAYS
        if not (stale or anyway):
            return
        # What is renamed under a server stays open in some of its threads while others open the new one.
        connection.close()
        if not is_let_go(database):
            raise CommandError(
                f"Another demo is being served from {database.parent}: stop it first, "
                "or name another folder in GARLANDRY_DEMO_DATA."
            )
        kept = database.with_name(f"demo-of-{made or 'unknown-day'}-{timezone.now():%H%M%S}.sqlite3")
        database.rename(kept)
        for leftover in ("-wal", "-shm"):
            database.with_name(database.name + leftover).unlink(missing_ok=True)
        self.stdout.write(f"The demo was made {made or 'only in part'}; it is kept as {kept.name}.")


def is_let_go(database: Path) -> bool:
    """Whether nobody has an SQLite file open; all that was committed is then in that one file."""
    with closing(sqlite3.connect(database, timeout=1, isolation_level=None)) as ours:
        try:
            ours.execute("PRAGMA locking_mode=EXCLUSIVE")
            ours.execute("PRAGMA journal_mode=DELETE")
            ours.execute("BEGIN EXCLUSIVE")
            ours.execute("ROLLBACK")
        except sqlite3.OperationalError as error:
            if "locked" in str(error):
                return False
            raise
    return True


def _made_on() -> Path:
    """Where the demo says which day it was made on."""
    return Path(settings.DATA_DIR) / "made-on"
