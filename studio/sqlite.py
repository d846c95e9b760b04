"""Which SQLite is safe to keep the books in, and how to use one that is."""

import importlib
import sqlite3
import sys

Version = tuple[int, ...]

# The first release of the main line with the fix, and the releases of older lines it was carried back to.
SAFE_VERSION: Version = (3, 51, 3)
_MENDED_LINES: tuple[Version, ...] = ((3, 50, 7), (3, 44, 6))


class UnsafeSqliteError(RuntimeError):
    """No SQLite with the write-ahead-log fix could be found."""


def is_safe(version: Version) -> bool:
    """Whether an SQLite of this version has the fix for the write-ahead-log reset fault."""
    if version >= SAFE_VERSION:
        return True
    return any(version[:2] == mended[:2] and version >= mended for mended in _MENDED_LINES)


def use_bundled_sqlite() -> None:
    """Make `import sqlite3` give an SQLite that does not corrupt the file; call before Django is loaded.

    In WAL mode, SQLite from 3.7.0 to 3.51.2 can corrupt a database when one connection resets the log
    while another writes or checkpoints: exactly what several workers do all day. It was fixed in 3.51.3 and
    carried back to 3.50.7 and 3.44.6. Distributions still ship older ones, so when Python's own is
    affected, the SQLite bundled with `pysqlite3` takes its place under the same name.

    Raises `UnsafeSqliteError` when the bundled one is missing or affected as well.
    """
    if is_safe(sqlite3.sqlite_version_info):
        return
    try:
        bundled = importlib.import_module("pysqlite3")
        bundled_dbapi = importlib.import_module("pysqlite3.dbapi2")
    except ImportError as error:
        raise UnsafeSqliteError(
            f"SQLite {sqlite3.sqlite_version} can corrupt a database in WAL mode, and the pysqlite3 package, "
            "which brings a newer one, is not installed. Install it, or use a Python with SQLite 3.51.3."
        ) from error
    if not is_safe(bundled_dbapi.sqlite_version_info):
        raise UnsafeSqliteError(
            f"The pysqlite3 package brings SQLite {bundled_dbapi.sqlite_version}; 3.51.3 or newer is needed."
        )
    sys.modules["sqlite3"] = bundled
    sys.modules["sqlite3.dbapi2"] = bundled_dbapi
