"""One pupil taught by one chooser over several sessions, and what came of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Protocol

from drills.cards.card import Card, Kind
from drills.learning.planner import Planner
from drills.learning.response import Response, State
from drills.simulation.benchmark.rivals import RIVALS, Rival
from drills.simulation.pupils import SimulatedPupil

BORN = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
PAUSE_LIMIT = 30.0
"""Seconds from which an answer is a pause and is not counted, as in the drill."""
FEEDBACK, CORRECTION = 1.5, 2.5
"""Seconds between cards, and more after a wrong key until the right one is played."""
WEEK = timedelta(days=7)
ORACLE, OURS = "oracle", "this program"


@dataclass(frozen=True)
class Plan:
    """How a course is run: sessions of `minutes`, at most `sessions` of them, 1 to 3 days apart."""

    minutes: float = 5.0
    sessions: int = 16


@dataclass(frozen=True)
class Course:
    """What came of one course.

    `cards`, `minutes` and `session` tell when all cards were first truly secured, None if never;
    `first` is the answer at which each card first was; `asked` and `spent` (minutes) count the
    whole course. `claims` has, for each session's end, the numbers of cards called secured, of
    those not truly so, of cards truly secured, and of those not called so (empty when the chooser
    makes no claims). `retained` is the mean probability of a fluent right answer a week after.
    """

    cards: int | None
    minutes: float | None
    session: int | None
    first: tuple[int | None, ...]
    asked: int
    spent: float
    claims: tuple[tuple[int, int, int, int], ...]
    settled: int | None
    retained: float
    success: float


class Chooser(Protocol):
    """What a course asks of any way of choosing cards."""

    def begin(self, now: datetime) -> None:
        """Begin a session."""

    def next(self, now: datetime) -> Card | None:
        """Give the next card, or None to end the session."""

    def record(self, response: Response) -> None:
        """Take in the first answer to a card."""

    def calls_secured(self, card: Card) -> bool | None:
        """Tell whether a card is held for secured; None without a view."""


class OursChooser:
    """This program's planner in a course."""

    def __init__(self, cards: Sequence[Card], seed: int, minutes: float) -> None:
        """Plan over `cards`."""
        self.planner = Planner(cards, seed=seed, minutes=minutes)
        self._now = BORN

    def begin(self, now: datetime) -> None:
        """Begin a session."""
        self._now = now

    def next(self, now: datetime) -> Card | None:
        """Give the next card."""
        self._now = now
        return self.planner.next(now)

    def record(self, response: Response) -> None:
        """Take in an answer."""
        self._now = response.at
        self.planner.record(response)

    def calls_secured(self, card: Card) -> bool:
        """Tell whether the card is inked."""
        return self.planner.standing(card, self._now).state is State.INK


class OracleChooser(Rival):
    """Sees the pupil's mind: the card not secured whose cold share one answer raises most.

    It ends the session when every card is secured.
    """

    def __init__(self, cards: Sequence[Card], pupil: SimulatedPupil) -> None:
        """Look into `pupil`."""
        super().__init__(cards)
        self._pupil = pupil

    def next(self, now: datetime) -> Card | None:
        """Give the next card, or None when all are secured."""
        if all(self._pupil.secured(card, now) for card in self.cards):
            return None
        return super().next(now)

    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose the largest gain among cards not secured."""
        missing = [card for card in free if not self._pupil.secured(card, now)]
        return max(missing or free, key=lambda card: self._pupil.gain(card, now))

    def calls_secured(self, card: Card) -> None:
        """Make no claims."""


def chooser(
    name: str, cards: Sequence[Card], pupil: SimulatedPupil, seed: int, plan: Plan
) -> Chooser:
    """Make a chooser by its name in the table."""
    if name == OURS:
        return OursChooser(cards, seed, plan.minutes)
    if name == ORACLE:
        return OracleChooser(cards, pupil)
    return RIVALS[name](cards, seed)


def run(
    teacher: Chooser, pupil: SimulatedPupil, cards: Sequence[Card], plan: Plan, seed: int
) -> Course:
    """Run a course. It ends early once all cards are truly secured and, if claimed at all, are
    called so at a session's end.
    """
    return _Run(teacher, pupil, cards, plan, seed).run()


class _Run:
    def __init__(
        self,
        teacher: Chooser,
        pupil: SimulatedPupil,
        cards: Sequence[Card],
        plan: Plan,
        seed: int,
    ) -> None:
        self._teacher, self._pupil, self._plan = teacher, pupil, plan
        self._notes = [card for card in cards if card.kind is not Kind.KEY]
        self._days = Random(f"days/{seed}")
        self._asked = self._right = 0
        self._seconds = 0.0
        self._first: dict[Card, int | None] = dict.fromkeys(self._notes)
        self._done: tuple[int, float, int] | None = None
        self._claims: list[tuple[int, int, int, int]] = []

    def run(self) -> Course:
        start = BORN
        settled = None
        for session in range(1, self._plan.sessions + 1):
            now = self._session(start, session)
            if self._claimed(now):
                settled = self._asked
            if self._done and (settled or not self._claims):
                break
            start += timedelta(days=self._days.randint(1, 3))
        later = [self._pupil.cold_share(card, now, WEEK) for card in self._notes]
        cards, minutes, session_done = self._done or (None, None, None)
        return Course(
            cards,
            minutes,
            session_done,
            tuple(self._first.values()),
            self._asked,
            self._seconds / 60,
            tuple(self._claims),
            settled,
            sum(later) / len(later),
            self._right / max(1, self._asked),
        )

    def _session(self, start: datetime, session: int) -> datetime:
        now = start
        end = start + timedelta(minutes=self._plan.minutes)
        self._teacher.begin(now)
        self._secured = {card: self._pupil.secured(card, now) for card in self._notes}
        self._note_done(session)
        while now < end:
            card = self._teacher.next(now)
            if card is None:
                break
            now = self._answer(card, now)
            if card in self._secured:
                self._secured[card] = self._pupil.secured(card, now)
                if self._secured[card] and self._first[card] is None:
                    self._first[card] = self._asked
                self._note_done(session)
        self._seconds += (now - start).total_seconds()
        return now

    def _answer(self, card: Card, now: datetime) -> datetime:
        reading = self._pupil.answer(card, now)
        correct = reading.key == card.key
        at = now + timedelta(seconds=reading.seconds)
        self._asked += 1
        self._right += correct
        if reading.seconds <= PAUSE_LIMIT:
            self._teacher.record(Response(card, at, reading.seconds, correct, reading.key))
        return at + timedelta(seconds=FEEDBACK + (0.0 if correct else CORRECTION))

    def _note_done(self, session: int) -> None:
        for card, secured in self._secured.items():
            if secured and self._first[card] is None:
                self._first[card] = self._asked
        if self._done is None and all(self._secured.values()):
            self._done = (self._asked, self._seconds / 60, session)

    def _claimed(self, now: datetime) -> bool:
        """Keep the claims at a session's end; tell whether all cards are called secured."""
        called = {card: self._teacher.calls_secured(card) for card in self._notes}
        if None in called.values():
            return False
        true = {card: self._pupil.secured(card, now) for card in self._notes}
        self._claims.append(
            (
                sum(map(bool, called.values())),
                sum(bool(called[card]) and not true[card] for card in self._notes),
                sum(true.values()),
                sum(true[card] and not called[card] for card in self._notes),
            )
        )
        return all(called.values())
