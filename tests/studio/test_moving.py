"""A studio is moved from SQLite to PostgreSQL whole, or not at all."""

import os
import subprocess
import sys
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.db import connections, transaction

from estimating.models import Rates
from stock import actions
from stock.models import Item, Movement
from studio import moving
from studio.models import Studio, User
from tests.databases import Migrated, fresh_address, instead, settings_of
from tests.factories import (
    NOON,
    ItemFactory,
    MovementFactory,
    QuoteFactory,
    QuoteMaterialFactory,
    QuotePieceFactory,
    UserFactory,
)

pytestmark = pytest.mark.postgresql
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def file(tmp_path: Path, migrated: Migrated, django_db_blocker: Any) -> Path:
    """A small studio in a file, with one of everything that is kept in a way of its own."""
    settings = settings_of("", tmp_path)
    migrated.copied_to(tmp_path)
    with instead(settings, django_db_blocker):
        Studio.objects.create(pk=1, name="Tern & Tide — 气球 🎈")
        Rates.objects.update_or_create(pk=1, defaults={"tax_percent": Decimal("8.25")})
        movement = MovementFactory(quantity=100)
        actions.use(item=movement.item, quantity=30, by=movement.by, at=NOON)
        quote = QuoteFactory(pdf=bytes(range(256)), reasons={"z": 1.0, "a": [1e22, 0.1, -0.0, None, True], "é": "😀"})
        QuotePieceFactory(quote=quote)
        QuoteMaterialFactory(quote=quote)
        connections["default"].close()
    return settings["NAME"]


@pytest.fixture
def empty(tmp_path: Path, django_db_blocker: Any) -> Iterator[None]:
    """Everything works on a PostgreSQL with nothing in it."""
    with fresh_address() as address, instead(settings_of(address, tmp_path), django_db_blocker):
        yield


@pytest.fixture
def prepared(tmp_path: Path, migrated: Migrated, django_db_blocker: Any) -> Iterator[None]:
    """Everything works on a PostgreSQL that was migrated and never used."""
    with (
        fresh_address(migrated.template) as address,
        instead(settings_of(address, tmp_path), django_db_blocker),
    ):
        yield


def test_every_row_arrives_and_both_sides_add_up_to_the_same(file, empty, capsys):
    call_command("move_to_postgresql", source=file)
    said = capsys.readouterr().out

    assert Studio.objects.current().name == "Tern & Tide — 气球 🎈"
    assert sorted(Movement.objects.values_list("quantity", flat=True)) == [-30, 100]
    assert "stock_movement" in said
    assert "every one came out the same" in said


def test_what_is_written_afterwards_takes_the_next_keys(file, prepared):
    call_command("move_to_postgresql", source=file)
    movement = Movement.objects.order_by("pk").last()
    assert movement is not None
    after = actions.receive(item=movement.item, quantity=5, by=movement.by, at=NOON)

    assert after.pk == movement.pk + 1
    assert (UserFactory(username="new").pk, ItemFactory().pk) > (0, 0)


def test_what_was_moved_is_still_written_once(file, prepared):
    call_command("move_to_postgresql", source=file)
    for statement in (
        "UPDATE stock_movement SET quantity = 1",
        "DELETE FROM stock_movement",
        "TRUNCATE stock_movement",
    ):
        with pytest.raises(Exception, match="never edited"), transaction.atomic():
            connections["default"].cursor().execute(statement)


def test_a_postgresql_with_a_studio_in_it_is_left_alone(file, prepared):
    UserFactory(username="somebody")
    with pytest.raises(CommandError, match="must be empty"):
        call_command("move_to_postgresql", source=file)
    assert list(User.objects.values_list("username", flat=True)) == ["somebody"]


def test_one_that_was_only_prepared_counts_as_empty(file, prepared):
    call_command("move_to_postgresql", source=file)
    assert Item.objects.exists()


def test_what_does_not_come_out_the_same_is_not_kept(file, prepared, monkeypatch):
    real = moving._write

    def spoilt(model, waiting, target):
        for row in waiting:
            if isinstance(row, Movement):
                row.quantity += 1
        real(model, waiting, target)

    monkeypatch.setattr(moving, "_write", spoilt)
    with pytest.raises(CommandError, match=r"stock_movement did not come out the same: 2 rows became 2"):
        call_command("move_to_postgresql", source=file)
    assert not User.objects.exists()


def test_what_postgresql_cannot_hold_is_named_and_nothing_is_kept(file, prepared, django_db_blocker, tmp_path):
    with instead(settings_of("", tmp_path), django_db_blocker):
        MovementFactory(why="x" * 300)
        connections["default"].close()
    with pytest.raises(CommandError, match=r"stock_movement, between 1 and 3: PostgreSQL does not take it .*too long"):
        call_command("move_to_postgresql", source=file)
    assert not User.objects.exists()


def test_a_file_that_is_not_there_is_said_to_be_missing(empty, tmp_path):
    with pytest.raises(CommandError, match=r"no file at .*nowhere"):
        call_command("move_to_postgresql", source=tmp_path / "nowhere")


def test_the_demo_moves_as_a_person_would_move_it(tmp_path, migrated):
    ours = os.environ | {"GARLANDRY_DEMO_DATA": str(tmp_path), "GARLANDRY_DATA": str(tmp_path), "GARLANDRY_HTTPS": "0"}

    def run(*words: str, **more: str) -> "subprocess.CompletedProcess[str]":
        command = [sys.executable, "manage.py", *words]
        return subprocess.run(command, cwd=ROOT, env=ours | more, capture_output=True, text=True, timeout=240)

    migrated.begun_in(tmp_path)
    with fresh_address() as address:
        made = run("demo", "--no-serve", DATABASE_URL="")
        assert made.returncode == 0, made.stderr
        before = run("cover", "--json", DATABASE_URL="")
        moved = run("move_to_postgresql", DATABASE_URL=address)
        assert moved.returncode == 0, moved.stderr
        after = run("cover", "--json", DATABASE_URL=address)

    assert "every one came out the same" in moved.stdout
    assert before.stdout == after.stdout
    assert '"item"' in after.stdout
