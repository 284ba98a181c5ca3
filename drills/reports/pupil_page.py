"""The review of one pupil as a page: what to mend first, every note drawn, every figure."""

from __future__ import annotations

from markupsafe import Markup

from drills.learning.parameters import USUAL
from drills.learning.response import State
from drills.reports import review_text, time_pictures
from drills.reports.frame import page_of
from drills.reports.stave_picture import stave_picture
from drills.review.collect import LATEST_ANSWERS
from drills.review.ladder import stands_sentence, way_sentence
from drills.review.notes import FEWEST_SESSIONS_FOR_A_CURVE, NoteReview
from drills.review.pupil import PupilReview
from drills.review.term import review_term
from drills.review.trouble import capital
from drills.text.formatting import decimal, long_day
from landmarks.translation import _, gettext_noop


def pupil_page(review: PupilReview) -> str:
    """Return the page as HTML, complete in itself."""
    notes = review_text.answered(review)
    return page_of(
        "pupil.html",
        _("{name}: review of {day}").format(name=review.nickname, day=long_day(review.now)),
        review=review,
        notes=notes,
        stave=_stave(review),
        days=time_pictures.days_picture(review.sessions, review.now, dated=True),
        curve=_curve(review),
        term=review_term(review.sessions, review.now),
        small_curve=_small_curve,
        interval_picture=time_pictures.interval_picture,
        most=_longest(review),
        capital=capital,
        judged_answers=USUAL.window,
        kept_answers=LATEST_ANSWERS,
        stands_sentence=stands_sentence,
        way_sentence=way_sentence,
        text=review_text,
    )


_COUNTED_STATES = (
    (State.INK, gettext_noop("in ink")), (State.FADED, gettext_noop("faded")),
    (State.PENCIL, gettext_noop("in pencil")), (State.NEW, gettext_noop("not met yet")),
)  # fmt: skip


def _stave(review: PupilReview) -> Markup:
    counts = ", ".join(
        f"{review.count(state)} {_(words)}"
        for state, words in _COUNTED_STATES
        if review.count(state)
    )
    title = _("The notes of {name} on the grand stave: {counts}").format(
        name=review.nickname, counts=counts
    )
    named = review.troubles[0].cards if review.troubles else ()
    return stave_picture(review.notes, named, title)


def _longest(review: PupilReview) -> float:
    """Return the seconds that end the scale of all times."""
    times = [note.seconds.high or note.seconds.value for note in review.notes if note.seconds]
    return max(times, default=0.0) or 1.0


def _small_curve(note: NoteReview) -> Markup:
    if len(note.curve) < FEWEST_SESSIONS_FOR_A_CURVE:
        return Markup()
    return time_pictures.small_curve(note.curve)


def _curve(review: PupilReview) -> Markup:
    shown = [session for session in review.sessions if session.median_seconds is not None]
    if len(shown) < FEWEST_SESSIONS_FOR_A_CURVE:
        return Markup()
    title = _("Median seconds of {count} sessions: {first} in the first, {latest} in the latest")
    return time_pictures.learning_curve(
        shown,
        title.format(
            count=len(shown),
            first=decimal(shown[0].median_seconds or 0.0),
            latest=decimal(shown[-1].median_seconds or 0.0),
        ),
    )
