"""The few words of the spotting page: what to find, and what a wrong note is."""

from __future__ import annotations

from drills.sessions.spotting.question import NoteQuestion, ValueQuestion
from drills.sessions.spotting.view import SpottingView
from drills.sessions.view import Phase
from drills.window.pages.card_words import Remark, way_to_go
from landmarks.answer import Answer, Verdict
from landmarks.line import LineNote
from landmarks.names import landmark_name
from landmarks.translation import _, ngettext
from landmarks.values import SYLLABLES


def question_words(view: SpottingView) -> str:
    """Say what is to be found."""
    if view.question is None:
        return ""
    return _("find every {what}").format(what=view.question.name)


def spotting_remark(view: SpottingView) -> Remark:
    """Say what the latest note was, in as few words as it takes."""
    question, line = view.question, view.line
    if question is None or line is None:
        return Remark()
    if view.phase is Phase.RIGHT:
        return Remark(ngettext("you found it", "you found all {count}", len(view.wanted)))
    note = None if view.touched is None else line.notes[view.touched]
    if isinstance(question, ValueQuestion):
        return Remark() if note is None else _value_remark(question, note)
    return Remark() if view.answer is None else _note_remark(question, note, view.answer)


def _note_remark(question: NoteQuestion, note: LineNote | None, answer: Answer) -> Remark:
    if answer.verdict is Verdict.CLUSTER:
        return Remark(_("one key at a time"))
    where = way_to_go(answer, question.card.target)
    if note is None:
        return Remark(_("you played {note}").format(note=question.naming.of(answer.played)), where)
    name = landmark_name(note.pitch, note.clef, question.naming)
    return Remark(_("this is {note}").format(note=name), where)


def _value_remark(question: ValueQuestion, note: LineNote) -> Remark:
    name = None if note.value is None else question.naming.of(note.value)
    if name is None:
        return Remark(_("another note value"))
    if question.naming == SYLLABLES:
        return Remark(_("this is {note}").format(note=name))
    message = _("this is an {value}") if name[0] in "aeiou" else _("this is a {value}")
    return Remark(message.format(value=name))
