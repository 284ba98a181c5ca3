"""The parent's sheet: one page in plain words, without figures of merit."""

from __future__ import annotations

from html import escape

from drills.learning.response import State
from drills.reports.frame import PARENT_WORDS, framed, legend
from drills.reports.stave_picture import stave_picture
from drills.reports.time_pictures import days_picture
from drills.review.ladder import parents_sentence
from drills.review.notes import NoteReview
from drills.review.pupil import PupilReview
from drills.review.trouble import Trouble
from drills.text.formatting import listed, long_day
from landmarks.translation import _, counted, noted

NOTES_AT_ONCE = 4

_HELP = {
    Trouble.CLEF: noted(
        "Before each note, let your child say which sign stands at the beginning of the stave. "
        "The same line means another key in each of the two."
    ),
    Trouble.DIRECTION: noted(
        "Let a finger trace the way from the landmark: up the page is to the right."
    ),
    Trouble.OCTAVE: noted(
        "Let your child find the landmark's own key first and keep the hand over it."
    ),
    Trouble.GAP: noted(
        "Some notes have faded in the break. That is usual, and they come back quickly."
    ),
    Trouble.CARELESS: noted("There is no hurry. Calm and right is better than quick."),
    Trouble.GUESSED: noted(
        "Look at two or three landmarks together first. The other notes can wait."
    ),
    Trouble.SLOW: noted(
        "The notes are found surely. Now let them be found at a glance: look, cover, play."
    ),
    Trouble.NOTE: noted(
        "One note needs a little more time than the others. Look at it together first."
    ),
    Trouble.QUIET: noted(
        "Choose a moment of the day that is always the same: before tea, for instance."
    ),
}

_CARE = (
    noted("Sit so that the elbows are level with the keys and the feet stand firmly."),
    noted("After practice at a screen look out of the window for a while."),
    noted("With headphones keep the sound so low that you can still be heard speaking beside it."),
    noted(
        "Nothing is sent anywhere: what is practised is kept on your machine, under a nickname, in "
        "a folder that you may look at, copy and delete."
    ),
)
_NEARBY = noted(
    "Be near for the first minute, then leave the piano to your child. Do not say the name of a "
    "note: after a wrong key the card shows where that key lives, and this is how it is learnt. "
    "There is no clock and no score."
)


def parents_sheet(review: PupilReview) -> str:
    """Give the sheet as HTML, complete in itself."""
    headline = _("{name} at the piano").format(name=review.nickname)
    title = _("The notes of {name} on the stave").format(name=review.nickname)
    named = [note.card for note in _notes_to_practise(review)]
    stave = stave_picture(review.notes, named, title, with_times=False)
    care = "".join(f"<li>{escape(_(words))}</li>" for words in _CARE)
    this_week = escape(_("This week"))
    notes_so_far = escape(_("The notes so far"))
    last_four_weeks = escape(_("The last four weeks"))
    each_disc = escape(_("Each disc is a day of practice."))
    how_to_help = escape(_("How you can help"))
    good_to_know = escape(_("Good to know"))
    content = (
        f'<header><h1>{escape(headline)}</h1><p class="under">{long_day(review.now)}</p></header>'
        f'<main><section class="first"><h2>{this_week}</h2>{_this_week(review)}'
        f"</section><section><h2>{notes_so_far}</h2><figure>{stave}</figure>"
        f"{legend(review.states, PARENT_WORDS)}<p>{escape(_secured(review))}</p></section>"
        f"<section><h2>{last_four_weeks}</h2>"
        f"{days_picture(review.sessions, review.now, dated=True)}"
        f"<p>{each_disc} {escape(_practised(review))}</p>"
        f"</section><section><h2>{how_to_help}</h2><p>{escape(_(_NEARBY))}</p>"
        f"</section><section><h2>{good_to_know}</h2><ul>{care}</ul></section></main>"
    )
    return framed(headline, content)


def _practised(review: PupilReview) -> str:
    days = {s.started.date() for s in review.sessions if (review.now - s.started).days < 14}
    if not days:
        return _("There was no practice in the last two weeks.")
    return counted(
        "In the last two weeks there was practice on {count} day.",
        "In the last two weeks there was practice on {count} days.",
        len(days),
    )


def _secured(review: PupilReview) -> str:
    inked = _names(review, State.INK)
    if not inked:
        return _("Every note begins in pencil and turns to ink when it is found surely and soon.")
    return _("Already in ink, found surely and soon: {notes}.").format(notes=listed(inked))


def _this_week(review: PupilReview) -> str:
    notes = listed([note.name for note in _notes_to_practise(review)])
    if notes:
        what = _("Most helpful now: {notes}; arrowheads below point at them.").format(notes=notes)
    elif State.INK in review.states:
        what = _("All notes met so far are in ink: keep them so.")
    else:
        what = _("The first notes are met at the first practice.")
    helped = f"<p>{escape(_(_HELP[review.troubles[0].trouble]))}</p>" if review.troubles else ""
    ladder = f"<p>{escape(parents_sentence(review.ladder))}</p>" if review.ladder else ""
    often = _("Five minutes a day on five days do more than half an hour on one.")
    return f'<p class="next">{escape(what)}</p>{helped}{ladder}<p>{escape(often)}</p>'


def _notes_to_practise(review: PupilReview) -> list[NoteReview]:
    """Give the notes of the first trouble, then the ones furthest from secured."""
    named = review.troubles[0].cards if review.troubles else ()
    open_notes = [n for n in review.notes if n.standing.state in (State.PENCIL, State.FADED)]
    open_notes.sort(key=lambda note: (note.card not in named, note.standing.p_secured))
    return open_notes[:NOTES_AT_ONCE]


def _names(review: PupilReview, state: State) -> list[str]:
    return [note.name for note in review.notes if note.standing.state is state]
