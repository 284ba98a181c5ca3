"""The review of one pupil as a page: what to mend first, every note drawn, every figure."""

from __future__ import annotations

from html import escape

from drills.response import State
from drills.review.frame import framed, legend, long_day
from drills.review.ladder import stands_sentence, way_sentence
from drills.review.notes import FEWEST_SESSIONS_FOR_A_CURVE, NoteReview
from drills.review.pupil import PupilReview
from drills.review.stave_picture import note_sample, stave_picture
from drills.review.terminal import (
    accuracy,
    answered,
    changes_sentence,
    key_finding_words,
    left_out_sentence,
    seconds,
    sessions_sentence,
    short_day,
    slip,
    trend,
    unanswered_sentence,
    unreadable_sentence,
)
from drills.review.time_pictures import (
    days_picture,
    interval_picture,
    learning_curve,
    small_curve,
)
from landmarks.translation import _

_NOTHING = '<span aria-label="none">–</span>'
_HOW = """\
<p>Times are medians over right answers; wrong answers are counted and never averaged in. A note's
figures rest on its latest 20 answers, its trend on its latest 60. Behind a value, in brackets,
stands the interval that holds the true one with 95% confidence; “too few” means that there are
not yet enough answers to say. Reading time is what remains when the pupil's key-finding time (to
press a key that is shown) is taken out. A trend is told only if the sessions carry it: of the
trends told at most one in twenty may be chance.</p>
<p>Left out of the figures, and counted: pauses over half a minute, answers begun before the card
could be seen, brushed neighbours, several keys at once, and further tries after a wrong one.</p>
"""


def pupil_page(review: PupilReview) -> str:
    """Give the page as HTML, complete in itself."""
    name = escape(review.nickname)
    content = (
        '<a class="skip" href="#notes">To the table of notes</a>'
        f"<header><h1>{name}</h1>"
        f'<p class="under">Review of {long_day(review.now)}. {escape(sessions_sentence(review))}'
        f"</p></header><main>{_troubles(review)}{_ladder(review)}"
        f"{_picture(review)}{_practice(review)}{_table(review)}"
        f"<section><h2>How these figures are counted</h2>{_HOW}</section></main>"
    )
    return framed(f"{review.nickname}: review of {long_day(review.now)}", content)


def _troubles(review: PupilReview) -> str:
    if not review.troubles:
        return (
            '<section class="first" aria-label="What to do next"><h2>No trouble that the answers '
            f'show</h2><p class="next">{escape(review.next_step)}</p></section>'
        )
    first, *others = review.troubles
    more = "".join(
        f'<div class="other"><h3>{_heading(str(trouble.trouble))}</h3>'
        f"<p>{escape(trouble.evidence)}</p></div>"
        for trouble in others
    )
    return (
        f'<section class="first" aria-label="What to mend first">'
        f"<h2>{_heading(str(first.trouble))}</h2><p>{escape(first.evidence)}</p>"
        f'<p class="next">Next: {escape(first.action)}.</p></section>{more}'
    )


def _ladder(review: PupilReview) -> str:
    if review.ladder is None:
        return ""
    title = escape(_("The ladder"))
    return (
        f"<section><h2>{title}</h2><p>{escape(stands_sentence(review.ladder))}</p>"
        f'<p class="soft">{escape(way_sentence(review.ladder))}</p></section>'
    )


def _heading(words: str) -> str:
    return escape(words[:1].upper() + words[1:])


def _picture(review: PupilReview) -> str:
    counts = ", ".join(
        f"{review.count(state)} {words}"
        for state, words in (
            (State.INK, "in ink"),
            (State.FADED, "faded"),
            (State.PENCIL, "in pencil"),
            (State.NEW, "not met yet"),
        )
        if review.count(state)
    )
    named = review.troubles[0].cards if review.troubles else ()
    pointer = " An arrowhead points at the notes named above." if named else ""
    title = f"The notes of {review.nickname} on the grand stave: {counts}"
    return (
        f"<section><h2>On the stave</h2><figure>{stave_picture(review.notes, named, title)}"
        "<figcaption>The numbers are median seconds. Both staves are read outward from middle C, "
        f"so that notes equally far from it stand in one column.{pointer}</figcaption></figure>"
        f"{legend(review.states)}<p>{escape(changes_sentence(review))}</p></section>"
    )


