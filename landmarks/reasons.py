"""Why the system could not do something with a file, in the program's own words."""

from __future__ import annotations

import errno
import os

from landmarks.translation import _, gettext_noop

_REASONS = {
    errno.ENOENT: gettext_noop("No such file or directory"),
    errno.EACCES: gettext_noop("Permission denied"),
    errno.EPERM: gettext_noop("Operation not permitted"),
    errno.EEXIST: gettext_noop("File exists"),
    errno.ENOTDIR: gettext_noop("Not a directory"),
    errno.EISDIR: gettext_noop("Is a directory"),
    errno.EFBIG: gettext_noop("File too large"),
    errno.ENOSPC: gettext_noop("No space left on device"),
    errno.EROFS: gettext_noop("Read-only file system"),
    errno.ENAMETOOLONG: gettext_noop("File name too long"),
    errno.ELOOP: gettext_noop("Too many levels of symbolic links"),
    errno.ENOTEMPTY: gettext_noop("Directory not empty"),
    errno.EBUSY: gettext_noop("Device or resource busy"),
    errno.EIO: gettext_noop("Input/output error"),
    errno.EMFILE: gettext_noop("Too many open files"),
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
