"""A practice sheet to print, from the notes of a pupil's week."""

from __future__ import annotations

import random
from datetime import datetime

from drills.app.practice_context import PracticeContext
from drills.app.spotting_options import (
    NOTES_OF_THE_WEEK,
    SpottingOptions,
    pages_of,
    questions_of,
    week_of,
)
from drills.reports.practice_sheet import Handout, handout_page
from drills.reports.sheet_contours import invented_contours
from drills.storage.studio import Pupil

CONTOURS = 4


def practice_sheet(
    pupil: Pupil,
    context: PracticeContext,
    now: datetime,
    seed: int,
    options: SpottingOptions = NOTES_OF_THE_WEEK,
) -> str:
    """Return a practice sheet as a web page of one printed side.

    Raises:
        QuestionError, NothingToFindError, UserError: what is to be looked for cannot be found.
    """
    questions = questions_of(options, pupil, context, now)
    handout = Handout(
        pupil.nickname,
        now,
        week_of(pupil, context, now),
        invented_contours(CONTOURS, context.prior_knowledge, random.Random(seed)),
        next(pages_of(options, questions, context, seed)),
        context.naming,
    )
    return handout_page(handout)
