"""The file a backup is: whole, or refused."""

import datetime as dt
import hashlib
import io
import random
import subprocess
import tarfile

import pytest

from studio.archive import FORMAT, NAME, ArchiveRefused, name_of, read_archive, write_archive

MADE = dt.datetime(2026, 6, 1, 12, 0, tzinfo=dt.UTC)
MANIFEST = {"format": FORMAT, "made_at": MADE.isoformat(), "tables": {}, "schema": [], "link_key": "x", "on_hand": 0}


@pytest.fixture
def whole(tmp_path):
    """A small backup with a database and a key in it."""
    files = {"garlandry.sqlite3": tmp_path / "db", "link.key": tmp_path / "key"}
    files["garlandry.sqlite3"].write_bytes(bytes(range(256)) * 40)
    files["link.key"].write_bytes(b"k" * 64)
    write_archive(tmp_path / "whole.tar", manifest=MANIFEST, files=files)
    return tmp_path / "whole.tar"


def sealed(path, *members: tuple[str, bytes]):
    """Write a tar of these members, properly sealed."""
    with tarfile.open(path, "w") as tar:
        for name, content in members:
            entry = tarfile.TarInfo(name)
            entry.size = len(content)
            tar.addfile(entry, io.BytesIO(content))
    path.write_bytes(path.read_bytes() + f"sha256 {hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return path


def test_what_was_put_in_comes_out(whole, tmp_path):
    found = read_archive(whole)
    assert (found.made_at, found.database) == (MADE, "garlandry.sqlite3")
    for member, begun in (("garlandry.sqlite3", "db"), ("link.key", "key")):
        found.take_out(member, tmp_path / "out")
        assert (tmp_path / "out").read_bytes() == (tmp_path / begun).read_bytes()
        assert (tmp_path / "out").stat().st_mode & 0o777 == 0o600


def test_nobody_else_can_read_it(whole):
    assert whole.stat().st_mode & 0o777 == 0o600


def test_any_tar_lists_it(whole):
    listed = subprocess.run(["tar", "tf", whole], capture_output=True, text=True, check=True)
    assert listed.stdout.split() == ["manifest.json", "garlandry.sqlite3", "link.key"]


def test_a_bit_changed_anywhere_is_noticed(whole):
    content = whole.read_bytes()
    dice = random.Random(14)
    ends = [0, 1, len(content) - 1, len(content) - 2, len(content) - 72, len(content) - 73]
    for place in [*ends, *(dice.randrange(len(content)) for _ in range(200))]:
        flipped = bytearray(content)
        flipped[place] ^= 1 << dice.randrange(8)
        whole.write_bytes(flipped)
        with pytest.raises(ArchiveRefused):
            read_archive(whole)


def test_one_cut_short_anywhere_is_noticed(whole):
    content = whole.read_bytes()
    dice = random.Random(15)
    for length in [0, 1, 71, 72, 73, len(content) - 1, *(dice.randrange(len(content)) for _ in range(60))]:
        whole.write_bytes(content[:length])
        with pytest.raises(ArchiveRefused):
            read_archive(whole)


def test_one_with_something_after_it_is_noticed(whole):
    whole.write_bytes(whole.read_bytes() + b"\n")
    with pytest.raises(ArchiveRefused, match="its last line is missing or damaged"):
        read_archive(whole)


@pytest.mark.parametrize(
    ("members", "why"),
    [
        pytest.param([("../link.key", b"x")], "is no part of a backup", id="a way out of the folder"),
        pytest.param([("/etc/cron.d/x", b"x")], "is no part of a backup", id="a path from the root"),
        pytest.param([("link.key", b"x"), ("link.key", b"y")], "is no part of a backup", id="a member twice"),
        pytest.param([("link.key", b"x")], "is not a backup", id="no manifest"),
        pytest.param([("manifest.json", b"[]")], "is not a backup", id="a manifest of another kind"),
        pytest.param([("manifest.json", b"{")], "is not a backup", id="a manifest cut short"),
        pytest.param([], "is not a backup", id="nothing"),
    ],
)
def test_a_sealed_tar_of_something_else_is_refused(tmp_path, members, why):
    with pytest.raises(ArchiveRefused, match=why):
        read_archive(sealed(tmp_path / "other.tar", *members))


def test_one_of_a_newer_format_says_so(tmp_path):
    (tmp_path / "db").write_bytes(b"x")
    write_archive(
        tmp_path / "new.tar",
        manifest=MANIFEST | {"format": FORMAT + 1},
        files={"garlandry.sqlite3": tmp_path / "db"},
    )
    with pytest.raises(ArchiveRefused, match="was made by a newer Garlandry"):
        read_archive(tmp_path / "new.tar")


def test_one_without_a_database_is_refused(tmp_path):
    (tmp_path / "key").write_bytes(b"x")
    write_archive(tmp_path / "keys.tar", manifest=MANIFEST, files={"link.key": tmp_path / "key"})
    with pytest.raises(ArchiveRefused, match="does not hold what its manifest says"):
        read_archive(tmp_path / "keys.tar")


@pytest.mark.parametrize(
    "at",
    [
        pytest.param(MADE, id="in UTC"),
        pytest.param(dt.datetime(2026, 6, 1, 8, 0, tzinfo=dt.timezone(dt.timedelta(hours=-4))), id="elsewhere"),
    ],
)
def test_it_is_named_by_the_time_in_utc(at):
    assert name_of(at) == "garlandry-20260601T120000Z.tar"
    assert NAME.fullmatch(name_of(at))
