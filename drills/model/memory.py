"""What is remembered of one card: beliefs, counts, days, and the state a teacher sees."""

from __future__ import annotations

from bisect import insort
from collections import deque
from dataclasses import dataclass, field
from datetime import date, datetime

from drills.model import facts
from drills.model.knowledge import Belief
from drills.model.times import Pace
from drills.response import State

COLD_AFTER = 4 * 3600.0
"""Seconds since a card was last seen from which an answer counts as cold (prior, no source)."""
DAY = 86400.0
RECENT = 5


@dataclass(slots=True)
class Memory:
    """One card's record. Beliefs hold for the moment just after `last`."""

    belief: Belief
    pace: Pace
    last: datetime | None = None
    answers: int = 0
    right: int = 0
    right_times: list[float] = field(default_factory=list)
    fluent_days: list[date] = field(default_factory=list)
    cold_fluent: int = 0
    today_fluent: bool = False
    warmth: float = 0.0
    misses: int = 0
    inked: bool = False
    ever_inked: bool = False
    recent: deque[bool] = field(default_factory=lambda: deque(maxlen=RECENT))

    def count(self, at: datetime, seconds: float, correct: bool, fluent: bool, cold: bool) -> None:
        """Count one answer."""
        day = at.date()
        if self.last is None or self.last.date() != day:
            self.today_fluent = False
        self.answers += 1
        self.recent.append(fluent)
        self.today_fluent = fluent
        self.misses = 0 if correct else self.misses + 1
        if correct:
            self.right += 1
            insort(self.right_times, seconds)
        if fluent:
            self.cold_fluent += cold
            if day not in self.fluent_days[-2:]:
                self.fluent_days.append(day)
        self.last = at

    @property
    def learning(self) -> float:
        """The chance that an answer makes an unknown card known, less with each miss running.

        That is the mean of a beta distribution with the prior's mean and one success to begin
        with, after as many failures.
        """
        return 1 / (1 / facts.LEARN.value + self.misses)

    def lag(self, now: datetime) -> float | None:
        """Give the seconds since the card was last seen, None if it never was."""
        return None if self.last is None else max(0.0, (now - self.last).total_seconds())

    def retention(self, lag: float) -> float:
        """Give the expected share of what is known that `lag` seconds leave: a power law.

        Each further day with a fluent answer makes it hold longer.
        """
        exponent = facts.FORGET_EXPONENT.value / max(1, len(self.fluent_days)) ** 2
        return float((1 + lag / DAY) ** -exponent)

    def settle(self, p_secured: float) -> None:
        """Move the state after an answer. One odd answer cannot: ink needs two days with a
        fluent answer, fading needs two answers of the last five that were not.
        """
        if not self.inked:
            enough = len(self.fluent_days) >= facts.SECURED_DAYS.value and self.recent[-1]
            self.inked = enough and p_secured >= facts.INK_FROM.value
            self.ever_inked |= self.inked
        elif p_secured < facts.FADE_BELOW.value and list(self.recent).count(False) >= 2:
            self.inked = False

    def state(self, now: datetime) -> State:
        """Give the state at `now`."""
        lag = self.lag(now)
        if lag is None:
            return State.NEW
        if self.inked and self.retention(lag) >= facts.HOLDS.value:
            return State.INK
        return State.FADED if self.ever_inked else State.PENCIL
