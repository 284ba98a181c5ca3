"""What a command prints."""

from __future__ import annotations

import logging
import os
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

from drills.app.output import write_text
from drills.text.printable import printable


def print_lines(lines: Iterable[str]) -> None:
    """Print in whatever the terminal can show, and nothing that it would obey."""
    text = "".join(f"{printable(line)}\n" for line in lines)
    encoding = sys.stdout.encoding or "utf-8"
    try:
        print(text.encode(encoding, "replace").decode(encoding), end="", flush=True)
    except BrokenPipeError:
        # Whoever read the output has seen enough; nothing is left to be flushed at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def print_trouble(sentence: object) -> None:
    """Print what is wrong, on the error stream."""
    print(printable(f"landmark-drills: {sentence}"), file=sys.stderr)


def write_files(asked: Iterable[tuple[Path | None, Callable[[], str]]]) -> bool:
    """Write each content to the file that is asked for, if one is; tell whether any was.

    Raises:
        UserError: one cannot be written.
    """
    written = False
    for path, content in asked:
        if path is not None:
            write_text(path, content())
            print_lines([str(path)])
            written = True
    return written


class TroubleHandler(logging.Handler):
    """Prints what was passed over on the error stream, a line each."""

    def emit(self, record: logging.LogRecord) -> None:
        """Print the sentence of a record."""
        print_trouble(record.getMessage())
