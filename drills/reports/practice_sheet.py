"""The handout as one HTML page: the week's notes, contours to follow, a line to spot in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape
from importlib import resources

from drills.cards.card import Card
from drills.cards.contour import Contour
from drills.engrave.line import EngravedLine
from drills.reports.frame import whole_page
from drills.reports.sheet_contours import contour_picture
from drills.reports.sheet_staves import (
    engraved_for_paper,
    frame,
    landmarks_picture,
    line_picture,
    ring,
)
from drills.sessions.spotting.pages import Page
from drills.sessions.spotting.question import Question, wanted_in
from drills.text.formatting import long_day
from landmarks.names import Naming
from landmarks.translation import _, counted, noted

_MARKS: tuple[tuple[str, Callable[[EngravedLine, int], str]], ...] = (
    (noted("Ring every {what}."), ring),
    (noted("Draw a square around every {what}."), frame),
)
"""How the first and the second thing to find are marked: told apart without colours."""


@dataclass(frozen=True)
class Handout:
    """What stands on a handout: for whom, when, the notes, the contours and the line."""

    nickname: str
    day: datetime
    cards: tuple[Card, ...]
    contours: tuple[Contour, ...]
    page: Page
    naming: Naming


def handout_page(handout: Handout) -> str:
    """Give the handout as HTML, complete in itself, on one sheet of A4 or Letter."""
    style = (
        resources.files("drills.reports").joinpath("practice_sheet.css").read_text(encoding="utf-8")
    )
    day = long_day(handout.day)
    content = (
        f"<header><h1>{escape(handout.nickname)}</h1><p>{day}</p></header><main>"
        f"{_landmarks(handout)}{_contours(handout.contours)}{_line(handout.page)}</main>"
        f"{_answers(handout.page)}"
    )
    return whole_page(
        _("{name}: practice sheet of {day}").format(name=handout.nickname, day=day), style, content
    )


def _landmarks(handout: Handout) -> str:
    notes_of_this_week = escape(_("Your notes this week"))
    pointing = escape(_("Point to a note, say its name, and play it."))
    return (
        f"<section><h2>{notes_of_this_week}</h2>"
        f"<p>{pointing}</p>"
        f"<figure>{landmarks_picture(handout.cards, handout.naming)}</figure></section>"
    )


def _contours(contours: Sequence[Contour]) -> str:
    pictures = "".join(f"<figure>{contour_picture(contour)}</figure>" for contour in contours)
    how = _(
        "Trace it with a finger from left to right. Then play it on any keys: up, down, or the "
        "same key again."
    )
    follow_the_line = escape(_("Follow the line"))
    return (
        f"<section><h2>{follow_the_line}</h2><p>{escape(how)}</p>"
        f'<div class="contours">{pictures}</div></section>'
    )


def _line(page: Page) -> str:
    asked = " ".join(
        _(words).format(what=question.name)
        for (words, _mark), question in zip(_MARKS, page.questions, strict=False)
    )
    title = _("A line of music to look for notes in")
    look_closely = escape(_("Look closely"))
    return (
        f"<section><h2>{look_closely}</h2><p>{escape(asked)}</p>"
        f"<figure>{line_picture(page.line, title)}</figure>"
        "</section>"
    )


def _answers(page: Page) -> str:
    engraved = engraved_for_paper(page.line)
    marks, counts = [], []
    for (_words, mark), question in zip(_MARKS, page.questions, strict=False):
        wanted = wanted_in(page.line, question)
        marks += [mark(engraved, number) for number in wanted]
        counts.append(_count(question, len(wanted)))
    told = ", ".join(counts)
    title = _("The answers: {answers}").format(answers=told)
    picture = line_picture(page.line, title, "".join(marks), "answers")
    for_teacher = _("For the teacher: {answers}. The line: {source}.").format(
        answers=told, source=_(page.line.source)
    )
    return f"<footer><p>{escape(for_teacher)}</p>{picture}</footer>"


def _count(question: Question, count: int) -> str:
    return counted("{what} once", "{what} {count} times", count, what=question.name)
