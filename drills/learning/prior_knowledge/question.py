"""The questions: what may be answered, what that says of the pupil, what it changes."""

from __future__ import annotations

import tomllib
from enum import StrEnum
from functools import cache
from importlib import resources

import msgspec

from landmarks.translation import _, gettext_noop

NOT_SEEN = "not-seen-yet"
"""The answer that every question has from the start: it says nothing and changes nothing."""
_COMMON = {
    "yes": gettext_noop("yes"),
    "not-yet": gettext_noop("not yet"),
    NOT_SEEN: gettext_noop("not seen yet"),
}


class Choice(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One answer: what it claims of the pupil or denies, why, and what the drill does then."""

    reason: str
    changes: str
    claims: tuple[str, ...] = ()
    denies: tuple[str, ...] = ()
    words: str = ""


class Part(StrEnum):
    """The part of practice that an answer changes, in the order of asking."""

    EAR = "ear"
    RHYTHM = "rhythm"
    KEYBOARD = "keyboard"
    PAGE = "page"

    @property
    def words(self) -> str:
        """The part as a person calls it."""
        return _(_PARTS[self])


_PARTS = {
    Part.EAR: gettext_noop("by ear"),
    Part.RHYTHM: gettext_noop("rhythm"),
    Part.KEYBOARD: gettext_noop("at the keys"),
    Part.PAGE: gettext_noop("on the page"),
}


class Question(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One thing to look for: for the teacher, for parents, and its answers by name."""

    part: Part
    asks: str
    parents: str
    answers: dict[str, Choice]

    def words(self, answer: str) -> str:
        """Return an answer as a person says it."""
        choice = self.answers.get(answer)
        return _((choice.words if choice else "") or _COMMON[answer])

    @property
    def options(self) -> tuple[str, ...]:
        """The names of the answers, the one that says nothing last."""
        return (*self.answers, NOT_SEEN)


@cache
def questions() -> dict[str, Question]:
    """Return the questions by name, in the order of asking."""
    source = (
        resources.files("drills.learning.prior_knowledge")
        .joinpath("questions.toml")
        .read_text("utf-8")
    )
    return msgspec.convert(tomllib.loads(source), dict[str, Question])
