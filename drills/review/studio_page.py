"""The review of the studio as a page: all pupils, and the landmarks across them."""

from __future__ import annotations

from html import escape
from statistics import median

from drills.response import State
from drills.review.frame import framed, legend, long_day
from drills.review.notes import note_name
from drills.review.pupil import PupilReview
from drills.review.terminal import short_day
from drills.review.time_pictures import days_picture, ratios_picture
from drills.review.whole_studio import SLOWER_SHARE, LandmarkAcrossPupils, StudioReview

_STATES = (State.INK, State.FADED, State.PENCIL, State.NEW)


def studio_page(review: StudioReview) -> str:
    """Give the page as HTML, complete in itself."""
    date = long_day(review.now)
    content = (
        f'<header><h1>The studio</h1><p class="under">Review of {date}. '
        f"{escape(review.practised_sentence())}</p></header>"
        '<main><section class="first" aria-label="For everyone">'
        f'<h2>For everyone</h2><p class="next">{escape(review.sentence())}</p></section>'
        f"{_pupils(review)}{_landmarks(review)}</main>"
    )
    return framed(f"The studio: review of {date}", content)


def _pupils(review: StudioReview) -> str:
    rows = "".join(_pupil_row(pupil) for pupil in review.pupils)
    states = {state for pupil in review.pupils for state in pupil.states}
    headings = ("Pupil", "Last four weeks", "Notes", "First trouble", "Next")
    table = _table_of("The last four weeks, the notes, and what to do next.", headings, rows)
    return f'<section class="pupils"><h2>The pupils</h2>{table}{legend(states)}</section>'


def _pupil_row(pupil: PupilReview) -> str:
    trouble = str(pupil.troubles[0].trouble) if pupil.troubles else "none that the answers show"
    last = (
        f"latest on {short_day(pupil.last_practised, pupil.now)}"
        if pupil.last_practised
        else "no session yet"
    )
    cells = (
        (
            "Last four weeks",
            f'{days_picture(pupil.sessions, pupil.now)}<span class="small">{last}</span>',
            "half one-line",
        ),
        ("Notes", _shares(pupil), ""),
        ("First trouble", escape(trouble), "wide strong"),
        ("Next", escape(pupil.next_step), "wide"),
    )
    return _row(escape(pupil.nickname), cells)


def _shares(pupil: PupilReview) -> str:
    counts = [(state, pupil.count(state)) for state in _STATES if pupil.count(state)]
    bars = "".join(f'<span class="{state}" style="flex:{count}"></span>' for state, count in counts)
    words = ", ".join(f"{count} {state}" for state, count in counts)
    return f'<div class="share" aria-hidden="true">{bars}</div><span class="small">{words}</span>'


def _landmarks(review: StudioReview) -> str:
    rows = "".join(_landmark_row(landmark) for landmark in review.landmarks)
    caption = (
        "Each dot is a pupil: how many times as long the landmark takes as the same pupil's usual "
        f"note, on a scale from a half to four. The dashed line stands at {SLOWER_SHARE:g}; "
        "beyond it the dots are filled."
    )
    headings = ("Landmark", "Each pupil", "Middle one", "Slow for")
    shown = (
        _table_of(caption, headings, rows)
        if rows
        else "<p>There are too few sessions yet to compare the landmarks.</p>"
    )
    return f"<section><h2>The landmarks</h2>{shown}</section>"


def _landmark_row(landmark: LandmarkAcrossPupils) -> str:
    ratios = [ratio for _, ratio in landmark.ratios]
    slow = ", ".join(landmark.slow_for) or "nobody"
    cells = (
        ("Each pupil", ratios_picture(ratios, SLOWER_SHARE), "wide"),
        ("Middle one", f"{median(ratios):.1f} times", ""),
        ("Slow for", escape(slow), "half"),
    )
    return _row(escape(note_name(landmark.card)), cells)


def _table_of(caption: str, headings: tuple[str, ...], rows: str) -> str:
    heads = "".join(f'<th scope="col" role="columnheader">{heading}</th>' for heading in headings)
    return (
        f'<table role="table"><caption>{escape(caption)}</caption>'
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead>'
        f'<tbody role="rowgroup">{rows}</tbody></table>'
    )


def _row(heading: str, cells: tuple[tuple[str, str, str], ...]) -> str:
    shown = "".join(
        f'<td role="cell" class="{kind}"><span class="label" aria-hidden="true">{label}</span>'
        f"{value}</td>"
        for label, value, kind in cells
    )
    return f'<tr role="row"><th scope="row" role="rowheader">{heading}</th>{shown}</tr>'
