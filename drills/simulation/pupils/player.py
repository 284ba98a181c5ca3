"""What a whole session needs of whoever plays it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from drills.sessions.view import View


@dataclass(frozen=True)
class Touch:
    """What the pupil does next: keys that go down together, so many seconds after the card."""

    seconds: float
    keys: tuple[int, ...]


class Player(Protocol):
    """Whoever plays a session."""

    def touch(self, view: View, attempt: int) -> Touch:
        """Return the answer to what is shown: the first (attempt 1), or one after so many slips."""
