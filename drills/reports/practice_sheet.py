"""The handout as one HTML page: the week's notes, contours to follow, a line to spot in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from drills.cards.card import Card
from drills.cards.contour import Contour
from drills.engrave.line import EngravedLine
from drills.reports.frame import page_of
from drills.reports.sheet_contours import contour_picture
from drills.reports.sheet_staves import (
    engraved_for_paper,
    frame,
    landmarks_picture,
    line_picture,
    ring,
)
from drills.sessions.spotting.pages import Page
from drills.sessions.spotting.question import NoteQuestion, Question, wanted_in
from drills.text.formatting import long_day
from landmarks.names import Naming, octave_name
from landmarks.translation import _, gettext_noop, ngettext

_MARKS: tuple[tuple[str, Callable[[EngravedLine, int], str]], ...] = (
    (gettext_noop("Ring every {what}."), ring),
    (gettext_noop("Draw a square around every {what}."), frame),
)
"""How the first and the second thing to find are marked: told apart without colours."""


@dataclass(frozen=True)
class Handout:
    """What stands on a handout: for whom, when, the notes, the contours and the line.

    `hint` is a sentence for the pupil on what to mend, "" if there is nothing.
    """

    nickname: str
    day: datetime
    cards: tuple[Card, ...]
    contours: tuple[Contour, ...]
    page: Page
    naming: Naming
    hint: str = ""


def handout_page(handout: Handout) -> str:
    """Return the handout as HTML, complete in itself: a sheet of paper, and one of answers."""
    title = _("{name}: practice sheet of {day}").format(
        name=handout.nickname, day=long_day(handout.day)
    )
    marks, answers = _marked(handout.page)
    line = handout.page.line
    return page_of(
        "practice_sheet.html",
        title,
        style="practice_sheet.css",
        sheet=handout,
        landmarks=landmarks_picture(handout.cards, handout.naming),
        contour_picture=contour_picture,
        asked=" ".join(
            _(words).format(what=_asked(question))
            for (words, _mark), question in zip(_MARKS, handout.page.questions, strict=False)
        ),
        line=line_picture(line, _("A line of music to look for notes in")),
        answers=answers,
        answers_picture=line_picture(
            line, _("The answers: {answers}").format(answers=answers), marks, "answers"
        ),
    )


def _marked(page: Page) -> tuple[str, str]:
    """Return the marks around the notes asked for, as SVG, and how many there are in words."""
    engraved = engraved_for_paper(page.line)
    marks, counts = [], []
    for (_words, mark), question in zip(_MARKS, page.questions, strict=False):
        wanted = wanted_in(page.line, question)
        marks += [mark(engraved, number) for number in wanted]
        counts.append(_count(question, len(wanted)))
    return "".join(marks), ", ".join(counts)


def _count(question: Question, count: int) -> str:
    return ngettext("{what} once", "{what} {count} times", count, what=_asked(question))


def _asked(question: Question) -> str:
    """Return what to find; a note with its octave where a name alone could mean another one."""
    octave = (
        octave_name(question.card.target, question.naming)
        if isinstance(question, NoteQuestion)
        else ""
    )
    return f"{question.name} ({octave})" if octave else question.name
