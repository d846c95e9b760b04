"""Programs that set paper, kept ready: so many at once, so much memory each, so long a paper, and never an orphan.

What comes back from one is read as JSON and bytes and trusted no further: it has read what a client wrote.
"""

import atexit
import contextlib
import os
import signal
import socket
import subprocess
import sys
import threading
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from time import monotonic

from studio.parcels import read_parcel, write_parcel

ROOM = 512 * 1024 * 1024
"""Bytes of memory one may map."""
SECONDS = 20.0
"""How long a processor may be at one paper."""
PATIENCE = 3
"""How many times that it may take on the clock: a busy machine is no fault of the paper."""
SECONDS_TO_WAIT = 60.0
"""How long a paper waits until one is free."""
PAPERS_EACH = 100
"""How many one sets before a fresh one takes its place, so that what the engine does not give back stays small."""
AT_ONCE = max(1, min(os.cpu_count() or 1, 4))
"""One a processor."""

_ROOT = Path(__file__).resolve().parent.parent
_INHERITED = ("PATH", "HOME", "LANG", "LC_ALL", "TMPDIR", "XDG_CACHE_HOME", "FONTCONFIG_FILE", "FONTCONFIG_PATH")


class PressStopped(Exception):
    """A paper was given up; the message says which limit it met."""


class _Gone(Exception):
    """The program ended of its own accord before it was asked anything."""


@dataclass
class _Setter:
    """One program, and the line to it."""

    process: subprocess.Popen[bytes]
    line: socket.socket
    papers: int = 0

    def stop(self) -> None:
        """End it, and wait until it is gone."""
        self.line.close()
        with contextlib.suppress(ProcessLookupError):
            self.process.kill()
        self.process.wait()


@dataclass
class Press:
    """So many programs at once at most; each is started when it is first needed and kept for the next paper."""

    room: int = ROOM
    seconds: float = SECONDS
    module: str = "studio.typesetting"
    _ready: list[_Setter] = field(default_factory=list)
    _slots: threading.Semaphore = field(default_factory=lambda: threading.Semaphore(AT_ONCE))

    def ask(self, head: bytes, parts: Sequence[bytes], *, answers: int) -> tuple[bytes, list[bytes]]:
        """Have one paper set; what came back. Raises PressStopped."""
        if not self._slots.acquire(timeout=SECONDS_TO_WAIT):
            raise PressStopped(f"the {AT_ONCE} before it took longer than {SECONDS_TO_WAIT:.0f} seconds; try again")
        try:
            # One that was ready may have ended while nobody asked; a fresh one has not.
            with contextlib.suppress(_Gone):
                if self._ready:
                    return self._asked(self._ready.pop(), head, parts, answers)
            try:
                return self._asked(self._start(), head, parts, answers)
            except _Gone as gone:
                raise RuntimeError("The program that sets paper does not start.") from gone
        finally:
            self._slots.release()

    def stop(self) -> None:
        """End all that are ready."""
        while self._ready:
            self._ready.pop().stop()

    def forget(self) -> None:
        """In a copy of this program: what is ready belongs to the other one."""
        for setter in self._ready:
            setter.line.close()
            setter.process.returncode = 0
        self._ready, self._slots = [], threading.Semaphore(AT_ONCE)

    def _start(self) -> _Setter:
        ours, theirs = socket.socketpair()
        environment = {name: os.environ[name] for name in _INHERITED if name in os.environ}
        environment |= {"PYTHONPATH": str(_ROOT), "MALLOC_ARENA_MAX": "2", "PYTHONSAFEPATH": "1"}
        command = [sys.executable, "-m", self.module, str(self.room), str(self.seconds), str(PATIENCE * self.seconds)]
        with theirs:
            process = subprocess.Popen(
                command,
                stdin=theirs.fileno(),
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                cwd=_ROOT,
                env=environment,
            )
        return _Setter(process, ours)

    def _asked(self, setter: _Setter, head: bytes, parts: Sequence[bytes], answers: int) -> tuple[bytes, list[bytes]]:
        until = monotonic() + PATIENCE * self.seconds
        keep = False
        try:
            write_parcel(setter.line, head, parts, until=until)
            found = read_parcel(setter.line, until=until)
            if found is None:
                raise EOFError
            if len(found[1]) != answers or found[0] == b"memory":
                raise PressStopped(f"it takes more than {self.room // 2**20} MiB of memory")
            setter.papers += 1
            keep = setter.papers < PAPERS_EACH
        except TimeoutError as error:
            raise PressStopped(f"it takes longer than {PATIENCE * self.seconds:g} seconds") from error
        except (OSError, EOFError) as error:
            raise self._why_it_ended(setter) from error
        finally:
            if keep:
                self._ready.append(setter)
            else:
                setter.stop()
        return found

    def _why_it_ended(self, setter: _Setter) -> Exception:
        with contextlib.suppress(subprocess.TimeoutExpired):
            if setter.process.wait(timeout=2) == 0:
                return _Gone()
        if setter.process.returncode == -signal.SIGPROF:
            return PressStopped(f"it takes longer than {self.seconds:g} seconds")
        # Libraries below Python end a program that gets no more memory without a word.
        return PressStopped(f"setting it stopped half-way, as it does beyond {self.room // 2**20} MiB of memory")


PRESS = Press()
"""The one everything is printed with."""

atexit.register(PRESS.stop)
os.register_at_fork(after_in_child=PRESS.forget)
