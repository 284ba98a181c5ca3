"""Files of the studio: readable by their owner only, whole or not there, and never boundless.

Whoever can put a file into the studio, or hand one over on a stick, may put a pipe there, a
device, or a file without end. Only plain files up to a limit are read.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from landmarks.translation import _

MEGABYTE = 2**20
LARGEST_SESSION = 64 * MEGABYTE
"""Eight hours of playing without a pause take some 8 MB."""
LARGEST_SMALL_FILE = MEGABYTE
"""For plans, landmark sets and what is remembered of pianos, which take some kilobytes."""
LONGEST_LINE = 64 * 2**10
"""Of a session file, in bytes; the longest that is written takes under 1 kB."""

_PLAIN = getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_READ_AND_APPEND = os.O_RDWR | os.O_APPEND | _PLAIN
_AT_ONCE = getattr(os, "O_NONBLOCK", 0)


def open_plain(path: Path, limit: int) -> BinaryIO:
    """Open a plain file of at most `limit` bytes to be read.

    OSError if it cannot be opened, is no plain file or is larger; it never waits for a pipe.
    """
    descriptor = os.open(path, os.O_RDONLY | _PLAIN | _AT_ONCE)
    try:
        found = os.fstat(descriptor)
        if not stat.S_ISREG(found.st_mode):
            raise OSError(errno.EINVAL, _("it is no plain file"), str(path))
        if found.st_size > limit:
            raise OSError(
                errno.EFBIG,
                _("it is larger than {most} MB").format(most=limit // MEGABYTE),
                str(path),
            )
        return os.fdopen(descriptor, "rb")
    except OSError:
        os.close(descriptor)
        raise


def read_plain(path: Path, limit: int) -> bytes:
    """Return the bytes of a plain file of at most `limit` bytes. OSError as from `open_plain`."""
    with open_plain(path, limit) as file:
        return file.read(limit)


def lines_of(file: BinaryIO) -> Iterator[bytes]:
    """Return the lines of a session file; a longer one comes in parts, which are no lines."""
    while line := file.readline(LONGEST_LINE):
        yield line


def create_privately(path: Path) -> int:
    """Make a new file that only its owner can read, and open it as `open_to_append` does.

    Gives its descriptor. FileExistsError, or another OSError, if it cannot be made; a link in its
    place is not followed.
    """
    return os.open(path, os.O_CREAT | os.O_EXCL | _READ_AND_APPEND, 0o600)


def open_to_append(path: Path) -> int:
    """Open a file to be read and to be written at its end; give its descriptor."""
    return os.open(path, _READ_AND_APPEND)


def write_whole(descriptor: int, content: bytes) -> None:
    """Write all of `content`. OSError if not all of it can be written."""
    rest = memoryview(content)
    while rest:
        rest = rest[os.write(descriptor, rest) :]


def replace_privately(path: Path, content: bytes | str) -> None:
    """Write a file whole or not at all, readable by its owner only, and have it on the disk.

    Its folder is never made: where it is gone, somebody took it away. Raises: OSError.
    """
    draft = path.with_name(f".{path.name}.{os.getpid()}")
    draft.unlink(missing_ok=True)
    descriptor = create_privately(draft)
    try:
        try:
            write_whole(descriptor, content.encode() if isinstance(content, str) else content)
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
        draft.replace(path)
    except OSError:
        draft.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def make_private(folder: Path) -> None:
    """Make a folder that only its owner can open, if there is none."""
    if not folder.is_dir():
        folder.mkdir(parents=True, mode=0o700, exist_ok=True)
        folder.chmod(0o700)
        sync_folder(folder.parent)


def sync_folder(folder: Path) -> None:
    """Have the names in a folder on the disk, on systems where that can be asked for."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
