"""The review as a table in the terminal: words and numbers only, for any terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import datetime

from drills.learning.response import State
from drills.reports.terminal import prose, table
from drills.review.ladder import stands_sentence, way_sentence
from drills.review.notes import NoteReview, note_name
from drills.review.pupil import PupilReview
from drills.review.statistics import Estimate, Trend
from drills.review.term import Stage
from drills.review.trouble import capital
from drills.review.whole_studio import StudioReview
from drills.text.formatting import day_of, decimal, percent, short_day_of, weekday_and_day
from drills.text.verdict_text import SLIPS, WHY_NOT
from landmarks.names import spoken_naming
from landmarks.translation import _, gettext_noop, ngettext

NONE = "-"


def pupil_lines(review: PupilReview) -> Iterator[str]:
    """Return the lines that review one pupil."""
    yield f"{review.nickname}, {day(review.now)}"
    yield from prose(sessions_sentence(review))
    yield ""
    for place, trouble in enumerate(review.troubles):
        yield from prose(f"{capital(_(trouble.trouble))}. {trouble.evidence}")
        if place == 0:
            yield from prose(_("Next: {action}.").format(action=trouble.action))
    if not review.troubles:
        yield from prose(f"{capital(review.verdict)}.")
        yield from prose(_("Next: {step}").format(step=review.next_step))
    if review.ladder is not None:
        yield from prose(stands_sentence(review.ladder))
        yield from prose(way_sentence(review.ladder))
    yield ""
    notes = answered(review)
    if notes:
        yield from table(_in_words(_FIGURES), [_figures(note) for note in notes])
        yield ""
        yield from table(
            _in_words(_CIRCUMSTANCES), [_circumstances(note, review.now) for note in notes]
        )
        yield ""
    slips = [
        _("{note}: {slip} wrong answers").format(note=note.name, slip=slip(note))
        for note in review.notes
        if note.slip
    ]
    if slips:
        yield _("Usual slips")
        yield from slips
        yield ""
    yield from prose(unanswered_sentence(review))
    yield from prose(f"{key_finding_words(review)}. {left_out_sentence(review)}")
    yield from prose(changes_sentence(review))
    if review.unreadable:
        yield from prose(unreadable_sentence(review))
    if review.later:
        yield from prose(later_sentence(review))


def studio_lines(review: StudioReview) -> Iterator[str]:
    """Return the lines that review the whole studio."""
    pupils = ngettext("{count} pupil", "{count} pupils", len(review.pupils))
    yield from prose(
        f"{pupils}, {day(review.now)}. {review.practised_sentence()} {review.sentence()}"
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
    headings = (
        gettext_noop("pupil"),
        gettext_noop("latest session"),
        gettext_noop("in 14 days"),
        *_STATES,
    )
    yield from table(_in_words(headings), rows)
    yield ""
    for pupil in review.pupils:
        yield from prose(f"{pupil.nickname}: {pupil.verdict}. {pupil.next_step}")


_STATES = (State.INK, State.FADED, State.PENCIL, State.NEW)
_FIGURES = (
    gettext_noop("note"),
    gettext_noop("state"),
    gettext_noop("seconds (95%)"),
    gettext_noop("reading"),
    gettext_noop("right (95%)"),
)
_CIRCUMSTANCES = (
    gettext_noop("note"),
    gettext_noop("answers"),
    gettext_noop("trend"),
    gettext_noop("last seen"),
)


def _in_words(headings: Iterable[str]) -> tuple[str, ...]:
    return tuple(_(heading) for heading in headings)


def _figures(note: NoteReview) -> tuple[str, ...]:
    return (
        _short_name(note),
        _(note.standing.state),
        seconds(note.seconds, unit=False),
        seconds(note.reading, with_interval=False, unit=False),
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
    name = note.card.named(spoken_naming())
    return f"{name} ({_(note.card.clef.name)})" if note.name != name else name


def seconds(estimate: Estimate | None, with_interval: bool = True, unit: bool = True) -> str:
    """Return a time with its interval: "1.4 s (1.2 to 1.9)"."""
    if estimate is None:
        return NONE
    value = decimal(max(0.0, estimate.value))
    if unit:
        value = _("{seconds} s").format(seconds=value)
    if not with_interval:
        return value
    if estimate.low is None or estimate.high is None:
        return _("{value} (too few)").format(value=value)
    low, high = decimal(max(0.0, estimate.low)), decimal(estimate.high)
    return _("{value} ({low} to {high})").format(value=value, low=low, high=high)


def accuracy(note: NoteReview) -> str:
    """Return the share of right answers with its interval: "90% of 20 (70 to 97)"."""
    share = note.accuracy
    if share is None or share.low is None or share.high is None:
        return NONE
    return _("{percent} of {count} ({low} to {high})").format(
        percent=percent(share.value), count=note.judged, low=f"{share.low * 100:.0f}",
        high=f"{share.high * 100:.0f}",
    )  # fmt: skip


def trend(found: Trend | None) -> str:
    """Return a trend: "0.2 s quicker a week"."""
    if found is None:
        return NONE
    message = _("{seconds} s quicker a week") if found.slope < 0 else _("{seconds} s slower a week")
    return message.format(seconds=decimal(abs(found.slope)))


def slip(note: NoteReview) -> str:
    """Return the usual slip: "bass E (step), 5 of 7" wrong answers."""
    if note.slip is None:
        return NONE
    return _("{note} ({meaning}), {count} of {wrong}").format(
        note=note.slip.name, meaning=_(SLIPS[note.slip.verdict]), count=note.slip.count,
        wrong=note.slip.wrong,
    )  # fmt: skip


def day(moment: datetime | None) -> str:
    """Return a day: "Tuesday 3 March 2026"."""
    return NONE if moment is None else weekday_and_day(moment)


def short_day(moment: datetime | None, now: datetime) -> str:
    """Return a day, with its year only if it is not this year's."""
    if moment is None:
        return NONE
    year = "" if moment.year == now.year else f" {moment.year}"
    return f"{short_day_of(moment)}{year}"


