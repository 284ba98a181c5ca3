"""A practice sheet to print, from the notes of a pupil's week."""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import datetime

from drills.app.practice_context import PracticeContext
from drills.app.spotting_options import (
    NOTES_OF_THE_WEEK,
    SpottingOptions,
    pages_of,
    questions_about,
    week_of,
)
from drills.reports.practice_sheet import Handout, handout_page
from drills.reports.sheet_contours import invented_contours
from drills.reports.sheet_fit import fit_sheet
from drills.review.collect import collect
from drills.review.pupil import review_pupil
from drills.review.trouble import Finding
from drills.storage.studio import Pupil

CONTOURS = 4


def practice_sheet(
    pupil: Pupil,
    context: PracticeContext,
    now: datetime,
    seed: int,
    options: SpottingOptions = NOTES_OF_THE_WEEK,
) -> str:
    """Return a practice sheet as a web page of one printed side, and one of answers.

    It fits the trouble that the review of the pupil names first.

    Raises:
        QuestionError, NothingToFindError, UserError: what is to be looked for cannot be found.
    """
    fit = fit_sheet(week_of(pupil, context, now), _troubles(pupil, context, now))
    questions = questions_about(fit.asked, options, context)
    handout = Handout(
        pupil.nickname,
        now,
        fit.cards,
        invented_contours(CONTOURS, context.prior_knowledge, random.Random(seed)),
        next(pages_of(options, questions, context, seed)),
        context.naming,
        fit.hint,
    )
    return handout_page(handout)


def _troubles(pupil: Pupil, context: PracticeContext, now: datetime) -> Sequence[Finding]:
    record = collect(pupil.nickname, tuple(pupil.session_files()), now)
    return review_pupil(
        record, now, None, context.fluency, context.observations, context.landmarks
    ).troubles
