"""Reviewing one pupil or the whole studio, and the forms in which a review is given out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from drills.app.practice_context import PracticeContext, PracticeOptions, practice_context
from drills.app.progress import UNWATCHED, Progress
from drills.app.studio_defaults import known_pupil
from drills.app.tolerant_loading import LOG
from drills.app.user_error import UserError
from drills.reports.parent_sheet import parents_sheet
from drills.reports.pupil_page import pupil_page
from drills.reports.review_tables import csv_of, json_of
from drills.reports.review_text import pupil_lines, studio_lines
from drills.reports.studio_page import studio_page
from drills.review.each_pupil import SessionFiles, review_pupils
from drills.review.pupil import PupilReview
from drills.review.whole_studio import review_studio
from drills.storage.studio import Pupil, Studio
from landmarks.sets import DEFAULT_SET
from landmarks.translation import _


@dataclass(frozen=True)
class Review:
    """What is told at `now`, an aware datetime, of one pupil or of a whole studio."""

    pupils: Sequence[PupilReview]
    now: datetime
    of_one: bool

    def lines(self) -> Iterator[str]:
        """Yield the review as lines of a terminal."""
        if self.of_one:
            return iter(pupil_lines(self.pupils[0]))
        return iter(studio_lines(review_studio(self.pupils, self.now)))

    def page(self) -> str:
        """Return the review as a web page to print."""
        if self.of_one:
            return pupil_page(self.pupils[0])
        return studio_page(review_studio(self.pupils, self.now))

    def parents_page(self) -> str:
        """Return the sheet for the parents of the one pupil as a web page."""
        return parents_sheet(self.pupils[0])

    def csv(self) -> str:
        """Return a table of notes as comma-separated values."""
        return csv_of(self.pupils)

    def json(self) -> str:
        """Return all of it as JSON."""
        return json_of(self.pupils)


def review(
    studio: Studio,
    nickname: str | None,
    now: datetime,
    since: datetime | None = None,
    progress: Progress = UNWATCHED,
) -> Review:
    """Review the pupil of a nickname, or all pupils of a studio without one.

    `since` is when the last lesson was; None takes the last warm-up, or a week ago.

    Raises:
        UserError: there is nobody to review, or `since` lies ahead.
        CancelledError: it was stopped.
    """
    if since is not None and since > now:
        raise UserError(
            _("--since {since:%Y-%m-%d} lies ahead; give a day that has been").format(since=since)
        )
    of_one = nickname is not None
    pupils = [known_pupil(nickname, studio)] if of_one else list(_all_pupils(studio))
    files = [_session_files(pupil) for pupil in pupils]
    advance = progress.counter(sum(len(pupil.paths) for pupil in files))
    return Review(review_pupils(files, now, since, advance), now, of_one)


def _all_pupils(studio: Studio) -> tuple[Pupil, ...]:
    pupils = studio.pupils()
    if not pupils:
        known_pupil(None, studio)
    return pupils


def _session_files(pupil: Pupil) -> SessionFiles:
    context = _context(pupil)
    return SessionFiles(
        pupil.nickname,
        tuple(pupil.session_files()),
        context.fluency,
        context.observations,
        context.landmarks,
    )


def _context(pupil: Pupil) -> PracticeContext:
    """Return what holds for a pupil; a set that cannot be used is told of and passed over."""
    try:
        return practice_context(pupil)
    except UserError as error:
        LOG.warning("%s; %s", error, _("the usual notes are reviewed meanwhile"))
        return practice_context(pupil, PracticeOptions(landmarks=DEFAULT_SET))
