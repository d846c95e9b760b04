"""A backup put back: everything as it was, or nothing touched."""

import io
import json
import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.db import DatabaseError, connections
from django.test import Client
from django.urls import reverse

from bookings.models import Quote
from stock import actions
from stock.models import Item, Movement
from stock.queries import on_hand
from studio import restoring
from studio.archive import read_archive, write_archive
from studio.backup import link_key_mark, make_backup
from studio.management.commands import restore as command
from studio.models import User
from studio.restoring import RestoreRefused, restore
from studio.table_sums import table_sums
from tests.databases import Migrated, fresh_address, instead, settings_of
from tests.factories import NOON, MovementFactory, QuoteFactory, UserFactory

ROOT = Path(__file__).resolve().parents[2]
PASSWORD = "three terns over the tide"
RELEASED = ROOT / "tests" / "upgrading" / "2026-11-25.sql"


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory, migrated: Migrated, django_db_blocker: Any) -> Path:
    """A small studio in a file."""
    folder = tmp_path_factory.mktemp("filled")
    migrated.copied_to(folder)
    with instead(settings_of("", folder), django_db_blocker):
        MovementFactory(quantity=128)
        QuoteFactory(pdf=bytes(range(256)) * 8)
    return folder / "garlandry.sqlite3"


@contextmanager
def studio_in(folder: Path, settings: Any, blocker: Any, *, filled: Path | None = None) -> Iterator[Path]:
    """A data folder everything works on, with the small studio in it where that is given."""
    folder.mkdir()
    settings.DATA_DIR = folder
    if filled is not None:
        shutil.copy(filled, folder)
    for name in ("secret.key", "link.key"):
        (folder / name).write_text((folder.name + name).ljust(64, "k"))
    with instead(settings_of("", folder), blocker):
        yield folder / "garlandry.sqlite3"


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


def sums_of(path: Path) -> dict[str, Any]:
    """Every table of a file."""
    with closing(sqlite3.connect(path)) as database:
        return table_sums(database)


