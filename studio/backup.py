"""A backup of the whole studio in one file, made while people work, and read again before it counts as one."""

import hashlib
import hmac
import os
import platform
import shutil
import sqlite3
import subprocess
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import django
from django.conf import settings
from django.db import connection, transaction
from django.db.migrations.recorder import MigrationRecorder

from stock.models import Movement
from studio.archive import (
    FORMAT,
    KEYS,
    NAME,
    POSTGRESQL,
    SQLITE,
    ArchiveRefused,
    flush_folder,
    name_of,
    read_archive,
    write_archive,
)
from studio.folders import alone_in
from studio.moving import kept_models, summed
from studio.table_sums import faults, table_sums
from studio.workplace import workplace

PART = ".part-"
"""How what is not a backup yet begins; whatever is left of one that was broken off is cleared away by the next."""


class BackupRefused(Exception):
    """No backup was made; the message is a sentence. Nothing is left of it."""


@dataclass(frozen=True)
class Backup:
    """A backup that was read again and found whole.

    `on_hand` is the sum of all movements, `removed` are older ones that were deleted to keep as many as asked for.
    """

    path: Path
    size: int
    tables: int
    rows: int
    on_hand: int
    keys: tuple[str, ...]
    removed: tuple[Path, ...]


def make_backup(folder: Path, *, keep: int, at: datetime) -> Backup:
    """Back the studio up into a file in `folder`, and keep no more than the `keep` newest there.

    The file has its name only once it is whole and on the disk. Raises BackupRefused.
    """
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with alone_in(folder), workplace(folder, prefix=PART) as work:
            found = _copied(work)
            manifest = _manifest(found, at)
            files = found.files | _keys()
            part = work / "whole.tar"
            write_archive(part, manifest=manifest, files=files)
            read_archive(part)
            path = _free_name(folder, at)
            part.rename(path)
            flush_folder(folder)
            removed = _remove_older(folder, keep=keep, newest=path)
    except ArchiveRefused as refusal:
        raise BackupRefused(f"What was written could not be read again: {refusal}") from refusal
    except (OSError, sqlite3.Error) as error:
        raise BackupRefused(f"No backup was made in {folder}: {_why(error)}.") from error
    return Backup(
        path=path,
        size=path.stat().st_size,
        tables=len(found.tables),
        rows=sum(table["rows"] for table in found.tables.values()),
        on_hand=found.on_hand,
        keys=tuple(name for name in files if name in KEYS),
        removed=removed,
    )


def link_key_mark(key: str) -> str:
    """What a key of quote links is told by; the key cannot be found from it."""
    return hmac.new(key.encode(), b"which key of links a backup belongs to", hashlib.sha256).hexdigest()[:16]


@dataclass(frozen=True)
class _Copied:
    """The database as a file, and what is in it."""

    files: dict[str, Path]
    tables: dict[str, dict[str, Any]]
    on_hand: int
    made_with: str


def _copied(work: Path) -> _Copied:
    by_vendor: dict[str, Callable[[Path], _Copied]] = {"sqlite": _copy_sqlite, "postgresql": _copy_postgresql}
    return by_vendor[connection.vendor](work)


