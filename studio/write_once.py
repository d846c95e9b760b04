"""Rows and columns the database itself refuses to change, on SQLite and on PostgreSQL.

Code that forgets a rule, a console, another program: none of them gets past a trigger.
"""

from collections.abc import Sequence

from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps


def _sqlite(table: str, event: str, columns: Sequence[str], reason: str, allowed: str) -> list[str]:
    of = f" OF {', '.join(columns)}" if columns else ""
    when = f" WHEN NOT ({allowed})" if allowed else ""
    name = f"{table}_no_{event.lower()}"
    return [
        f"CREATE TRIGGER {name} BEFORE {event}{of} ON {table}{when} BEGIN SELECT RAISE(ABORT, '{reason}'); END",
    ]


def _postgresql(table: str, event: str, columns: Sequence[str], reason: str, allowed: str) -> list[str]:
    of = f" OF {', '.join(columns)}" if columns else ""
    name = f"{table}_no_{event.lower()}"
    let_by = f"IF ({allowed}) THEN RETURN {'OLD' if event == 'DELETE' else 'NEW'}; END IF; " if allowed else ""
    return [
        f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN {let_by}RAISE EXCEPTION '{reason}' USING ERRCODE = 'integrity_constraint_violation'; END $$",
        f"CREATE TRIGGER {name} BEFORE {event}{of} ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()",
    ]


def _not_emptied(table: str, reason: str) -> list[str]:
    """PostgreSQL empties a whole table without asking row by row; SQLite has no such statement."""
    name = f"{table}_no_truncate"
    return [
        f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION '{reason}' USING ERRCODE = 'integrity_constraint_violation'; END $$",
        f"CREATE TRIGGER {name} BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {name}()",
    ]


def _drop(vendor: str, table: str, event: str) -> list[str]:
    name = f"{table}_no_{event.lower()}"
    if vendor == "sqlite":
        return [f"DROP TRIGGER IF EXISTS {name}"]
    return [f"DROP TRIGGER IF EXISTS {name} ON {table}", f"DROP FUNCTION IF EXISTS {name}()"]


def refuse_changes(
    table: str, reason: str, *, columns: Sequence[str] = (), but_update: str = "", but_delete: str = ""
) -> migrations.RunPython:
    """A migration step: `table` then refuses DELETE, TRUNCATE, and UPDATE of `columns` (of any where none is named).

    `reason` is the sentence the database answers with; it holds no quote marks. `but_update` and `but_delete` are the
    one change that is let by: a condition on OLD and NEW, in SQL that both databases read, that is never null. On
    SQLite a later migration that rebuilds the table drops its triggers, so such a migration ends with this step again.
    """

    def add(apps: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
        make = _sqlite if editor.connection.vendor == "sqlite" else _postgresql
        remove(apps, editor)
        statements = make(table, "UPDATE", columns, reason, but_update)
        statements += make(table, "DELETE", (), reason, but_delete)
        if editor.connection.vendor == "postgresql":
            statements += _not_emptied(table, reason)
        for statement in statements:
            editor.execute(statement)

    def remove(apps: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
        for event in ("UPDATE", "DELETE", "TRUNCATE"):
            for statement in _drop(editor.connection.vendor, table, event):
                editor.execute(statement)

    return migrations.RunPython(add, remove)


def seal_by_balance(entries: str, postings: str, *, key: str, names: str) -> migrations.RunPython:
    """A migration step: a row of `entries` is refused unless its `postings` are there and debits equal credits.

    From then on it takes no more of them. `key` is the column of `entries` that `names` of `postings` holds; amounts
    are in debit_minor and credit_minor. So an entry is written after its postings, in one transaction, and both
    databases check it at once. As above, a migration that rebuilds either table on SQLite ends with this step again.
    """
    unbalanced = "debits must equal credits in every entry"
    closed = "an entry takes no more postings once it is written"
    sums = f"FROM {postings} WHERE {names} = NEW.{key}"
    is_wrong = f"(SELECT COUNT(*) = 0 OR SUM(debit_minor) <> SUM(credit_minor) {sums})"
    is_there = f"EXISTS (SELECT 1 FROM {entries} WHERE {key} = NEW.{names})"
    checks = [(entries, is_wrong, unbalanced), (postings, is_there, closed)]

    def add(apps: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
        remove(apps, editor)
        for table, wrong, reason in checks:
            name = f"{table}_in_balance"
            if editor.connection.vendor == "sqlite":
                editor.execute(
                    f"CREATE TRIGGER {name} BEFORE INSERT ON {table} WHEN {wrong} "
                    f"BEGIN SELECT RAISE(ABORT, '{reason}'); END"
                )
                continue
            editor.execute(
                f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN IF {wrong} THEN "
                f"RAISE EXCEPTION '{reason}' USING ERRCODE = 'integrity_constraint_violation'; "
                "END IF; RETURN NEW; END $$"
            )
            editor.execute(f"CREATE TRIGGER {name} BEFORE INSERT ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()")

    def remove(apps: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
        for table, _wrong, _reason in checks:
            name = f"{table}_in_balance"
            if editor.connection.vendor == "sqlite":
                editor.execute(f"DROP TRIGGER IF EXISTS {name}")
            else:
                editor.execute(f"DROP TRIGGER IF EXISTS {name} ON {table}")
                editor.execute(f"DROP FUNCTION IF EXISTS {name}()")

    return migrations.RunPython(add, remove)
