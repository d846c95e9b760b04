"""A backup: made while others write, whole or not there at all."""

import datetime as dt
import io
import json
import os
import random
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.db import connections, transaction

from stock import actions
from stock.models import Movement
from studio import backup as making
from studio.archive import read_archive
from studio.backup import BackupRefused, make_backup
from studio.management.commands import backup as command
from studio.table_sums import table_sums
from tests.databases import Migrated, instead, settings_of
from tests.factories import NOON, MovementFactory, UserFactory

pytestmark = pytest.mark.sqlite
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory, migrated: Migrated, django_db_blocker: Any) -> Path:
    """A small studio in a file."""
    folder = tmp_path_factory.mktemp("filled")
    migrated.copied_to(folder)
    with instead(settings_of("", folder), django_db_blocker):
        MovementFactory(quantity=128, item__keep_back=5)
    return folder / "garlandry.sqlite3"


@pytest.fixture
def folder(filled, tmp_path, settings, django_db_blocker):
    """A data folder with that studio in it, and everything working on it."""
    settings.DATA_DIR = tmp_path / "data"
    settings.DATA_DIR.mkdir()
    shutil.copy(filled, settings.DATA_DIR)
    for name in ("secret.key", "link.key"):
        (settings.DATA_DIR / name).write_text(name * 8)
    with instead(settings_of("", settings.DATA_DIR), django_db_blocker):
        yield settings.DATA_DIR


def database_in(path: Path, to: Path) -> Path:
    """The database of a backup as a file."""
    read_archive(path).take_out("garlandry.sqlite3", to)
    return to


def sums_of(path: Path) -> dict[str, Any]:
    """Every table of a file."""
    with closing(sqlite3.connect(path)) as database:
        return table_sums(database)


def run(*words: str, folder: Path, **environment: str) -> "subprocess.CompletedProcess[str]":
    """The command in a program of its own."""
    ours = {"GARLANDRY_DATA": str(folder), "GARLANDRY_HTTPS": "0", "DATABASE_URL": ""} | environment
    line = [sys.executable, str(ROOT / "manage.py"), *words]
    return subprocess.run(line, cwd=ROOT, env=os.environ | ours, capture_output=True, text=True, timeout=120)


def test_every_table_is_in_it_as_it_is(folder, tmp_path):
    made = make_backup(tmp_path / "kept", keep=3, at=NOON)
    copied = database_in(made.path, tmp_path / "out.sqlite3")
    assert sums_of(copied) == sums_of(folder / "garlandry.sqlite3") == read_archive(made.path).manifest["tables"]
    assert made.on_hand == 128
    assert made.path.name == "garlandry-20260601T120000Z.tar"


def test_the_keys_are_in_it_and_nobody_else_can_read_it(folder, tmp_path):
    made = make_backup(tmp_path / "kept", keep=3, at=NOON)
    assert made.keys == ("secret.key", "link.key")
    read_archive(made.path).take_out("link.key", tmp_path / "key")
    assert (tmp_path / "key").read_text() == "link.key" * 8
    assert made.path.stat().st_mode & 0o777 == 0o600
    assert made.path.parent.stat().st_mode & 0o777 == 0o700


def test_a_key_of_the_environment_stays_there(folder, tmp_path, monkeypatch):
    monkeypatch.setenv("GARLANDRY_LINK_KEY", "x" * 48)
    made = make_backup(tmp_path / "kept", keep=3, at=NOON)
    assert made.keys == ("secret.key",)
    assert b"x" * 48 not in made.path.read_bytes()


def test_only_the_backup_is_left_in_the_folder(folder, tmp_path):
    make_backup(tmp_path / "kept", keep=3, at=NOON)
    assert [path.name for path in (tmp_path / "kept").iterdir()] == ["garlandry-20260601T120000Z.tar"]


def test_two_within_a_second_are_two(folder, tmp_path):
    first, second = (make_backup(tmp_path / "kept", keep=3, at=NOON) for _ in range(2))
    assert second.path.name == "garlandry-20260601T120000Z-2.tar"
    assert first.path.exists()