def _copy_sqlite(work: Path) -> _Copied:
    """Copy the file as it stands at one moment, others writing on; and compare the copy with that moment."""
    source_path, target_path = Path(connection.settings_dict["NAME"]), work / SQLITE
    if not source_path.is_file():
        raise BackupRefused(f"There is no studio to back up: no file at {source_path}.")
    os.close(os.open(target_path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    address = f"{source_path.absolute().as_uri()}?mode=ro"
    with (
        closing(sqlite3.connect(address, uri=True, timeout=20, isolation_level=None)) as source,
        closing(sqlite3.connect(target_path, isolation_level=None)) as target,
    ):
        # What is read from here on is one moment, for the copy and for the sums.
        source.execute("BEGIN")
        before = source.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
        if not before:
            raise BackupRefused(f"There is no studio to back up: {source_path} is empty.")
        target.execute("PRAGMA synchronous=OFF")
        source.backup(target)
        # A copy has no log beside it, so it must not look for one.
        target.execute("PRAGMA journal_mode=DELETE")
        if found := faults(target):
            raise BackupRefused(f"The database is damaged, and no backup was made of it: {'; '.join(found)}.")
        was, now = table_sums(source), table_sums(target)
        source.execute("ROLLBACK")
        if changed := sorted(name for name in {**was, **now} if was.get(name) != now.get(name)):
            raise BackupRefused(f"The copy is not what was copied ({', '.join(changed)}). Try again.")
        moved = target.execute(f"SELECT COALESCE(SUM(quantity), 0) FROM {Movement._meta.db_table}").fetchone()[0]
    return _Copied({SQLITE: target_path}, now, int(moved), f"SQLite {sqlite3.sqlite_version}")


def _copy_postgresql(work: Path) -> _Copied:
    """Have `pg_dump` write what one moment's snapshot shows, and add up the same snapshot."""
    program = shutil.which("pg_dump")
    if program is None:
        raise BackupRefused("The books are in a PostgreSQL, and pg_dump, which backs it up, is not installed here.")
    target = work / POSTGRESQL
    os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        cursor.execute("SELECT pg_export_snapshot(), current_setting('server_version')")
        snapshot, version = cursor.fetchone()
        words = [program, "--format=custom", "--no-owner", "--no-acl", "--no-password"]
        words += [f"--snapshot={snapshot}", f"--file={target}"]
        done = subprocess.run(words, env=postgresql_environment(), capture_output=True, text=True, check=False)
        if done.returncode:
            raise BackupRefused(f"pg_dump made no backup: {' '.join(done.stderr.split())[:300]}")
        found = [summed(model, "default") for model in kept_models()]
        cursor.execute(f"SELECT COALESCE(SUM(quantity), 0) FROM {Movement._meta.db_table}")
        moved = cursor.fetchone()[0]
    with target.open("rb") as dumped:
        os.fsync(dumped.fileno())
    tables = {one.table: {"rows": one.rows, "sha256": one.sha256} for one in found}
    return _Copied({POSTGRESQL: target}, tables, int(moved), f"PostgreSQL {version}")


def postgresql_environment() -> dict[str, str]:
    """What PostgreSQL's own programs need to find our database; a password is in no command line."""
    told = connection.settings_dict
    given = {
        "PGHOST": told["HOST"],
        "PGPORT": str(told["PORT"] or ""),
        "PGUSER": told["USER"],
        "PGPASSWORD": told["PASSWORD"],
        "PGDATABASE": told["NAME"],
        "PGSSLMODE": told["OPTIONS"].get("sslmode", ""),
    }
    return dict(os.environ) | {name: value for name, value in given.items() if value}


def _manifest(found: _Copied, at: datetime) -> dict[str, Any]:
    schema = sorted([app, name] for app, name in MigrationRecorder(connection).applied_migrations())
    return {
        "format": FORMAT,
        "made_at": at.astimezone(UTC).isoformat(timespec="seconds"),
        "made_with": {"database": found.made_with, "django": django.__version__, "python": platform.python_version()},
        "schema": schema,
        "tables": found.tables,
        "on_hand": found.on_hand,
        "link_key": link_key_mark(settings.LINK_KEY),
    }


def _keys() -> dict[str, Path]:
    """The keys kept in the data folder; one that the environment gives is kept where that comes from."""
    given = {"secret.key": "GARLANDRY_SECRET_KEY", "link.key": "GARLANDRY_LINK_KEY"}
    paths = {name: Path(settings.DATA_DIR) / name for name in KEYS if not os.environ.get(given[name])}
    return {name: path for name, path in paths.items() if path.is_file()}


def _free_name(folder: Path, at: datetime) -> Path:
    wanted = folder / name_of(at)
    others = (wanted.with_name(f"{wanted.stem}-{count}.tar") for count in range(2, 1000))
    return next(path for path in (wanted, *others) if not path.exists())


def _remove_older(folder: Path, *, keep: int, newest: Path) -> tuple[Path, ...]:
    """Delete all but the `keep` newest by their names; only what is named as a backup, and never the one just made."""
    ours = sorted((path for path in folder.iterdir() if NAME.fullmatch(path.name)), key=_age)
    older = [path for path in ours if path != newest]
    removed = older[: max(len(older) - (keep - 1), 0)]
    for path in removed:
        path.unlink()
    return tuple(removed)


def _age(path: Path) -> tuple[str, int]:
    stamp, _, count = path.stem.removeprefix("garlandry-").partition("-")
    return stamp, int(count or 0)


def _why(error: Exception) -> str:
    if isinstance(error, OSError) and error.strerror:
        return f"{error.strerror.lower()}{f' ({error.filename})' if error.filename else ''}"
    return str(error)
