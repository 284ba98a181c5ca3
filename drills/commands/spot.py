"""`landmark-drills spot`: find every treble G in a line of music."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import chain
from pathlib import Path

from drills.commands.options import (
    add_drill_options,
    add_studio_option,
    pupil_of,
)
from drills.commands.refusal import Refusal
from drills.commands.sitting import Sitting, only_pupil
from drills.notes_of_week import notes_of_week
from drills.plan import PlanError
from drills.spotting.lines import NothingToFindError, Page, invented_pages, pages_of_score
from drills.spotting.question import (
    Question,
    QuestionError,
    ValueQuestion,
    note_question,
    parse_question,
)
from drills.studio import Pupil
from landmarks.names import NAMINGS
from landmarks.sets import LandmarkSet
from landmarks.values import VALUE_NAMINGS, NoteValue

DESCRIPTION = """\
Open the window on a line of music and find notes in it: touch or click every treble G, or play
its key, which marks the next one from left to right. The line comes from a score, a few bars at a
time, or is invented from the landmarks of the week.

keys: Escape ends the session and then closes the window; the up arrow points at the next note.
A piano that sounds higher or lower than it plays is put right by practise.
"""
MINUTES = 4
LONGEST_MINUTES = 60
VALUES = (NoteValue("quarter"), NoteValue("half"), NoteValue("eighth"))
"""The note values that are asked for unless others are named."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar="NICKNAME", help="who looks for notes (the only pupil there is)"
    )
    add_studio_option(parser)
    parser.add_argument("--score", type=Path, metavar="FILE", help="take the lines from this score")
    parser.add_argument("--bar", type=int, default=1, help="the bar of the score to begin at (1)")
    parser.add_argument(
        "--find", action="append", metavar="WHAT",
        help='what to find: "treble G", "bass C", "F#4", "crotchet", "quarter note", "ta"; may be '
        "given again (the notes of the week)",
    )  # fmt: skip
    parser.add_argument(
        "--values", choices=sorted(VALUE_NAMINGS),
        help="ask for note values as well, by these names",
    )  # fmt: skip
    parser.add_argument(
        "--minutes", type=_minutes, default=MINUTES, help=f"how long, 1 to {LONGEST_MINUTES} (4)"
    )
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Look for notes until the window is closed."""
    sitting = Sitting(arguments)
    pupil = pupil_of(arguments.pupil or only_pupil(sitting.studio), sitting.studio)
    questions = _questions(arguments, pupil, sitting.landmarks)
    pages = _pages(arguments, sitting, questions)
    with sitting:
        sitting.spot(pupil, pages, arguments.minutes)
    return 0


def _questions(
    arguments: argparse.Namespace, pupil: Pupil, landmarks: LandmarkSet
) -> list[Question]:
    naming = NAMINGS[arguments.names]
    values = VALUE_NAMINGS[arguments.values] if arguments.values else None
    asked: list[Question] = [ValueQuestion(value, values) for value in VALUES] if values else []
    try:
        if arguments.find:
            named = [parse_question(text, naming) for text in arguments.find]
            return list(dict.fromkeys([*named, *asked]))
        notes = notes_of_week(pupil, landmarks, datetime.now().astimezone())
    except (QuestionError, PlanError) as error:
        raise Refusal(error) from None
    return [*(note_question(card.clef, card.target, naming) for card in notes), *asked]


def _pages(
    arguments: argparse.Namespace, sitting: Sitting, questions: Sequence[Question]
) -> Iterator[Page]:
    """Give the lines to look at; Refusal if there is none."""
    try:
        if arguments.score is None:
            return invented_pages(sitting.landmarks, questions, sitting.seed, arguments.grand)
        from landmarks.excerpt import ScoreError, score_lines  # noqa: PLC0415

        try:
            pages = pages_of_score(score_lines(arguments.score, arguments.bar), questions)
            first = next(pages, None)
        except ScoreError as error:
            raise Refusal(error) from None
    except NothingToFindError as error:
        raise Refusal(error) from None
    if first is None:
        names = " and no ".join(question.name for question in questions)
        raise Refusal(
            f"{arguments.score}: there is no {names} in it from bar {arguments.bar} on; "
            "name another note with --find, or another score"
        )
    return chain([first], pages)


def _minutes(text: str) -> int:
    if not (text.isdecimal() and len(text) <= 2 and 1 <= int(text) <= LONGEST_MINUTES):
        raise argparse.ArgumentTypeError(
            f"{text!r} is not a whole number from 1 to {LONGEST_MINUTES}"
        )
    return int(text)
