"""Troubles of misreading: a kind of slip that keeps coming back, haste, and guessing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from statistics import median
from typing import NamedTuple

from drills.cards.card import Card
from drills.review.notes import note_name
from drills.review.statistics import share_of
from drills.review.trouble import (
    Finding,
    Reading,
    Trouble,
    accuracy_of,
    capital,
    percent,
    split_by_rightness,
)
from drills.text.formatting import decimal, listed
from landmarks.answer import Verdict
from landmarks.translation import _, gettext_noop, ngettext

FEWEST_SLIPS = 4
SYSTEMATIC_SHARE = 0.2
"""A kind of slip is systematic if surely more than this share of the wrong answers is of it."""
SLIPS_WORTH_TELLING = 0.03
"""... and at least this share of all answers."""
CARELESS = 0.9
"""Secured means at least 9 right in 10; surely below it is careless, if it is also fast."""
OFTEN_WRONG = 0.7
"""Surely fewer right than this are too few to learn from (common practice, no source)."""
HASTE = 0.9
"""Careless answers come sooner than the right ones: in less than this share of their time."""


class _Happened(NamedTuple):
    """What happened, as evidence and as a reason."""

    evidence: str
    reason: str


_SLIP_TROUBLES = {
    Verdict.CLEF: (
        Trouble.CLEF,
        _Happened(
            gettext_noop(
                "{count} of the latest {wrong} wrong answers were played where the note would be "
                "in the other clef, most often at {notes}."
            ),
            gettext_noop(
                "{count} of {wrong} wrong answers were played where the note would be in the other "
                "clef"
            ),
        ),
        gettext_noop(
            "Name the clef and its landmark aloud before each note is played, beginning with {note}"
        ),
    ),
    Verdict.DIRECTION: (
        Trouble.DIRECTION,
        _Happened(
            gettext_noop(
                "{count} of the latest {wrong} wrong answers were stepped away from the landmark "
                "in the wrong direction, most often at {notes}."
            ),
            gettext_noop(
                "{count} of {wrong} wrong answers were stepped away from the landmark in the wrong "
                "direction"
            ),
        ),
        gettext_noop(
            "Trace each step with a finger, up or down, before it is played, beginning with {note}"
        ),
    ),
    Verdict.OCTAVE: (
        Trouble.OCTAVE,
        _Happened(
            gettext_noop(
                "{count} of the latest {wrong} wrong answers were played with the right letter in "
                "the wrong octave, most often at {notes}."
            ),
            gettext_noop(
                "{count} of {wrong} wrong answers were played with the right letter in the wrong "
                "octave"
            ),
        ),
        gettext_noop(
            "Find each landmark's own key first and keep the hand over it, beginning with {note}"
        ),
    ),
}


def systematic_slips(recent: Sequence[Reading], open_cards: Collection[Card]) -> Iterator[Finding]:
    """Find the kinds of slip that make up a good part of the wrong answers.

    Only `open_cards`, which are not in ink, are named; slips at others alone are none to mend.
    """
    wrong = [reading for reading in recent if not reading.given.right]
    kinds = Counter(reading.given.verdict for reading in wrong)
    for verdict, count in kinds.most_common():
        slips = [reading for reading in wrong if reading.given.verdict is verdict]
        sessions = {reading.given.session for reading in slips}
        share = share_of(count, len(wrong)).low or 0.0
        told = count >= FEWEST_SLIPS and count / len(recent) >= SLIPS_WORTH_TELLING
        if verdict not in _SLIP_TROUBLES or not told or len(sessions) < 2:
            continue
        if share > SYSTEMATIC_SHARE:
            trouble, happened, advice = _SLIP_TROUBLES[verdict]
            counts = Counter(reading.card for reading in slips if reading.card in open_cards)
            cards = tuple(card for card, _count in counts.most_common(3))
            if not cards:
                continue
            where = listed([note_name(card) for card in cards])
            yield Finding(
                trouble,
                _(happened.evidence).format(count=count, wrong=len(wrong), notes=where),
                _(advice).format(note=note_name(cards[0])),
                _(happened.reason).format(count=count, wrong=len(wrong)),
                cards,
            )


def careless(recent: Sequence[Reading], fluent: float) -> Iterator[Finding]:
    """Find haste: quick answers all over the set, the wrong ones quicker than the right."""
    right, wrong = split_by_rightness(recent)
    if len(wrong) < FEWEST_SLIPS or not right:
        return
    quick, hasty = median(right), median(wrong)
    fast = quick <= fluent
    if fast and hasty < HASTE * quick and _is_low_without_the_worst_note(recent):
        shown = _("the wrong answers come in {wrong} s, the right ones in {right} s").format(
            wrong=decimal(hasty), right=decimal(quick)
        )
        yield Finding(
            Trouble.CARELESS,
            _("Only {percent} are right although the notes are known: {told}.").format(
                percent=percent(accuracy_of(recent)), told=shown
            ),
            _("Ask for ten right in a row, as slowly as needed, before the speed returns"),
            shown,
        )


def often_wrong(recent: Sequence[Reading]) -> Iterator[Finding]:
    """Find that the notes are surely not known yet, whatever the slips are."""
    right, wrong = split_by_rightness(recent)
    high = accuracy_of(recent).high if recent else None
    if high is None or high >= OFTEN_WRONG:
        return
    asked = len(right) + len(wrong)
    if right:
        told = ngettext(
            "of the latest {asked} answers only {count} was right",
            "of the latest {asked} answers only {count} were right",
            len(right), asked=asked,
        )  # fmt: skip
    else:
        told = _("of the latest {asked} answers none was right").format(asked=asked)
    yield Finding(
        Trouble.GUESSED,
        f"{capital(told)}.",
        _("Go back to the landmarks alone, two or three at a time, until they are found at once"),
        told,
    )


def _is_low_without_the_worst_note(recent: Sequence[Reading]) -> bool:
    """Return whether surely too few are right even without the note most often missed."""
    missed = Counter(reading.card for reading in recent if not reading.given.right)
    ((worst, _count),) = missed.most_common(1)
    others = [reading for reading in recent if reading.card != worst]
    high = accuracy_of(others).high if others else None
    return high is not None and high < CARELESS
