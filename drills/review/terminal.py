"""The review as a table in the terminal: words and numbers only, for any terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import datetime

from drills.response import State
from drills.review.ladder import stands_sentence, way_sentence
from drills.review.notes import NoteReview, note_name
from drills.review.pupil import PupilReview
from drills.review.statistics import Estimate, Trend
from drills.review.trouble import capital, counted
from drills.review.whole_studio import StudioReview
from drills.terminal import prose, table
from landmarks.answer import Verdict

NONE = "-"


def pupil_lines(review: PupilReview) -> Iterator[str]:
    """Give the lines that review one pupil."""
    yield f"{review.nickname}, {day(review.now)}"
    yield from prose(sessions_sentence(review))
    yield ""
    for place, trouble in enumerate(review.troubles):
        yield from prose(f"{capital(str(trouble.trouble))}. {trouble.evidence}")
        if place == 0:
            yield from prose(f"Next: {trouble.action}.")
    if not review.troubles:
        yield from prose(f"Next: {review.next_step}")
    if review.ladder is not None:
        yield from prose(stands_sentence(review.ladder))
        yield from prose(way_sentence(review.ladder))
    yield ""
    notes = answered(review)
    if notes:
        yield from table(_FIGURES, [_figures(note) for note in notes])
        yield ""
        yield from table(_CIRCUMSTANCES, [_circumstances(note, review.now) for note in notes])
        yield ""
    slips = [f"{note.name}: {slip(note)} wrong answers" for note in review.notes if note.slip]
    if slips:
        yield "Usual slips"
        yield from slips
        yield ""
    yield from prose(unanswered_sentence(review))
    yield from prose(f"{key_finding_words(review)}. {left_out_sentence(review)}")
    yield from prose(changes_sentence(review))
    if review.unreadable:
        yield from prose(unreadable_sentence(review))


def studio_lines(review: StudioReview) -> Iterator[str]:
    """Give the lines that review the whole studio."""
    yield from prose(
        f"{counted(len(review.pupils), 'pupil')}, {day(review.now)}. "
        f"{review.practised_sentence()} {review.sentence()}"
    )
    yield ""
    rows = [
        (
            pupil.nickname,
            short_day(pupil.last_practised, review.now),
            str(pupil.sessions_lately),
            *(str(pupil.count(state)) for state in _STATES),
        )
        for pupil in review.pupils
    ]
    headings = ("pupil", "latest session", "in 14 days", *(str(state) for state in _STATES))
    yield from table(headings, rows)
    yield ""
    for pupil in review.pupils:
        trouble = f" {pupil.troubles[0].trouble}." if pupil.troubles else ""
        yield from prose(f"{pupil.nickname}:{trouble} {pupil.next_step}")


_STATES = (State.INK, State.FADED, State.PENCIL, State.NEW)
_FIGURES = ("note", "state", "seconds (95%)", "reading", "right (95%)")
_CIRCUMSTANCES = ("note", "answers", "trend", "last seen")


def _figures(note: NoteReview) -> tuple[str, ...]:
    return (
        _short_name(note),
        str(note.standing.state),
        seconds(note.seconds, unit=""),
        seconds(note.reading, with_interval=False, unit=""),
        accuracy(note),
    )


def _circumstances(note: NoteReview, now: datetime) -> tuple[str, ...]:
    return (
        _short_name(note),
        str(note.answers),
        trend(note.trend),
        short_day(note.last_seen, now),
    )


def _short_name(note: NoteReview) -> str:
    return note.name.replace(" clef)", ")")


def seconds(estimate: Estimate | None, with_interval: bool = True, unit: str = " s") -> str:
    """Write a time with its interval: "1.4 s (1.2 to 1.9)"."""
    if estimate is None:
        return NONE
    value = f"{max(0.0, estimate.value):.1f}{unit}"
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


def answered(review: PupilReview) -> list[NoteReview]:
    """Give the notes of which there is something to tell."""
    return [note for note in review.notes if note.answers]


def unanswered_sentence(review: PupilReview) -> str:
    """Name the other notes; empty if there are none."""
    names = [note.name for note in review.notes if not note.answers]
    if len(names) == len(review.notes):
        return "No note has been answered yet."
    return f"Not answered yet: {', '.join(names)}." if names else ""


def key_finding_words(review: PupilReview) -> str:
    """Say how long a key that is shown takes to be found."""
    known = review.key_finding is not None
    return f"Key-finding time {seconds(review.key_finding) if known else 'not yet measured'}"


def left_out_sentence(review: PupilReview) -> str:
    """Say how many answers were kept out of the figures, and why, and which times are in doubt."""
    counts: Counter[str] = Counter()
    for note in review.notes:
        counts.update(note.left_out)
    reasons = [f"{count} {_LEFT_OUT.get(reason, reason)}" for reason, count in counts.most_common()]
    told = f"Answers left out of the figures: {', '.join(reasons)}."
    return (told if counts else "No answer was left out.") + _doubt(review)


_LEFT_OUT = {
    "later attempt": "at a further try",
    "too soon": "begun too soon",
    "pause": "after a long pause",
    "brushed": "with a neighbour brushed along",
    "cluster": "with several keys at once",
    "piano lost": "while the piano was lost",
    "piano found": "while the piano was found",
    "stood still": "while the computer slept",
    "tuning": "to find how the piano is tuned",
}


def _doubt(review: PupilReview) -> str:
    late = [session.late_ms for session in review.sessions if session.late_ms > 0]
    if not late:
        return ""
    of_sessions = f"{len(late)} of the latest {len(review.sessions)} sessions"
    return (
        f" In {of_sessions} the computer was too busy to time every key well: some times may be "
        f"up to {max(late) / 1000:.2f} s too long."
    )


def unreadable_sentence(review: PupilReview) -> str:
    """Name the files that are no session files."""
    return f"Not session files, passed over: {', '.join(review.unreadable)}."


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
    sessions, latest = counted(review.session_count, "session"), day(review.last_practised)
    if not review.sessions_lately:
        return f"{sessions}, none in the last 14 days: this is how reading stood on {latest}."
    return f"{sessions}, {review.sessions_lately} in the last 14 days, the latest on {latest}."
