"""The troubles that a pupil's answers carry, the one to mend first before the others.

A trouble is told only if an interval leaves no reasonable doubt of it. Their order is fixed: a
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

RECENT_SESSIONS = 12
"""Troubles are looked for in this many latest sessions: about three weeks of practice."""


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
    begun = [session.started for session in record.sessions[-RECENT_SESSIONS:]]
    recent = [reading for reading in readings if begun and reading.given.session >= begun[0]]
    key = median(key_seconds) if key_seconds else None
    return (
        *systematic_slips(recent),
        *forgotten(readings, [session.started for session in record.sessions], recent),
        *careless(recent, fluent),
        *often_wrong(recent),
        *slow(recent, key, fluent),
        *stuck_note(recent, notes),
        *quiet(record, now),
    )
