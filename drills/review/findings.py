"""The troubles that a pupil's answers carry, the one to mend first before the others.

A trouble is told only if an interval leaves no reasonable doubt of it. It rests on the same window
of answers as the figures of the notes, so that a page counts everything alike, and it never names
a note that is drawn in ink. Their order is fixed: a
wrong picture of the stave, then what was forgotten, then haste, then what is not yet known, then
slowness, then single notes, then too little practice. A note that is misread gets no better by
being read faster.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from statistics import median

from drills.cards.card import READING_KINDS
from drills.review.absence import forgotten, quiet
from drills.review.collect import PupilRecord
from drills.review.notes import NoteReview
from drills.review.slips import careless, often_wrong, systematic_slips
from drills.review.slowness import slow, stuck_note
from drills.review.trouble import Finding, Reading


def find_troubles(
    record: PupilRecord,
    notes: Sequence[NoteReview],
    key_seconds: Sequence[float],
    now: datetime,
    fluent: float,
) -> tuple[Finding, ...]:
    """Find the troubles of a pupil at `now`, the one to mend first before the others.

    Answers are fluent up to `fluent` seconds.
    """
    readings = [
        Reading(found.card, answer)
        for found in record.cards
        if found.card.kind in READING_KINDS
        for answer in found.latest
    ]
    judged = [Reading(note.card, answer) for note in notes for answer in note.window]
    judged.sort(key=lambda reading: reading.given.at)
    open_notes = [note for note in notes if not note.is_secured]
    open_cards = {note.card for note in open_notes}
    key = median(key_seconds) if key_seconds else None
    return (
        *systematic_slips(judged, open_cards),
        *forgotten(readings, [session.started for session in record.sessions], judged),
        *careless(judged, fluent),
        *often_wrong(judged),
        *slow(judged, key, fluent),
        *stuck_note(judged, open_notes),
        *quiet(record, now),
    )
