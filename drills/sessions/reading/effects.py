"""What comes of a reading session beside what comes of every session. Notes go by their numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from drills.cards.card import Card
from drills.sessions.effects import Recorded
from landmarks.answer import Verdict

if TYPE_CHECKING:
    from landmarks.hesitation import Hesitation

Way = Literal["on", "back", "over"]
"""How a note was come to: from the moment before it, back to it, or over notes left out."""


@dataclass(frozen=True)
class NoteRead(Recorded):
    """A note of the line was played."""

    number: int
    played: int
    way: Way


@dataclass(frozen=True)
class WrongKeyInLine(Recorded):
    """A key went down that plays no note of the line where the player stands.

    `number` is the note that was expected, `steps` how many lines and spaces above it the key
    lives (negative: below).
    """

    number: int
    verdict: Verdict
    played: int
    steps: int


@dataclass(frozen=True)
class LineAnswered(Recorded):
    """How a note of the line was read when it was first come to, told when the line is over.

    `hesitation` is None where none can be told.
    """

    number: int
    card: Card
    verdict: Verdict
    played: int
    hesitation: Hesitation | None


@dataclass(frozen=True)
class LineFinished(Recorded):
    """The line is over: played to its end, or left before it."""

    why: Literal["played", "left"]