def answered(review: PupilReview) -> list[NoteReview]:
    """Return the notes of which there is something to tell."""
    return [note for note in review.notes if note.answers]


def unanswered_sentence(review: PupilReview) -> str:
    """Name the other notes; empty if there are none."""
    names = [note.name for note in review.notes if not note.answers]
    if len(names) == len(review.notes):
        return _("No note has been answered yet.")
    return _("Not answered yet: {notes}.").format(notes=", ".join(names)) if names else ""


def key_finding_words(review: PupilReview) -> str:
    """Say how long a key that is shown takes to be found."""
    if review.key_finding is None:
        return _("Key-finding time not yet measured")
    return _("Key-finding time {seconds}").format(seconds=seconds(review.key_finding))


def left_out_sentence(review: PupilReview) -> str:
    """Say how many answers were kept out of the figures, and why, and which times are in doubt."""
    counts: Counter[str] = Counter()
    for note in review.notes:
        counts.update(note.left_out)
    if not counts:
        return _("No answer was left out.") + _doubt(review)
    reasons = [
        f"{count} {_(WHY_NOT.get(reason, reason))}" for reason, count in counts.most_common()
    ]
    told = _("Answers left out of the figures: {reasons}.").format(reasons=", ".join(reasons))
    return told + _doubt(review)


def _doubt(review: PupilReview) -> str:
    late = [session.late_ms for session in review.sessions if session.late_ms > 0]
    if not late:
        return ""
    told = _(
        "In {late} of the latest {count} sessions the computer was too busy to time every key "
        "well: some times may be up to {seconds} s too long."
    ).format(late=len(late), count=len(review.sessions), seconds=decimal(max(late) / 1000, 2))
    return f" {told}"


def later_sentence(review: PupilReview) -> str:
    """Say how many sessions are dated later than the review, as after a wrong clock."""
    return ngettext(
        "{count} session is dated later than this review and left out; if that cannot be, a "
        "computer's clock was wrong.",
        "{count} sessions are dated later than this review and left out; if that cannot be, a "
        "computer's clock was wrong.",
        review.later,
    )


def unreadable_sentence(review: PupilReview) -> str:
    """Name the files that are no session files or cannot be read."""
    names = ", ".join(review.unreadable)
    return _("Left aside, as no session files or not readable: {names}.").format(names=names)


def changes_sentence(review: PupilReview) -> str:
    """Say which notes changed their state since the last lesson."""
    since = day(review.since)
    if not review.changes:
        message = _("Since {day} no note has changed between pencil and ink.")
        return message.format(day=since)
    groups: dict[State, list[str]] = {}
    for change in review.changes:
        groups.setdefault(change.after, []).append(note_name(change.card))
    told = "; ".join(f"{_(_BECAME[state])}: {', '.join(names)}" for state, names in groups.items())
    return _("Since {day} {changes}.").format(day=since, changes=told)


_BECAME = {
    State.NEW: gettext_noop("not met"),
    State.PENCIL: gettext_noop("now in pencil"),
    State.INK: gettext_noop("now in ink"),
    State.FADED: gettext_noop("faded"),
}


def stage_sentence(stage: Stage) -> str:
    """Say how she read at a time: "from 3 March on: 2.1 s a note, 85% right"."""
    return _("From {day} on: {seconds} s a note, {percent} right.").format(
        day=day_of(stage.day), seconds=decimal(stage.seconds), percent=percent(stage.right)
    )


def secured_sentence(review: PupilReview) -> str:
    """Say how many notes are in ink, and which have surely become quicker."""
    told = ngettext(
        "{inked} of {count} note is in ink.", "{inked} of {count} notes are in ink.",
        len(review.notes), inked=review.count(State.INK),
    )  # fmt: skip
    quicker = [note.name for note in review.notes if note.trend and note.trend.slope < 0]
    if not quicker:
        return told
    return f"{told} " + _("Surely quicker: {notes}.").format(notes=", ".join(quicker))


def sessions_sentence(review: PupilReview) -> str:
    """Say how much was practised."""
    if not review.sessions:
        return _("No session yet.")
    latest = day(review.last_practised)
    if not review.sessions_lately:
        return ngettext(
            "{count} session, none in the last 14 days: this is how reading stood on {day}.",
            "{count} sessions, none in the last 14 days: this is how reading stood on {day}.",
            review.session_count, day=latest,
        )  # fmt: skip
    return ngettext(
        "{count} session, {lately} in the last 14 days, the latest on {day}.",
        "{count} sessions, {lately} in the last 14 days, the latest on {day}.",
        review.session_count, lately=review.sessions_lately, day=latest,
    )  # fmt: skip
