"""Work that is done aside from the window, and how it stands."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from drills.app.progress import Progress

Value = TypeVar("Value")


@dataclass(frozen=True)
class Running:
    """The work goes on: `done` of so many steps, 0 of 0 before it has counted any."""

    done: int = 0
    steps: int = 0


@dataclass(frozen=True)
class Done(Generic[Value]):
    """The work has come to a value."""

    value: Value


@dataclass(frozen=True)
class Failed:
    """The work was ended by an error, whatever it was."""

    error: BaseException


class Worker(Generic[Value]):
    """A thread of its own that does one piece of work; whatever ends it becomes its state."""

    def __init__(self, work: Callable[[Progress], Value]) -> None:
        """Begin to work."""
        self.state: Running | Done[Value] | Failed = Running()
        self._cancelled = threading.Event()
        self._work = work
        threading.Thread(target=self._do, daemon=True).start()

    def cancel(self) -> None:
        """Let the work know that it is no longer wanted."""
        self._cancelled.set()

    def _do(self) -> None:
        try:
            self.state = Done(self._work(Progress(self._report, self._cancelled)))
        except BaseException as error:
            self.state = Failed(error)

    def _report(self, done: int, steps: int) -> None:
        self.state = Running(done, steps)
