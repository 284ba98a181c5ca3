"""One pupil taught by one chooser day after day, and what came of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from math import ceil
from random import Random

from drills.cards.card import Card, Kind
from drills.simulation.benchmark.practice import BORN, Chooser, Claims, Practice
from drills.simulation.pupils import SimulatedPupil
from drills.simulation.pupils.pupil import COLD

LATER_IN_THE_DAY = 3.0
"""A day's practice begins at most that many hours after the hour of birth."""
ENOUGH = 0.9
"""The share of cards that must be truly secured at once."""
RUN = 3
"""Wrong answers on end that make a run."""
AT_ONCE = timedelta(0)
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
        self._pupil, self._plan = pupil, plan
        self._notes = [card for card in cards if card.kind is not Kind.KEY]
        self._practice = Practice(teacher, pupil, self._notes)
        self._needed = ceil(ENOUGH * len(self._notes))
        self._hours = Random(f"days/{seed}")
        self._done: tuple[int, int] | None = None

    def run(self) -> Course:
        practice, plan = self._practice, self._plan
        claims = []
        for day in range(plan.days):
            hour = self._hours.uniform(0, LATER_IN_THE_DAY)
            start = BORN + timedelta(days=day, hours=hour)
            look = partial(self._note_done, day + 1)
            now = practice.practise(start, plan.minutes, plan.cards, look)
            claims.append(practice.claims(now, COLD))
            if self._done and plan.ends_when_secured:
                break
        away = [practice.claims(now + timedelta(weeks=weeks), AT_ONCE) for weeks in INK_WEEKS]
        cards, day_done = self._done or (None, None)
        answers = practice.answers
        return Course(
            cards,
            day_done,
            len(answers),
            practice.seconds / 60,
            sum(answers) / max(1, len(answers)),
            share_in_runs(answers),
            tuple(claim for claim in claims if claim),
            tuple(claim for claim in away if claim),
            tuple(self._retained(now, weeks) for weeks in RETENTION_WEEKS),
        )

    def _note_done(self, day: int, now: datetime) -> None:
        if self._done is None and self._enough(now):
            self._done = len(self._practice.answers), day

    def _enough(self, now: datetime) -> bool:
        """Return whether enough cards are truly secured, looking no further than needed."""
        missing = 0
        for card in self._notes:
            missing += not self._pupil.secured(card, now)
            if missing > len(self._notes) - self._needed:
                return False
        return True

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
