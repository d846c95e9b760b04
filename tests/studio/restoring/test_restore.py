"""A backup put back: everything as it was, or nothing touched."""

import shutil
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from django.db import DatabaseError, connections
from django.test import Client
from django.urls import reverse

from bookings.models import Quote
from stock import actions
from stock.models import Item, Movement
from stock.queries import on_hand
from studio.archive import read_archive, write_archive
from studio.backup import link_key_mark, make_backup
from studio.management.commands import restore as command
from studio.models import User
from studio.restoring import restore
from tests.factories import NOON, UserFactory
from tests.studio.restoring.studio_files import studio_in, sums_of

pytestmark = pytest.mark.sqlite
ROOT = Path(__file__).resolve().parents[3]
PASSWORD = "three terns over the tide"
RELEASED = ROOT / "tests" / "upgrading" / "2026-11-25.sql"


def test_every_table_is_as_it_was(backed_up, filled, empty):
    found = restore(backed_up, replace=False, at=NOON)
    assert sums_of(empty) == sums_of(filled) == read_archive(backed_up).manifest["tables"]
    assert (found.on_hand, found.migrated, found.made_at) == (128, (), NOON)
    assert Movement.objects.get().quantity == 128


def test_the_keys_come_back_and_the_new_ones_are_kept_aside(backed_up, empty):
    found = restore(backed_up, replace=False, at=NOON)
    assert found.keys == ("secret.key", "link.key")
    assert (empty.parent / "link.key").read_text() == "firstlink.key".ljust(64, "k")
    aside = empty.parent / "replaced-20260601T120000Z-link.key"
    assert aside in found.kept_aside
    assert aside.read_text() == "secondlink.key".ljust(64, "k")
    assert (empty.parent / "link.key").stat().st_mode & 0o777 == 0o600


def test_nothing_but_the_studio_and_what_is_kept_aside_is_left(backed_up, empty):
    restore(backed_up, replace=False, at=NOON)
    assert {path.name for path in empty.parent.iterdir()} == {
        "garlandry.sqlite3",
        "link.key",
        "secret.key",
        "replaced-20260601T120000Z-link.key",
        "replaced-20260601T120000Z-secret.key",
    }
    assert empty.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("has_old_database", [True, False], ids=["beside the database", "left alone"])
def test_an_old_log_left_beside_it_is_not_read_into_it(backed_up, filled, other, has_old_database):
    """A log that fits the file's own pages: left there, SQLite would bring back what it says."""
    log = other.with_name("garlandry.sqlite3-wal").read_bytes()
    connections["default"].close()
    other.unlink()
    if has_old_database:
        shutil.copy(filled, other)
    other.with_name("garlandry.sqlite3-wal").write_bytes(log)
    other.with_name("garlandry.sqlite3-shm").write_bytes(b"\0" * 32_768)

    restore(backed_up, replace=has_old_database, at=NOON)

    assert sums_of(other) == read_archive(backed_up).manifest["tables"]
    assert Movement.objects.get().quantity == 128


def test_what_was_backed_up_amid_writing_comes_back_and_the_studio_works(filled, tmp_path, settings, django_db_blocker):
    """Backed up while others write, restored on another machine beside the log of an older file, and worked with."""
    with studio_in(tmp_path / "first", settings, django_db_blocker, filled=filled):
        person, item = UserFactory(username="mo"), Item.objects.get()
        person.set_password(PASSWORD)
        person.save()
        quote = Quote.objects.get()
        paper = bytes(quote.pdf)
        with written_meanwhile(item, person):
            kept = make_backup(tmp_path / "kept", keep=1, at=NOON).path
        log = (tmp_path / "first" / "garlandry.sqlite3-wal").read_bytes()
    with studio_in(tmp_path / "second", settings, django_db_blocker) as target:
        target.with_name("garlandry.sqlite3-wal").write_bytes(log)
        found = restore(kept, replace=False, at=NOON)
        assert sums_of(target) == read_archive(kept).manifest["tables"]
        assert sum(Movement.objects.values_list("quantity", flat=True)) == found.on_hand == on_hand([item.pk])[item.pk]
        browser = Client()
        answer = browser.post("/sign-in/", {"username": "mo", "password": PASSWORD})
        assert (answer.status_code, answer["Location"]) == (302, "/")
        answer = browser.get(reverse("bookings:quote-pdf", args=[quote.pk]))
        assert (answer.status_code, b"".join(answer)) == (200, paper)
        with pytest.raises(DatabaseError, match="edited"), connections["default"].cursor() as cursor:
            cursor.execute("UPDATE stock_movement SET quantity = 1")


