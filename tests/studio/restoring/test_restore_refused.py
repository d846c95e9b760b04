"""What cannot be put back is refused with what to do, and nothing is touched."""

import random
import sqlite3
from contextlib import closing

import pytest
from django.db import connections

from studio.archive import read_archive, write_archive
from studio.restoring import RestoreRefused, restore
from tests.factories import NOON
from tests.studio.restoring.studio_files import bytes_in, made_again

pytestmark = pytest.mark.sqlite


def test_where_there_is_a_studio_nothing_is_touched(backed_up, other):
    connections["default"].close()
    before = bytes_in(other.parent)
    with pytest.raises(RestoreRefused, match=r"There is a studio already, at .*With --replace"):
        restore(backed_up, replace=False, at=NOON)
    assert bytes_in(other.parent) == before


def test_while_somebody_works_on_it_nothing_is_touched(backed_up, other):
    with closing(sqlite3.connect(other)) as server:
        server.execute("SELECT count(*) FROM stock_movement").fetchone()
        with pytest.raises(RestoreRefused, match=r"Somebody is working on .*: stop the server"):
            restore(backed_up, replace=True, at=NOON)
        assert server.execute("SELECT SUM(quantity) FROM stock_movement").fetchone() == (1128,)
    assert [path.name for path in other.parent.glob(".restoring-*")] == []
    assert [path.name for path in other.parent.glob("replaced-*")] == []


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


def test_one_of_a_newer_garlandry_is_refused_with_what_to_do(backed_up, empty, tmp_path):
    schema = [*read_archive(backed_up).manifest["schema"], ["stock", "9999_from_the_future"]]
    newer = made_again(backed_up, tmp_path, schema=schema)
    with pytest.raises(RestoreRefused, match=r"newer Garlandry .*stock 9999_from_the_future.*up to date first"):
        restore(newer, replace=False, at=NOON)
    assert not empty.exists()


def test_one_whose_rows_are_not_those_of_its_manifest_is_refused(backed_up, empty, tmp_path):
    tables = read_archive(backed_up).manifest["tables"] | {"stock_movement": {"rows": 2, "sha256": "0" * 64}}
    with pytest.raises(RestoreRefused, match=r"is not what was backed up \(stock_movement differ\)"):
        restore(made_again(backed_up, tmp_path, tables=tables), replace=False, at=NOON)
    assert not empty.exists()


def test_a_backup_of_a_postgresql_is_not_put_into_a_file(backed_up, empty, tmp_path):
    (tmp_path / "dump").write_bytes(b"PGDMP")
    manifest = {k: v for k, v in read_archive(backed_up).manifest.items() if k != "files"}
    write_archive(tmp_path / "pg.tar", manifest=manifest, files={"garlandry.pgdump": tmp_path / "dump"})
    with pytest.raises(RestoreRefused, match="is of a PostgreSQL: set DATABASE_URL"):
        restore(tmp_path / "pg.tar", replace=False, at=NOON)


@pytest.mark.parametrize("name", ["nowhere.tar", "."], ids=["no such file", "a folder"])
def test_what_is_no_file_is_refused_by_name(empty, tmp_path, name):
    with pytest.raises(RestoreRefused, match="Nothing was restored"):
        restore(tmp_path / name, replace=False, at=NOON)
