"""A page that is shown while something is worked out."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Generic, TypeVar

from drills.app.progress import Progress
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.sessions import events
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.worker import Done, Failed, Running, Worker
from landmarks.translation import _

_LOOK_NS = 50_000_000
"""How often it is looked whether the work is done."""
_STOP = "stop waiting"
Value = TypeVar("Value")


class WaitingPage(ButtonScene, Generic[Value]):
    """Over when the work is done; its `outcome` is None if the page was left before."""

    def __init__(self, work: Callable[[Progress], Value]) -> None:
        """Begin to work, aside from the window."""
        super().__init__(_STOP)
        self.outcome: Done[Value] | Failed | None = None
        self._worker = Worker(work)
        self._shown = Running()

    @property
    def due_ns(self) -> int:  # type: ignore[override]
        """When to look next."""
        return time.monotonic_ns() + _LOOK_NS

    def take(self, event: events.Event, at_ns: int) -> None:
        """Go on once the work is done; stop it if the window is closed."""
        if isinstance(event, events.Stop):
            self._worker.cancel()
        state = self._worker.state
        if isinstance(state, Running):
            self._shown = state
        elif not self.over:
            self.outcome, self.over = state, True

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the way out."""
        box = Box(
            round(width * 0.35), round(height * 0.62), round(width * 0.3), round(height * 0.1)
        )
        return [Button(_STOP, _("do not wait"), box)]

    def page(self, width: int, height: int) -> list[Layer]:
        """Ask for a moment, and show how far the work has come."""
        page = [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(
                _("one moment …"), width / 2, height * 0.48, height * 0.06, palette.INK, 0.9 * width
            ),
        ]
        if self._shown.steps:
            bar = Box(
                round(width * 0.25), round(height * 0.53), width // 2, max(4, round(height * 0.02))
            )
            filled = bar.width * self._shown.done // self._shown.steps
            page.append(rectangle(bar, palette.CARD))
            if filled:
                page.append(rectangle(Box(bar.x, bar.y, filled, bar.height), palette.INK))
        return page

    def act(self, action: str) -> None:
        """Leave, and stop the work."""
        self.leave()

    def leave(self) -> None:
        """Stop the work; what it says then is not shown."""
        self._worker.cancel()
        self.over = True
