"""What was seen of a pupil and when, and what the teacher decided, oldest first."""

from __future__ import annotations

from datetime import datetime
from typing import Literal, TypeVar

import msgspec

from drills.learning.prior_knowledge.finding import QUESTION_OF, Finding
from drills.learning.prior_knowledge.question import NOT_SEEN, questions
from drills.text.errors import DrillsError
from landmarks.translation import _

FORMAT = "landmark-drills beginnings"
VERSION = 2
"""2 adds what was heard, what an answer was set by, whose it is, and a line of evidence."""


class PriorKnowledgeError(DrillsError, ValueError):
    """A file that tells of no beginnings; its one sentence says what, where and what to do."""


class Observation(msgspec.Struct, frozen=True, kw_only=True):
    """One answer to one question, and when it was given (aware).

    `heard` is when that was heard which the answer was set by, None if it was seen otherwise.
    `by` says whose answer it is, `note` a line of evidence in her or their own words.
    """

    question: str
    answer: str
    at: datetime
    heard: datetime | None = None
    by: Literal["teacher", "parents", "pupil"] = "teacher"
    note: str = ""


class Heard(msgspec.Struct, frozen=True, kw_only=True):
    """What was heard at the piano, and when (aware). It says nothing until an answer is set."""

    finding: Finding
    at: datetime


class Decision(msgspec.Struct, frozen=True, kw_only=True):
    """The teacher set the pupil on a rung of the ladder at this time (aware)."""

    rung: str
    at: datetime


_Dated = TypeVar("_Dated", Observation, Decision, Heard)


class Observations(msgspec.Struct, frozen=True, kw_only=True):
    """All that was seen, oldest first, and all that the teacher decided."""

    format: str = FORMAT
    version: int = VERSION
    pupil: str
    observations: tuple[Observation, ...] = ()
    decisions: tuple[Decision, ...] = ()
    heard: tuple[Heard, ...] = ()

    def answers(self) -> dict[str, Observation]:
        """Return the latest answer to each question that has one, by the question's name.

        The teacher's answer holds before that of anybody else, whichever came later.
        """
        in_order = sorted(self.observations, key=lambda seen: seen.by == "teacher")
        latest = {seen.question: seen for seen in in_order}
        return {name: seen for name, seen in latest.items() if seen.answer != NOT_SEEN}

    def answer(self, question: str) -> str:
        """Return the latest answer to a question."""
        seen = self.answers().get(question)
        return NOT_SEEN if seen is None else seen.answer

    def latest_heard(self, question: str) -> Heard | None:
        """Return what was heard last that tells of a question, None if nothing was."""
        told = (each for each in self.heard if QUESTION_OF[each.finding.item] == question)
        return max(told, key=lambda each: each.at, default=None)

    def listened(self, finding: Finding, at: datetime) -> Observations:
        """Return the same with what was heard; it changes nothing until an answer is set."""
        heard = Heard(finding=finding, at=at)
        return msgspec.structs.replace(self, heard=(*self.heard, heard))

    def seen(
        self, question: str, answer: str, at: datetime, heard: datetime | None = None
    ) -> Observations:
        """Return the same with an answer, `heard` if it was set by what was heard then.

        Raises:
            PriorKnowledgeError: there is no such question or answer.
        """
        check_answer(question, answer, "this answer")
        observation = Observation(question=question, answer=answer, at=at, heard=heard)
        return msgspec.structs.replace(self, observations=(*self.observations, observation))

    def decided(self, rung: str, at: datetime) -> Observations:
        """Add that the teacher set the pupil on a rung."""
        return msgspec.structs.replace(
            self, decisions=(*self.decisions, Decision(rung=rung, at=at))
        )

    def until(self, moment: datetime) -> Observations:
        """Return what was known at a moment."""
        return msgspec.structs.replace(
            self,
            observations=tuple(seen for seen in self.observations if seen.at <= moment),
            decisions=tuple(set_ for set_ in self.decisions if set_.at <= moment),
            heard=tuple(each for each in self.heard if each.at <= moment),
        )

    def united(self, other: Observations) -> Observations:
        """Take in what another copy of the file tells, each thing once and in order of time."""
        return msgspec.structs.replace(
            self,
            observations=_in_order(self.observations, other.observations),
            decisions=_in_order(self.decisions, other.decisions),
            heard=_in_order(self.heard, other.heard),
        )


def check_answer(question: str, answer: str, where: str) -> None:
    """Check that there is such a question, and such an answer to it. BeginningsError if not."""
    known = questions()
    if question not in known:
        raise PriorKnowledgeError(
            _("{where}: {question!r} is no question; put one of {names}").format(
                where=where, question=question, names=", ".join(known)
            )
        )
    if answer not in known[question].options:
        raise PriorKnowledgeError(
            _("{where}: {answer!r} is no answer to {question}; put one of {names}").format(
                where=where,
                answer=answer,
                question=question,
                names=", ".join(known[question].options),
            )
        )


def _in_order(one: tuple[_Dated, ...], other: tuple[_Dated, ...]) -> tuple[_Dated, ...]:
    every = {msgspec.json.encode(each): each for each in one + other}
    return tuple(sorted(every.values(), key=lambda each: each.at))
