"""What to do next with a pupil, in one sentence with its reason."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from drills.cards.card import READING_KINDS, Card
from drills.learning.response import State
from drills.review.ladder import LadderReview, next_on_the_ladder
from drills.review.notes import NoteReview
from drills.review.trouble import Finding
from drills.text.formatting import listed
from landmarks.names import name_with_clef, spoken_naming
from landmarks.pitch import Pitch
from landmarks.stave import Clef
from landmarks.translation import _

Place = tuple[Clef, Pitch]


def places_left_out(cards: Iterable[Card]) -> tuple[Place, ...]:
    """Return the lines and spaces that no card asks for, between the outer ones that cards do.

    From the lowest upwards, bass clef first.
    """
    asked: dict[Clef, set[int]] = defaultdict(set)
    for card in cards:
        if card.kind in READING_KINDS:
            asked[card.clef].add(card.target.diatonic)
    return tuple(
        (clef, Pitch(place, 0))
        for clef, places in sorted(asked.items(), key=lambda each: each[0].name)
        for place in range(min(places), max(places))
        if place not in places
    )


def next_step(
    troubles: Sequence[Finding],
    notes: Sequence[NoteReview],
    ladder: LadderReview | None,
    left_out: Sequence[Place],
) -> str:
    """Return the first trouble's advice, or what the states of the notes ask for.

    `left_out` are the places that no card asks for.
    """
    if troubles:
        return troubles[0].advice
    if all(note.standing.state is State.NEW for note in notes):
        if ladder is not None:
            return next_on_the_ladder(ladder)
        return _(
            "Begin with five minutes of practice on the first landmarks, because no note has been "
            "met yet."
        )
    faded = [note for note in notes if note.standing.state is State.FADED]
    if faded:
        return _(
            "Begin the next lesson with {note}, because it was secured and has not been shown to "
            "hold lately."
        ).format(note=faded[0].name)
    pencilled = [note for note in notes if note.standing.state is State.PENCIL]
    if pencilled:
        weakest = min(pencilled, key=lambda note: note.standing.p_secured)
        return _(
            "Keep {note} in the warm-up, because it is the note furthest from secured: {why}"
        ).format(note=weakest.name, why=weakest.standing.why)
    return _beyond(notes, left_out)


def _beyond(notes: Sequence[NoteReview], left_out: Sequence[Place]) -> str:
    """Return what comes when every note met is in ink."""
    if any(note.standing.state is State.NEW for note in notes):
        return _("Bring in the next landmark, because every note met so far is secured.")
    if left_out:
        names = listed([name_with_clef(pitch, clef, spoken_naming()) for clef, pitch in left_out])
        return _(
            "Choose a piece with {notes}, because these are the notes that the cards leave out; "
            "every note of the cards is secured."
        ).format(notes=names)
    return _("Choose a piece that uses these notes, because every note of the set is secured.")