@contextmanager
def written_meanwhile(item: Item, by: User) -> Iterator[None]:
    """Another thread receives and uses as fast as it can, and has begun before the block does."""
    stop, begun = threading.Event(), threading.Event()

    def write() -> None:
        try:
            while not stop.is_set():
                actions.receive(item=item, quantity=7, by=by, at=NOON)
                actions.use(item=item, quantity=3, by=by, at=NOON)
                begun.set()
        finally:
            connections.close_all()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        assert begun.wait(timeout=60)
        yield
    finally:
        stop.set()
        writer.join()


def test_what_is_replaced_is_kept_whole_with_what_was_in_its_log(backed_up, other):
    assert other.with_name("garlandry.sqlite3-wal").stat().st_size > 0
    found = restore(backed_up, replace=True, at=NOON)
    aside = other.with_name("replaced-20260601T120000Z-garlandry.sqlite3")
    assert aside in found.kept_aside
    with closing(sqlite3.connect(aside)) as old:
        assert old.execute("SELECT SUM(quantity) FROM stock_movement").fetchone() == (1128,)
    assert sums_of(other) == read_archive(backed_up).manifest["tables"]


def test_a_damaged_studio_is_replaced_and_kept_with_its_log(backed_up, other):
    connections["default"].close()
    other.write_bytes(b"this is no database at all" * 400)
    other.with_name("garlandry.sqlite3-wal").write_bytes(b"nor is this")
    found = restore(backed_up, replace=True, at=NOON)
    assert sums_of(other) == read_archive(backed_up).manifest["tables"]
    kept = {path.name: path.read_bytes() for path in found.kept_aside}
    assert kept["replaced-20260601T120000Z-garlandry.sqlite3"].startswith(b"this is no database")
    assert kept["replaced-20260601T120000Z-garlandry.sqlite3-wal"] == b"nor is this"


def test_one_of_an_older_garlandry_is_brought_up_to_date_and_says_so(tmp_path, settings, django_db_blocker):
    """The first released schema, backed up as it was on its day."""
    with studio_in(tmp_path / "old", settings, django_db_blocker) as target:
        with closing(sqlite3.connect(target)) as old:
            old.executescript(RELEASED.read_text())
        kept = make_backup(tmp_path / "kept", keep=1, at=NOON).path
    with studio_in(tmp_path / "new", settings, django_db_blocker) as target:
        found = restore(kept, replace=False, at=NOON)
        with closing(sqlite3.connect(target)) as now:
            done = {f"{app} {name}" for app, name in now.execute("SELECT app, name FROM django_migrations")}
            assert now.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            assert now.execute("SELECT SUM(quantity) FROM stock_movement").fetchone() == (found.on_hand,)
        assert found.migrated
        assert set(found.migrated) <= done
    assert any("brought up to date" in line for line in command.sentences(found))


def test_a_key_kept_elsewhere_that_is_not_the_same_is_said(backed_up, empty, tmp_path, settings):
    found = read_archive(backed_up)
    found.take_out("garlandry.sqlite3", tmp_path / "db")
    manifest = {k: v for k, v in found.manifest.items() if k != "files"}
    write_archive(tmp_path / "bare.tar", manifest=manifest, files={"garlandry.sqlite3": tmp_path / "db"})
    settings.LINK_KEY = "another key than when it was made".ljust(48, "x")
    answer = restore(tmp_path / "bare.tar", replace=False, at=NOON)
    assert answer.link_key_differs
    assert any("links already sent stay closed" in line for line in command.sentences(answer))


def test_the_same_key_kept_elsewhere_is_nothing_to_say(backed_up, settings):
    assert read_archive(backed_up).manifest["link_key"] == link_key_mark(settings.LINK_KEY)
