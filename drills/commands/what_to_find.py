"""Options that say what is looked for in a line of music, and where the line comes from."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import chain
from pathlib import Path

from drills.cards.card import Card
from drills.commands.music import Music
from drills.commands.refusal import Refusal
from drills.commands.usable import usable_plan
from drills.scores.notes_of_week import notes_of_week
from drills.scores.reading import lines_in_time
from drills.sessions.spotting.pages import (
    NothingToFindError,
    Page,
    invented_pages,
    pages_of_score,
)
from drills.sessions.spotting.question import (
    Question,
    QuestionError,
    ValueQuestion,
    note_question,
    parse_question,
)
from drills.storage.studio import Pupil
from landmarks.translation import _
from landmarks.values import VALUE_NAMINGS, NoteValue

VALUES = (NoteValue("quarter"), NoteValue("half"), NoteValue("eighth"))
"""The note values that are asked for unless others are named."""


def add_find_options(parser: argparse.ArgumentParser) -> None:
    """Add what to find and where."""
    parser.add_argument(
        "--score", type=Path, metavar=_("FILE"), help=_("take the lines from this score")
    )
    parser.add_argument(
        "--bar", type=int, default=1, help=_("the bar of the score to begin at (1)")
    )
    parser.add_argument(
        "--find", action="append", metavar=_("WHAT"),
        help=_('what to find: "treble G", "bass C", "F#4", "crotchet", "quarter note", '
'"ta"; may be given again (the notes of the week)'),
    )  # fmt: skip
    parser.add_argument(
        "--values", choices=sorted(VALUE_NAMINGS),
        help=_("ask for note values as well, by these names"),
    )  # fmt: skip


def questions_of(arguments: argparse.Namespace, pupil: Pupil, music: Music) -> list[Question]:
    """Give what is to be found. Refusal if it is neither a note nor a note value."""
    naming, named = music.naming, arguments.values or music.settings.values
    values = VALUE_NAMINGS[named] if named else None
    asked: list[Question] = [ValueQuestion(value, values) for value in VALUES] if values else []
    try:
        if arguments.find:
            found = [parse_question(text, naming) for text in arguments.find]
            return list(dict.fromkeys([*found, *asked]))
    except QuestionError as error:
        raise Refusal(error) from None
    notes = week_of(pupil, music)
    return [*(note_question(card.clef, card.target, naming) for card in notes), *asked]


def week_of(pupil: Pupil, music: Music) -> tuple[Card, ...]:
    """Give the notes of the week: those of the home plan, if there is a usable one."""
    now = datetime.now().astimezone()
    fluency, brought = music.settings.fluency, music.brought
    return notes_of_week(usable_plan(pupil), pupil, music.landmarks, now, fluency, brought)


def pages_of(
    arguments: argparse.Namespace, questions: Sequence[Question], music: Music, seed: int
) -> Iterator[Page]:
    """Give the lines to look at; Refusal if there is none."""
    try:
        if arguments.score is None:
            return invented_pages(music.landmarks, questions, seed, music.grand)
        from landmarks.excerpt import ScoreError  # noqa: PLC0415

        try:
            pages = pages_of_score(lines_in_time(arguments.score, arguments.bar), questions)
            first = next(pages, None)
        except ScoreError as error:
            raise Refusal(error) from None
    except NothingToFindError as error:
        raise Refusal(error) from None
    if first is None:
        names = _(" and no ").join(question.name for question in questions)
        raise Refusal(
            _(
                "{score}: there is no {names} in it from bar {bar} on; name another note with "
                "--find, or another score"
            ).format(score=arguments.score, names=names, bar=arguments.bar)
        )
    return chain([first], pages)
