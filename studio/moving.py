"""Moving a studio's books from a file of SQLite to PostgreSQL, whole, and proving that nothing changed on the way."""

import datetime as dt
import hashlib
import json
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.apps import apps
from django.core.management.color import no_style
from django.db import DatabaseError, connections, models, transaction
from django.db.migrations.recorder import MigrationRecorder

AT_ONCE = 500
"""Rows held in memory: a row may hold a photo."""


class MoveRefused(Exception):
    """The books cannot be moved as things are; the message is a sentence. Nothing has been changed."""


@dataclass(frozen=True)
class Moved:
    """One table that was moved: its name, its rows, and what all of them add up to on either side."""

    table: str
    rows: int
    sha256: str


def kept_models() -> list[type[models.Model]]:
    """The model of every table, those between two models too, in the order of their tables' names."""
    found = apps.get_models(include_auto_created=True)
    return sorted((model for model in found if model._meta.managed), key=lambda model: model._meta.db_table)


def is_empty(database: str) -> bool:
    """Whether there is no row of ours in it: it may have our tables, and what every new one begins with."""
    there = set(connections[database].introspection.table_names())
    begun_with = {"django_content_type", "auth_permission"}
    tables = [model for model in kept_models() if model._meta.db_table in there - begun_with]
    return not any(_rows(model, database).exists() for model in tables)


def move(source: str, target: str) -> list[Moved]:
    """Copy every row from one database to another, and compare both; what was moved, table by table.

    The target has every table and no row of ours. It is one transaction on either side: nobody writes to the source
    meanwhile, and the target stays empty unless every table comes out the same. Raises MoveRefused.
    """
    if (here := _migrations(source)) != (there := _migrations(target)):
        other = sorted({f"{app} {name}" for app, name in here ^ there})
        raise MoveRefused(f"Both must be of the same version; only one of them has {', '.join(other)}.")
    if not is_empty(target):
        raise MoveRefused("The PostgreSQL must be empty (there are rows of a studio in it).")
    moved = []
    with transaction.atomic(using=source), transaction.atomic(using=target):
        for begun_with in ("auth.Permission", "contenttypes.ContentType"):
            _rows(apps.get_model(begun_with), target).delete()
        for model in kept_models():
            _copy(model, source, target)
        for statement in connections[target].ops.sequence_reset_sql(no_style(), kept_models()):
            with connections[target].cursor() as cursor:
                cursor.execute(statement)
        # Keys are looked up when the transaction ends; do it now, while a table can still be named.
        connections[target].check_constraints()
        for model in kept_models():
            before, after = summed(model, source), summed(model, target)
            if before != after:
                raise MoveRefused(
                    f"{before.table} did not come out the same: {before.rows:,} rows became {after.rows:,}, "
                    f"and what is in them {before.sha256[:12]} became {after.sha256[:12]}. Nothing was kept."
                )
            moved.append(after)
    return moved


def summed(model: type[models.Model], database: str) -> Moved:
    """How many rows a table has, and the SHA-256 of all of them in the order of their keys.

    Of each value as it is read: what two databases write differently but mean alike counts as alike.
    """
    total, rows = hashlib.sha256(), 0
    for row in _values(model, database):
        total.update(json.dumps([_plain(value) for value in row], sort_keys=True).encode() + b"\n")
        rows += 1
    return Moved(model._meta.db_table, rows, total.hexdigest())


def _migrations(database: str) -> set[tuple[str, str]]:
    return set(MigrationRecorder(connections[database]).applied_migrations())


def _rows(model: type[models.Model], database: str) -> models.QuerySet[Any]:
    """A table's rows, past any rule of its own about what may be asked."""
    return models.QuerySet(model, using=database)


def _names(model: type[models.Model]) -> list[str]:
    return [field.attname for field in model._meta.concrete_fields]


def _values(model: type[models.Model], database: str) -> Iterator[tuple[Any, ...]]:
    rows = _rows(model, database).order_by("pk").values_list(*_names(model))
    return iter(rows.iterator(chunk_size=AT_ONCE))


def _copy(model: type[models.Model], source: str, target: str) -> None:
    names, waiting = _names(model), []
    for row in _values(model, source):
        waiting.append(model(**dict(zip(names, row, strict=True))))
        if len(waiting) == AT_ONCE:
            _write(model, waiting, target)
            waiting = []
    _write(model, waiting, target)


def _write(model: type[models.Model], waiting: list[models.Model], target: str) -> None:
    try:
        _rows(model, target).bulk_create(waiting, batch_size=AT_ONCE)
    except (DatabaseError, ValueError) as error:
        first, last = waiting[0].pk, waiting[-1].pk
        why = str(error).strip().splitlines()[0]
        raise MoveRefused(
            f"{model._meta.db_table}, between {first} and {last}: PostgreSQL does not take it ({why}). "
            "Nothing was kept."
        ) from error


def _plain(value: Any) -> Any:
    """A value as JSON can say it, the same for the same value wherever it was kept."""
    if isinstance(value, dict):
        return {name: _plain(inner) for name, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    if isinstance(value, float) and value.is_integer():
        # PostgreSQL keeps 1e22 in JSON as the whole number it is, and knows no minus nothing.
        return int(value)
    if isinstance(value, bytes | memoryview):
        return hashlib.sha256(value).hexdigest()
    if isinstance(value, dt.datetime):
        return value.astimezone(dt.UTC).isoformat()
    if isinstance(value, Decimal):
        return str(value.normalize())
    return str(value) if isinstance(value, dt.date | dt.time | uuid.UUID) else value
