"""Programs that start on one folder at the same time, and one that starts while another answers from it."""

import os
import sqlite3
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from studio import settings as settings_file
from studio.management.commands.demo import is_let_go

ROOT = Path(__file__).resolve().parents[2]
AT_ONCE = 8
READ_THEIR_KEYS = "from studio import settings; print(settings.SECRET_KEY, settings.LINK_KEY)"


@pytest.fixture
def folder(tmp_path, monkeypatch) -> Path:
    """An empty data folder."""
    monkeypatch.setattr(settings_file, "DATA_DIR", tmp_path)
    return tmp_path


@pytest.fixture
def database(tmp_path) -> Path:
    """A file of SQLite with a row in it that is still in its log."""
    path = tmp_path / "garlandry.sqlite3"
    with closing(sqlite3.connect(path, isolation_level=None)) as made:
        made.execute("PRAGMA journal_mode=WAL")
        made.execute("CREATE TABLE jobs (title TEXT)")
        made.execute("INSERT INTO jobs VALUES ('Winter gala')")
    return path


def test_whoever_needs_a_key_at_once_gets_the_same(folder, monkeypatch):
    together = threading.Barrier(AT_ONCE)
    drawn = settings_file.secrets.token_urlsafe

    def slowly(size: int) -> str:
        # Whoever could come in between does.
        time.sleep(0.05)
        return drawn(size)

    def need(_: int) -> str:
        together.wait()
        return settings_file.kept_secret("secret.key")

    monkeypatch.setattr(settings_file.secrets, "token_urlsafe", slowly)
    with ThreadPoolExecutor(AT_ONCE) as threads:
        keys = set(threads.map(need, range(AT_ONCE)))
    assert keys == {(folder / "secret.key").read_text()}


def test_a_start_that_was_killed_leaves_no_half_a_key(folder):
    (folder / "secret.key.making").write_text("half a k")
    key = settings_file.kept_secret("secret.key")
    assert len(key) == 64
    assert [path.name for path in folder.iterdir()] == ["secret.key"]


def test_programs_that_start_at_once_agree_on_their_keys(tmp_path):
    ours = os.environ | {"GARLANDRY_DATA": str(tmp_path), "GARLANDRY_DEMO": "0"}
    ours = {name: value for name, value in ours.items() if not name.endswith("_KEY")}
    programs = [
        subprocess.Popen([sys.executable, "-c", READ_THEIR_KEYS], cwd=ROOT, env=ours, stdout=subprocess.PIPE, text=True)
        for _ in range(4)
    ]
    said = {program.communicate(timeout=120)[0] for program in programs}
    kept = " ".join((tmp_path / name).read_text() for name in ("secret.key", "link.key"))
    assert said == {f"{kept}\n"}


def test_a_database_somebody_has_open_is_not_let_go(database):
    with closing(sqlite3.connect(database)) as theirs:
        assert theirs.execute("SELECT title FROM jobs").fetchall() == [("Winter gala",)]
        assert not is_let_go(database)
    assert is_let_go(database)


def test_a_fresh_demo_takes_no_database_from_under_the_one_that_is_served(tmp_path, database, settings):
    settings.DEMO, settings.DATA_DIR = True, tmp_path
    with closing(sqlite3.connect(database)) as served:
        served.execute("SELECT title FROM jobs").fetchall()
        with pytest.raises(CommandError, match="stop it first"):
            call_command("demo", "--fresh", "--no-serve")
        assert served.execute("SELECT title FROM jobs").fetchall() == [("Winter gala",)]
    assert list(tmp_path.glob("*.sqlite3")) == [database]