def test_the_newest_are_kept_and_nothing_of_anybody_elses_is_deleted(folder, tmp_path):
    kept = tmp_path / "kept"
    kept.mkdir()
    for name in ("notes.txt", "garlandry-old.tar", "garlandry-20200101T000000Z.tar.gz"):
        (kept / name).write_text("mine")
    made = [make_backup(kept, keep=2, at=NOON + dt.timedelta(days=days)) for days in (0, 1, 2)]
    assert made[2].removed == (made[0].path,)
    assert sorted(path.name for path in kept.iterdir()) == [
        "garlandry-20200101T000000Z.tar.gz",
        "garlandry-20260602T120000Z.tar",
        "garlandry-20260603T120000Z.tar",
        "garlandry-old.tar",
        "notes.txt",
    ]


def test_a_clock_set_back_does_not_delete_the_one_just_made(folder, tmp_path):
    make_backup(tmp_path / "kept", keep=1, at=NOON)
    made = make_backup(tmp_path / "kept", keep=1, at=NOON - dt.timedelta(days=2))
    assert list((tmp_path / "kept").iterdir()) == [made.path]


def test_it_is_one_moment_of_what_others_write_meanwhile(folder, tmp_path):
    """Each round commits two movements together that add up to nothing: no backup has one without the other."""
    item, by, stop, rounds = MovementFactory(quantity=50).item, UserFactory(), threading.Event(), 0

    def write() -> None:
        nonlocal rounds
        try:
            while not stop.is_set():
                with transaction.atomic():
                    actions.receive(item=item, quantity=7, by=by, at=NOON)
                    actions.use(item=item, quantity=7, by=by, at=NOON)
                rounds += 1
        finally:
            connections.close_all()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        found = []
        for number in range(4):
            before = rounds
            made = make_backup(tmp_path / "kept", keep=9, at=NOON + dt.timedelta(seconds=number))
            with closing(sqlite3.connect(database_in(made.path, tmp_path / f"{number}.sqlite3"))) as copied:
                ask = "SELECT SUM(quantity), COUNT(*) FROM stock_movement WHERE item_id = ?"
                found.append((*copied.execute(ask, [item.pk]).fetchone(), before))
    finally:
        stop.set()
        writer.join()
    assert rounds > 20
    for balance, movements, before in found:
        assert balance == 50
        assert movements % 2 == 1
        assert movements >= 1 + 2 * before


def test_a_damaged_database_is_not_backed_up(folder, tmp_path):
    connections["default"].close()
    damaged = bytearray((folder / "garlandry.sqlite3").read_bytes())
    for place in range(40_960, len(damaged), 4096):
        damaged[place : place + 64] = b"\xff" * 64
    (folder / "garlandry.sqlite3").write_bytes(damaged)
    with pytest.raises(BackupRefused):
        make_backup(tmp_path / "kept", keep=3, at=NOON)
    assert list((tmp_path / "kept").iterdir()) == []


def test_a_copy_that_is_not_what_was_copied_is_no_backup(folder, tmp_path, monkeypatch):
    seen = iter([{"a": {"rows": 1, "sha256": "x"}}, {"a": {"rows": 2, "sha256": "y"}}])
    monkeypatch.setattr(making, "table_sums", lambda _: next(seen))
    with pytest.raises(BackupRefused, match=r"The copy is not what was copied \(a\)"):
        make_backup(tmp_path / "kept", keep=3, at=NOON)
    assert list((tmp_path / "kept").iterdir()) == []


def test_where_nothing_is_there_is_nothing_to_back_up(folder, tmp_path):
    connections["default"].close()
    (folder / "garlandry.sqlite3").unlink()
    with pytest.raises(BackupRefused, match="There is no studio to back up"):
        make_backup(tmp_path / "kept", keep=3, at=NOON)


