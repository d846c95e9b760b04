"""The SQLite the books are kept in."""

import subprocess
import sys
from pathlib import Path

import pytest

from studio.sqlite import is_safe

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("version", "safe"),
    [
        pytest.param((3, 40, 1), False, id="a long-lived distribution"),
        pytest.param((3, 44, 5), False, id="just before the first line that was mended"),
        pytest.param((3, 44, 6), True, id="mended 3.44"),
        pytest.param((3, 45, 9), False, id="a line that was never mended"),
        pytest.param((3, 50, 6), False, id="just before mended 3.50"),
        pytest.param((3, 50, 7), True, id="mended 3.50"),
        pytest.param((3, 51, 2), False, id="the last affected release"),
        pytest.param((3, 51, 3), True, id="the release with the fix"),
        pytest.param((3, 53, 4), True, id="a later line"),
        pytest.param((4, 0, 0), True, id="a later generation"),
    ],
)
def test_only_versions_with_the_write_ahead_log_fix_are_safe(version, safe):
    assert is_safe(version) is safe


def _python(code):
    """What `code` prints, in an interpreter of its own, run from the project."""
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    return done.stdout.strip()


def test_a_fresh_interpreter_gets_a_safe_sqlite_under_the_usual_name():
    code = (
        "from studio.sqlite import use_bundled_sqlite; use_bundled_sqlite()\n"
        "import sqlite3, sqlite3.dbapi2 as dbapi\n"
        "ask = sqlite3.connect(':memory:').execute('select sqlite_version()')\n"
        "print(ask.fetchone()[0], dbapi.sqlite_version, sqlite3.sqlite_version)"
    )
    running, by_dbapi, by_name = _python(code).split()
    assert is_safe(tuple(map(int, running.split("."))))
    assert running == by_dbapi == by_name


def test_choosing_the_sqlite_loads_no_django():
    code = (
        "import sys; from studio.sqlite import use_bundled_sqlite; use_bundled_sqlite()\n"
        "print([m for m in sys.modules if m == 'django' or m.startswith('django.')])"
    )
    assert _python(code) == "[]"


def test_an_affected_sqlite_without_a_bundled_one_is_refused_by_name():
    code = (
        "import sqlite3, sys; sqlite3.sqlite_version_info = (3, 40, 1); sqlite3.sqlite_version = '3.40.1'\n"
        "sys.modules['pysqlite3'] = None\n"
        "from studio.sqlite import use_bundled_sqlite, UnsafeSqliteError\n"
        "try: use_bundled_sqlite()\n"
        "except UnsafeSqliteError as error: print(error)"
    )
    assert _python(code).startswith("SQLite 3.40.1 can corrupt a database in WAL mode")
