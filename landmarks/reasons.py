"""Why the system could not do something with a file, in the program's own words."""

from __future__ import annotations

import errno
import os

from landmarks.translation import _, noted

_REASONS = {
    errno.ENOENT: noted("No such file or directory"),
    errno.EACCES: noted("Permission denied"),
    errno.EPERM: noted("Operation not permitted"),
    errno.EEXIST: noted("File exists"),
    errno.ENOTDIR: noted("Not a directory"),
    errno.EISDIR: noted("Is a directory"),
    errno.EFBIG: noted("File too large"),
    errno.ENOSPC: noted("No space left on device"),
    errno.EROFS: noted("Read-only file system"),
    errno.ENAMETOOLONG: noted("File name too long"),
    errno.ELOOP: noted("Too many levels of symbolic links"),
    errno.ENOTEMPTY: noted("Directory not empty"),
    errno.EBUSY: noted("Device or resource busy"),
    errno.EIO: noted("Input/output error"),
    errno.EMFILE: noted("Too many open files"),
}
"""Those that a person can do something about (POSIX.1-2017, errno.h; words of the GNU C Library,
from memory)."""


def reason_of(error: OSError) -> str:
    """Return why a file could not be used: the system's reason, translated, or the error's own.

    >>> reason_of(OSError(errno.ENOENT, os.strerror(errno.ENOENT)))
    'No such file or directory'
    >>> reason_of(OSError(errno.EINVAL, "it is no plain file"))
    'it is no plain file'
    """
    said = error.strerror or str(error)
    known = _REASONS.get(error.errno or 0)
    system_says = error.errno is not None and said == os.strerror(error.errno)
    return _(known) if known and system_says else said
