"""The troubles that a pupil's answers carry, the one to mend first before the others.

A trouble is told only if an interval leaves no reasonable doubt of it. Their order is fixed: a
wrong picture of the stave, then what was forgotten, then haste, then slowness, then single
notes, then too little practice. A note that is misread gets no better by being read faster.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from itertools import pairwise
from statistics import median

from drills.card import Card
from drills.review.collect import READING_KINDS, GivenAnswer, PupilRecord
from drills.review.notes import NoteReview, note_name
from drills.review.statistics import (
    Estimate,
    kendall_p,
    median_of,
    share_difference,
    share_of,
)
from landmarks.answer import Verdict

RECENT_SESSIONS = 12
"""Troubles are looked for in this many latest sessions: about three weeks of practice."""
FEWEST_SLIPS = 4
SYSTEMATIC_SHARE = 0.2
"""A kind of slip is systematic if surely more than this share of the wrong answers is of it."""
SLIPS_WORTH_TELLING = 0.03
"""... and at least this share of all answers."""
LONG_GAP = timedelta(days=10)
"""Longer than the week from lesson to lesson with a few days' grace."""
AFTER_GAP_SESSIONS = 4
SLOWER_AFTER_GAP = 1.15
SURE = 0.85
"""Near the success rate at which learning is quickest (Wilson et al. 2019: 85%)."""
CARELESS = 0.9
"""Secured means at least 9 right in 10; surely below it is careless, if it is also fast."""
SLOW_FACTOR = 2.5
"""Reading a note in more than this many times the key-finding time is slow; the factor is
common practice in fluency aims, no source."""
SLOW_SECONDS = 3.0
"""The same while key-finding has not been measured."""
SLOWER_NOTE = 1.4
QUIET_DAYS = timedelta(days=14)


class Trouble(StrEnum):
    """What kind of trouble it is."""

    CLEF = "clef confusion"
    DIRECTION = "steps taken the wrong way"
    OCTAVE = "right letter, wrong octave"
    GAP = "forgotten over a gap"
    CARELESS = "fast but careless"
    SLOW = "sure but slow"
    NOTE = "stuck on one note"
    QUIET = "little practice"


@dataclass(frozen=True)
class Finding:
    """A trouble, what shows it, and what to do about it with the reason; each a sentence."""

    trouble: Trouble
    evidence: str
    advice: str
    cards: tuple[Card, ...] = ()
    """The notes it is about, if it is about some."""


@dataclass(frozen=True)
class _Reading:
    """One counted answer to a reading card."""

    card: Card
    given: GivenAnswer


def find_troubles(
    record: PupilRecord, notes: Sequence[NoteReview], key_seconds: Sequence[float], now: datetime
) -> tuple[Finding, ...]:
    """Find the troubles of a pupil at `now`, the one to mend first before the others."""
    readings = [
        _Reading(found.card, answer)
        for found in record.cards
        if found.card.kind in READING_KINDS
        for answer in found.latest
    ]
    begun = [session.started for session in record.sessions[-RECENT_SESSIONS:]]
    recent = [reading for reading in readings if begun and reading.given.session >= begun[0]]
    key = median(key_seconds) if key_seconds else None
    return (
        *_systematic_slips(recent),
        *_forgotten(readings, [session.started for session in record.sessions], recent),
        *_careless(recent, key),
        *_slow(recent, key),
        *_stuck_note(recent, notes),
        *_quiet(record, now),
    )


_SLIP_TROUBLES = {
    Verdict.CLEF: (
        Trouble.CLEF,
        "played where the note would be in the other clef",
        "Name the clef and its landmark aloud before each note is played",
    ),
    Verdict.DIRECTION: (
        Trouble.DIRECTION,
        "stepped away from the landmark in the wrong direction",
        "Trace each step with a finger, up or down, before it is played",
    ),
    Verdict.OCTAVE: (
        Trouble.OCTAVE,
        "played with the right letter in the wrong octave",
        "Find each landmark's own key first and keep the hand over it",
    ),
}


def _systematic_slips(recent: Sequence[_Reading]) -> Iterator[Finding]:
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
            cards = tuple(card for card, _ in Counter(r.card for r in slips).most_common(3))
            where = _list([note_name(card) for card in cards])
            yield Finding(
                trouble,
                f"{count} of the latest {len(wrong)} wrong answers were {happened}, most often "
                f"at {where}.",
                f"{advice}, beginning with {note_name(cards[0])}, because {count} of "
                f"{len(wrong)} wrong answers were {happened}.",
                cards,
            )