def bytes_in(folder: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


@pytest.mark.sqlite
def test_every_table_is_as_it_was(backed_up, filled, empty):
    found = restore(backed_up, replace=False, at=NOON)
    assert sums_of(empty) == sums_of(filled) == read_archive(backed_up).manifest["tables"]
    assert (found.on_hand, found.migrated, found.made_at) == (128, (), NOON)
    assert Movement.objects.get().quantity == 128


@pytest.mark.sqlite
def test_the_keys_come_back_and_the_new_ones_are_kept_aside(backed_up, empty):
    found = restore(backed_up, replace=False, at=NOON)
    assert found.keys == ("secret.key", "link.key")
    assert (empty.parent / "link.key").read_text() == "firstlink.key".ljust(64, "k")
    aside = empty.parent / "replaced-20260601T120000Z-link.key"
    assert aside in found.kept_aside
    assert aside.read_text() == "secondlink.key".ljust(64, "k")
    assert (empty.parent / "link.key").stat().st_mode & 0o777 == 0o600


@pytest.mark.sqlite
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


@pytest.mark.sqlite
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


@pytest.mark.sqlite
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


@pytest.mark.sqlite
def test_where_there_is_a_studio_nothing_is_touched(backed_up, other):
    connections["default"].close()
    before = bytes_in(other.parent)
    with pytest.raises(RestoreRefused, match=r"There is a studio already, at .*With --replace"):
        restore(backed_up, replace=False, at=NOON)
    assert bytes_in(other.parent) == before


@pytest.mark.sqlite
def test_what_is_replaced_is_kept_whole_with_what_was_in_its_log(backed_up, other):
    assert other.with_name("garlandry.sqlite3-wal").stat().st_size > 0
    found = restore(backed_up, replace=True, at=NOON)
    aside = other.with_name("replaced-20260601T120000Z-garlandry.sqlite3")
    assert aside in found.kept_aside
    with closing(sqlite3.connect(aside)) as old:
        assert old.execute("SELECT SUM(quantity) FROM stock_movement").fetchone() == (1128,)
    assert sums_of(other) == read_archive(backed_up).manifest["tables"]


@pytest.mark.sqlite
def test_while_somebody_works_on_it_nothing_is_touched(backed_up, other):
    with closing(sqlite3.connect(other)) as server:
        server.execute("SELECT count(*) FROM stock_movement").fetchone()
        with pytest.raises(RestoreRefused, match=r"Somebody is working on .*: stop the server"):
            restore(backed_up, replace=True, at=NOON)
        assert server.execute("SELECT SUM(quantity) FROM stock_movement").fetchone() == (1128,)
    assert [path.name for path in other.parent.glob(".restoring-*")] == []
    assert [path.name for path in other.parent.glob("replaced-*")] == []


@pytest.mark.sqlite
def test_a_damaged_studio_is_replaced_and_kept_with_its_log(backed_up, other):
    connections["default"].close()
    other.write_bytes(b"this is no database at all" * 400)
    other.with_name("garlandry.sqlite3-wal").write_bytes(b"nor is this")
    found = restore(backed_up, replace=True, at=NOON)
    assert sums_of(other) == read_archive(backed_up).manifest["tables"]
    kept = {path.name: path.read_bytes() for path in found.kept_aside}
    assert kept["replaced-20260601T120000Z-garlandry.sqlite3"].startswith(b"this is no database")
    assert kept["replaced-20260601T120000Z-garlandry.sqlite3-wal"] == b"nor is this"


@pytest.mark.sqlite
def test_a_damaged_backup_touches_nothing(backed_up, other):
    connections["default"].close()
    before, content, dice = bytes_in(other.parent), backed_up.read_bytes(), random.Random(3)
    for _ in range(200):
        flipped = bytearray(content)
        flipped[dice.randrange(len(content))] ^= 1 << dice.randrange(8)
        backed_up.write_bytes(flipped)
        with pytest.raises(RestoreRefused):
            restore(backed_up, replace=True, at=NOON)
    assert bytes_in(other.parent) == before


def made_again(backed_up: Path, folder: Path, **changed: Any) -> Path:
    """The backup, sealed anew with another manifest."""
    found = read_archive(backed_up)
    files = {name: folder / name for name in found.manifest["files"]}
    for name, path in files.items():
        found.take_out(name, path)
    manifest = {key: value for key, value in found.manifest.items() if key != "files"}
    write_archive(folder / "again.tar", manifest=manifest | changed, files=files)
    return folder / "again.tar"


@pytest.mark.sqlite
def test_one_of_a_newer_garlandry_is_refused_with_what_to_do(backed_up, empty, tmp_path):
    schema = [*read_archive(backed_up).manifest["schema"], ["stock", "9999_from_the_future"]]
    newer = made_again(backed_up, tmp_path, schema=schema)
    with pytest.raises(RestoreRefused, match=r"newer Garlandry .*stock 9999_from_the_future.*up to date first"):
        restore(newer, replace=False, at=NOON)
    assert not empty.exists()


@pytest.mark.sqlite
def test_one_whose_rows_are_not_those_of_its_manifest_is_refused(backed_up, empty, tmp_path):
    tables = read_archive(backed_up).manifest["tables"] | {"stock_movement": {"rows": 2, "sha256": "0" * 64}}
    with pytest.raises(RestoreRefused, match=r"is not what was backed up \(stock_movement differ\)"):
        restore(made_again(backed_up, tmp_path, tables=tables), replace=False, at=NOON)
    assert not empty.exists()


@pytest.mark.sqlite
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


@pytest.mark.sqlite
def test_a_backup_of_a_postgresql_is_not_put_into_a_file(backed_up, empty, tmp_path):
    (tmp_path / "dump").write_bytes(b"PGDMP")
    manifest = {k: v for k, v in read_archive(backed_up).manifest.items() if k != "files"}
    write_archive(tmp_path / "pg.tar", manifest=manifest, files={"garlandry.pgdump": tmp_path / "dump"})
    with pytest.raises(RestoreRefused, match="is of a PostgreSQL: set DATABASE_URL"):
        restore(tmp_path / "pg.tar", replace=False, at=NOON)


@pytest.mark.sqlite
def test_a_key_kept_elsewhere_that_is_not_the_same_is_said(backed_up, empty, tmp_path, settings):
    found = read_archive(backed_up)
    found.take_out("garlandry.sqlite3", tmp_path / "db")
    manifest = {k: v for k, v in found.manifest.items() if k != "files"}
    write_archive(tmp_path / "bare.tar", manifest=manifest, files={"garlandry.sqlite3": tmp_path / "db"})
    settings.LINK_KEY = "another key than when it was made".ljust(48, "x")
    answer = restore(tmp_path / "bare.tar", replace=False, at=NOON)
    assert answer.link_key_differs
    assert any("links already sent stay closed" in line for line in command.sentences(answer))


@pytest.mark.sqlite
def test_the_same_key_kept_elsewhere_is_nothing_to_say(backed_up, settings):
    assert read_archive(backed_up).manifest["link_key"] == link_key_mark(settings.LINK_KEY)


@pytest.mark.sqlite
@pytest.mark.parametrize("name", ["nowhere.tar", "."], ids=["no such file", "a folder"])
def test_what_is_no_file_is_refused_by_name(empty, tmp_path, name):
    with pytest.raises(RestoreRefused, match="Nothing was restored"):
        restore(tmp_path / name, replace=False, at=NOON)


@pytest.mark.sqlite
def test_killed_at_any_moment_the_old_studio_or_the_new_one_is_there(backed_up, other):
    old, new, dice = None, read_archive(backed_up).manifest["tables"], random.Random(5)
    connections["default"].close()
    folder = other.parent
    ours = {"GARLANDRY_DATA": str(folder), "GARLANDRY_HTTPS": "0", "DATABASE_URL": ""}
    line = [sys.executable, str(ROOT / "manage.py"), "restore", "--replace", str(backed_up)]
    old, outcomes = sums_of(other), set()
    for number in range(4):
        process = subprocess.Popen(
            line, cwd=ROOT, env=os.environ | ours, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        give_up = time.monotonic() + 60
        # Ready once its keys are out; from then on it is migrated and put in place.
        while process.poll() is None and not any(folder.glob(".restoring-*/link.key")) and time.monotonic() < give_up:
            time.sleep(0.001)
        if number:
            time.sleep(dice.random() * 0.1)
        process.send_signal(signal.SIGKILL)
        process.wait()
        there = sums_of(other)
        assert there in (old, new)
        outcomes.add("new" if there == new else "old")
    assert "old" in outcomes
    restore(backed_up, replace=True, at=NOON)
    assert sums_of(other) == new
    assert list(folder.glob(".restoring-*")) == []


@pytest.mark.sqlite
def test_between_any_two_steps_of_putting_it_in_place_the_old_studio_or_the_new_one_is_there(
    backed_up, other, monkeypatch
):
    """Stopped after each step that changes a name, one after the other, until none is left to stop at."""
    connections["default"].close()
    old, new, folder = sums_of(other), read_archive(backed_up).manifest["tables"], other.parent
    flush, stops = restoring.flush_folder, 0
    for stop_at in range(20):
        steps = iter(range(100))

        def stopping(place: Path, steps: Iterator[int] = steps, stop_at: int = stop_at) -> None:
            flush(place)
            if next(steps) == stop_at:
                raise KeyboardInterrupt

        monkeypatch.setattr(restoring, "flush_folder", stopping)
        try:
            restore(backed_up, replace=True, at=NOON)
        except KeyboardInterrupt:
            stops += 1
        else:
            break
        assert sums_of(other) in (old, new)
        assert list(folder.glob(".restoring-*")) == []
    assert stops > 3
    assert sums_of(other) == new


@pytest.mark.sqlite
def test_json_says_what_the_help_says_it_does(backed_up, empty):
    out = io.StringIO()
    call_command("restore", str(backed_up), "--json", stdout=out)
    told = json.loads(out.getvalue())
    assert (told["on_hand"], told["made_at"], told["migrated"]) == (128, "2026-06-01T12:00:00+00:00", [])
    for key in told:
        assert key in command.Command.help


@pytest.mark.sqlite
def test_in_sentences_it_says_what_there_is_now(backed_up, empty):
    out = io.StringIO()
    call_command("restore", str(backed_up), stdout=out)
    assert out.getvalue().startswith("Restored the backup of 2026-06-01 12:00 UTC: ")
    assert "128 on hand" in out.getvalue()


@pytest.mark.sqlite
def test_a_refusal_is_the_commands_answer(backed_up, other):
    with pytest.raises(CommandError, match="There is a studio already"):
        call_command("restore", str(backed_up))


@pytest.fixture
def on_postgresql(tmp_path, settings, migrated, django_db_blocker) -> Iterator[Path]:
    """A small studio in a PostgreSQL, and its backup."""
    settings.DATA_DIR = tmp_path
    (tmp_path / "link.key").write_text("k" * 64)
    with fresh_address(migrated.template) as address, instead(settings_of(address, tmp_path), django_db_blocker):
        MovementFactory(quantity=128)
        QuoteFactory(pdf=bytes(range(256)))
        yield make_backup(tmp_path / "kept", keep=3, at=NOON).path


@pytest.mark.postgresql
def test_a_postgresql_comes_back_as_it_was(on_postgresql, tmp_path, django_db_blocker):
    told = read_archive(on_postgresql).manifest["tables"]
    with fresh_address() as address, instead(settings_of(address, tmp_path), django_db_blocker):
        found = restore(on_postgresql, replace=False, at=NOON)
        assert (found.on_hand, found.tables, found.migrated) == (128, len(told), ())
        assert Movement.objects.get().quantity == 128
        # The triggers came along: a movement is still written once.
        with pytest.raises(Exception, match="never"), connections["default"].cursor() as cursor:
            cursor.execute("UPDATE stock_movement SET quantity = 1")


@pytest.mark.postgresql
def test_a_postgresql_with_anything_in_it_is_left_alone(on_postgresql):
    with pytest.raises(RestoreRefused, match="There is something in the PostgreSQL"):
        restore(on_postgresql, replace=True, at=NOON)


@pytest.mark.postgresql
def test_without_the_servers_own_programs_a_sentence_says_so(on_postgresql, tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(CommandError, match="pg_dump, which backs it up, is not installed here"):
        call_command("backup", str(tmp_path / "more"))
    assert list((tmp_path / "more").iterdir()) == []
