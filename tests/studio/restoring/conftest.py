"""A small studio backed up, and the machine it is put back on: a new one, or one where another studio has gone on."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from stock.models import Item
from studio.backup import make_backup
from tests.databases import Migrated, instead, settings_of
from tests.factories import NOON, MovementFactory, QuoteFactory
from tests.studio.restoring.studio_files import studio_in


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory, migrated: Migrated, django_db_blocker: Any) -> Path:
    """A small studio in a file."""
    folder = tmp_path_factory.mktemp("filled")
    migrated.copied_to(folder)
    with instead(settings_of("", folder), django_db_blocker):
        MovementFactory(quantity=128)
        QuoteFactory(pdf=bytes(range(256)) * 8)
    return folder / "garlandry.sqlite3"


@pytest.fixture
def backed_up(filled, tmp_path, settings, django_db_blocker) -> Path:
    """A backup of the small studio."""
    with studio_in(tmp_path / "first", settings, django_db_blocker, filled=filled):
        return make_backup(tmp_path / "kept", keep=9, at=NOON).path


@pytest.fixture
def empty(backed_up, tmp_path, settings, django_db_blocker) -> Iterator[Path]:
    """Where the database of a new machine will be."""
    with studio_in(tmp_path / "second", settings, django_db_blocker) as target:
        yield target


@pytest.fixture
def other(backed_up, filled, tmp_path, settings, django_db_blocker) -> Iterator[Path]:
    """The database of a studio that has gone on: another movement, still in the log alone."""
    with studio_in(tmp_path / "second", settings, django_db_blocker, filled=filled) as target:
        MovementFactory(item=Item.objects.get(), quantity=1000)
        yield target
