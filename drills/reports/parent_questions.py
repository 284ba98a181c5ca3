"""The questions for parents before the first lesson: one HTML page, to print or to fill in."""

from __future__ import annotations

from drills.learning.prior_knowledge.question import NOT_SEEN, Question, questions
from drills.reports.frame import page_of
from landmarks.translation import _, gettext_noop

_FOR_PARENTS = {"not-yet": gettext_noop("not yet"), NOT_SEEN: gettext_noop("I don't know")}


def parents_sheet() -> str:
    """Return the page, complete in itself, on one sheet of A4 or Letter."""
    return page_of(
        "parent_questions.html",
        _("Before the first lesson"),
        style="parent_questions.css",
        scripts=True,
        questions=questions(),
        words=_words,
    )


def _words(question: Question, answer: str) -> str:
    common = _FOR_PARENTS.get(answer)
    return question.words(answer) if common is None else _(common)
