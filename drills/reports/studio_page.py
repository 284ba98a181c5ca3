"""The review of the studio as a page: all pupils, and the landmarks across them."""

from __future__ import annotations

from drills.learning.response import State
from drills.reports.frame import page_of
from drills.reports.review_text import short_day
from drills.reports.time_pictures import days_picture, ratios_picture
from drills.review.notes import note_name
from drills.review.pupil import PupilReview
from drills.review.whole_studio import SLOWER_SHARE, StudioReview
from drills.text.formatting import long_day
from landmarks.translation import _

_STATES = (State.INK, State.FADED, State.PENCIL, State.NEW)


def studio_page(review: StudioReview) -> str:
    """Return the page as HTML, complete in itself."""
    return page_of(
        "studio.html",
        _("The studio: review of {day}").format(day=long_day(review.now)),
        review=review,
        states=_STATES,
        used_states={state for pupil in review.pupils for state in pupil.states},
        slower_share=SLOWER_SHARE,
        days_picture=days_picture,
        last_practised=_last_practised,
        note_name=note_name,
        ratios_picture=ratios_picture,
    )


def _last_practised(pupil: PupilReview) -> str:
    if pupil.last_practised is None:
        return _("no session yet")
    return _("latest on {day}").format(day=short_day(pupil.last_practised, pupil.now))
