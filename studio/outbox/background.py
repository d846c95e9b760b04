"""Sending while the server runs: one thread that sleeps until a letter is written or half a minute has passed.

A request only wakes it and goes on. Several processes may each have one: a letter is taken by one of them.
"""

import atexit
import logging
import threading
from collections.abc import Callable

from django.db import connections

REST_SECONDS = 30
STOP_SECONDS = 6
"""How long a letter that is being handed over may take when the server is told to stop."""

_wake = threading.Event()
_stop = threading.Event()
_threads: list[threading.Thread] = []
_log = logging.getLogger("studio.outbox")


def start(work: Callable[[], object]) -> None:
    """Have `work` done whenever a letter was written, and every half minute. A second start changes nothing."""
    if _threads:
        return
    thread = threading.Thread(target=_go_round, args=[work], name="letters", daemon=True)
    _threads.append(thread)
    thread.start()
    atexit.register(stop)


def nudge() -> None:
    """There is something to send. Costs nothing where nobody sends in this process."""
    _wake.set()


def stop() -> None:
    """Let the letter in hand be finished, and send no other."""
    _stop.set()
    _wake.set()
    while _threads:
        _threads.pop().join(timeout=STOP_SECONDS)
    _stop.clear()


def _go_round(work: Callable[[], object]) -> None:
    while not _stop.is_set():
        _wake.clear()
        try:
            work()
        except Exception:
            # Whatever it is, the next letter is tried again: it stands in the database.
            _log.exception("Letters could not be sent.")
        finally:
            connections.close_all()
        _wake.wait(timeout=REST_SECONDS)
