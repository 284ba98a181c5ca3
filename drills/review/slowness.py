"""Troubles of time: reading that is sure but slow, and a note that stays behind the others."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from statistics import median

from drills.cards.card import Card
from drills.review.notes import NoteReview
from drills.review.statistics import median_of, trend_of
from drills.review.trouble import (
    Finding,
    Reading,
    Trouble,
    accuracy_of,
    capital,
    percent,
    split_by_rightness,
)
from drills.text.formatting import decimal
from landmarks.translation import _

SURE = 0.85
"""Near the success rate at which learning is quickest (Wilson et al. 2019: 85%)."""
SLOWER_NOTE = 1.4
COUNTED_ANSWERS = 100
CHANCE = 0.001
"""Below the usual limit, because answers to the same note are alike."""


def slow(recent: Sequence[Reading], key: float | None, fluent: float) -> Iterator[Finding]:
    """Find reading that is surely right and surely slower than `fluent` seconds.

    `key` is the key-finding time.
    """
    right, _wrong = split_by_rightness(recent)
    if not right:
        return
    accuracy, seconds = accuracy_of(recent), median_of(right)
    sure = accuracy.low is not None and accuracy.low >= SURE
    if not sure or seconds.low is None or seconds.low <= fluent:
        return
    told = _("{percent} are right, but it takes {seconds} s").format(
        percent=percent(accuracy), seconds=decimal(seconds.value)
    )
    if key:
        compared = _("{told}, where finding a key takes {seconds} s")
        told = compared.format(told=told, seconds=decimal(key))
    if _counts_up(recent):
        yield Finding(
            Trouble.SLOW,
            _(
                "{told}; the higher the note lies above the bottom line, the longer it takes, as "
                "if counted up from there."
            ).format(told=told),
            _("Show a landmark for a moment, cover it, and have its key found from memory"),
            _("the times grow with the height on the stave, as if the notes were counted up"),
        )
    else:
        yield Finding(
            Trouble.SLOW,
            f"{told}.",
            _("Play known landmarks in short, lively rounds without naming them"),
            told,
        )


def _counts_up(recent: Sequence[Reading]) -> bool:
    """Return whether the times of right answers surely grow with the height on the stave."""
    right = [reading for reading in recent if reading.given.right][-COUNTED_ANSWERS:]
    heights = [max(0, reading.card.clef.position(reading.card.target)) for reading in right]
    trend = trend_of(heights, [reading.given.seconds for reading in right])
    return trend is not None and trend.low > 0 and trend.p < CHANCE


def stuck_note(recent: Sequence[Reading], notes: Sequence[NoteReview]) -> Iterator[Finding]:
    """Find which of `notes` is surely worse than all the others together."""
    answers: dict[Card, list[Reading]] = defaultdict(list)
    for reading in recent:
        answers[reading.card].append(reading)
    # Every note is looked at, so each may err with its part of one in twenty only.
    confidence = 1 - 0.05 / max(1, len(answers))
    stuck = []
    for note in notes:
        own = answers.get(note.card, [])
        others = [
            reading for card, given in answers.items() if card != note.card for reading in given
        ]
        if own and others and (told := _worse(own, others, confidence)):
            stuck.append((accuracy_of(own).value, note, told))
    if stuck:
        _share, note, told = min(stuck, key=lambda entry: entry[0])
        if note.slip is not None:
            played = _("{told}, most often with {note} played instead")
            told = played.format(told=told, note=note.slip.name)
        yield Finding(
            Trouble.NOTE,
            capital(
                _("{note} stays behind the other notes: {told}.").format(note=note.name, told=told)
            ),
            _(
                "Give {note} a picture of its own this week, its place on the stave beside its key"
            ).format(note=note.name),
            told,
            (note.card,),
        )


def _worse(own: Sequence[Reading], others: Sequence[Reading], confidence: float) -> str | None:
    accuracy, usual = accuracy_of(own, confidence), accuracy_of(others, confidence)
    assert accuracy.high is not None and usual.low is not None
    if accuracy.high < usual.low:
        return _("{percent} are right, of the others {usual}").format(
            percent=percent(accuracy), usual=percent(usual)
        )
    right, right_others = split_by_rightness(own)[0], split_by_rightness(others)[0]
    if not right or not right_others:
        return None
    seconds, usual_seconds = median_of(right, confidence), median(right_others)
    if seconds.low is not None and seconds.low > SLOWER_NOTE * usual_seconds:
        return _("it takes {seconds} s, the others {usual} s").format(
            seconds=decimal(seconds.value), usual=decimal(usual_seconds)
        )
    return None
