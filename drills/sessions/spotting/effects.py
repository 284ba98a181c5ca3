"""What comes of a spotting session beside what comes of every session."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from drills.sessions.effects import CardAsked, Recorded
from drills.sessions.spotting.question import Question, ValueQuestion

if TYPE_CHECKING:
    from landmarks.line import LineNote


@dataclass(frozen=True)
class ValueAsked(Recorded):
    """A note value was asked for, to be touched in the line."""

    question: ValueQuestion


@dataclass(frozen=True)
class ValueAnswered(Recorded):
    """A note was touched in answer to a note value, `ms` after it was asked for."""

    question: ValueQuestion
    number: int
    """The note's number in the line."""
    note: LineNote
    ms: float
    attempt: int

    @property
    def right(self) -> bool:
        """Whether the note is of the value that was asked for."""
        return self.question.fits(self.note)


def question_asked(question: Question, t: float) -> CardAsked | ValueAsked:
    """Return what tells that a question about a line is there to be answered."""
    if isinstance(question, ValueQuestion):
        return ValueAsked(t, question)
    return CardAsked(t, question.card, question.recorded_name)
