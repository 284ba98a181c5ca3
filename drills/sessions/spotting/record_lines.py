"""The lines of a session's file that tell of a spotting session's music, questions and answers."""

from __future__ import annotations

from drills.cards.card import Card
from drills.sessions.key_group import Press
from drills.sessions.record_lines import milliseconds, shown_line
from drills.sessions.records import Answered, CardShown, LineShown, ValueAnswered, ValueAsked
from drills.sessions.spotting.question import Question, ValueQuestion
from landmarks.answer import Verdict
from landmarks.line import Line, LineNote


def music_line(line: Line, t: float) -> LineShown:
    """Tell which music stands on the screen."""
    spots = tuple(note.spot for note in line.notes)
    return LineShown(t=milliseconds(t), source=line.source, notes=spots)


def asked_line(question: Question, t: float) -> ValueAsked | CardShown:
    """Tell what is to be found in it."""
    if isinstance(question, ValueQuestion):
        return ValueAsked(t=milliseconds(t), value=str(question.value), name=question.recorded_name)
    return shown_line(question.card, question.recorded_name, t)


def value_line(
    question: ValueQuestion, number: int, note: LineNote, t: float, asked_at: float, attempt: int
) -> ValueAnswered:
    """Tell which note, by its number in the line, was touched for a value."""
    return ValueAnswered(
        t=milliseconds(t), value=str(question.value), note=number,
        touched="other" if note.value is None else str(note.value), right=question.fits(note),
        ms=milliseconds(t - asked_at), attempt=attempt,
    )  # fmt: skip


def note_line(
    card: Card,
    press: Press,
    asked_at: float,
    attempt: int,
    verdict: Verdict,
    why_not: str,
    number: int | None = None,
) -> Answered:
    """Tell how a key, or the note of that number in the line, was judged; it is never counted."""
    return Answered(
        t=milliseconds(press.t), id=card.id, verdict=verdict, played=press.key,
        ms=milliseconds(press.t - asked_at), attempt=attempt, hints=0, why_not=why_not,
        note=number,
    )  # fmt: skip
