"""What a session needs of whoever chooses its cards."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal, Protocol

from drills.cards.card import Card
from drills.learning.response import Response, Standing

Cause = Literal["beginnings", "answers", "teacher"]
"""Why a pupil stands where she stands: what she brought, what she played, what the teacher set."""


class Scheduler(Protocol):
    """What a session needs of a planner."""

    def next(self, now: datetime) -> Card | None:
        """Return the next card, or None when the session should end."""

    def record(self, response: Response) -> None:
        """Take in the first answer to a card."""

    def standing(self, card: Card, now: datetime) -> Standing:
        """Say what is known about a card."""


@dataclass(frozen=True)
class Reached:
    """A pupil stands on a rung; `before` is None at the beginning of a session."""

    rung: str
    before: str | None
    by: Cause
    why: str
    """One sentence for the teacher."""


class Climb(Protocol):
    """What a session tells of a ladder."""

    def reached(self) -> tuple[Reached, ...]:
        """Return the rungs reached since this was last asked."""
