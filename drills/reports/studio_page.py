"""The review of the studio as a page: all pupils, and the landmarks across them."""

from __future__ import annotations

from html import escape
from statistics import median

from drills.learning.response import State
from drills.reports.frame import framed, legend
from drills.reports.review_text import short_day
from drills.reports.time_pictures import days_picture, ratios_picture
from drills.review.notes import note_name
from drills.review.pupil import PupilReview
from drills.review.whole_studio import SLOWER_SHARE, LandmarkAcrossPupils, StudioReview
from drills.text.formatting import decimal, long_day
from landmarks.translation import _, noted

_STATES = (State.INK, State.FADED, State.PENCIL, State.NEW)


def studio_page(review: StudioReview) -> str:
    """Give the page as HTML, complete in itself."""
    date = long_day(review.now)
    dated, for_everyone = _("Review of {day}.").format(day=date), escape(_("For everyone"))
    the_studio = escape(_("The studio"))
    content = (
        f'<header><h1>{the_studio}</h1><p class="under">{escape(dated)} '
        f"{escape(review.practised_sentence())}</p></header>"
        f'<main><section class="first" aria-label="{for_everyone}">'
        f'<h2>{for_everyone}</h2><p class="next">{escape(review.sentence())}</p></section>'
        f"{_pupils(review)}{_landmarks(review)}</main>"
    )
    return framed(_("The studio: review of {day}").format(day=date), content)


def _pupils(review: StudioReview) -> str:
    rows = "".join(_pupil_row(pupil) for pupil in review.pupils)
    states = {state for pupil in review.pupils for state in pupil.states}
    caption = _("The last four weeks, the notes, and what to do next.")
    table = _table_of(caption, _OF_PUPIL, rows)
    title = escape(_("The pupils"))
    return f'<section class="pupils"><h2>{title}</h2>{table}{legend(states)}</section>'


_OF_PUPIL = (
    noted("Pupil"), noted("Last four weeks"), noted("Notes"), noted("First trouble"),
    noted("Next"),
)  # fmt: skip
_OF_LANDMARK = (noted("Landmark"), noted("Each pupil"), noted("Middle one"), noted("Slow for"))


def _pupil_row(pupil: PupilReview) -> str:
    trouble = _(pupil.troubles[0].trouble) if pupil.troubles else _("none that the answers show")
    last = (
        _("latest on {day}").format(day=short_day(pupil.last_practised, pupil.now))
        if pupil.last_practised
        else _("no session yet")
    )
    cells = (
        (
            _OF_PUPIL[1],
            f'{days_picture(pupil.sessions, pupil.now)}<span class="small">{escape(last)}</span>',
            "half one-line",
        ),
        (_OF_PUPIL[2], _shares(pupil), ""),
        (_OF_PUPIL[3], escape(trouble), "wide strong"),
        (_OF_PUPIL[4], escape(pupil.next_step), "wide"),
    )
    return _row(escape(pupil.nickname), cells)


def _shares(pupil: PupilReview) -> str:
    counts = [(state, pupil.count(state)) for state in _STATES if pupil.count(state)]
    bars = "".join(f'<span class="{state}" style="flex:{count}"></span>' for state, count in counts)
    words = ", ".join(f"{count} {_(state)}" for state, count in counts)
    return f'<div class="share" aria-hidden="true">{bars}</div><span class="small">{words}</span>'


def _landmarks(review: StudioReview) -> str:
    rows = "".join(_landmark_row(landmark) for landmark in review.landmarks)
    caption = _(
        "Each dot is a pupil: how many times as long the landmark takes as the same pupil's usual "
        "note, on a scale from a half to four. The dashed line stands at {times}; beyond it the "
        "dots are filled."
    ).format(times=decimal(SLOWER_SHARE))
    too_few = _("There are too few sessions yet to compare the landmarks.")
    shown = _table_of(caption, _OF_LANDMARK, rows) if rows else f"<p>{escape(too_few)}</p>"
    the_landmarks = escape(_("The landmarks"))
    return f"<section><h2>{the_landmarks}</h2>{shown}</section>"


def _landmark_row(landmark: LandmarkAcrossPupils) -> str:
    ratios = [ratio for _pupil, ratio in landmark.ratios]
    slow = ", ".join(landmark.slow_for) or _("nobody")
    cells = (
        (_OF_LANDMARK[1], ratios_picture(ratios, SLOWER_SHARE), "wide"),
        (_OF_LANDMARK[2], _("{times} times").format(times=decimal(median(ratios))), ""),
        (_OF_LANDMARK[3], escape(slow), "half"),
    )
    return _row(escape(note_name(landmark.card)), cells)


def _table_of(caption: str, headings: tuple[str, ...], rows: str) -> str:
    heads = "".join(
        f'<th scope="col" role="columnheader">{escape(_(heading))}</th>' for heading in headings
    )
    return (
        f'<table role="table"><caption>{escape(caption)}</caption>'
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead>'
        f'<tbody role="rowgroup">{rows}</tbody></table>'
    )


def _row(heading: str, cells: tuple[tuple[str, str, str], ...]) -> str:
    shown = "".join(
        f'<td role="cell" class="{kind}"><span class="label" aria-hidden="true">'
        f"{escape(_(label))}</span>"
        f"{value}</td>"
        for label, value, kind in cells
    )
    return f'<tr role="row"><th scope="row" role="rowheader">{heading}</th>{shown}</tr>'
