"""The review for a spreadsheet (CSV) and for programs (JSON)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from typing import Any

import msgspec

from drills.review.ladder import LadderReview
from drills.review.notes import NoteReview
from drills.review.pupil import PupilReview
from drills.review.statistics import Estimate

COLUMNS = (
    "pupil", "card", "note", "state", "p_secured", "median_seconds", "median_low", "median_high",
    "reading_seconds", "reading_low", "reading_high", "accuracy", "accuracy_low",
    "accuracy_high", "answers", "judged", "left_out", "trend_seconds_a_week", "last_seen",
    "usual_slip", "slip_count", "wrong",
)  # fmt: skip


def csv_of(reviews: Iterable[PupilReview]) -> str:
    """Return one line a note of every pupil, under a line of headings (RFC 4180)."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    for review in reviews:
        writer.writerows(_row(review.nickname, note) for note in review.notes)
    return text.getvalue()


def json_of(reviews: Iterable[PupilReview]) -> str:
    """Return all that the review tells of the pupils, as a list of objects."""
    return msgspec.json.format(
        msgspec.json.encode([_object(review) for review in reviews]), indent=1
    ).decode()


def _row(nickname: str, note: NoteReview) -> tuple[object, ...]:
    return (
        _plain(nickname), note.card.id, note.name, note.standing.state,
        round(note.standing.p_secured, 3),
        *_numbers(note.seconds), *_numbers(note.reading), *_numbers(note.accuracy),
        note.answers, note.judged, sum(note.left_out.values()),
        round(note.trend.slope, 3) if note.trend else None,
        note.last_seen.isoformat(timespec="seconds") if note.last_seen else None,
        note.slip.name if note.slip else None,
        note.slip.count if note.slip else None, note.slip.wrong if note.slip else None,
    )  # fmt: skip


def _plain(nickname: str) -> str:
    """Keep a nickname from being taken for a formula by a spreadsheet."""
    return f"'{nickname}" if nickname[:1] in "=+-@" else nickname


def _numbers(estimate: Estimate | None) -> tuple[float | None, ...]:
    if estimate is None:
        return None, None, None
    return tuple(
        None if number is None else round(number, 3)
        for number in (estimate.value, estimate.low, estimate.high)
    )


def _object(review: PupilReview) -> dict[str, Any]:
    return {
        "pupil": review.nickname,
        "now": review.now,
        "since": review.since,
        "sessions": review.session_count,
        "last_session": review.last_practised,
        "key_finding": review.key_finding,
        "next_step": review.next_step,
        "ladder": _ladder_object(review.ladder),
        "troubles": [
            {
                "trouble": str(trouble.trouble),
                "evidence": trouble.evidence,
                "advice": trouble.advice,
                "cards": [card.id for card in trouble.cards],
            }
            for trouble in review.troubles
        ],
        "changes": [
            {"card": change.card.id, "before": str(change.before), "after": str(change.after)}
            for change in review.changes
        ],
        "notes": [_note_object(note) for note in review.notes],
    }


def _ladder_object(ladder: LadderReview | None) -> dict[str, Any] | None:
    if ladder is None:
        return None
    return {"rung": ladder.stands.rung, "why": ladder.stands.why, "moves": ladder.moves}


def _note_object(note: NoteReview) -> dict[str, Any]:
    return {
        "card": note.card.id,
        "note": note.name,
        "state": str(note.standing.state),
        "p_secured": note.standing.p_secured,
        "why": note.standing.why,
        "seconds": note.seconds,
        "reading": note.reading,
        "accuracy": note.accuracy,
        "answers": note.answers,
        "judged": note.judged,
        "left_out": note.left_out,
        "trend": note.trend,
        "last_seen": note.last_seen,
        "slip": note.slip,
        "curve": note.curve,
    }
