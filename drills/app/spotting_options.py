"""What is looked for in a line of music, and where the line comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import chain
from pathlib import Path

from drills.app.practice_context import PracticeContext
from drills.app.user_error import UserError
from drills.cards.card import Card
from drills.scores.notes_of_week import notes_of_week
from drills.sessions.spotting.pages import Page, invented_pages, pages_of_score
from drills.sessions.spotting.question import (
    Question,
    ValueQuestion,
    note_question,
    parse_question,
)
from drills.storage.studio import Pupil
from landmarks.score import ScoreError
from landmarks.translation import _
from landmarks.values import VALUE_NAMINGS, NoteValue

SPOTTING_MINUTES = 4
"""How long notes are looked for, unless something else is said."""
VALUES = (NoteValue("quarter"), NoteValue("half"), NoteValue("eighth"))
"""The note values that are asked for unless others are named."""


@dataclass(frozen=True)
class SpottingOptions:
    """What to find and where: by default the notes of the week, in invented lines."""

    score: Path | None = None
    """Where the lines come from; None invents them."""
    bar: int = 1
    """The bar of the score to begin at."""
    find: tuple[str, ...] = ()
    """What to find: "treble G", "F#4", "crotchet"; without any, the notes of the week."""
    values: str | None = None
    """One of `landmarks.values.VALUE_NAMINGS`, by whose names note values are asked as well."""


NOTES_OF_THE_WEEK = SpottingOptions()


def questions_of(
    options: SpottingOptions, pupil: Pupil, context: PracticeContext, now: datetime
) -> list[Question]:
    """Return what is to be found: the notes of the week, unless the options name something else.

    Raises:
        QuestionError: it is neither a note nor a note value.
    """
    return questions_about(week_of(pupil, context, now), options, context)


def questions_about(
    notes: Sequence[Card], options: SpottingOptions, context: PracticeContext
) -> list[Question]:
    """Return what is to be found: these notes, unless the options name something else.

    Raises:
        QuestionError: it is neither a note nor a note value.
    """
    naming, named = context.naming, options.values or context.settings.values
    values = VALUE_NAMINGS[named] if named else None
    asked: list[Question] = [ValueQuestion(value, values) for value in VALUES] if values else []
    if options.find:
        found = [parse_question(text, naming) for text in options.find]
        return list(dict.fromkeys([*found, *asked]))
    return [*(note_question(card.clef, card.target, naming) for card in notes), *asked]


def week_of(pupil: Pupil, context: PracticeContext, now: datetime) -> tuple[Card, ...]:
    """Return the notes of the week: those of the home plan, if there is a usable one."""
    return notes_of_week(
        context.plan, pupil, context.landmarks, now, context.fluency, context.prior_knowledge
    )


def pages_of(
    options: SpottingOptions, questions: Sequence[Question], context: PracticeContext, seed: int
) -> Iterator[Page]:
    """Return the lines to look at, one page after another.

    Raises:
        NothingToFindError: nothing of what is asked can be found in invented lines.
        UserError: the score cannot be read, or nothing of it is there.
    """
    if options.score is None:
        return invented_pages(context.landmarks, questions, seed, context.grand)
    from drills.scores.reading import lines_in_time

    try:
        pages = pages_of_score(lines_in_time(options.score, options.bar), questions)
        first = next(pages, None)
    except ScoreError as error:
        raise UserError(error) from None
    if first is None:
        names = _(" and no ").join(question.name for question in questions)
        raise UserError(
            _(
                "{score}: there is no {names} in it from bar {bar} on; name another note with "
                "--find, or another score"
            ).format(score=options.score, names=names, bar=options.bar)
        )
    return chain([first], pages)
