"""What is remembered of one card: beliefs, counts, days, and the state a teacher sees."""

from __future__ import annotations

from bisect import insort
from collections import deque
from dataclasses import dataclass, field
from datetime import date, datetime

from drills.learning import facts
from drills.learning.model.belief import Belief
from drills.learning.model.times import Pace
from drills.learning.response import State

COLD_AFTER = 4 * 3600.0
"""Seconds since a card was last seen from which an answer counts as cold (prior, no source)."""
DAY = 86400.0
RECENT = 5
RECORD, RECORD_MISSES = 10, 2
"""A card is not inked while more than two of its latest ten answers were wrong: nine in ten
right give that in 7 of 100 records, four in ten in 99 (binomial distribution)."""


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
    warmth: float = 0.0
    misses: int = 0
    inked: bool = False
    ever_inked: bool = False
    last_fluent: bool = False
    recent: deque[bool] = field(default_factory=lambda: deque(maxlen=RECENT))
    record: deque[bool] = field(default_factory=lambda: deque(maxlen=RECORD))
    """Whether each of the latest answers was right, however slow."""

    def count(self, at: datetime, seconds: float, correct: bool, fluent: bool) -> None:
        """Count one answer."""
        day = at.date()
        self.answers += 1
        self.recent.append(fluent)
        self.record.append(correct)
        self.last_fluent = fluent
        self.misses = 0 if correct else self.misses + 1
        if correct:
            self.right += 1
            insort(self.right_times, seconds)
        if fluent and day not in self.fluent_days[-2:]:
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

    def seasoned(self, probability: float) -> float:
        """Give a probability of being secured with its odds raised by many fluent days."""
        grown: float = (len(self.fluent_days) / facts.SEASONED.value) ** facts.SEASONING.value
        odds = probability * min(facts.MOST_SEASONING.value, max(1.0, grown))
        return odds / (odds + 1 - probability)

    @property
    def may_turn(self) -> bool:
        """Whether the answers allow the state to change, if the probability agrees.

        One odd answer cannot do it: ink needs fluent answers on two days, fading two answers that
        were not fluent; of the last five, and since the state last changed.
        """
        if self.inked:
            return self.recent.count(False) >= 2
        days = len(self.fluent_days) >= facts.SECURED_DAYS.value
        return days and self.last_fluent and self.recent.count(True) >= 2

    def settle(self, p_secured: float) -> None:
        """Change the state, which may turn, if the probability of being secured says so."""
        if self.inked:
            turns = p_secured < facts.FADE_BELOW.value
        else:
            carried = self.record.count(False) <= RECORD_MISSES
            turns = carried and p_secured >= facts.INK_FROM.value
        if turns:
            self.inked = not self.inked
            self.ever_inked = True
            self.recent.clear()

    def state(self, now: datetime) -> State:
        """Give the state at `now`."""
        lag = self.lag(now)
        if lag is None:
            return State.NEW
        held = facts.HOLDS.value * len(self.fluent_days) * DAY
        if self.inked and lag <= held:
            return State.INK
        return State.FADED if self.ever_inked else State.PENCIL
