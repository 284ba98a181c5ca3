"""One pupil taught by one chooser day after day, and what came of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import ceil
from random import Random
from typing import Protocol

from drills.cards.card import Card, Kind
from drills.learning.response import Response, Standing, State
from drills.simulation.pupils import SimulatedPupil

BORN = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
LATER_IN_THE_DAY = 3.0
"""A day's practice begins at most that many hours after the hour of birth."""
PAUSE_LIMIT = 30.0
"""Seconds from which an answer is a pause and is not counted, as in the drill."""
FEEDBACK, CORRECTION = 1.5, 2.5
"""Seconds between cards, and more after a wrong key until the right one is played."""
ENOUGH = 0.9
"""The share of cards that must be truly secured at once."""
RUN = 3
"""Wrong answers on end that make a run."""
RETENTION_WEEKS, INK_WEEKS = (1, 4, 8), (4, 8)
"""Weeks after the last practice when what is kept, and what the ink says, is looked at."""


@dataclass(frozen=True)
class Plan:
    """How a course is run: each day at most `minutes` and, if given, at most `cards`.

    It lasts `days`, or ends earlier with the day on which enough cards were first truly secured.
    """

    minutes: float
    days: int
    cards: int | None = None
    ends_when_secured: bool = False

    @property
    def cap(self) -> int:
        """What a course in which the cards were never secured counts for, in cards."""
        return (self.cards or 60) * self.days


TO_SECURED = Plan(minutes=30, days=40, cards=40, ends_when_secured=True)
EQUAL_MINUTES = Plan(minutes=5, days=21)


@dataclass(frozen=True)
class Claims:
    """At one moment, numbers of cards: called secured, of those not so, truly so, of those not
    called so.
    """

    called: int
    false: int
    true: int
    unnamed: int


@dataclass(frozen=True)
class Course:
    """What came of one course.

    `cards` and `day` tell when enough cards were first truly secured, None if never; `asked`,
    `spent` (minutes), `right` (share) and `in_runs` (the share of answers that stand in a run of
    wrong ones) count the whole course. `claims` were made at each day's end, `claims_away` after
    weeks without practice (both empty when the chooser makes none). `retained` is the mean
    probability of a fluent right answer after weeks without practice.
    """

    cards: int | None
    day: int | None
    asked: int
    spent: float
    right: float
    in_runs: float
    claims: tuple[Claims, ...]
    claims_away: tuple[Claims, ...]
    retained: tuple[float, ...]


class Chooser(Protocol):
    """What a course asks of any way of choosing cards."""

    def next(self, now: datetime) -> Card | None:
        """Return the next card, or None to end the day's practice."""

    def record(self, response: Response) -> None:
        """Take in the first answer to a card."""

    def standing(self, card: Card, now: datetime) -> Standing | None:
        """Return what is held of a card; None without a view."""


def run(
    teacher: Chooser, pupil: SimulatedPupil, cards: Sequence[Card], plan: Plan, seed: int
) -> Course:
    """Return what comes of a course. The seed sets the hours of practice."""
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
        self._needed = ceil(ENOUGH * len(self._notes))
        self._hours = Random(f"days/{seed}")
        self._answers: list[bool] = []
        self._seconds = 0.0
        self._done: tuple[int, int] | None = None

    def run(self) -> Course:
        claims = []
        for day in range(self._plan.days):
            hour = self._hours.uniform(0, LATER_IN_THE_DAY)
            now = self._practise(BORN + timedelta(days=day, hours=hour), day + 1)
            claims.append(self._claims(now, timedelta(days=1)))
            if self._done and self._plan.ends_when_secured:
                break
        away = [self._claims_away(now, weeks) for weeks in INK_WEEKS]
        cards, day_done = self._done or (None, None)
        return Course(
            cards,
            day_done,
            len(self._answers),
            self._seconds / 60,
            sum(self._answers) / max(1, len(self._answers)),
            share_in_runs(self._answers),
            tuple(claim for claim in claims if claim),
            tuple(claim for claim in away if claim),
            tuple(self._retained(now, weeks) for weeks in RETENTION_WEEKS),
        )

    def _practise(self, start: datetime, day: int) -> datetime:
        now, asked = start, 0
        end = start + timedelta(minutes=self._plan.minutes)
        while now < end and (self._plan.cards is None or asked < self._plan.cards):
            card = self._teacher.next(now)
            if card is None:
                break
            now = self._answer(card, now)
            asked += 1
            self._note_done(now, day)
        self._seconds += (now - start).total_seconds()
        return now

    def _answer(self, card: Card, now: datetime) -> datetime:
        reading = self._pupil.answer(card, now)
        correct = reading.key == card.key
        at = now + timedelta(seconds=reading.seconds)
        self._answers.append(correct)
        if reading.seconds <= PAUSE_LIMIT:
            self._teacher.record(Response(card, at, reading.seconds, correct, reading.key))
        return at + timedelta(seconds=FEEDBACK + (0.0 if correct else CORRECTION))

    def _note_done(self, now: datetime, day: int) -> None:
        if self._done is None and self._enough(now):
            self._done = len(self._answers), day

    def _enough(self, now: datetime) -> bool:
        """Return whether enough cards are truly secured, looking no further than needed."""
        missing = 0
        for card in self._notes:
            missing += not self._pupil.secured(card, now)
            if missing > len(self._notes) - self._needed:
                return False
        return True

    def _claims(self, now: datetime, after: timedelta) -> Claims | None:
        """Return what is called secured at `now`, held against a cold answer so much later."""
        standings = {card: self._teacher.standing(card, now) for card in self._notes}
        if None in standings.values():
            return None
        pairs = [
            (standing is not None and standing.state is State.INK,
             self._pupil.secured(card, now, after))
            for card, standing in standings.items()
        ]  # fmt: skip
        return Claims(
            called=sum(called for called, _ in pairs),
            false=sum(called and not true for called, true in pairs),
            true=sum(true for _, true in pairs),
            unnamed=sum(true and not called for called, true in pairs),
        )

    def _claims_away(self, now: datetime, weeks: int) -> Claims | None:
        return self._claims(now + timedelta(weeks=weeks), timedelta(0))

    def _retained(self, now: datetime, weeks: int) -> float:
        later = timedelta(weeks=weeks)
        shares = [self._pupil.cold_share(card, now, later) for card in self._notes]
        return sum(shares) / len(shares)


def share_in_runs(right: Sequence[bool]) -> float:
    """Return the share of answers that stand in a run of three or more wrong ones.

    >>> share_in_runs([True, False, False, False, True, False, False, True])
    0.375
    """
    in_runs = length = 0
    for correct in (*right, True):
        if correct:
            in_runs += length if length >= RUN else 0
            length = 0
        else:
            length += 1
    return in_runs / len(right) if right else 0.0
