"""Broken off at any moment, the old studio is there whole or the new one is."""

import os
import random
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from django.db import connections

from studio import restoring
from studio.archive import read_archive
from studio.restoring import restore
from tests.factories import NOON
from tests.studio.restoring.studio_files import sums_of

ROOT = Path(__file__).resolve().parents[3]

pytestmark = pytest.mark.sqlite
LOGS = 3
"""So many logs that may be beside the old studio are put aside first; the database follows, and then its two keys."""
HALTING = """
import os, signal, sys
import django
django.setup()
from django.core.management import call_command
from studio import restoring
steps, halt_at, flush = iter(range(100)), int(sys.argv[1]), restoring.flush_folder

def flush_and_halt(place):
    flush(place)
    if next(steps) == halt_at:
        os.kill(os.getpid(), signal.SIGSTOP)

restoring.flush_folder = flush_and_halt
call_command("restore", sys.argv[2], "--replace")
"""
"""A program that restores, and halts once it has put so many things in their places."""


@contextmanager
def restoring_in(folder: Path, *words: str) -> Iterator["subprocess.Popen[bytes]"]:
    """A program of its own that puts a backup into a folder; it is killed at the end of the block."""
    ours = {"GARLANDRY_DATA": str(folder), "GARLANDRY_HTTPS": "0", "DATABASE_URL": ""}
    with subprocess.Popen(
        [sys.executable, *words],
        cwd=ROOT,
        env=os.environ | ours,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    ) as process:
        try:
            yield process
        finally:
            process.kill()


@pytest.mark.parametrize(
    ("step", "is_new"),
    [
        pytest.param(0, False, id="nothing changed yet"),
        pytest.param(LOGS - 1, False, id="the old log is aside"),
        pytest.param(LOGS, True, id="the database is in its place"),
        pytest.param(LOGS + 1, True, id="and the first of its keys"),
        pytest.param(LOGS + 2, True, id="and the second"),
    ],
)
def test_killed_at_a_step_the_studio_is_the_old_one_before_it_is_in_its_place_and_the_new_one_after(
    backed_up, other, step, is_new
):
    old, new = sums_of(other), read_archive(backed_up).manifest["tables"]
    assert old != new
    connections["default"].close()
    with restoring_in(other.parent, "-c", HALTING, str(step), str(backed_up)) as process:
        _, status = os.waitpid(process.pid, os.WUNTRACED)
        assert os.WIFSTOPPED(status), "it ended before that step"
    assert sums_of(other) == (new if is_new else old)
    restore(backed_up, replace=True, at=NOON)
    assert sums_of(other) == new
    assert list(other.parent.glob(".restoring-*")) == []


def test_killed_at_any_moment_the_old_studio_or_the_new_one_is_there(backed_up, other):
    old, new, dice = sums_of(other), read_archive(backed_up).manifest["tables"], random.Random(5)
    connections["default"].close()
    folder = other.parent
    for _ in range(4):
        with restoring_in(folder, str(ROOT / "manage.py"), "restore", "--replace", str(backed_up)) as process:
            # Once its keys are out it is migrated and put in place; it may as well be done by the time it is killed.
            while process.poll() is None and not any(folder.glob(".restoring-*/link.key")):
                time.sleep(0.001)
            time.sleep(dice.random() * 0.1)
        assert sums_of(other) in (old, new)
    restore(backed_up, replace=True, at=NOON)
    assert sums_of(other) == new
    assert list(folder.glob(".restoring-*")) == []


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
