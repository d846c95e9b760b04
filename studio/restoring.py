"""Putting a backup back: everything is checked before anything is touched, and what was there is kept aside."""

import contextlib
import filecmp
import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import connection, transaction
from django.db.migrations.loader import MigrationLoader

from studio.archive import KEYS, POSTGRESQL, SQLITE, Archive, ArchiveRefused, flush_folder, read_archive
from studio.backup import link_key_mark, postgresql_environment
from studio.moving import kept_models, summed
from studio.table_sums import faults, table_sums
from studio.workplace import workplace

PART = ".restoring-"
LOGS = ("-wal", "-shm", "-journal")


class RestoreRefused(Exception):
    """Nothing was restored, and what is there was left as it is; the message is a sentence."""


@dataclass(frozen=True)
class Restored:
    """What was put back: made when, how much, which migrations it needed, and where what was there is kept.

    `keys` are those that came with it; `link_key_differs` where the links already sent need another key than the one
    in force.
    """

    made_at: datetime
    tables: int
    rows: int
    on_hand: int
    migrated: tuple[str, ...]
    keys: tuple[str, ...]
    kept_aside: tuple[Path, ...]
    link_key_differs: bool


def restore(file: Path, *, replace: bool, at: datetime) -> Restored:
    """Put a backup back where the settings keep the books. The server must be stopped.

    Refuses a damaged file, one of a newer Garlandry, and, unless `replace`, wherever something is already.
    Raises RestoreRefused.
    """
    try:
        archive = read_archive(file)
        missing = _not_in_it(archive)
        put_back = {"sqlite": _into_file, "postgresql": _into_postgresql}[connection.vendor]
        kept, keys = put_back(archive, replace, bool(missing), at)
    except ArchiveRefused as refusal:
        raise RestoreRefused(str(refusal)) from refusal
    except OSError as error:
        raise RestoreRefused(
            f"Nothing was restored: {(error.strerror or str(error)).lower()} ({error.filename})."
        ) from (error)
    except sqlite3.Error as error:
        raise RestoreRefused(f"Nothing was restored: {error}.") from error
    return Restored(
        made_at=archive.made_at,
        tables=len(archive.manifest["tables"]),
        rows=sum(table["rows"] for table in archive.manifest["tables"].values()),
        on_hand=archive.manifest["on_hand"],
        migrated=tuple(missing),
        keys=keys,
        kept_aside=kept,
        link_key_differs="link.key" not in keys and archive.manifest["link_key"] != link_key_mark(settings.LINK_KEY),
    )


def _not_in_it(archive: Archive) -> list[str]:
    """The migrations the backup has still to be brought through. Raises RestoreRefused for one of a newer version."""
    ours = set(MigrationLoader(None, ignore_no_migrations=True).disk_migrations)
    theirs = {(app, name) for app, name in archive.manifest["schema"]}
    if newer := sorted(theirs - ours):
        raise RestoreRefused(
            f"{archive.path.name} is of a newer Garlandry than this one (it has {newer[0][0]} {newer[0][1]}): "
            "bring Garlandry up to date first, then restore."
        )
    return [f"{app} {name}" for app, name in sorted(ours - theirs)]


