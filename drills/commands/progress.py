"""A bar that shows how far long work has come."""

from __future__ import annotations

import sys
import time
from types import TracebackType

from drills.app.progress import Progress

_WIDTH = 30
_EVERY = 0.1
_SHORT = 0.5
"""Work that ends within this time (seconds) shows no bar."""


class ProgressBar:
    """Draws how far a task has come on the error stream, if that is a terminal."""

    def __init__(self, task: str) -> None:
        """Prepare a bar for a task."""
        self._task = task
        self._begun = self._drawn = time.monotonic()
        self._is_shown = False

    def __enter__(self) -> Progress:
        """Begin; return what the work reports to."""
        return Progress(self._draw)

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Clear the line, whatever happened."""
        if self._is_shown:
            print("\r\x1b[K", end="", file=sys.stderr, flush=True)

    def _draw(self, done: int, steps: int) -> None:
        now = time.monotonic()
        if sys.stderr.isatty() and now - self._begun > _SHORT and now - self._drawn > _EVERY:
            self._drawn, self._is_shown = now, True
            filled = _WIDTH * done // steps
            bar = "#" * filled + "." * (_WIDTH - filled)
            print(f"\r{self._task} [{bar}] {done}/{steps}", end="", file=sys.stderr, flush=True)
