"""A backup of 200 MiB while two people write, beside doing the same by hand, and what the two notice of it.

By hand is to copy the file, to pack the copy and to add both up. Beside that ours compares every row of the copy with
the original and has SQLite check every page and key of it. Merely copying, from memory into memory, is printed as well:
nothing that reads what it wrote again comes near that, and ours takes some twenty times as long. What each part asks is
printed in seconds of a processor; of 2.5 for 195 MiB, SQLite's own copy took 0.3, its check of that 0.4, adding up
every row of both 0.9, packing 0.4, and reading the packed file from the disk again 0.4. None of them can be left out
without promising less.

Run by name; not part of the tests: python -m pytest tests/bench/bench_backup.py -s
"""

import json
import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter, sleep

import pytest
from django.core.management import call_command
from django.db import connection, connections

from bookings.models import Photo
from stock import actions
from stock.models import Item, Movement
from studio.archive import read_archive
from studio.models import User
from tests.databases import instead, settings_of
from tests.factories import NOON, BookingFactory, ItemFactory, MovementFactory, UserFactory

pytestmark = pytest.mark.sqlite
ROOT = Path(__file__).resolve().parents[2]
MIB = 1 << 20
PHOTOS, MOVEMENTS = 540, 150_000
"""Ten years of five jobs a week, and a photo of every place."""

ROUNDS, WRITERS, PAUSE_SECONDS = 7, 2, 0.02

