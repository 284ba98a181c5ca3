"""What can be seen of a reading session."""

from __future__ import annotations

from dataclasses import dataclass

from drills.sessions.effects import Hands
from drills.sessions.line_session import LineView
from landmarks.answer import Answer
from landmarks.hesitation import Hesitation


@dataclass(frozen=True)
class WrongKey:
    """A wrong key as it is drawn: beside the note (by its number) that was expected."""

    number: int
    answer: Answer


@dataclass(frozen=True, kw_only=True)
class ReadingView(LineView):
    """All that can be seen of a reading session at one moment. Notes go by their numbers.

    `to_read` are the notes that the hands play, `read` those that are in ink, `at` those of the
    moment at which the player stands. While `tuning`, middle C is asked for in the line's place.
    """

    hands: Hands = "both"
    to_read: tuple[int, ...] = ()
    read: frozenset[int] = frozenset()
    at: tuple[int, ...] = ()
    wrong: WrongKey | None = None
    hesitations: tuple[tuple[int, Hesitation], ...] = ()
    """Where she hesitated for certain, once the line is over."""
    lines_read: int = 0
    """How many lines were played to their end."""
