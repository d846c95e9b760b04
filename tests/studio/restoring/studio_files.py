"""A studio as files: a data folder to work in, what its tables add up to, and its backup sealed anew."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from studio.archive import read_archive, write_archive
from studio.table_sums import table_sums
from tests.databases import instead, settings_of


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


def sums_of(path: Path) -> dict[str, Any]:
    """Every table of a file."""
    with closing(sqlite3.connect(path)) as database:
        return table_sums(database)


def bytes_in(folder: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def made_again(backed_up: Path, folder: Path, **changed: Any) -> Path:
    """The backup, sealed anew with another manifest."""
    found = read_archive(backed_up)
    files = {name: folder / name for name in found.manifest["files"]}
    for name, path in files.items():
        found.take_out(name, path)
    manifest = {key: value for key, value in found.manifest.items() if key != "files"}
    write_archive(folder / "again.tar", manifest=manifest | changed, files=files)
    return folder / "again.tar"
