"""A writer that is killed in the middle of its work takes nothing along that it had said was written."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.db import connection

from stock.models import Item, Lot, Movement
from stock.queries import lots_on_hand, on_hand

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = 20
LONGEST = 0.25
"""Seconds after which a writer is killed at the latest."""


@pytest.fixture
def writer(shared: dict[str, str]) -> Iterator["subprocess.Popen[str]"]:
    """The program that writes, waiting for the first item."""
    environment = os.environ | shared | {"DJANGO_SETTINGS_MODULE": "studio.settings", "GARLANDRY_HTTPS": "0"}
    command = [sys.executable, str(Path(__file__).with_name("writer.py"))]
    environment["PYTHONPATH"] = str(ROOT)
    with subprocess.Popen(
        command, cwd=ROOT, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as process:
        yield process
        assert process.stdin is not None
        process.stdin.close()


def one_round(writer: "subprocess.Popen[str]", item: Item, after: float) -> list[int]:
    """Let it write until it is killed `after` so many seconds; the keys it said were kept."""
    assert writer.stdin is not None
    assert writer.stdout is not None
    writer.stdin.write(f"{item.pk}\n")
    writer.stdin.flush()
    began, pid = writer.stdout.readline().split()
    assert began == "began"
    time.sleep(after)
    os.kill(int(pid), signal.SIGKILL)
    said = [line.split() for line in iter(writer.stdout.readline, "ended\n")]
    assert all(word == "kept" for word, _ in said)
    return [int(key) for _, key in said]


def test_nothing_that_was_acknowledged_is_lost_when_the_writer_is_killed(shared, by, new_item, writer):
    item, chance = new_item(), random.Random(20)
    acknowledged: list[int] = []
    for round_ in range(ROUNDS):
        acknowledged += one_round(writer, item, chance.uniform(0, LONGEST))
        kept = set(Movement.objects.filter(item=item).values_list("pk", flat=True))

        assert set(acknowledged) - kept == set(), f"round {round_}"
        # One a round may be written and its writer killed before it could say so.
        assert len(kept) - len(acknowledged) <= round_ + 1
        assert on_hand([item.pk])[item.pk] == len(kept)
        assert sum(lot.left for lot in lots_on_hand([item.pk]).get(item.pk, [])) == len(kept)
        assert Lot.objects.filter(item=item).count() == len(kept), "half of a receipt was kept"

    assert len(set(acknowledged)) == len(acknowledged) > ROUNDS
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            assert cursor.execute("PRAGMA integrity_check").fetchone() == ("ok",)
