"""Files that are written because somebody asked for them."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from drills.app.user_error import UserError
from drills.storage.files import replace_privately
from landmarks.reasons import reason_of
from landmarks.translation import _


@contextmanager
def writing_into(folder: Path, what: str) -> Iterator[None]:
    """Write something, named in words, into the studio.

    Raises:
        UserError: it cannot be written.
    """
    try:
        yield
    except OSError as error:
        raise UserError(
            _(
                "{folder}: {what} cannot be written here ({reason}); make room or name another "
                "studio folder"
            ).format(folder=folder, what=what, reason=reason_of(error))
        ) from None


def write_text(path: Path, content: str) -> None:
    """Write a text file for its owner's eyes only, ending in one line break.

    Raises:
        UserError: it cannot be written.
    """
    write_bytes(path, (content.rstrip("\n") + "\n").encode("utf-8", "replace"))


def write_bytes(path: Path, content: bytes) -> None:
    """Write a plain file for its owner's eyes only; nothing else is replaced, no folder made.

    Raises:
        UserError: it cannot be written.
    """
    try:
        if not path.name or (path.exists() and not path.is_file()):
            raise OSError(errno.EINVAL, _("it is no plain file"), str(path))
        replace_privately(path, content)
    except OSError as error:
        raise UserError(
            _("{path}: this file cannot be written ({reason}); name another").format(
                path=path, reason=reason_of(error)
            )
        ) from None
