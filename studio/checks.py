"""What must hold before anything is kept here."""

import sqlite3
from typing import Any

from django.core.checks import CheckMessage, Error, Tags, register
from django.db import connection

from studio.sqlite import SAFE_VERSION, is_safe


def _journal_mode(options: dict[str, Any]) -> str:
    """The journal mode a connection is opened with, as its start-up commands say: "wal" or another."""
    command = str(options.get("init_command", "")).lower().replace(" ", "")
    _, found, rest = command.partition("pragmajournal_mode=")
    return rest.partition(";")[0] if found else "delete"


@register(Tags.database)
def sqlite_keeps_what_it_is_given(
    app_configs: object, databases: object = None, **kwargs: object
) -> list[CheckMessage]:
    """An SQLite that can corrupt the file in write-ahead mode is refused; run with every database check."""
    if connection.vendor != "sqlite" or _journal_mode(connection.settings_dict["OPTIONS"]) != "wal":
        return []
    if is_safe(sqlite3.sqlite_version_info):
        return []
    wanted = ".".join(str(part) for part in SAFE_VERSION)
    return [
        Error(
            f"SQLite {sqlite3.sqlite_version} can corrupt the database when two connections write at once.",
            hint=f"Run bash studio/install, or use a Python with SQLite {wanted} or newer.",
            id="studio.E001",
        )
    ]
