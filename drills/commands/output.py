"""What a command gives out: lines in the terminal, or a file."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from drills.commands.refusal import Refusal
from drills.storage.files import replace_privately
from drills.text.printable import printable
from landmarks.translation import _


def print_lines(lines: Iterable[str]) -> None:
    """Print in whatever the terminal can show, and nothing that it would obey."""
    text, encoding = "\n".join(map(printable, lines)), sys.stdout.encoding or "utf-8"
    try:
        print(text.encode(encoding, "replace").decode(encoding), flush=True)
    except BrokenPipeError:
        # Whoever read the output has seen enough; nothing is left to be flushed at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


@contextmanager
def kept_in(folder: Path, what: str) -> Iterator[None]:
    """Write something into the studio. Refusal if it cannot be written."""
    try:
        yield
    except OSError as error:
        raise Refusal(
            _(
                "{folder}: {what} cannot be written here ({reason}); make room or name another "
                "studio folder"
            ).format(folder=folder, what=what, reason=error.strerror)
        ) from None


def write_file(path: Path, content: str) -> None:
    """Write a file for its owner's eyes only, and print its path. Refusal if it cannot be."""
    try:
        replace_privately(path, content.rstrip("\n") + "\n")
    except OSError as error:
        raise Refusal(
            _("{path}: this file cannot be written ({reason}); name another").format(
                path=path, reason=error.strerror
            )
        ) from None
    print_lines([str(path)])
