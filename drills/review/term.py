"""The term in three sentences: where the pupil was, where she is, and what comes next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import median

from drills.review.absence import LONG_GAP
from drills.review.collect import SessionSummary

TERM = timedelta(weeks=13)
"""A quarter of a year: as long as a school term, about. Common practice, no source."""
COMPARED = 3
"""Sessions at its beginning and at its end: a single one may be a good or a bad day."""


@dataclass(frozen=True)
class Stage:
    """Some sessions next to each other: the day of the first, and how she read in them.

    `seconds` is the median of their medians, `right` the share of right answers.
    """

    day: datetime
    seconds: float
    right: float


@dataclass(frozen=True)
class TermReview:
    """The first and the latest sessions of the term, and how many days of practice it had."""

    before: Stage
    now: Stage
    days: int


def review_term(sessions: Sequence[SessionSummary], now: datetime) -> TermReview | None:
    """Return how reading changed over the term that ends `now`.

    None unless there are enough sessions for a beginning and an end that share none.
    """
    read = [s for s in sessions if now - TERM <= s.started <= now and s.median_seconds is not None]
    if len(read) < 2 * COMPARED:
        return None
    breaks = [n for n in range(1, len(read)) if read[n].started - read[n - 1].started >= LONG_GAP]
    days = {session.started.date() for session in read}
    # What stood on the other side of a long break is another stage.
    first = read[: breaks[0] if breaks else None][:COMPARED]
    latest = read[breaks[-1] if breaks else 0 :][-COMPARED:]
    return TermReview(_stage(first), _stage(latest), len(days))


def _stage(sessions: Sequence[SessionSummary]) -> Stage:
    seconds = median(session.median_seconds or 0.0 for session in sessions)
    answers = sum(session.answers for session in sessions)
    right = sum(session.right for session in sessions)
    return Stage(sessions[0].started, seconds, right / answers)
