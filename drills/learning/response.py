"""One counted answer of a pupil, as the learning model and the planner take it in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from drills.cards.card import Card
from landmarks.translation import noted


@dataclass(frozen=True)
class Response:
    """The first answer to one showing of a card.

    `at` is when it was given (an aware datetime), `seconds` the time since the card was on the
    screen, `played` the key number that was pressed.
    """

    card: Card
    at: datetime
    seconds: float
    correct: bool
    played: int


class State(StrEnum):
    """How far a card is the pupil's own."""

    NEW = noted("new")
    """Not met yet."""
    PENCIL = noted("pencil")
    """Met, still pencilled in."""
    INK = noted("ink")
    """Secured."""
    FADED = noted("faded")
    """Was secured and has not been shown to hold lately."""


@dataclass(frozen=True)
class Standing:
    """What is known about one card now.

    `p_secured` (0 to 1) is the probability that the card is secured. `median_seconds`, the
    pupil's median time over right answers (None before there is one), and `accuracy`, the share
    of right answers (None before there is one), are over the answers that a page counts. `why` is
    one sentence for a teacher. `nearness` (0 to 1) says how near the card is to ink: 0 before it
    is met, 1 in ink.
    """

    p_secured: float
    median_seconds: float | None
    accuracy: float | None
    state: State
    why: str
    nearness: float = 0.0
