"""The review as a table in the terminal: words and numbers only, for any terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import datetime

from drills.response import State
from drills.review.notes import NoteReview, note_name
from drills.review.pupil import PupilReview
from drills.review.statistics import Estimate, Trend
from drills.review.whole_studio import StudioReview
from drills.terminal import prose, table
from landmarks.answer import Verdict

NONE = "-"


def pupil_lines(review: PupilReview) -> Iterator[str]:
    """Give the lines that review one pupil."""
    yield f"{review.nickname}, {day(review.now)}"
    yield ""
    for trouble in review.troubles:
        yield from prose(f"{str(trouble.trouble).capitalize()}. {trouble.evidence}")
    yield from prose(f"Next: {review.next_step}")
    yield ""
    yield from table(_FIGURES, [_figures(note) for note in review.notes])
    yield ""
    yield from table(_CIRCUMSTANCES, [_circumstances(note, review.now) for note in review.notes])
    yield ""
    yield from prose(f"Key-finding: {seconds(review.key_finding)}. {left_out_sentence(review)}")
    yield from prose(changes_sentence(review))
    yield from prose(sessions_sentence(review))
    if review.unreadable:
        yield from prose(f"Not session files, passed over: {', '.join(review.unreadable)}.")


def studio_lines(review: StudioReview) -> Iterator[str]:
    """Give the lines that review the whole studio."""
    yield from prose(f"{len(review.pupils)} pupils, {day(review.now)}. {review.sentence()}")
    yield ""
    rows = [
        (
            pupil.nickname,
            day(pupil.last_practised),
            str(pupil.sessions_lately),
            *(str(pupil.count(state)) for state in _STATES),
            str(pupil.troubles[0].trouble) if pupil.troubles else NONE,
        )
        for pupil in review.pupils
    ]
    headings = ("pupil", "last session", "in 14 days", *(str(s) for s in _STATES), "first trouble")
    yield from table(headings, rows)
    yield ""
    for pupil in review.pupils:
        yield from prose(f"{pupil.nickname}: {pupil.next_step}")


_STATES = (State.INK, State.FADED, State.PENCIL, State.NEW)
_FIGURES = ("note", "state", "seconds (95%)", "reading", "right (95%)")
_CIRCUMSTANCES = ("note", "answers", "trend", "last seen", "usual slip, of wrong")


def _figures(note: NoteReview) -> tuple[str, ...]:
    return (
        note.name,
        str(note.standing.state),
        seconds(note.seconds),
        seconds(note.reading, with_interval=False),
        accuracy(note),
    )


def _circumstances(note: NoteReview, now: datetime) -> tuple[str, ...]:
    return (
        note.name,
        str(note.answers),
        trend(note.trend),
        short_day(note.last_seen, now),
        slip(note),
    )


def seconds(estimate: Estimate | None, with_interval: bool = True) -> str:
    """Write a time with its interval: "1.4 s (1.2 to 1.9)"."""
    if estimate is None:
        return NONE
    value = f"{max(0.0, estimate.value):.1f} s"
    if not with_interval:
        return value
    if estimate.low is None or estimate.high is None:
        return f"{value} (too few)"
    return f"{value} ({max(0.0, estimate.low):.1f} to {estimate.high:.1f})"


def accuracy(note: NoteReview) -> str:
    """Write the share of right answers with its interval: "90% of 20 (70 to 97)"."""
    share = note.accuracy
    if share is None or share.low is None or share.high is None:
        return NONE
    return f"{share.value:.0%} of {note.judged} ({share.low * 100:.0f} to {share.high * 100:.0f})"


def trend(found: Trend | None) -> str:
    """Write a trend: "0.2 s quicker a week"."""
    if found is None:
        return NONE
    return f"{abs(found.slope):.1f} s {'quicker' if found.slope < 0 else 'slower'} a week"


def slip(note: NoteReview) -> str:
    """Write the usual slip: "bass E (step), 5 of 7" wrong answers."""
    if note.slip is None:
        return NONE
    meaning = _MEANINGS[note.slip.verdict]
    return f"{note.slip.name} ({meaning}), {note.slip.count} of {note.slip.wrong}"


_MEANINGS = {
    Verdict.DIRECTION: "the wrong way",
    Verdict.CLEF: "other clef",
    Verdict.OCTAVE: "other octave",
    Verdict.HALF_STEP: "black key",
    Verdict.STEP: "step",
    Verdict.SKIP: "skip",
    Verdict.LEAP: "leap",
}


def day(moment: datetime | None) -> str:
    """Write a day: "Tue 3 Mar 2026"."""
    return NONE if moment is None else f"{moment:%a} {moment.day} {moment:%b %Y}"


def short_day(moment: datetime | None, now: datetime) -> str:
    """Write a day, with its year only if it is not this year's."""
    if moment is None:
        return NONE
    year = "" if moment.year == now.year else f" {moment.year}"
    return f"{moment.day} {moment:%b}{year}"


def left_out_sentence(review: PupilReview) -> str:
    """Say how many answers were kept out of the figures, and why."""
    counts: Counter[str] = Counter()
    for note in review.notes:
        counts.update(note.left_out)
    if not counts:
        return "No answer was left out."
    reasons = ", ".join(f"{count} {reason}" for reason, count in counts.most_common())
    return f"Left out of the figures: {reasons}."


def changes_sentence(review: PupilReview) -> str:
    """Say which notes changed their state since the last lesson."""
    since = f"Since {day(review.since)}"
    if not review.changes:
        return f"{since} no note has changed between pencil and ink."
    groups: dict[State, list[str]] = {}
    for change in review.changes:
        groups.setdefault(change.after, []).append(note_name(change.card))
    told = "; ".join(f"{_BECAME[state]}: {', '.join(names)}" for state, names in groups.items())
    return f"{since} {told}."


_BECAME = {
    State.NEW: "not met",
    State.PENCIL: "now in pencil",
    State.INK: "now in ink",
    State.FADED: "faded",
}


def sessions_sentence(review: PupilReview) -> str:
    """Say how much was practised."""
    if not review.sessions:
        return "No session yet."
    return (
        f"{review.session_count} sessions, {review.sessions_lately} in the last 14 days, the "
        f"latest on {day(review.last_practised)}."
    )
