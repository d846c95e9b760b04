"""Writes `<day>.sql`: the schema as it is on that day, filled, as text that sqlite3 reads back.

How a release is kept, so that every later migration is tried on it:

    python tests/upgrading/write_released.py 2026-11-25

The rows are the demo's, made on that day. Pictures and papers are cut to their first bytes, and long layouts emptied:
what is in them changes no migration. Nothing of a real studio is in it. A file that was written is never written again:
it is what was released.
"""

import os
import re
import sqlite3
import sqlite3.dump  # Before another SQLite takes the module's place: reading a file out needs it.
import sys
import tempfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

FOLDER = Path(__file__).parent
LONGEST_BYTES = 64
LONG_JSON = 600
UNKEPT = ("django_session",)


def main(day: str) -> None:
    """Make the demo in a folder that is thrown away, and write down what is in it."""
    target = FOLDER / f"{day}.sql"
    if target.exists():
        raise SystemExit(f"{target.name} is there already: what was released stays as it was.")
    at = datetime.fromisoformat(f"{day}T12:00:00").replace(tzinfo=UTC)
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {"GARLANDRY_DATA": folder, "DJANGO_SETTINGS_MODULE": "studio.settings"}
        sys.path.insert(0, str(FOLDER.parents[1]))
        import django

        django.setup()
        from django.conf import settings
        from django.core.management import call_command

        from studio.demo import make_demo

        call_command("migrate", verbosity=0)
        make_demo(today=at.date(), at=at)
        with closing(sqlite3.connect(settings.DATABASES["default"]["NAME"])) as file:
            target.write_text(in_text(file))


def in_text(file: sqlite3.Connection) -> str:
    """Every statement that makes the database again, one a line where it is a row."""
    kept = []
    for statement in file.iterdump():
        if any(statement.startswith(f'INSERT INTO "{table}"') for table in UNKEPT):
            continue
        short = re.sub(rf"X'([0-9A-F]{{{2 * LONGEST_BYTES}}})[0-9A-F]*'", r"X'\1'", statement)
        kept.append(re.sub(r"'([{\[](?:[^']|'')*)'", _short_json, short) if "INSERT" in short[:6] else short)
    return "\n".join(kept) + "\n"


def _short_json(found: re.Match[str]) -> str:
    """A long layout becomes an empty one."""
    text = found.group(1)
    return found.group(0) if len(text) <= LONG_JSON else ("'[]'" if text.startswith("[") else "'{}'")


if __name__ == "__main__":
    main(sys.argv[1])
