"""A folder that one program at a time changes what it has read from."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows has none.
    fcntl = None  # type: ignore[assignment]


@contextlib.contextmanager
def folder_locked(folder: Path) -> Iterator[None]:
    """Wait until no other program holds this folder, and hold it.

    It is let go at the end of the block or of the program, whichever comes first. Where the system
    has no such locks (Windows, some network drives) nothing is waited for.

    Raises:
        OSError: the folder is not there or cannot be opened.
    """
    if fcntl is None:
        yield
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        with contextlib.suppress(OSError):
            fcntl.flock(descriptor, fcntl.LOCK_EX)
        yield
    finally:
        os.close(descriptor)