def _forgotten(
    readings: Sequence[_Reading], sessions: Sequence[datetime], recent: Sequence[_Reading]
) -> Iterator[Finding]:
    """Compare the notes known before the longest recent gap with the same notes after it."""
    gaps = [
        (later - earlier, earlier, later)
        for earlier, later in pairwise(sessions)
        if recent and later > min(reading.given.session for reading in recent)
    ]
    gap, last, first = max(gaps, default=(timedelta(), None, None))
    if gap < LONG_GAP or last is None or first is None:
        return
    since = max(first, *sessions[-AFTER_GAP_SESSIONS:][:1])
    start = sessions[max(0, sessions.index(last) - RECENT_SESSIONS // 2)]
    before = [reading for reading in readings if start <= reading.given.session <= last]
    known = {reading.card for reading in before}
    after = [r for r in readings if r.given.session >= since and r.card in known]
    before = [r for r in before if r.card in {reading.card for reading in after}]
    if not before or not after:
        return
    accuracy_before, accuracy_after = _accuracy(before), _accuracy(after)
    fall = share_difference(accuracy_before, accuracy_after)
    slower = _slowing(before, after)
    fell = fall.high is not None and fall.high < 0
    slowed = slower is not None and slower.low is not None and slower.low > SLOWER_AFTER_GAP
    if not fell and not slowed:
        return
    told = f"right answers went from {_percent(accuracy_before)} to {_percent(accuracy_after)}"
    if slowed and slower is not None:
        told += f" and times grew to {slower.value:.1f} times what they were"
    yield Finding(
        Trouble.GAP,
        f"After {gap.days} days without practice, from {_date(last)} to {_date(first)}, {told}.",
        "Go back to the landmarks already met, a few a day, before anything new, because after "
        f"{gap.days} days without practice {told}.",
    )


def _slowing(before: Sequence[_Reading], after: Sequence[_Reading]) -> Estimate | None:
    """Give the median of the times after, each as a multiple of its note's median before."""
    usual: dict[Card, list[float]] = defaultdict(list)
    for reading in before:
        if reading.given.right:
            usual[reading.card].append(reading.given.seconds)
    ratios = [
        reading.given.seconds / median(usual[reading.card])
        for reading in after
        if reading.given.right and usual[reading.card]
    ]
    return median_of(ratios) if ratios else None


def _careless(recent: Sequence[_Reading], key: float | None) -> Iterator[Finding]:
    right, wrong = _parted(recent)
    if len(wrong) < FEWEST_SLIPS or not right:
        return
    accuracy = _accuracy(recent)
    quick, hasty = median(right), median(wrong)
    fast = quick <= SLOW_FACTOR * key if key else quick <= SLOW_SECONDS
    low = accuracy.high is not None and accuracy.high < CARELESS
    if fast and low and hasty <= quick and _spread(recent):
        shown = f"the wrong answers come in {hasty:.1f} s, the right ones in {quick:.1f} s"
        yield Finding(
            Trouble.CARELESS,
            f"Only {_percent(accuracy)} are right although the notes are known: {shown}.",
            "Ask for ten right in a row, as slowly as needed, before the speed returns, because "
            f"{shown}.",
        )


def _spread(recent: Sequence[_Reading]) -> bool:
    """Tell whether at least half the notes asked often were missed, so that none is to blame."""
    asked = Counter(reading.card for reading in recent)
    missed = {reading.card for reading in recent if not reading.given.right}
    often = [card for card, count in asked.items() if count >= 5]
    return bool(often) and sum(card in missed for card in often) * 2 >= len(often)


def _slow(recent: Sequence[_Reading], key: float | None) -> Iterator[Finding]:
    right, _ = _parted(recent)
    if not right:
        return
    accuracy, seconds = _accuracy(recent), median_of(right)
    limit = SLOW_FACTOR * key if key else SLOW_SECONDS
    sure = accuracy.low is not None and accuracy.low >= SURE
    if not sure or seconds.low is None or seconds.low <= limit:
        return
    compared = f", where finding a key takes {key:.1f} s" if key else ""
    told = f"{_percent(accuracy)} are right, but it takes {seconds.value:.1f} s{compared}"
    if _counts_up(recent):
        yield Finding(
            Trouble.SLOW,
            f"{told}; the higher the note lies above the bottom line, the longer it takes, as if "
            "counted up from there.",
            "Show a landmark for a moment, cover it, and have its key found from memory, because "
            "the times grow with the height on the stave, as if the notes were counted up.",
        )
    else:
        yield Finding(
            Trouble.SLOW,
            f"{told}.",
            f"Play known landmarks in short, lively rounds without naming them, because {told}.",
        )


def _counts_up(recent: Sequence[_Reading]) -> bool:
    """Tell whether the times of right answers grow with the height on the stave."""
    times: dict[int, list[float]] = defaultdict(list)
    for reading in recent:
        if reading.given.right:
            times[max(0, reading.card.clef.position(reading.card.target))].append(
                reading.given.seconds
            )
    heights = sorted(times)
    if len(heights) < 5:
        return False
    medians = [median(times[height]) for height in heights]
    return medians[-1] > medians[0] and kendall_p(heights, medians) < 0.05


def _stuck_note(recent: Sequence[_Reading], notes: Sequence[NoteReview]) -> Iterator[Finding]:
    """Find the note that is surely worse than all the others together."""
    answers: dict[Card, list[_Reading]] = defaultdict(list)
    for reading in recent:
        answers[reading.card].append(reading)
    # Every note is looked at, so each may err with its part of one in twenty only.
    confidence = 1 - 0.05 / max(1, len(answers))
    stuck = []
    for note in notes:
        own = answers.get(note.card, [])
        others = [reading for reading in recent if reading.card != note.card]
        if own and others and (told := _worse(own, others, confidence)):
            stuck.append((_accuracy(own).value, note, told))
    if stuck:
        _, note, told = min(stuck, key=lambda entry: entry[0])
        slip = ""
        if note.slip is not None:
            slip = f", most often with {note.slip.name} played instead"
        yield Finding(
            Trouble.NOTE,
            f"{_capital(note.name)} stays behind the other notes: {told}{slip}.",
            f"Give {note.name} a picture of its own this week, its place on the stave beside its "
            f"key, because {told}{slip}.",
            (note.card,),
        )


def _worse(own: Sequence[_Reading], others: Sequence[_Reading], confidence: float) -> str | None:
    accuracy, usual = _accuracy(own, confidence), _accuracy(others, confidence)
    assert accuracy.high is not None and usual.low is not None
    if accuracy.high < usual.low:
        return f"{_percent(accuracy)} are right, of the others {_percent(usual)}"
    right, right_others = _parted(own)[0], _parted(others)[0]
    if not right or not right_others:
        return None
    seconds, usual_seconds = median_of(right, confidence), median(right_others)
    if seconds.low is not None and seconds.low > SLOWER_NOTE * usual_seconds:
        return f"it takes {seconds.value:.1f} s, the others {usual_seconds:.1f} s"
    return None


def _quiet(record: PupilRecord, now: datetime) -> Iterator[Finding]:
    lately = [s for s in record.sessions if now - QUIET_DAYS <= s.started <= now]
    if len(lately) >= 2:
        return
    if not record.sessions:
        told = "there is no practice session yet"
    else:
        last = _date(record.sessions[-1].started)
        told = f"the last session was on {last}"
    yield Finding(
        Trouble.QUIET,
        f"{_capital(told)}.",
        f"Agree on a fixed place in the day for five minutes of practice, because {told}.",
    )


def _parted(readings: Sequence[_Reading]) -> tuple[list[float], list[float]]:
    """Give the seconds of the right and of the wrong answers."""
    right = [reading.given.seconds for reading in readings if reading.given.right]
    wrong = [reading.given.seconds for reading in readings if not reading.given.right]
    return right, wrong


def _accuracy(readings: Sequence[_Reading], confidence: float = 0.95) -> Estimate:
    right = sum(reading.given.right for reading in readings)
    return share_of(right, len(readings), confidence)


def _percent(share: Estimate) -> str:
    return f"{share.value:.0%}"


def _date(moment: datetime) -> str:
    return f"{moment.day} {moment:%B}"


def _list(names: Sequence[str]) -> str:
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
