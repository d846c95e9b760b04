"""Databases of a test's own: on a file, or on the PostgreSQL that DATABASE_URL names."""

import contextlib
import os
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

from studio.database import postgresql_at, sqlite_in
from studio.settings import SQLITE_FILE

Settings = dict[str, Any]


def address_of(name: str) -> str:
    """DATABASE_URL with another database's name at its end."""
    return f"{os.environ['DATABASE_URL'].rpartition('/')[0]}/{name}"


@contextlib.contextmanager
def fresh_address() -> Iterator[str]:
    """The address of an empty database on the tests' PostgreSQL, gone afterwards; "" where the tests run on SQLite."""
    if not os.environ.get("DATABASE_URL"):
        yield ""
        return
    import psycopg

    name = f"fresh_{uuid.uuid4().hex}"
    home = postgresql_at(os.environ["DATABASE_URL"])
    with psycopg.connect(host=home["HOST"], user=home["USER"], dbname=home["NAME"], autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name}".encode())
        try:
            yield address_of(name)
        finally:
            server.execute(f"DROP DATABASE {name} WITH (FORCE)".encode())


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
def fresh_database(folder: Path, blocker: Any) -> Iterator[dict[str, str]]:
    """An up-to-date database that every thread works on; what another program needs in its environment to do so."""
    with fresh_address() as address, instead(settings_of(address, folder), blocker):
        call_command("migrate", verbosity=0)
        yield {"GARLANDRY_DATA": str(folder), "DATABASE_URL": address}
