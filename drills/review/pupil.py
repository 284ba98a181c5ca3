"""The review of one pupil: every note, the troubles, what changed and what to do next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from drills.cards.card import Card, Kind, cards_of
from drills.learning.fluency import USUAL, Fluency
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import (
    NOTHING,
    PriorKnowledge,
    prior_knowledge_of,
)
from drills.learning.response import Response, Standing, State
from drills.learning.standings import standings_over
from drills.review.absence import has_just_begun
from drills.review.collect import PupilRecord, SessionSummary
from drills.review.findings import find_troubles
from drills.review.ladder import LadderReview, ladder_review
from drills.review.next_step import next_step, places_left_out
from drills.review.notes import NoteReview, note_reviews
from drills.review.statistics import Estimate, median_of
from drills.review.trouble import Finding
from landmarks.sets import DEFAULT_SET, LandmarkSet, built_in_sets
from landmarks.translation import _

SINCE_LESSON = timedelta(days=7)
"""How far back the last lesson lies when nothing tells of it: lessons are weekly."""
LONGEST_HOLIDAY = timedelta(weeks=6)
"""A warm-up longer ago than this does not tell when the last lesson was."""
LATELY = timedelta(days=14)


@dataclass(frozen=True)
class Change:
    """A note whose state is not what it was."""

    card: Card
    before: State
    after: State


@dataclass(frozen=True)
class PupilReview:
    """All that is told of one pupil at `now`, an aware datetime.

    `key_finding` is the time to press a key that is shown, None before it was measured;
    `fluent_seconds` is how quick is fluent.
    `sessions` are the latest ones, oldest first; `changes` are those since `since`. `ladder` is
    None for a pupil who practises without one. `just_begun` tells that all sessions are of the last
    week.
    """

    nickname: str
    now: datetime
    since: datetime
    notes: tuple[NoteReview, ...]
    key_finding: Estimate | None
    fluent_seconds: float
    sessions: tuple[SessionSummary, ...]
    session_count: int
    troubles: tuple[Finding, ...]
    changes: tuple[Change, ...]
    next_step: str
    unreadable: tuple[str, ...]
    later: int
    """Sessions dated later than the review, which are left out."""
    ladder: LadderReview | None = None
    just_begun: bool = False

    @property
    def verdict(self) -> str:
        """What is said of the pupil in a few words: her first trouble, if the answers show one."""
        if self.troubles:
            return _(self.troubles[0].trouble)
        if not self.session_count:
            return _("not begun yet")
        if self.just_begun:
            return _("just begun, too early to say")
        return _("no trouble that the answers show")

    @property
    def states(self) -> frozenset[State]:
        """The states in which there is a note."""
        return frozenset(note.standing.state for note in self.notes)

    def count(self, state: State) -> int:
        """Count the notes in a state."""
        return sum(note.standing.state is state for note in self.notes)

    @property
    def sessions_lately(self) -> int:
        """How many sessions began in the last 14 days."""
        return sum(self.now - LATELY <= session.started <= self.now for session in self.sessions)

    @property
    def last_practised(self) -> datetime | None:
        """When the latest session began."""
        return self.sessions[-1].started if self.sessions else None


def review_pupil(
    record: PupilRecord,
    now: datetime,
    since: datetime | None = None,
    fluency: Fluency = USUAL,
    beginnings: Observations | None = None,
    landmarks: LandmarkSet | None = None,
) -> PupilReview:
    """Review a pupil at `now`; `since` is the last lesson.

    Unless given, that is the last warm-up before today, or a week ago if there was none lately.
    `beginnings` is what is set down of what she brings, if anything is; `landmarks` the set of her
    settings, which holds unless the latest session was about another built-in one.
    """
    since = since or _last_lesson(record.sessions, now)
    cards = _cards(record, landmarks)
    seen = beginnings.until(now) if beginnings is not None else None
    brings = prior_knowledge_of(seen) if seen is not None else NOTHING
    before, standings = _standings(cards, _responses(record), (since, now), fluency, brings)
    key_seconds = [
        answer.seconds
        for found in record.cards
        if found.card.kind is Kind.KEY
        for answer in found.latest
        if answer.right
    ]
    notes = note_reviews(record.cards, standings, key_seconds)
    key_finding = median_of(key_seconds) if key_seconds else None
    fluent = fluency.seconds(key_finding.value if key_finding else None)
    troubles = find_troubles(record, notes, key_seconds, now, fluent)
    ladder = ladder_review(record.stood, seen, brings)
    return PupilReview(
        nickname=record.nickname,
        now=now,
        since=since,
        notes=notes,
        key_finding=key_finding,
        fluent_seconds=fluent,
        sessions=record.sessions,
        session_count=record.session_count,
        troubles=troubles,
        changes=tuple(_changes(notes, before)),
        next_step=next_step(troubles, notes, ladder, places_left_out(cards)),
        unreadable=record.unreadable,
        later=record.later,
        ladder=ladder,
        just_begun=has_just_begun(record, now),
    )


def _last_lesson(sessions: Iterable[SessionSummary], now: datetime) -> datetime:
    """Return when the last lesson was: a warm-up on an earlier day, for today's may be this one."""
    today = now.date()
    warm_ups = [
        session.started
        for session in sessions
        if session.use == "warm-up"
        and now - LONGEST_HOLIDAY <= session.started
        and session.started.astimezone(now.tzinfo).date() < today
    ]
    return max(warm_ups, default=now - SINCE_LESSON)


def _cards(record: PupilRecord, landmarks: LandmarkSet | None) -> tuple[Card, ...]:
    """Return the cards of the pupil's landmark set, then those met beyond it."""
    sets = built_in_sets()
    usual = sets[DEFAULT_SET] if landmarks is None else landmarks
    practised = record.landmarks or usual.name
    of_set = cards_of(usual if practised == usual.name else sets.get(practised, usual))
    met = (found.card for found in record.cards if found.card.kind is not Kind.CONTOUR)
    return tuple(dict.fromkeys((*of_set, *met)))


def _responses(record: PupilRecord) -> list[Response]:
    """Return the latest answers of all cards, oldest first."""
    responses = [
        Response(found.card, answer.at, answer.seconds, answer.right, answer.played)
        for found in record.cards
        for answer in found.latest
    ]
    responses.sort(key=lambda response: response.at)
    return responses


def _standings(
    cards: Sequence[Card],
    responses: Sequence[Response],
    moments: Sequence[datetime],
    fluency: Fluency,
    brings: PriorKnowledge,
) -> list[dict[Card, Standing]]:
    """Return the standing of every card at each of several moments, the earliest first."""
    every = standings_over(
        cards, responses, moments, fluency=fluency, prior_knowledge=brings.odds(cards)
    )
    return [
        {card: standing for card, standing in each.items() if card.kind is not Kind.KEY}
        for each in every
    ]


def _changes(notes: Iterable[NoteReview], before: dict[Card, Standing]) -> Iterator[Change]:
    for note in notes:
        earlier, state = before[note.card].state, note.standing.state
        if earlier is not state:
            yield Change(note.card, earlier, state)