BESIDE = """
import json, os, subprocess, sys, time
from datetime import UTC, datetime
from pathlib import Path
import django
django.setup()
from studio import backup
from studio.archive import sha256_of
database, kept, copied, packed = (Path(word) for word in sys.argv[1:])

def on_the_disk(path):
    with path.open("rb") as file:
        os.fsync(file.fileno())

def copy():
    subprocess.run(["cp", database, copied], check=True)
    on_the_disk(copied)

def by_hand():
    copy()
    subprocess.run(["tar", "-C", copied.parent, "-cf", packed, copied.name], check=True)
    on_the_disk(packed)
    return sha256_of(copied), sha256_of(packed)

parts = {}

def timed(name):
    does = getattr(backup, name)
    def do(*given, **named):
        begun = time.process_time()
        found = does(*given, **named)
        parts[name] = parts.get(name, 0) + time.process_time() - begun
        return found
    setattr(backup, name, do)

for name in ("_copied", "faults", "table_sums", "write_archive", "read_archive"):
    timed(name)

def back_up():
    parts.clear()
    backup.make_backup(kept, keep=1, at=datetime.now(UTC))

does = {"copy": copy, "by hand": by_hand, "backup": back_up}
for line in sys.stdin:
    begun, worked = time.perf_counter(), time.process_time()
    does[line.strip()]()
    print(json.dumps([time.perf_counter() - begun, time.process_time() - worked, parts]), flush=True)
"""
"""Another program than the one people write in, as the command is."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, django_db_blocker) -> Iterator[Path]:
    """A data folder with a database of some 200 MiB in it."""
    made = tmp_path_factory.mktemp("backup")
    with instead(settings_of("", made), django_db_blocker):
        call_command("migrate", verbosity=0)
        booking, movement = BookingFactory(), MovementFactory(quantity=1)
        for number in range(PHOTOS):
            Photo.objects.create(
                booking=booking, name=f"{number:032x}", full=os.urandom(300_000), picture=os.urandom(50_000),
                width=1600, height=1200, added_at=NOON, added_by=movement.by,
            )  # fmt: skip
        Movement.objects.bulk_create(
            Movement(item=movement.item, kind="counted", quantity=1, at=NOON, by=movement.by) for _ in range(MOVEMENTS)
        )
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        yield made


@pytest.fixture(scope="module")
def beside(folder: Path) -> "Iterator[subprocess.Popen[str]]":
    """The other program, told by a line what to do."""
    ours = {"GARLANDRY_DATA": str(folder), "GARLANDRY_HTTPS": "0", "DATABASE_URL": ""}
    places = (folder / "garlandry.sqlite3", folder / "kept", folder / "copied", folder / "packed.tar")
    words = [sys.executable, "-c", BESIDE, *map(str, places)]
    with subprocess.Popen(
        words, cwd=ROOT, env=os.environ | ours, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as program:
        yield program
        assert program.stdin is not None
        program.stdin.close()


def seconds(program: "subprocess.Popen[str]", what: str) -> tuple[float, float, dict[str, float]]:
    """How long it took over something, how long a processor worked for it, and for which parts of the last backup."""
    assert program.stdin is not None and program.stdout is not None
    program.stdin.write(f"{what}\n")
    program.stdin.flush()
    took, worked, parts = json.loads(program.stdout.readline())
    return float(took), float(worked), parts


@contextmanager
def writing(by: User, items: list[Item]) -> Iterator[list[tuple[float, float]]]:
    """Everybody receives something again and again: when each began, and how long it took."""
    waited: list[tuple[float, float]] = []
    stop = threading.Event()

    def write(item: Item) -> None:
        try:
            while not stop.is_set():
                begun = perf_counter()
                actions.receive(item=item, quantity=1, by=by, at=NOON)
                waited.append((begun, perf_counter() - begun))
                sleep(PAUSE_SECONDS)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=write, args=[item]) for item in items]
    for thread in threads:
        thread.start()
    try:
        yield waited
    finally:
        stop.set()
        for thread in threads:
            thread.join()


def by_part(rounds: list[dict[str, float]]) -> str:
    """What the parts of a backup ask of a processor, in seconds: copying is what is left of it beside checking it."""
    part = {name: median(each[name] for each in rounds) for name in rounds[0]}
    copying = part["_copied"] - part["faults"] - part["table_sums"]
    said = {
        "copy": copying,
        "check": part["faults"],
        "add up twice": part["table_sums"],
        "pack": part["write_archive"],
        "read again": part["read_archive"],
    }
    return ", ".join(f"{name} {asked:.2f}" for name, asked in said.items())


def p95(waited: list[tuple[float, float]], spans: list[tuple[float, float]]) -> float:
    """The time within which 95 % of those came back that began or were under way in any of the spans."""
    found = [took for begun, took in waited if any(begun < end and begun + took > start for start, end in spans)]
    return quantiles(found, n=20)[-1]


def test_a_backup_takes_little_longer_than_by_hand_and_writers_hardly_notice(folder, beside):
    by: User = UserFactory()
    items: list[Item] = [ItemFactory() for _ in range(WRITERS)]
    size = (folder / "garlandry.sqlite3").stat().st_size
    took: dict[str, list[float]] = {"copy": [], "by hand": [], "backup": []}
    worked, parts, quiet, busy = [], [], [], []
    with writing(by, items) as waited:
        seconds(beside, "backup")
        for _ in range(ROUNDS):
            for what, each in took.items():
                begun = perf_counter()
                long, work, each_part = seconds(beside, what)
                each.append(long)
                if what == "backup":
                    busy.append((begun, perf_counter()))
                    worked.append(work)
                    parts.append(each_part)
            begun = perf_counter()
            sleep(took["backup"][-1] / 2)
            quiet.append((begun, perf_counter()))
    usual, slowed = p95(waited, quiet), p95(waited, busy)
    longest = max(time for _, time in waited)
    bare, by_hand = (median(took["backup"]) / median(took[what]) for what in ("copy", "by hand"))
    print(
        f"\n{size / MIB:.0f} MiB: backed up in {median(took['backup']):.2f} s ({median(worked):.2f} s of a processor:"
        f" {by_part(parts)}),"
        f" by hand in {median(took['by hand']):.2f} s ({by_hand:.1f} times), merely copied in"
        f" {median(took['copy']):.2f} s ({bare:.1f} times); 95 % of writers waited at most {1000 * usual:.0f} ms while"
        f" all was quiet and {1000 * slowed:.0f} ms during a backup ({slowed / usual:.1f} times), the longest"
        f" {1000 * longest:.0f} ms"
    )
    (kept,) = (folder / "kept").glob("garlandry-*.tar")
    assert read_archive(kept).manifest["tables"]["bookings_photo"]["rows"] == PHOTOS
    assert by_hand <= 6
    assert median(worked) <= 5
    assert slowed <= 5 * usual
