"""How far a piece of work has come, and how it is told to stop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Event

from drills.text.errors import DrillsError
from landmarks.translation import _


class CancelledError(DrillsError):
    """The work was stopped on request; nothing was written since."""


def _ignore(done: int, steps: int) -> None:
    """Report to nobody."""


@dataclass(frozen=True)
class Progress:
    """What long work reports to, and asks whether it is still wanted.

    `report` is called with the steps done and all steps, from the thread that does the work.
    """

    report: Callable[[int, int], None] = _ignore
    cancelled: Event = field(default_factory=Event)

    def counter(self, steps: int) -> Callable[[], None]:
        """Return a function to be called once a step. It raises `CancelledError` as `check` does.

        >>> seen = []
        >>> advance = Progress(lambda done, steps: seen.append((done, steps))).counter(2)
        >>> advance(), advance()
        (None, None)
        >>> seen
        [(1, 2), (2, 2)]
        """
        done = 0

        def advance() -> None:
            nonlocal done
            self.check()
            done += 1
            self.report(done, steps)

        return advance

    def check(self) -> None:
        """Go on if the work is still wanted.

        Raises:
            CancelledError: it is not.
        """
        if self.cancelled.is_set():
            raise CancelledError(_("stopped; nothing was written"))


UNWATCHED = Progress()
"""For work that reports to nobody and is not stopped."""
