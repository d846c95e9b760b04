"""Every schema that was released is brought up to date with its rows in it, and nothing is lost on the way.

On SQLite the file is the one that was written on the day. On PostgreSQL the schema is made by the migrations of that
day and filled with the same rows.
"""

import os
import sqlite3
import uuid
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.core.management.color import no_style
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor

from estimating.models import Rates
from studio.settings import SQLITE_FILE
from tests.databases import (
    Migrated,
    address_of,
    fresh_address,
    fresh_database,
    instead,
    made_once,
    migrate,
    on_the_server,
    settings_of,
)

pytestmark = pytest.mark.both
RELEASED = sorted(Path(__file__).parent.glob("*.sql"))
WRITTEN_BY_DJANGO = {"django_migrations", "django_content_type", "auth_permission"}
"""Tables in which every upgrade adds rows of its own."""
CHANGED: dict[str, set[str]] = {}
"""Columns, by table, that a later migration is meant to fill anew."""
FILLED = {"stock_kit", "stock_kitmovement"}
"""Tables to which a later migration is meant to add rows: ladders that were typed with the rates are kit."""

BEFORE_THEY_MOVED = "0023_hours_of_the_place_and_of_getting_ready"

Rows = dict[str, list[dict[str, Any]]]


def rows() -> Rows:
    """Every row of every table, by the names of its columns."""
    found: Rows = {}
    with connection.cursor() as cursor:
        for table in sorted(connection.introspection.table_names(cursor)):
            cursor.execute(f"SELECT * FROM {connection.ops.quote_name(table)}")
            columns = [column[0] for column in cursor.description]
            found[table] = [dict(zip(columns, map(plain, row), strict=True)) for row in cursor.fetchall()]
    return found


def plain(value: Any) -> Any:
    """A value that can be compared: bytes as they are, whatever the driver wraps them in."""
    return bytes(value) if isinstance(value, memoryview) else value


def check_every_row_is_there(before: Rows, after: Rows) -> None:
    """In every table there still is, in the columns it still has."""
    for table, kept in before.items():
        if table not in after:
            continue
        shared = [column for column in (kept or [{}])[0] if column not in CHANGED.get(table, ())]
        shared = [column for column in shared if not after[table] or column in after[table][0]]
        now = [repr([row[column] for column in shared]) for row in after[table]]
        missing = [row for row in kept if repr([row[column] for column in shared]) not in now]
        assert missing == [], f"{table} lost or changed {len(missing)} rows"
        if table not in WRITTEN_BY_DJANGO | FILLED:
            assert len(after[table]) == len(kept), f"{table} has {len(after[table])} rows of {len(kept)}"


def kept_rules() -> dict[str, Any]:
    """What the database refuses: every constraint and index of every table, and every trigger."""
    triggers = {
        "sqlite": "SELECT tbl_name || ': ' || sql FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT tgrelid::regclass || ': ' || tgname FROM pg_trigger WHERE NOT tgisinternal",
    }
    found: dict[str, Any] = {}
    with connection.cursor() as cursor:
        for table in sorted(connection.introspection.table_names(cursor)):
            rules = connection.introspection.get_constraints(cursor, table).values()
            found[table] = sorted(repr(sorted(rule.items(), key=lambda pair: pair[0])) for rule in rules)
        cursor.execute(triggers[connection.vendor])
        found["triggers"] = sorted(name for (name,) in cursor.fetchall())
    return found


def released_file(script: Path, path: Path) -> None:
    """The database as it was written down, in a file."""
    with closing(sqlite3.connect(path)) as file:
        file.executescript(script.read_text())


def fill_postgresql(path: Path) -> None:
    """The schema of the day, made by its migrations, and the rows of the file at `path`."""
    with closing(sqlite3.connect(path)) as file:
        applied = file.execute("SELECT app, name FROM django_migrations").fetchall()
        executor = MigrationExecutor(connection)
        known = executor.loader.graph
        leaves = [node for node in applied if not any(child.key in applied for child in known.node_map[node].children)]
        executor.migrate(leaves)
        with transaction.atomic(), connection.cursor() as cursor:
            for table in connection.introspection.table_names(cursor):
                copy_rows(file, cursor, table)
        models = MigrationExecutor(connection).loader.project_state(leaves).apps.get_models(include_auto_created=True)
        with connection.cursor() as cursor:
            for statement in connection.ops.sequence_reset_sql(no_style(), models):
                cursor.execute(statement)


