"""One counted answer of a pupil, as the learning model and the planner take it in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from drills.cards.card import Card
from landmarks.translation import gettext_noop


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


@dataclass(frozen=True)
class LineAnswer:
    """A note read in a line of music, when it was first come to.

    `card` is its place (of the kind piece), `at` when the line was over (an aware datetime),
    `correct` whether no wrong key came first. `hesitation` is how many seconds it came after the
    pupil's own tempo, with an interval from `low` to `high`; None where that cannot be told.
    """

    card: Card
    at: datetime
    correct: bool
    played: int
    hesitation: float | None = None
    low: float | None = None
    high: float | None = None


class State(StrEnum):
    """How far a card is the pupil's own."""

    NEW = gettext_noop("new")
    """Not met yet."""
    PENCIL = gettext_noop("pencil")
    """Met, still pencilled in."""
    INK = gettext_noop("ink")
    """Secured."""
    FADED = gettext_noop("faded")
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
