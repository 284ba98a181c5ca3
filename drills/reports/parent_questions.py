"""The questions for parents: an HTML page to fill in, whose answers come home in a file."""

from __future__ import annotations

from drills.learning.prior_knowledge.observations import FORMAT, VERSION
from drills.learning.prior_knowledge.question import NOT_SEEN, Part, Question, questions
from drills.reports.frame import page_of
from drills.storage.prior_knowledge_file import SUFFIX
from landmarks.translation import _, gettext_noop

_FOR_PARENTS = {"not-yet": gettext_noop("not yet"), NOT_SEEN: gettext_noop("I don't know")}


def parents_sheet() -> str:
    """Return the page, complete in itself, on both sides of one sheet of A4 or Letter.

    Its button hands out a file of what a pupil brings, which is taken in as any other.
    """
    return page_of(
        "parent_questions.html",
        _("Before the first lesson"),
        style="parent_questions.css",
        scripts=True,
        questions=questions(),
        parts=list(Part),
        format=FORMAT,
        version=VERSION,
        suffix=SUFFIX,
        words=_words,
    )


def _words(question: Question, answer: str) -> str:
    common = _FOR_PARENTS.get(answer)
    return question.words(answer) if common is None else _(common)
