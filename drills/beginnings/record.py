"""What was seen of a pupil and when, as one small file in her folder that keeps its history."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TypeVar

import msgspec

from drills.beginnings.question import NOT_SEEN, questions
from drills.small_files import read_small, write_small
from drills.studio import Pupil
from landmarks.translation import _

FORMAT = "landmark-drills beginnings"
VERSION = 1
SUFFIX = ".beginnings.json"


class BeginningsError(ValueError):
    """A file that tells of no beginnings; its one sentence says what, where and what to do."""


class Observation(msgspec.Struct, frozen=True, kw_only=True):
    """One answer to one question, and when it was given (aware)."""

    question: str
    answer: str
    at: datetime


class Decision(msgspec.Struct, frozen=True, kw_only=True):
    """The teacher set the pupil on a rung of the ladder at this time (aware)."""

    rung: str
    at: datetime


_Dated = TypeVar("_Dated", Observation, Decision)


class Beginnings(msgspec.Struct, frozen=True, kw_only=True):
    """All that was seen, oldest first, and all that the teacher decided."""

    format: str = FORMAT
    version: int = VERSION
    pupil: str
    observations: tuple[Observation, ...] = ()
    decisions: tuple[Decision, ...] = ()

    def answers(self) -> dict[str, Observation]:
        """Give the latest answer to each question that has one, by the question's name."""
        latest = {seen.question: seen for seen in self.observations}
        return {name: seen for name, seen in latest.items() if seen.answer != NOT_SEEN}

    def answer(self, question: str) -> str:
        """Give the latest answer to a question."""
        seen = self.answers().get(question)
        return NOT_SEEN if seen is None else seen.answer

    def seen(self, question: str, answer: str, at: datetime) -> Beginnings:
        """Add an answer. BeginningsError if there is no such question or answer."""
        _check(question, answer, "this answer")
        observation = Observation(question=question, answer=answer, at=at)
        return msgspec.structs.replace(self, observations=(*self.observations, observation))

    def decided(self, rung: str, at: datetime) -> Beginnings:
        """Add that the teacher set the pupil on a rung."""
        return msgspec.structs.replace(
            self, decisions=(*self.decisions, Decision(rung=rung, at=at))
        )

    def until(self, moment: datetime) -> Beginnings:
        """Give what was known at a moment."""
        return msgspec.structs.replace(
            self,
            observations=tuple(seen for seen in self.observations if seen.at <= moment),
            decisions=tuple(set_ for set_ in self.decisions if set_.at <= moment),
        )

    def united(self, other: Beginnings) -> Beginnings:
        """Take in what another copy of the file tells, each thing once and in order of time."""
        return msgspec.structs.replace(
            self,
            observations=_in_order(self.observations, other.observations),
            decisions=_in_order(self.decisions, other.decisions),
        )


def beginnings_of(pupil: Pupil) -> Beginnings | None:
    """Give what is recorded of a pupil, None if nothing is. BeginningsError if it is damaged."""
    path = _path(pupil)
    return read_beginnings(path) if path.is_file() else None


def read_beginnings(path: Path) -> Beginnings:
    """Read a file. BeginningsError if it is none; OSError if it cannot be read."""
    found = read_small(path, Beginnings)
    if found is None or found.format != FORMAT:
        raise BeginningsError(
            _(
                "{path}: this does not tell what a pupil brings; choose a file that "
                "landmark-drills wrote, its name ends in {suffix}"
            ).format(path=path, suffix=SUFFIX)
        )
    for seen in found.observations:
        _check(seen.question, seen.answer, str(path))
    dates = [seen.at for seen in found.observations] + [set_.at for set_ in found.decisions]
    if any(at.tzinfo is None for at in dates):
        raise BeginningsError(
            _("{path}: a date in it has no time zone; add one, as in +01:00").format(path=path)
        )
    return found


def write_beginnings(beginnings: Beginnings, pupil: Pupil) -> Path:
    """Write a pupil's file, readable by its owner only; give its path."""
    path = _path(pupil)
    write_small(path, beginnings)
    return path


def _path(pupil: Pupil) -> Path:
    return pupil.folder / f"{pupil.nickname}{SUFFIX}"


def _check(question: str, answer: str, where: str) -> None:
    known = questions()
    if question not in known:
        raise BeginningsError(
            _("{where}: {question!r} is no question; put one of {names}").format(
                where=where, question=question, names=", ".join(known)
            )
        )
    if answer not in known[question].options:
        raise BeginningsError(
            _("{where}: {answer!r} is no answer to {question}; put one of {names}").format(
                where=where,
                answer=answer,
                question=question,
                names=", ".join(known[question].options),
            )
        )


def _in_order(one: tuple[_Dated, ...], other: tuple[_Dated, ...]) -> tuple[_Dated, ...]:
    every: dict[_Dated, None] = dict.fromkeys(one + other)
    return tuple(sorted(every, key=lambda each: each.at))
