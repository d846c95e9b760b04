"""A backup of a PostgreSQL put back."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from django.db import connections

from stock.models import Movement
from studio.archive import read_archive
from studio.backup import make_backup
from studio.restoring import RestoreRefused, restore
from tests.databases import fresh_address, instead, settings_of
from tests.factories import NOON, MovementFactory, QuoteFactory

pytestmark = pytest.mark.postgresql


@pytest.fixture
def on_postgresql(tmp_path, settings, migrated, django_db_blocker) -> Iterator[Path]:
    """A small studio in a PostgreSQL, and its backup."""
    settings.DATA_DIR = tmp_path
    (tmp_path / "link.key").write_text("k" * 64)
    with fresh_address(migrated.template) as address, instead(settings_of(address, tmp_path), django_db_blocker):
        MovementFactory(quantity=128)
        QuoteFactory(pdf=bytes(range(256)))
        yield make_backup(tmp_path / "kept", keep=3, at=NOON).path


def test_a_postgresql_comes_back_as_it_was(on_postgresql, tmp_path, django_db_blocker):
    told = read_archive(on_postgresql).manifest["tables"]
    with fresh_address() as address, instead(settings_of(address, tmp_path), django_db_blocker):
        found = restore(on_postgresql, replace=False, at=NOON)
        assert (found.on_hand, found.tables, found.migrated) == (128, len(told), ())
        assert Movement.objects.get().quantity == 128
        # The triggers came along: a movement is still written once.
        with pytest.raises(Exception, match="never"), connections["default"].cursor() as cursor:
            cursor.execute("UPDATE stock_movement SET quantity = 1")


def test_a_postgresql_with_anything_in_it_is_left_alone(on_postgresql):
    with pytest.raises(RestoreRefused, match="There is something in the PostgreSQL"):
        restore(on_postgresql, replace=True, at=NOON)


def test_without_the_servers_own_programs_a_sentence_says_so(on_postgresql, tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(CommandError, match="pg_dump, which backs it up, is not installed here"):
        call_command("backup", str(tmp_path / "more"))
    assert list((tmp_path / "more").iterdir()) == []
