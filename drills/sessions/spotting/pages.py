"""Which lines of music are shown, and what is asked of each."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, cycle

from drills.sessions.spotting.question import NoteQuestion, Question, ValueQuestion, wanted_in
from drills.text.errors import DrillsError
from landmarks.line import Line
from landmarks.melody import invented_melody
from landmarks.melody_musicxml import melody_line
from landmarks.sets import Anchor, LandmarkSet
from landmarks.translation import _

MOST_QUESTIONS = 3
"""Of one line: after that it is known too well. Common practice, no source."""
_SEEDS = 2**32
_TRIES = 200


class NothingToFindError(DrillsError, ValueError):
    """No line holds what is asked for; its one sentence says what to do."""


@dataclass(frozen=True)
class Page:
    """A line, and what is looked for in it, one after the other."""

    line: Line
    questions: tuple[Question, ...]


def pages_of_score(lines: Iterable[Line], questions: Sequence[Question]) -> Iterator[Page]:
    """Yield the lines of a score that hold any of what is asked for."""
    return _Asker(questions).pages(lines)


def invented_pages(
    landmarks: LandmarkSet, questions: Sequence[Question], seed: int, grand: bool = False
) -> Iterator[Page]:
    """Yield invented lines without end, each about one of the questions in turn.

    Raises:
        NothingToFindError: no invented line holds one of them.
    """
    chance = random.Random(seed)
    first = [_invented(landmarks, question, chance, grand) for question in questions]
    more = (_invented(landmarks, question, chance, grand) for question in cycle(questions))
    return _Asker(questions).pages(chain(first, more))


def _invented(
    landmarks: LandmarkSet, question: Question, chance: random.Random, grand: bool
) -> Line:
    """Return an invented line that holds what is asked for."""
    anchor = _anchor(landmarks, question, chance)
    for _try in range(_TRIES):
        seed = chance.randrange(_SEEDS)
        line = melody_line(invented_melody(landmarks, anchor, seed, grand=grand))
        if wanted_in(line, question):
            return line
    raise NothingToFindError(
        _("no invented line holds {name!r}; name a score that does with --score").format(
            name=question.name
        )
    )


def _anchor(landmarks: LandmarkSet, question: Question, chance: random.Random) -> Anchor:
    """Return the note that an invented melody is about."""
    if isinstance(question, ValueQuestion):
        return chance.choice(landmarks.anchors)
    target = question.card.target
    placed = [anchor for anchor in landmarks.anchors if anchor.pitch == target]
    return chance.choice(placed) if placed else Anchor(question.card.clef, target)


class _Asker:
    """Asks of each line what it holds, the least asked first."""

    def __init__(self, questions: Sequence[Question]) -> None:
        self._questions = questions
        self._asked: Counter[Question] = Counter()

    def pages(self, lines: Iterable[Line]) -> Iterator[Page]:
        for line in lines:
            held = [question for question in self._questions if wanted_in(line, question)]
            held.sort(key=lambda question: (self._asked[question], self._questions.index(question)))
            chosen = _notes_before_values(held[:MOST_QUESTIONS])
            self._asked.update(chosen)
            if chosen:
                yield Page(line, tuple(chosen))


def _notes_before_values(questions: Sequence[Question]) -> list[Question]:
    return sorted(questions, key=lambda question: not isinstance(question, NoteQuestion))
