"""Databases of a test's own: on a file, or on the PostgreSQL that DATABASE_URL names."""

import contextlib
import datetime as dt
import fcntl
import gc
import os
import shutil
import uuid
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

from studio.database import postgresql_at, sqlite_in
from studio.settings import SQLITE_FILE

Settings = dict[str, Any]


@dataclass(frozen=True)
class Migrated:
    """Databases as one is after `migrate`, made once for all tests of a run, which copy them: migrating takes seconds.

    `template` is the name of a database of the tests' PostgreSQL, "" where they run on SQLite.
    """

    make_file: Callable[[], Path]
    template: str

    @property
    def file(self) -> Path:
        """A file of SQLite, made when it is first asked for."""
        return self.make_file()

    def copied_to(self, folder: Path) -> None:
        """Put such a file into a data folder."""
        shutil.copy(self.file, folder / SQLITE_FILE)

    def begun_in(self, folder: Path) -> None:
        """Put such a file where a demo is to be made; without its day it would be put aside, and migrated anew."""
        self.copied_to(folder)
        (folder / "made-on").write_text(dt.datetime.now(dt.UTC).date().isoformat())


def made_once(path: Path, make: Callable[[Path], None]) -> Path:
    """`path`, made whole by whoever asks first; who asks meanwhile waits."""
    with path.with_suffix(".turn").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        if not path.exists():
            making = path.with_suffix(".part")
            make(making)
            making.rename(path)
    return path


def migrate() -> None:
    """Bring the database up to date; what that leaves behind is collected later, as collecting takes a third of it."""
    collects = gc.isenabled()
    gc.disable()
    try:
        call_command("migrate", verbosity=0)
    finally:
        if collects:
            gc.enable()


def migrated_in(folder: Path, blocker: Any) -> Migrated:
    """The databases to copy, made in a folder that all who run tests together share."""

    def migrate_at(settings: Settings) -> None:
        with instead(settings, blocker):
            migrate()

    def file(path: Path) -> None:
        path.mkdir()
        migrate_at(settings_of("", path))

    def template(path: Path) -> None:
        # It goes with the server: nobody knows who is the last to copy it.
        name = f"migrated_{uuid.uuid4().hex}"
        on_the_server(f"CREATE DATABASE {name}")
        migrate_at(settings_of(address_of(name), folder))
        path.write_text(name)

    def make_file() -> Path:
        return made_once(folder / "migrated", file) / SQLITE_FILE

    if not os.environ.get("DATABASE_URL"):
        return Migrated(make_file, "")
    return Migrated(make_file, made_once(folder / "template", template).read_text())


def address_of(name: str) -> str:
    """DATABASE_URL with another database's name at its end."""
    return f"{os.environ['DATABASE_URL'].rpartition('/')[0]}/{name}"


def on_the_server(statement: str) -> None:
    """Have the tests' PostgreSQL make or drop a database."""
    import psycopg

    home = postgresql_at(os.environ["DATABASE_URL"])
    with psycopg.connect(host=home["HOST"], user=home["USER"], dbname=home["NAME"], autocommit=True) as server:
        server.execute(statement.encode())


@contextlib.contextmanager
def fresh_address(template: str = "template0") -> Iterator[str]:
    """The address of a database on the tests' PostgreSQL, gone afterwards; "" where the tests run on SQLite.

    It is empty, or a copy of the database of that name.
    """
    if not os.environ.get("DATABASE_URL"):
        yield ""
        return
    name = f"fresh_{uuid.uuid4().hex}"
    on_the_server(f"CREATE DATABASE {name} TEMPLATE {template}")
    try:
        yield address_of(name)
    finally:
        on_the_server(f"DROP DATABASE {name} WITH (FORCE)")


def settings_of(address: str, folder: Path) -> Settings:
    """How the database at an address is opened, or the one in a folder: a connection for every thread that asks."""
    if not address:
        return sqlite_in(folder / SQLITE_FILE)
    found = postgresql_at(address)
    del found["OPTIONS"]["pool"]
    return found


@contextlib.contextmanager
def instead(settings: Settings, blocker: Any) -> Iterator[BaseDatabaseWrapper]:
    """Until the end of the block, every thread of this program works on another database."""
    with blocker.unblock():
        kept, ours = connections["default"], connections.settings["default"]
        connections.settings["default"] = connections.configure_settings({"default": settings})["default"]
        del connections["default"]
        try:
            yield connections["default"]
        finally:
            connections["default"].close()
            connections.settings["default"] = ours
            connections["default"] = kept


@contextlib.contextmanager
def fresh_database(folder: Path, migrated: Migrated, blocker: Any) -> Iterator[dict[str, str]]:
    """An up-to-date database that every thread works on; what another program needs in its environment to do so."""
    with fresh_address(migrated.template) as address:
        if not address:
            migrated.copied_to(folder)
        with instead(settings_of(address, folder), blocker):
            yield {"GARLANDRY_DATA": str(folder), "DATABASE_URL": address}
