"""What is told of each note: how surely and quickly it is read, and how it is misread."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from statistics import median

from drills.cards.card import READING_KINDS, Card, Kind
from drills.learning.counted_window import counted_window, is_trouble
from drills.learning.response import Standing, State
from drills.review.collect import LATEST_ANSWERS, CardRecord, GivenAnswer
from drills.review.statistics import (
    Estimate,
    Trend,
    median_difference,
    median_of,
    share_of,
    significant,
    trend_of,
    widen,
)
from landmarks.answer import Verdict, spelled_beside
from landmarks.names import landmark_name, name_with_clef, spoken_naming
from landmarks.stave import grand_stave_clef

FEWEST_SESSIONS_FOR_A_CURVE = 5
_FIRST_KINDS = (Kind.LANDMARK, Kind.STEP, Kind.PIECE)


@dataclass(frozen=True)
class Slip:
    """The wrong key that comes most often: what it means, how often, of how many wrong ones."""

    played: int
    name: str
    verdict: Verdict
    count: int
    wrong: int


@dataclass(frozen=True)
class CurvePoint:
    """The median of a note's right answers in one session, in seconds."""

    session: datetime
    seconds: float


@dataclass(frozen=True)
class NoteReview:
    """One note in one clef, over its latest counted answers, which are the `window`.

    Whatever a page says about the note in percent rests on this window. `seconds` and `reading`
    are over right answers only; `reading` is what remains of the time without the pupil's
    key-finding time; their intervals hold what the clock of the keys leaves in doubt. `curve` and
    `trend` go further back; the trend is in seconds a week, and None unless the answers carry it.
    `answers` counts all sessions.
    """

    card: Card
    standing: Standing
    seconds: Estimate | None
    reading: Estimate | None
    accuracy: Estimate | None
    answers: int
    window: tuple[GivenAnswer, ...]
    left_out: Mapping[str, int]
    slip: Slip | None
    curve: tuple[CurvePoint, ...]
    trend: Trend | None
    last_seen: datetime | None

    @property
    def judged(self) -> int:
        """How many answers the figures rest on."""
        return len(self.window)

    @property
    def is_secured(self) -> bool:
        """Whether it is drawn in ink."""
        return self.standing.state is State.INK

    @property
    def name(self) -> str:
        """The note as a teacher says it."""
        return note_name(self.card)


def note_name(card: Card) -> str:
    """Name the note of a card; middle C with its clef, as it is a note of both."""
    return name_with_clef(card.target, card.clef, spoken_naming())


def note_reviews(
    records: Iterable[CardRecord],
    standings: Mapping[Card, Standing],
    key_seconds: Sequence[float],
) -> tuple[NoteReview, ...]:
    """Review every note that has a standing, from the lowest to the highest, bass clef first.

    `key_seconds` are the pupil's times to find a key that is shown. Cards that show the same
    place of the same stave are one note, told by its landmark card where there is one; by another
    if only that was met, as after a change of the landmark set.
    """
    places: dict[tuple[str, int], list[Card]] = defaultdict(list)
    for card in standings:
        if card.kind in READING_KINDS:
            places[card.clef.name, card.key].append(card)
    by_card = {record.card: record for record in records}
    notes = []
    for cards in places.values():
        met = [card for card in cards if standings[card].state is not State.NEW]
        first = min(met or cards, key=lambda card: _FIRST_KINDS.index(card.kind))
        found = [by_card[card] for card in cards if card in by_card]
        notes.append(_note(first, found, standings[first], key_seconds))
    notes.sort(key=lambda note: (note.card.clef.name, note.card.target))
    return _with_carried_trends(notes)


def latest_of(records: Iterable[CardRecord]) -> tuple[GivenAnswer, ...]:
    """Return the latest answers of several cards together, oldest first."""
    answers = sorted(
        (answer for record in records for answer in record.latest), key=lambda answer: answer.at
    )
    return tuple(answers[-LATEST_ANSWERS:])


def _note(
    card: Card, records: Sequence[CardRecord], standing: Standing, key_seconds: Sequence[float]
) -> NoteReview:
    kept = latest_of(records)
    answers = tuple(counted_window(kept))
    right = [answer.seconds for answer in answers if answer.right]
    doubt = max((answer.doubt for answer in answers), default=0.0)
    left_out: Counter[str] = Counter()
    for record in records:
        left_out.update(record.left_out)
    curve = _curve(kept)
    return NoteReview(
        card=card,
        standing=_as_counted(standing, answers),
        seconds=widen(median_of(right), doubt) if right else None,
        # Both of its times may be wrong.
        reading=widen(median_difference(key_seconds, right), 2 * doubt)
        if right and key_seconds
        else None,
        accuracy=share_of(len(right), len(answers)) if answers else None,
        answers=sum(record.counted for record in records),
        window=answers,
        left_out=dict(left_out),
        slip=_usual_slip(card, answers),
        curve=curve,
        trend=_trend(curve),
        last_seen=answers[-1].at if answers else None,
    )


def _as_counted(standing: Standing, answers: Sequence[GivenAnswer]) -> Standing:
    """Return a standing whose ink the answers that the page counts do not deny.

    They are those of all cards that show the note, where the planner looks at one.
    """
    if standing.state is State.INK and is_trouble([answer.right for answer in answers]):
        return replace(standing, state=State.PENCIL)
    return standing


def _usual_slip(card: Card, answers: Iterable[GivenAnswer]) -> Slip | None:
    """Return the wrong key that came most often, at least twice; of equals the latest."""
    wrong = [answer for answer in answers if not answer.right]
    counts = Counter(answer.played for answer in reversed(wrong))
    if not counts or counts.most_common(1)[0][1] < 2:
        return None
    played, count = counts.most_common(1)[0]
    verdict = next(answer.verdict for answer in wrong if answer.played == played)
    pitch = spelled_beside(card.target, played)
    name = landmark_name(pitch, grand_stave_clef(pitch), spoken_naming())
    return Slip(played, name, verdict, count, len(wrong))


def _curve(answers: Iterable[GivenAnswer]) -> tuple[CurvePoint, ...]:
    sessions: dict[datetime, list[float]] = defaultdict(list)
    for answer in answers:
        if answer.right:
            sessions[answer.session].append(answer.seconds)
    return tuple(CurvePoint(session, median(times)) for session, times in sessions.items())


def _trend(curve: Sequence[CurvePoint]) -> Trend | None:
    if len(curve) < FEWEST_SESSIONS_FOR_A_CURVE:
        return None
    weeks = [(point.session - curve[0].session).total_seconds() / 604_800 for point in curve]
    return trend_of(weeks, [point.seconds for point in curve])


def _with_carried_trends(notes: Sequence[NoteReview]) -> tuple[NoteReview, ...]:
    """Keep the trends of which at most one in twenty may be chance, over all notes together."""
    told = iter(significant([note.trend.p for note in notes if note.trend]))
    return tuple(
        note if note.trend is None or next(told) else replace(note, trend=None) for note in notes
    )
