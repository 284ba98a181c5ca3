"""The few words of the spotting page: what to find, and what a wrong note is."""

from __future__ import annotations

from drills.spotting.question import NoteQuestion, ValueQuestion
from drills.spotting.session import SpottingView
from drills.view import Phase
from drills.window.words import Remark, distance
from landmarks.answer import Answer, Verdict
from landmarks.line import LineNote
from landmarks.names import landmark_name
from landmarks.values import SYLLABLES


def question_words(view: SpottingView) -> str:
    """Say what is to be found."""
    return "" if view.question is None else f"find every {view.question.name}"


def spotting_remark(view: SpottingView) -> Remark:
    """Say what the latest note was, in as few words as it takes."""
    question, line = view.question, view.line
    if question is None or line is None:
        return Remark()
    if view.phase is Phase.RIGHT:
        count = len(view.wanted)
        return Remark("you found it" if count == 1 else f"you found all {count}")
    note = None if view.touched is None else line.notes[view.touched]
    if isinstance(question, ValueQuestion):
        return Remark() if note is None else _value_remark(question, note)
    return Remark() if view.answer is None else _note_remark(question, note, view.answer)


def _note_remark(question: NoteQuestion, note: LineNote | None, answer: Answer) -> Remark:
    if answer.verdict is Verdict.CLUSTER:
        return Remark("one key at a time")
    where = distance(answer, question.card.target)
    if answer.verdict is not Verdict.OCTAVE:
        where = f"{where} {question.name}"
    if note is None:
        return Remark(f"you played {question.naming.of(answer.played)}", where)
    return Remark(f"this is {landmark_name(note.pitch, note.clef, question.naming)}", where)


def _value_remark(question: ValueQuestion, note: LineNote) -> Remark:
    name = None if note.value is None else question.naming.of(note.value)
    if name is None:
        return Remark("another note value")
    if question.naming == SYLLABLES:
        return Remark(f"this is {name}")
    return Remark(f"this is {'an' if name[0] in 'aeiou' else 'a'} {name}")
