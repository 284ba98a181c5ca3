"""Which lines a pupil reads at the piano: of a score, or invented about the notes of the week."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import chain, cycle
from pathlib import Path

from drills.app.practice_context import PracticeContext
from drills.app.spotting_options import week_of
from drills.app.user_error import UserError
from drills.sessions.effects import Hands
from drills.sessions.reading.account import notes_to_read
from drills.sessions.spotting.pages import Page, pages_of_score
from drills.sessions.spotting.question import note_question
from drills.storage.studio import Pupil
from landmarks.line import Line
from landmarks.melody import invented_melody
from landmarks.melody_musicxml import melody_line
from landmarks.sets import Anchor, LandmarkSet
from landmarks.stave import CLEFS
from landmarks.translation import _

READING_MINUTES = 5
"""How long lines are read, unless something else is said."""
_SEEDS = 2**32


@dataclass(frozen=True)
class ReadingOptions:
    """Which lines are read, by which hands; by default invented ones, about the week's notes."""

    score: Path | None = None
    """Where the lines come from; None invents them."""
    bar: int = 1
    """The bar of the score to begin at."""
    hands: Hands = "both"


LINES_OF_THE_WEEK = ReadingOptions()


def lines_to_read(
    options: ReadingOptions, pupil: Pupil, context: PracticeContext, seed: int, now: datetime
) -> Iterator[Line]:
    """Return the lines to read, one after another; invented ones without end.

    Raises:
        UserError: the score cannot be read, or holds nothing for these hands.
    """
    if options.score is not None:
        return lines_of_score(options.score, options.bar, options.hands)
    anchors = _anchors(pupil, context, now)
    return _invented_lines(context.landmarks, anchors, context.grand, seed)


def lines_of_score(score: Path, bar: int, hands: Hands) -> Iterator[Line]:
    """Return the lines of a score, from a bar on, that hold notes for these hands.

    Raises:
        UserError: the score cannot be read, or there is no such line.
    """
    from drills.scores.reading import lines_in_time
    from landmarks.score import ScoreError

    try:
        lines = (line for line in lines_in_time(score, bar) if notes_to_read(line, hands))
        first = next(lines, None)
    except ScoreError as error:
        raise UserError(error) from None
    if first is None:
        raise UserError(
            _("{score}: from bar {bar} on there is nothing to play for these hands").format(
                score=score, bar=bar
            )
        )
    return chain([first], lines)


def pages_in_line(line: Line, context: PracticeContext) -> Iterator[Page]:
    """Return what is to be found in one line: landmarks that it holds, else its first note."""
    naming = context.naming
    landmarks = [note_question(each.clef, each.pitch, naming) for each in context.landmarks.anchors]
    first = [
        note_question(note.clef, note.pitch, naming)
        for note in line.notes
        if note.clef.name in CLEFS
    ]
    held = list(pages_of_score([line], landmarks))
    return iter(held or pages_of_score([line], first[:1]))


def _invented_lines(
    landmarks: LandmarkSet, anchors: Sequence[Anchor], grand: bool, seed: int
) -> Iterator[Line]:
    """Yield invented lines without end, each about one of the anchors in turn."""
    chance = random.Random(seed)
    for anchor in cycle(chance.sample(anchors, len(anchors))):
        melody = invented_melody(landmarks, anchor, chance.randrange(_SEEDS), grand=grand)
        yield melody_line(melody)


def _anchors(pupil: Pupil, context: PracticeContext, now: datetime) -> list[Anchor]:
    """Return what the lines are about: the notes of the week, or the landmarks without any."""
    own = {(anchor.clef, anchor.pitch): anchor for anchor in context.landmarks.anchors}
    week = [(card.clef, card.target) for card in week_of(pupil, context, now)]
    found = [own.get(place) or Anchor(*place) for place in week]
    return found or list(context.landmarks.anchors)
