"""What every table of a file of SQLite adds up to: how many rows, and the SHA-256 of all of them in their order."""

import hashlib
from collections.abc import Iterator
from contextlib import closing
from typing import Any

AT_ONCE = 2_000
_FEW = 20
"""Rows held at once of a table with photos or papers in it."""

Sums = dict[str, dict[str, Any]]


def table_sums(connection: Any) -> Sums:
    """Table name to its `rows` and their `sha256`, for every table; `connection` is one of the sqlite3 module.

    Whole numbers, decimals, text and bytes are kept apart, so that what changes its type counts as changed. Under
    `sqlite_master` are the tables, indexes and triggers themselves.
    """
    return {name: _sum_of(connection, name) for name in _tables(connection)} | {"sqlite_master": _made_of(connection)}


def faults(connection: Any) -> list[str]:
    """What is wrong with the file by SQLite's own full check, and which keys lead nowhere; nothing where all is well.

    At most twenty of either.
    """
    with closing(connection.cursor()) as cursor:
        found = [str(row[0]) for row in cursor.execute("PRAGMA integrity_check(20)")]
        found = [] if found == ["ok"] else found
        lost = [
            f"{row[0]} names a row of {row[2]} that is not there" for row in cursor.execute("PRAGMA foreign_key_check")
        ]
    return found + lost[:20]


def _tables(connection: Any) -> list[str]:
    with closing(connection.cursor()) as cursor:
        rows = cursor.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND substr(name, 1, 11) <> 'sqlite_stat' ORDER BY name"
        ).fetchall()
    return [str(row[0]) for row in rows]


def _sum_of(connection: Any, table: str) -> dict[str, Any]:
    total, rows = hashlib.sha256(), 0
    quoted = '"' + table.replace('"', '""') + '"'
    with closing(connection.cursor()) as cursor:
        columns = cursor.execute(f"PRAGMA table_info({quoted})").fetchall()
        key = ", ".join(f"{place + 1}" for place, column in enumerate(columns) if column[5]) or "rowid"
        is_heavy = any(str(column[2]).upper() == "BLOB" for column in columns)
        cursor.execute(f"SELECT * FROM {quoted} ORDER BY {key}")
        for some in _some_at_a_time(cursor, _FEW if is_heavy else AT_ONCE):
            rows += len(some)
            total.update(repr([_digested(row) for row in some] if is_heavy else some).encode())
    return {"rows": rows, "sha256": total.hexdigest()}


def _made_of(connection: Any) -> dict[str, Any]:
    with closing(connection.cursor()) as cursor:
        rows = cursor.execute("SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY type, name").fetchall()
    return {"rows": len(rows), "sha256": hashlib.sha256(repr(rows).encode()).hexdigest()}


def _some_at_a_time(cursor: Any, count: int) -> Iterator[list[tuple[Any, ...]]]:
    while some := cursor.fetchmany(count):
        yield some


def _digested(row: tuple[Any, ...]) -> tuple[Any, ...]:
    """Bytes are long, and written out four times as long."""
    return tuple(hashlib.sha256(value).digest() if isinstance(value, bytes) else value for value in row)