def _into_file(
    archive: Archive, replace: bool, is_older: bool, at: datetime
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    if archive.database == POSTGRESQL:
        raise RestoreRefused(
            f"{archive.path.name} is of a PostgreSQL: set DATABASE_URL to an empty one, and restore it there."
        )
    target = Path(connection.settings_dict["NAME"])
    if target.exists() and not replace:
        raise RestoreRefused(
            f"There is a studio already, at {target}. With --replace the backup takes its place; "
            "what is there is kept aside."
        )
    connection.close()
    with workplace(target.parent, prefix=PART) as work:
        made, keys = _made_ready(archive, work, is_older=is_older)
        return _swap(made, keys, target, at), tuple(keys)


def _made_ready(archive: Archive, work: Path, *, is_older: bool) -> tuple[Path, dict[str, Path]]:
    """The database and the keys in a folder of their own: compared with the manifest, then brought up to date."""
    made = work / SQLITE
    archive.take_out(SQLITE, made)
    with closing(sqlite3.connect(made, isolation_level=None)) as database:
        if found := faults(database):
            raise RestoreRefused(f"The database in {archive.path.name} is damaged: {'; '.join(found)}.")
        sums, told = table_sums(database), archive.manifest["tables"]
        if changed := sorted(name for name in {**sums, **told} if sums.get(name) != told.get(name)):
            raise RestoreRefused(f"{archive.path.name} is not what was backed up ({', '.join(changed)} differ).")
    keys = _keys_of(archive, work)
    if is_older:
        _bring_up_to_date(work, archive)
    with closing(sqlite3.connect(made, isolation_level=None)) as database:
        database.execute("PRAGMA journal_mode=DELETE")
    with made.open("rb") as file:
        os.fsync(file.fileno())
    return made, keys


def _bring_up_to_date(work: Path, archive: Archive) -> None:
    """Migrate in a program of its own, which knows of no other database than the one in `work`."""
    ours = {"GARLANDRY_DATA": str(work), "GARLANDRY_DEMO_DATA": str(work), "DATABASE_URL": ""}
    command = [sys.executable, str(settings.BASE_DIR / "manage.py"), "migrate", "--no-input", "--verbosity=0"]
    done = subprocess.run(command, env=os.environ | ours, capture_output=True, text=True, check=False)
    if done.returncode:
        why = (done.stderr.strip().splitlines() or ["no reason was given"])[-1]
        raise RestoreRefused(f"{archive.path.name} could not be brought up to date: {why}")


def _swap(made: Path, keys: dict[str, Path], target: Path, at: datetime) -> tuple[Path, ...]:
    """Put what was made ready in its place. At every moment either the old studio or the new one is there whole."""
    if target.exists():
        _fold_in_the_log(target, made.parent)
    # Whatever log is beside it now belongs to another file: left there, it would be read into the new one.
    logs: list[tuple[Path | None, Path]] = [(None, target.with_name(target.name + log)) for log in LOGS]
    return _put_in_place([*logs, (made, target), *_in_data_folder(keys)], at)


def _in_data_folder(keys: dict[str, Path]) -> list[tuple[Path | None, Path]]:
    return [(path, Path(settings.DATA_DIR) / name) for name, path in keys.items()]


def _put_in_place(pairs: list[tuple[Path | None, Path]], at: datetime) -> tuple[Path, ...]:
    """Each new file to its place, and what was there (unless it is the same) to a name of its own; those names."""
    kept = []
    for new, place in pairs:
        if place.exists() and not (new is not None and filecmp.cmp(new, place, shallow=False)):
            aside = place.with_name(f"replaced-{at.astimezone(UTC):%Y%m%dT%H%M%SZ}-{place.name}")
            _keep_aside(place, aside, is_replaced=new is not None)
            kept.append(aside)
        if new is not None:
            new.rename(place)
        flush_folder(place.parent)
    return tuple(kept)


def _fold_in_the_log(target: Path, work: Path) -> None:
    """Have all that was committed in the one file, and see that nobody has it open. A damaged one stays as it is."""
    log, held = target.with_name(target.name + "-wal"), work / "log"
    if log.exists():
        shutil.copy2(log, held)
    try:
        with closing(sqlite3.connect(target, timeout=1, isolation_level=None)) as database:
            database.execute("PRAGMA locking_mode=EXCLUSIVE")
            database.execute("PRAGMA journal_mode=DELETE")
            database.execute("BEGIN EXCLUSIVE")
            database.execute("ROLLBACK")
    except sqlite3.DatabaseError as error:
        if "locked" in str(error):
            raise RestoreRefused(
                f"Somebody is working on {target}: stop the server (and whatever else has it open) first."
            ) from error
        # What is damaged is often why something is restored. SQLite throws the log of such a file away: it is put back,
        # to be kept aside with it.
        if held.exists():
            held.rename(log)


def _keep_aside(place: Path, aside: Path, *, is_replaced: bool) -> None:
    """Give a file a second name where it is about to be replaced, else another one."""
    if is_replaced:
        with contextlib.suppress(OSError):
            os.link(place, aside)
            return
    place.rename(aside)


def _into_postgresql(
    archive: Archive, replace: bool, is_older: bool, at: datetime
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    if archive.database == SQLITE:
        raise RestoreRefused(
            f"{archive.path.name} is of a file of SQLite: restore it without DATABASE_URL, "
            "then move it with manage.py move_to_postgresql."
        )
    if connection.introspection.table_names():
        raise RestoreRefused(
            "There is something in the PostgreSQL that DATABASE_URL names. Make an empty one and name that: "
            "what is there then stays as it is."
        )
    program = shutil.which("pg_restore")
    if program is None:
        raise RestoreRefused("pg_restore, which puts a backup back into a PostgreSQL, is not installed here.")
    folder = Path(settings.DATA_DIR)
    with workplace(folder, prefix=PART) as work:
        dumped = work / POSTGRESQL
        archive.take_out(POSTGRESQL, dumped)
        environment = postgresql_environment()
        words = [program, "--single-transaction", "--exit-on-error", "--no-owner", "--no-acl", "--no-password"]
        words += [f"--dbname={environment['PGDATABASE']}", str(dumped)]
        done = subprocess.run(words, env=environment, capture_output=True, text=True, check=False)
        if done.returncode:
            raise RestoreRefused(f"pg_restore put nothing back: {' '.join(done.stderr.split())[:300]}")
        _compare_postgresql(archive, is_older=is_older)
        call_command("migrate", interactive=False, verbosity=0)
        keys = _keys_of(archive, work)
        return _put_in_place(_in_data_folder(keys), at), tuple(keys)


def _compare_postgresql(archive: Archive, *, is_older: bool) -> None:
    """Row by row where the tables are as they are today; of an older version, how many rows there are."""
    told = archive.manifest["tables"]
    changed: list[str] = []
    with transaction.atomic(), connection.cursor() as cursor:
        for name, sums in told.items():
            cursor.execute(f"SELECT count(*) FROM {connection.ops.quote_name(name)}")
            if cursor.fetchone()[0] != sums["rows"]:
                changed.append(name)
        if not is_older:
            now = {one.table: one.sha256 for one in (summed(model, "default") for model in kept_models())}
            changed += [name for name in told if now.get(name) != told[name]["sha256"]]
    if changed:
        raise RestoreRefused(
            f"What came back is not what was backed up ({', '.join(sorted(set(changed)))} differ): "
            "do not use this database."
        )


def _keys_of(archive: Archive, work: Path) -> dict[str, Path]:
    """The keys that came with a backup, taken out."""
    keys = {name: work / name for name in KEYS if name in archive.places}
    for name, path in keys.items():
        archive.take_out(name, path)
    return keys
