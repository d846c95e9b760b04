"""Whose turn it is to write to a file, first come, first served: threads of one program in a row, programs by a lock.

SQLite lets one writer in and has the others try again now and then, so that under load one may wait for seconds
while another goes ten times. What is held here is let go by the system itself when a program is killed.
"""

import fcntl
import os
import threading
from collections import deque
from pathlib import Path
from time import monotonic, sleep

_FIRST_PAUSE, _LONGEST_PAUSE = 0.0005, 0.01


class Turns:
    """The turns at one file; `lock` is the file beside it that programs lock."""

    def __init__(self, lock: Path) -> None:
        self._lock = lock
        self._mutex = threading.Lock()
        self._row: deque[threading.Lock] = deque()
        self._is_taken = False
        self._handle = -1

    def take(self, seconds: float) -> bool:
        """Wait for the turn, at most so long; whether it is ours."""
        until = monotonic() + seconds
        if not self._first_in_row(seconds):
            return False
        if self._locked(until):
            return True
        self._next_in_row()
        return False

    @property
    def waiting(self) -> int:
        """How many of this program wait for their turn."""
        with self._mutex:
            return len(self._row)

    def give(self) -> None:
        """Let the next one have it."""
        handle, self._handle = self._handle, -1
        if handle >= 0:
            os.close(handle)
        self._next_in_row()

    def _first_in_row(self, seconds: float) -> bool:
        with self._mutex:
            if not self._is_taken:
                self._is_taken = True
                return True
            called = threading.Lock()
            called.acquire()
            self._row.append(called)
        if called.acquire(timeout=max(seconds, 0)):
            return True
        with self._mutex:
            if called not in self._row:
                # It was called in the very moment it gave up.
                return True
            self._row.remove(called)
            return False

    def _next_in_row(self) -> None:
        with self._mutex:
            if self._row:
                self._row.popleft().release()
            else:
                self._is_taken = False

    def _locked(self, until: float) -> bool:
        """Whether no other program writes; closing the file lets go of the lock."""
        handle = os.open(self._lock, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
        pause = _FIRST_PAUSE
        while True:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                if monotonic() >= until:
                    os.close(handle)
                    return False
                sleep(pause)
                pause = min(2 * pause, _LONGEST_PAUSE)
            except OSError:
                # A disk that knows no such lock: SQLite's own is still there, and threads still go in a row.
                os.close(handle)
                return True
            else:
                self._handle = handle
                return True


_of_file: dict[str, Turns] = {}
_looking_up = threading.Lock()


def turns_at(database: Path) -> Turns:
    """The turns at a file of SQLite, the same for every thread of this program."""
    place = str(database.absolute())
    with _looking_up:
        if place not in _of_file:
            _of_file[place] = Turns(database.with_name(f"{database.name}-turns"))
        return _of_file[place]


def _forget() -> None:
    """In a copy of this program nobody is in a row, and what the other one holds is not ours to let go."""
    global _looking_up
    _looking_up = threading.Lock()
    for turns in _of_file.values():
        if turns._handle >= 0:
            os.close(turns._handle)
    _of_file.clear()


os.register_at_fork(after_in_child=_forget)
