"""The parent's sheet: one page in plain words, without figures of merit."""

from __future__ import annotations

from html import escape

from drills.response import State
from drills.review.frame import PARENT_WORDS, framed, legend, long_day
from drills.review.ladder import parents_sentence
from drills.review.notes import NoteReview
from drills.review.pupil import PupilReview
from drills.review.stave_picture import stave_picture
from drills.review.time_pictures import days_picture
from drills.review.trouble import Trouble, counted, listed

NOTES_AT_ONCE = 4

_HELP = {
    Trouble.CLEF: (
        "Before each note, let your child say which sign stands at the beginning of the stave. "
        "The same line means another key in each of the two."
    ),
    Trouble.DIRECTION: "Let a finger trace the way from the landmark: up the page is to the right.",
    Trouble.OCTAVE: "Let your child find the landmark's own key first and keep the hand over it.",
    Trouble.GAP: "Some notes have faded in the break. That is usual, and they come back quickly.",
    Trouble.CARELESS: "There is no hurry. Calm and right is better than quick.",
    Trouble.GUESSED: "Look at two or three landmarks together first. The other notes can wait.",
    Trouble.SLOW: (
        "The notes are found surely. Now let them be found at a glance: look, cover, play."
    ),
    Trouble.NOTE: "One note needs a little more time than the others. Look at it together first.",
    Trouble.QUIET: "Choose a moment of the day that is always the same: before tea, for instance.",
}

_CARE = """\
<ul>
<li>Sit so that the elbows are level with the keys and the feet stand firmly.</li>
<li>After practice at a screen look out of the window for a while.</li>
<li>With headphones keep the sound so low that you can still be heard speaking beside it.</li>
<li>Nothing is sent anywhere: what is practised is kept on your machine, under a nickname, in a
folder that you may look at, copy and delete.</li>
</ul>
"""


def parents_sheet(review: PupilReview) -> str:
    """Give the sheet as HTML, complete in itself."""
    name = escape(review.nickname)
    title = f"The notes of {review.nickname} on the stave"
    named = [note.card for note in _notes_to_practise(review)]
    stave = stave_picture(review.notes, named, title, with_times=False)
    content = (
        f'<header><h1>{name} at the piano</h1><p class="under">{long_day(review.now)}</p></header>'
        f'<main><section class="first"><h2>This week</h2>{_this_week(review)}</section>'
        f"<section><h2>The notes so far</h2><figure>{stave}</figure>"
        f"{legend(review.states, PARENT_WORDS)}<p>{_secured(review)}</p></section>"
        "<section><h2>The last four weeks</h2>"
        f"{days_picture(review.sessions, review.now, dated=True)}"
        f"<p>Each disc is a day of practice. {_practised(review)}</p></section>"
        "<section><h2>How you can help</h2><p>Be near for the first minute, then leave the piano "
        "to your child. Do not say the name of a note: after a wrong key the card shows where that "
        "key lives, and this is how it is learnt. There is no clock and no score.</p></section>"
        f"<section><h2>Good to know</h2>{_CARE}</section></main>"
    )
    return framed(f"{review.nickname} at the piano", content)


def _practised(review: PupilReview) -> str:
    days = {s.started.date() for s in review.sessions if (review.now - s.started).days < 14}
    if not days:
        return "There was no practice in the last two weeks."
    return f"In the last two weeks there was practice on {counted(len(days), 'day')}."


def _secured(review: PupilReview) -> str:
    inked = _names(review, State.INK)
    if not inked:
        return "Every note begins in pencil and turns to ink when it is found surely and soon."
    return f"Already in ink, found surely and soon: {escape(listed(inked))}."


def _this_week(review: PupilReview) -> str:
    notes = escape(listed([note.name for note in _notes_to_practise(review)]))
    if notes:
        what = f"Most helpful now: {notes}; arrowheads below point at them."
    elif State.INK in review.states:
        what = "All notes met so far are in ink: keep them so."
    else:
        what = "The first notes are met at the first practice."
    helped = f"<p>{escape(_HELP[review.troubles[0].trouble])}</p>" if review.troubles else ""
    ladder = f"<p>{escape(parents_sentence(review.ladder))}</p>" if review.ladder else ""
    return (
        f'<p class="next">{what}</p>{helped}{ladder}<p>Five minutes a day on five days '
        "do more than half an hour on one.</p>"
    )


def _notes_to_practise(review: PupilReview) -> list[NoteReview]:
    """Give the notes of the first trouble, then the ones furthest from secured."""
    named = review.troubles[0].cards if review.troubles else ()
    open_notes = [n for n in review.notes if n.standing.state in (State.PENCIL, State.FADED)]
    open_notes.sort(key=lambda note: (note.card not in named, note.standing.p_secured))
    return open_notes[:NOTES_AT_ONCE]


def _names(review: PupilReview, state: State) -> list[str]:
    return [note.name for note in review.notes if note.standing.state is state]
