"""A page that is shown while something is worked out."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.sessions import events
from drills.window.pages.buttons import Button, ButtonScene
from landmarks.translation import _

_LOOK_NS = 50_000_000
"""How often it is looked whether the work is done."""
_STOP = "stop waiting"


class WaitingPage(ButtonScene):
    """Over when the work is done; its `outcome` is None if the page was left before."""

    def __init__(self, work: Callable[[], list[str]]) -> None:
        """Begin to work, aside from the window; `work` must not raise."""
        super().__init__(_STOP)
        self.outcome: list[str] | None = None
        self._work = work
        self._thread = threading.Thread(target=self._do, daemon=True)
        self._thread.start()

    @property
    def due_ns(self) -> int:  # type: ignore[override]
        """When to look next."""
        return time.monotonic_ns() + _LOOK_NS

    def take(self, event: events.Event, at_ns: int) -> None:
        """Go on once the work is done."""
        if not self._thread.is_alive():
            self.over = True

    def buttons(self, width: int, height: int) -> list[Button]:
        """Give the way out."""
        box = Box(
            round(width * 0.35), round(height * 0.62), round(width * 0.3), round(height * 0.1)
        )
        return [Button(_STOP, _("do not wait"), box)]

    def page(self, width: int, height: int) -> list[Layer]:
        """Ask for a moment."""
        return [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(
                _("one moment …"), width / 2, height * 0.48, height * 0.06, palette.INK, 0.9 * width
            ),
        ]

    def act(self, action: str) -> None:
        """Leave; what the work says then is not shown."""
        self.over = True

    def _do(self) -> None:
        self.outcome = self._work()
