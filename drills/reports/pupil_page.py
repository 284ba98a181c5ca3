"""The review of one pupil as a page: what to mend first, every note drawn, every figure."""

from __future__ import annotations

from html import escape

from drills.learning.response import State
from drills.reports.frame import framed, legend
from drills.reports.review_text import (
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
from drills.reports.stave_picture import note_sample, stave_picture
from drills.reports.time_pictures import (
    days_picture,
    interval_picture,
    learning_curve,
    small_curve,
)
from drills.review.ladder import stands_sentence, way_sentence
from drills.review.notes import FEWEST_SESSIONS_FOR_A_CURVE, NoteReview
from drills.review.pupil import PupilReview
from drills.text.formatting import decimal, long_day
from landmarks.translation import _, noted

_HOW = (
    noted(
        "Times are medians over right answers; wrong answers are counted and never averaged in. A "
        "note's figures rest on its latest 20 answers, its trend on its latest 60. Behind a value, "
        "in brackets, stands the interval that holds the true one with a confidence of 95%; “too "
        "few” means that there are not yet enough answers to say. Reading time is what remains "
        "when the pupil's key-finding time (to press a key that is shown) is taken out. A trend is "
        "told only if the sessions carry it: of the trends told at most one in twenty may be "
        "chance."
    ),
    noted(
        "Left out of the figures, and counted: pauses over half a minute, answers begun before the "
        "card could be seen, brushed neighbours, several keys at once, and further tries after a "
        "wrong one."
    ),
)


def pupil_page(review: PupilReview) -> str:
    """Give the page as HTML, complete in itself."""
    name = escape(review.nickname)
    dated = _("Review of {day}.").format(day=long_day(review.now))
    how = "".join(f"<p>{escape(_(words), quote=False)}</p>" for words in _HOW)
    to_the_table = escape(_("To the table of notes"))
    how_counted = escape(_("How these figures are counted"))
    content = (
        f'<a class="skip" href="#notes">{to_the_table}</a>'
        f"<header><h1>{name}</h1>"
        f'<p class="under">{escape(dated)} {escape(sessions_sentence(review))}'
        f"</p></header><main>{_troubles(review)}{_ladder(review)}"
        f"{_picture(review)}{_practice(review)}{_table(review)}"
        f"<section><h2>{how_counted}</h2>{how}</section></main>"
    )
    title = _("{name}: review of {day}")
    return framed(title.format(name=review.nickname, day=long_day(review.now)), content)


def _troubles(review: PupilReview) -> str:
    if not review.troubles:
        what_to_do = escape(_("What to do next"))
        no_trouble = escape(_("No trouble that the answers show"))
        return (
            f'<section class="first" aria-label="{what_to_do}">'
            f"<h2>{no_trouble}</h2>"
            f'<p class="next">{escape(review.next_step)}</p></section>'
        )
    first, *others = review.troubles
    more = "".join(
        f'<div class="other"><h3>{_heading(_(trouble.trouble))}</h3>'
        f"<p>{escape(trouble.evidence)}</p></div>"
        for trouble in others
    )
    action = _("Next: {action}.").format(action=first.action)
    what_to_mend = escape(_("What to mend first"))
    return (
        f'<section class="first" aria-label="{what_to_mend}">'
        f"<h2>{_heading(_(first.trouble))}</h2><p>{escape(first.evidence)}</p>"
        f'<p class="next">{escape(action)}</p>'
        f"</section>{more}"
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
        f"{review.count(state)} {_(words)}"
        for state, words in (
            (State.INK, noted("in ink")),
            (State.FADED, noted("faded")),
            (State.PENCIL, noted("in pencil")),
            (State.NEW, noted("not met yet")),
        )
        if review.count(state)
    )
    named = review.troubles[0].cards if review.troubles else ()
    caption = _(
        "The numbers are median seconds. Both staves are read outward from middle C, so that notes "
        "equally far from it stand in one column."
    )
    if named:
        caption += " " + _("An arrowhead points at the notes named above.")
    title = _("The notes of {name} on the grand stave: {counts}").format(
        name=review.nickname, counts=counts
    )
    on_the_stave = escape(_("On the stave"))
    return (
        f"<section><h2>{on_the_stave}</h2>"
        f"<figure>{stave_picture(review.notes, named, title)}"
        f"<figcaption>{escape(caption)}</figcaption></figure>"
        f"{legend(review.states)}<p>{escape(changes_sentence(review))}</p></section>"
    )


def _table(review: PupilReview) -> str:
    most = max(
        [note.seconds.high or note.seconds.value for note in review.notes if note.seconds],
        default=1.0,
    )
    headings = "".join(
        f'<th scope="col" role="columnheader">{escape(_(heading))}</th>' for heading in _HEADINGS
    )
    rows = "".join(_row(note, review, most) for note in answered(review))
    drawn = ", " + _("a dashed line") if review.key_finding else ""
    fluent = _("fluent is up to {seconds} s. A dot is the median, the bar its interval.")
    caption = f"{key_finding_words(review)}{drawn}; " + fluent.format(
        seconds=decimal(review.fluent_seconds)
    )
    unreadable = f" {escape(unreadable_sentence(review))}" if review.unreadable else ""
    table = (
        f'<table role="table"><caption>{escape(caption)}</caption>'
        f'<thead role="rowgroup"><tr role="row">{headings}</tr></thead>'
        f'<tbody role="rowgroup">{rows}</tbody></table>'
    )
    note_by_note = escape(_("Note by note"))
    return (
        f'<section class="sheet"><h2 id="notes">{note_by_note}</h2>'
        f"{table if rows else ''}"
        f"<p>{escape(unanswered_sentence(review))}</p>"
        f'<p class="soft">{escape(left_out_sentence(review))}{unreadable}</p></section>'
    )


_HEADINGS = (
    noted("Note"), noted("Seconds"), noted("Reading"), noted("Right"), noted("Answers"),
    noted("Trend"), noted("Last seen"), noted("Usual slip, of wrong"),
)  # fmt: skip
_KINDS = ("number wide one-line", "number", "number", "number", "half number", "number", "wide")
"""Of the cells after the note's name."""


def _row(note: NoteReview, review: PupilReview, most: float) -> str:
    state = note.standing.state
    time = interval_picture(note.seconds, state, review.key_finding, most) if note.seconds else ""
    curve = small_curve(note.curve) if len(note.curve) >= FEWEST_SESSIONS_FOR_A_CURVE else ""
    not_clear = escape(_("not clear"))
    no_trend = f'<span class="small">{not_clear}</span>' if curve else "-"
    none_words = escape(_("none"))
    nothing = f'<span aria-label="{none_words}">–</span>'
    values = (
        f"{time}{_estimate(seconds(note.seconds))}",
        _estimate(seconds(note.reading)),
        _estimate(accuracy(note)),
        str(note.answers),
        f"{curve}{escape(trend(note.trend)) if note.trend else no_trend}",
        short_day(note.last_seen, review.now),
        escape(slip(note)),
    )
    shown = "".join(
        f'<td role="cell" class="{kind}{" none" * (value == "-")}"><span class="label" '
        f'aria-hidden="true">{escape(_(label))}</span>{nothing if value == "-" else value}</td>'
        for label, value, kind in zip(_HEADINGS[1:], values, _KINDS, strict=True)
    )
    return (
        f'<tr role="row"><th scope="row" role="rowheader">{note_sample(state)} {escape(note.name)}'
        f'<span class="small">{_(state)}</span></th>{shown}</tr>'
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
        title = _(
            "Median seconds of {count} sessions: {first} in the first, {latest} in the latest"
        )
        title = title.format(
            count=len(shown),
            first=decimal(shown[0].median_seconds or 0.0),
            latest=decimal(shown[-1].median_seconds or 0.0),
        )
        caption = _(
            "Above, the median seconds of each session's right answers; below, the share of right "
            "answers. Breaks of more than ten days are not joined."
        )
        curve = (
            f"<figure>{learning_curve(shown, title)}"
            f"<figcaption>{escape(caption, quote=False)}</figcaption></figure>"
        )
    days = _("The last four weeks: a disc is a day of practice.")
    practice = escape(_("Practice"))
    return (
        f"<section><h2>{practice}</h2>"
        f"<figure>{days_picture(review.sessions, review.now, dated=True)}"
        f"<figcaption>{escape(days)}</figcaption></figure>{curve}</section>"
    )
