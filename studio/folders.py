"""Having a folder to oneself for a moment: whoever else wants it waits."""

import contextlib
import fcntl
import os
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """One at a time in a folder, threads and programs alike; the next one waits.

    The system itself lets go of it when a program is killed. It keeps out only those who ask the same way.
    """
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