def copy_rows(file: sqlite3.Connection, cursor: Any, table: str) -> None:
    """The rows of one table, in place of those its migrations made."""
    if table == "django_migrations":
        return
    read = file.execute(f'SELECT * FROM "{table}"')
    columns = [column[0] for column in read.description]
    cursor.execute("SELECT column_name, data_type FROM information_schema.columns WHERE table_name = %s", [table])
    is_truth = {name for name, kind in cursor.fetchall() if kind == "boolean"}
    found = read.fetchall()
    if not found:
        return
    cursor.execute(f'DELETE FROM "{table}"')
    names, marks = ", ".join(f'"{column}"' for column in columns), ", ".join(["%s"] * len(columns))
    for row in found:
        values = [
            bool(value) if column in is_truth and value is not None else value
            for column, value in zip(columns, row, strict=True)
        ]
        cursor.execute(f'INSERT INTO "{table}" ({names}) VALUES ({marks})', values)


@pytest.fixture(scope="module")
def up_to_date(tmp_path_factory: pytest.TempPathFactory, migrated: Migrated, django_db_blocker: Any) -> dict[str, Any]:
    """What a database made today refuses."""
    with fresh_database(tmp_path_factory.mktemp("new"), migrated, django_db_blocker):
        return kept_rules()


def released_template(script: Path, file: Path, between_workers: Path, blocker: Any) -> str:
    """The name of a released database on the tests' PostgreSQL, made once; "" where the tests run on SQLite."""

    def make(path: Path) -> None:
        name = f"released_{uuid.uuid4().hex}"
        on_the_server(f"CREATE DATABASE {name}")
        with instead(settings_of(address_of(name), file.parent), blocker):
            fill_postgresql(file)
        path.write_text(name)

    if not os.environ.get("DATABASE_URL"):
        return ""
    return made_once(between_workers / f"released-{script.stem}", make).read_text()


@pytest.fixture(params=RELEASED, ids=lambda script: script.stem)
def released(request: Any, tmp_path: Path, between_workers: Path, django_db_blocker: Any) -> Iterator[Rows]:
    """A released database to work on, and the rows in it."""
    file = tmp_path / SQLITE_FILE
    released_file(request.param, file)
    template = released_template(request.param, file, between_workers, django_db_blocker)
    with fresh_address(template) as address, instead(settings_of(address, tmp_path), django_db_blocker):
        yield rows()


def test_a_released_studio_is_brought_up_to_date_whole(up_to_date, released):
    assert len([table for table, kept in released.items() if kept]) > 30
    migrate()
    check_every_row_is_there(released, rows())
    assert kept_rules() == up_to_date


def test_minutes_set_with_what_a_day_takes_are_with_the_rates(released):
    call_command("migrate", "bookings", "0023", verbosity=0)
    state = MigrationExecutor(connection).loader.project_state([("bookings", BEFORE_THEY_MOVED)])
    state.apps.get_model("bookings", "DayLimits").objects.update_or_create(
        pk=1, defaults={"gas_minutes": 20, "decal_minutes": 0}
    )
    migrate()
    assert Rates.objects.values_list("pk", "gas_minutes", "decal_minutes").get() == (1, 20, 0)


DAMAGE = [
    pytest.param("DELETE FROM stock_offer WHERE id = (SELECT max(id) FROM stock_offer)", id="a row lost"),
    pytest.param("UPDATE stock_item SET keep_back = keep_back + 1", id="a figure changed"),
]


@pytest.mark.parametrize("damage", DAMAGE)
def test_what_an_upgrade_spoils_is_noticed(released, damage):
    with connection.cursor() as cursor:
        cursor.execute(damage)
    with pytest.raises(AssertionError, match=r"lost or changed"):
        check_every_row_is_there(released, rows())


def test_a_trigger_that_an_upgrade_drops_is_noticed(up_to_date, tmp_path, migrated, django_db_blocker):
    on = " ON stock_movement" if connection.vendor == "postgresql" else ""
    with fresh_database(tmp_path, migrated, django_db_blocker):
        assert kept_rules() == up_to_date
        with connection.cursor() as cursor:
            cursor.execute(f"DROP TRIGGER stock_movement_no_update{on}")
        assert kept_rules() != up_to_date
