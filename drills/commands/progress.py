"""A bar that shows how far long work has come."""

from __future__ import annotations

import sys
import time
from types import TracebackType

_WIDTH = 30
_EVERY = 0.1
_SHORT = 0.5
"""Work that ends within this time (seconds) shows no bar."""


class ProgressBar:
    """Counts steps; draws itself on the error stream if that is a terminal."""

    def __init__(self, task: str, steps: int) -> None:
        """Prepare a bar for a task of so many steps."""
        self._task = task
        self._steps = max(1, steps)
        self._done = 0
        self._begun = self._drawn = time.monotonic()
        self._is_shown = False

    def advance(self) -> None:
        """Count one step."""
        self._done += 1
        now = time.monotonic()
        if sys.stderr.isatty() and now - self._begun > _SHORT and now - self._drawn > _EVERY:
            self._drawn, self._is_shown = now, True
            filled = _WIDTH * self._done // self._steps
            bar = "#" * filled + "." * (_WIDTH - filled)
            print(
                f"\r{self._task} [{bar}] {self._done}/{self._steps}", end="",
                file=sys.stderr, flush=True,
            )  # fmt: skip

    def __enter__(self) -> ProgressBar:
        """Begin."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Clear the line, whatever happened."""
        if self._is_shown:
            print("\r\x1b[K", end="", file=sys.stderr, flush=True)