def _table(review: PupilReview) -> str:
    most = max(
        [note.seconds.high or note.seconds.value for note in review.notes if note.seconds],
        default=1.0,
    )
    headings = "".join(
        f'<th scope="col" role="columnheader">{heading}</th>'
        for heading in (
            "Note", "Seconds", "Reading", "Right", "Answers", "Trend", "Last seen",
            "Usual slip, of wrong",
        )
    )  # fmt: skip
    rows = "".join(_row(note, review, most) for note in answered(review))
    drawn = ", a dashed line" if review.key_finding else ""
    unreadable = f" {escape(unreadable_sentence(review))}" if review.unreadable else ""
    table = (
        f'<table role="table"><caption>{escape(key_finding_words(review))}{drawn}; '
        f"fluent is up to {review.fluent_seconds:.1f} s. "
        "A dot is the median, the bar its interval.</caption>"
        f'<thead role="rowgroup"><tr role="row">{headings}</tr></thead>'
        f'<tbody role="rowgroup">{rows}</tbody></table>'
    )
    return (
        f'<section class="sheet"><h2 id="notes">Note by note</h2>{table if rows else ""}'
        f"<p>{escape(unanswered_sentence(review))}</p>"
        f'<p class="soft">{escape(left_out_sentence(review))}{unreadable}</p></section>'
    )


def _row(note: NoteReview, review: PupilReview, most: float) -> str:
    state = note.standing.state
    time = interval_picture(note.seconds, state, review.key_finding, most) if note.seconds else ""
    curve = small_curve(note.curve) if len(note.curve) >= FEWEST_SESSIONS_FOR_A_CURVE else ""
    no_trend = '<span class="small">not clear</span>' if curve else "-"
    cells = (
        ("Seconds", f"{time}{_estimate(seconds(note.seconds))}", "number wide one-line"),
        ("Reading", _estimate(seconds(note.reading)), "number"),
        ("Right", _estimate(accuracy(note)), "number"),
        ("Answers", str(note.answers), "number"),
        ("Trend", f"{curve}{escape(trend(note.trend)) if note.trend else no_trend}", "half number"),
        ("Last seen", short_day(note.last_seen, review.now), "number"),
        ("Usual slip, of wrong", escape(slip(note)), "wide"),
    )
    shown = "".join(
        f'<td role="cell" class="{kind}{" none" * (value == "-")}"><span class="label" '
        f'aria-hidden="true">{label}</span>{_NOTHING if value == "-" else value}</td>'
        for label, value, kind in cells
    )
    return (
        f'<tr role="row"><th scope="row" role="rowheader">{note_sample(state)} {escape(note.name)}'
        f'<span class="small">{state}</span></th>{shown}</tr>'
    )


def _estimate(words: str) -> str:
    """Put the interval of a written estimate on a line of its own."""
    value, bracket, interval = words.partition(" (")
    if not bracket:
        return escape(words)
    return f'{escape(value)} <span class="small">({escape(interval)}</span>'


def _practice(review: PupilReview) -> str:
    shown = [session for session in review.sessions if session.median_seconds is not None]
    curve = ""
    if len(shown) >= FEWEST_SESSIONS_FOR_A_CURVE:
        title = (
            f"Median seconds of {len(shown)} sessions: {shown[0].median_seconds:.1f} in the first, "
            f"{shown[-1].median_seconds:.1f} in the latest"
        )
        curve = (
            f"<figure>{learning_curve(shown, title)}<figcaption>Above, the median seconds of each "
            "session's right answers; below, the share of right answers. Breaks of more than ten "
            "days are not joined.</figcaption></figure>"
        )
    return (
        f"<section><h2>Practice</h2><figure>{days_picture(review.sessions, review.now, dated=True)}"
        "<figcaption>The last four weeks: a disc is a day of practice.</figcaption></figure>"
        f"{curve}</section>"
    )
