"""The parent's sheet: one page in plain words, without figures of merit."""

from __future__ import annotations

from drills.learning.response import State
from drills.reports.frame import page_of
from drills.reports.stave_picture import stave_picture
from drills.reports.time_pictures import days_picture
from drills.review.ladder import parents_sentence
from drills.review.notes import NoteReview
from drills.review.pupil import PupilReview
from drills.review.trouble import Trouble
from drills.text.formatting import listed
from landmarks.translation import _, gettext_noop, ngettext

NOTES_AT_ONCE = 4

_HELP = {
    Trouble.CLEF: gettext_noop(
        "Before each note, let your child say which sign stands at the beginning of the stave. "
        "The same line means another key in each of the two."
    ),
    Trouble.DIRECTION: gettext_noop(
        "Let a finger trace the way from the landmark: up the page is to the right."
    ),
    Trouble.OCTAVE: gettext_noop(
        "Let your child find the landmark's own key first and keep the hand over it."
    ),
    Trouble.GAP: gettext_noop(
        "Some notes have faded in the break. That is usual, and they come back quickly."
    ),
    Trouble.CARELESS: gettext_noop("There is no hurry. Calm and right is better than quick."),
    Trouble.GUESSED: gettext_noop(
        "Look at two or three landmarks together first. The other notes can wait."
    ),
    Trouble.SLOW: gettext_noop(
        "The notes are found surely. Now let them be found at a glance: look, cover, play."
    ),
    Trouble.NOTE: gettext_noop(
        "One note needs a little more time than the others. Look at it together first."
    ),
    Trouble.QUIET: gettext_noop(
        "Choose a moment of the day that is always the same: before tea, for instance."
    ),
}


def parents_sheet(review: PupilReview) -> str:
    """Return the sheet as HTML, complete in itself."""
    headline = _("{name} at the piano").format(name=review.nickname)
    title = _("The notes of {name} on the stave").format(name=review.nickname)
    named = [note.card for note in _notes_to_practise(review)]
    return page_of(
        "parent.html",
        headline,
        headline=headline,
        review=review,
        what_helps=_what_helps(review),
        help=_(_HELP[review.troubles[0].trouble]) if review.troubles else "",
        ladder=parents_sentence(review.ladder) if review.ladder else "",
        stave=stave_picture(review.notes, named, title, with_times=False),
        secured=_secured(review),
        days=days_picture(review.sessions, review.now, dated=True),
        practised=_practised(review),
    )


def _practised(review: PupilReview) -> str:
    days = {s.started.date() for s in review.sessions if (review.now - s.started).days < 14}
    if not days:
        return _("There was no practice in the last two weeks.")
    return ngettext(
        "In the last two weeks there was practice on {count} day.",
        "In the last two weeks there was practice on {count} days.",
        len(days),
    )


def _secured(review: PupilReview) -> str:
    inked = _names(review, State.INK)
    if not inked:
        return _("Every note begins in pencil and turns to ink when it is found surely and soon.")
    return _("Already in ink, found surely and soon: {notes}.").format(notes=listed(inked))


def _what_helps(review: PupilReview) -> str:
    notes = listed([note.name for note in _notes_to_practise(review)])
    if notes:
        return _("Most helpful now: {notes}; arrowheads below point at them.").format(notes=notes)
    if State.INK in review.states:
        return _("All notes met so far are in ink: keep them so.")
    return _("The first notes are met at the first practice.")


def _notes_to_practise(review: PupilReview) -> list[NoteReview]:
    """Return the notes of the first trouble, then the ones furthest from secured."""
    named = review.troubles[0].cards if review.troubles else ()
    open_notes = [n for n in review.notes if n.standing.state in (State.PENCIL, State.FADED)]
    open_notes.sort(key=lambda note: (note.card not in named, note.standing.p_secured))
    return open_notes[:NOTES_AT_ONCE]


def _names(review: PupilReview, state: State) -> list[str]:
    return [note.name for note in review.notes if note.standing.state is state]