def test_a_folder_that_is_a_file_is_refused(folder, tmp_path):
    (tmp_path / "kept").write_text("x")
    with pytest.raises(BackupRefused, match=r"No backup was made in .*kept: file exists"):
        make_backup(tmp_path / "kept", keep=3, at=NOON)


@pytest.mark.parametrize("room", [100_000, 900_000], ids=["for half the copy", "for the copy and not the file"])
def test_where_there_is_no_room_nothing_is_left(folder, tmp_path, room):
    """A limit on the length of a file ends a write half-way, as a full disk does."""
    connections["default"].close()
    code = (
        "import resource, signal, sys; signal.signal(signal.SIGXFSZ, signal.SIG_IGN);"
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({room}, {room})); sys.argv = sys.argv[1:];"
        "import runpy; runpy.run_path('manage.py', run_name='__main__')"
    )
    ours = {"GARLANDRY_DATA": str(folder), "GARLANDRY_HTTPS": "0", "DATABASE_URL": ""}
    line = [sys.executable, "-c", code, "manage.py", "backup", str(tmp_path / "kept")]
    assert resource.getrlimit(resource.RLIMIT_FSIZE)[0] != room
    assert (folder / "garlandry.sqlite3").stat().st_size + 64 > room
    done = subprocess.run(line, cwd=ROOT, env=os.environ | ours, capture_output=True, text=True, timeout=120)
    assert done.returncode == 1, done.stderr
    assert "CommandError: No backup was made in" in done.stderr
    assert list((tmp_path / "kept").iterdir()) == []


def test_killed_at_any_moment_it_leaves_a_whole_backup_or_none(folder, tmp_path):
    connections["default"].close()
    kept = tmp_path / "kept"
    dice = random.Random(9)
    ours = {"GARLANDRY_DATA": str(folder), "GARLANDRY_HTTPS": "0", "DATABASE_URL": ""}
    line = [sys.executable, str(ROOT / "manage.py"), "backup", str(kept)]
    for _ in range(5):
        process = subprocess.Popen(
            line, cwd=ROOT, env=os.environ | ours, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        give_up = time.monotonic() + 60
        while process.poll() is None and not any(kept.glob(".part-*")) and time.monotonic() < give_up:
            time.sleep(0.001)
        time.sleep(dice.random() * 0.06)
        process.send_signal(signal.SIGKILL)
        process.wait()
        for path in kept.glob("garlandry-*"):
            read_archive(path)
    make_backup(kept, keep=99, at=NOON)
    assert list(kept.glob(".part-*")) == []


def test_json_says_what_the_help_says_it_does(folder, tmp_path):
    out = io.StringIO()
    call_command("backup", str(tmp_path / "kept"), "--json", stdout=out)
    told = json.loads(out.getvalue())
    assert Path(told["file"]).stat().st_size == told["bytes"]
    assert (told["on_hand"], told["keys"], told["removed"]) == (128, ["secret.key", "link.key"], [])
    for key in told:
        assert key in command.Command.help


def test_in_sentences_it_says_where_it_is(folder, tmp_path):
    out = io.StringIO()
    call_command("backup", str(tmp_path / "kept"), stdout=out)
    assert f"Backed up to {tmp_path / 'kept'}/garlandry-" in out.getvalue()
    assert "the movements add up to 128 on hand" in out.getvalue()


@pytest.mark.parametrize("keep", ["0", "-1", "x", "1.5", "²", "10000", "9" * 400])
def test_a_number_to_keep_that_makes_no_sense_is_refused(keep):
    with pytest.raises(CommandError, match="keep must be a whole number from 1 to 9999"):
        call_command("backup", f"--keep={keep}")


def test_it_is_made_where_it_always_is_when_nothing_is_said(folder):
    connections["default"].close()
    done = run("backup", folder=folder)
    assert done.returncode == 0, done.stderr
    assert len(list((folder / "backups").glob("garlandry-*.tar"))) == 1
    assert Movement.objects.count() == 1
