"""A place to make something ready in, out of sight, on the same disk as where it will be: a rename is then enough."""

import contextlib
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def workplace(folder: Path, *, prefix: str) -> Iterator[Path]:
    """A new folder in `folder` whose name begins so, gone at the end, and with it what an earlier one left.

    `folder` is made where there is none. Raises OSError.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    for left in folder.glob(f"{prefix}*"):
        shutil.rmtree(left, ignore_errors=True)
    work = Path(tempfile.mkdtemp(prefix=prefix, dir=folder))
    try:
        yield work
    finally:
        shutil.rmtree(work, ignore_errors=True)
