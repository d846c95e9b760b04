"""Who writes to a file of SQLite waits for its turn, and nobody keeps it who is gone."""

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from django.db import OperationalError, connections, transaction

from studio.models import Studio
from studio.sqlite_backend.turns import Turns, turns_at
from tests.databases import instead, settings_of

pytestmark = pytest.mark.sqlite
ROOT = Path(__file__).resolve().parents[2]
HOLD = (
    "import sys, time; from pathlib import Path; from studio.sqlite_backend.turns import turns_at;"
    "print(turns_at(Path(sys.argv[1])).take(5), flush=True); time.sleep(60)"
)


@pytest.fixture
def file(tmp_path, django_db_blocker):
    """A database with one table, which everything works on; writers give up after a second."""
    settings = settings_of("", tmp_path)
    settings["OPTIONS"]["timeout"] = 1
    with instead(settings, django_db_blocker):
        with connections["default"].schema_editor() as editor:
            editor.create_model(Studio)
        yield settings["NAME"]


def is_free(file: Path) -> bool:
    """Whether nobody has the turn."""
    turns = turns_at(file)
    if not turns.take(0.2):
        return False
    turns.give()
    return True


@pytest.fixture
def another(file):
    """Another program that has the turn."""
    program = subprocess.Popen([sys.executable, "-c", HOLD, str(file)], cwd=ROOT, stdout=subprocess.PIPE, text=True)
    assert program.stdout is not None
    assert program.stdout.readline() == "True\n"
    yield program
    program.kill()
    program.wait()
    program.stdout.close()


def test_a_transaction_has_the_turn_until_it_is_committed(file):
    with transaction.atomic():
        assert not is_free(file)
    assert is_free(file)


def test_one_inside_another_is_the_same_turn(file):
    with transaction.atomic():
        with transaction.atomic():
            Studio.objects.create(pk=1)
        assert not is_free(file)
    assert is_free(file)


def test_what_was_rolled_back_has_given_it(file):
    with pytest.raises(ZeroDivisionError), transaction.atomic():
        1 / 0  # noqa: B018
    assert is_free(file)


def test_a_connection_closed_in_the_middle_has_given_it(file):
    with pytest.raises(ZeroDivisionError), transaction.atomic():
        connections["default"].close()
        1 / 0  # noqa: B018
    assert is_free(file)


def test_a_transaction_that_could_not_begin_has_given_it(file):
    connections["default"].ensure_connection()
    with connections["default"].cursor() as cursor:
        cursor.execute("BEGIN IMMEDIATE")
    with pytest.raises(OperationalError), transaction.atomic():
        pass
    with connections["default"].cursor() as cursor:
        cursor.execute("ROLLBACK")
    assert is_free(file)


def test_reading_waits_for_nobody(file, another):
    assert Studio.objects.count() == 0


def test_a_writer_that_waited_too_long_is_told(file, another):
    begun = time.monotonic()
    with pytest.raises(OperationalError, match="database is locked"), transaction.atomic():
        pass
    assert 0.9 < time.monotonic() - begun < 60


def test_when_a_program_is_killed_the_others_go_on(file, another):
    os.kill(another.pid, signal.SIGKILL)
    another.wait()
    with transaction.atomic():
        Studio.objects.create(pk=1)
    assert Studio.objects.count() == 1


def test_a_copy_of_the_program_waits_like_another_one(file):
    with transaction.atomic():
        child = os.fork()
        if child == 0:
            os._exit(1 if turns_at(file).take(0.2) else 0)
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
        assert not is_free(file)
    assert is_free(file)


def test_threads_go_in_the_order_they_came(tmp_path):
    turns, came, went = Turns(tmp_path / "turns"), [], []
    assert turns.take(1)

    def go(number: int) -> None:
        came.append(number)
        assert turns.take(60)
        went.append(number)
        turns.give()

    threads = [threading.Thread(target=go, args=[number]) for number in range(8)]
    for thread in threads:
        thread.start()
        give_up = time.monotonic() + 60
        while len(turns._row) < len(came) and time.monotonic() < give_up:
            time.sleep(0.001)
    turns.give()
    for thread in threads:
        thread.join()
    assert went == came == list(range(8))


def test_who_gave_up_is_not_called(tmp_path):
    turns = Turns(tmp_path / "turns")
    assert turns.take(1)
    assert not turns.take(0.05)
    turns.give()
    assert turns.take(0.05)


def test_many_at_once_all_get_their_turn_alone(tmp_path):
    turns, inside, most = Turns(tmp_path / "turns"), 0, 0

    def go() -> None:
        nonlocal inside, most
        for _ in range(50):
            assert turns.take(30)
            inside += 1
            most = max(most, inside)
            inside -= 1
            turns.give()

    threads = [threading.Thread(target=go) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == 1
