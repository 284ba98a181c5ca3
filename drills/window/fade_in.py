"""How a found note turns from pencil to ink before the eyes.

It only darkens, within a quarter of a second: nothing flashes (WCAG 2.2, success criterion 2.3.1)
or goes on moving (2.2.2), and it can be switched off (2.3.3).
"""

from __future__ import annotations

STEP_NS = 50_000_000
SHARES = (0.25, 0.45, 0.65, 0.85)
"""How much of the ink is there in each step; after the last of them, all of it."""
FIRST = SHARES[0]


class FadeIn:
    """One note at a time, from when it was found. Times are monotonic, in ns."""

    def __init__(self) -> None:
        """Begin with nothing found."""
        self._found_at: int | None = None
        self._step = 0

    @property
    def share(self) -> float:
        """How much of the ink is there, from 0 to 1."""
        return SHARES[self._step] if self._step < len(SHARES) else 1.0

    @property
    def due_ns(self) -> int | None:
        """When there will be more of it; None if there is all."""
        if self._found_at is None or self._step >= len(SHARES):
            return None
        return self._found_at + (self._step + 1) * STEP_NS

    def pass_time(self, found: bool, at_ns: int) -> bool:
        """Go on to a moment at which the note is found or not; tell whether the ink changed."""
        if not found:
            self._found_at, self._step = None, 0
            return False
        if self._found_at is None:
            self._found_at = at_ns
            return True
        step = min(len(SHARES), max(self._step, (at_ns - self._found_at) // STEP_NS))
        changed, self._step = step != self._step, step
        return changed
