"""The windows mind: what was right in the last hour, day, week, month and ever adds up.

DASH (Lindsey, Shroyer, Pashler and Mozer 2014): a right answer has the logistic probability of
ability - difficulty + sum over time windows of theta log(1 + c) - phi log(1 + n), c the right
answers and n all answers in the window; the windows are those of the paper (1/24, 1, 7, 30 days and
ever, from memory). The weights, which the paper fits to its pupils, have no source, nor has the
time, whose logarithm falls with the same sum. A wrong answer is one of the table of misreadings.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from math import exp, inf, log
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand, lognormal_within
from drills.simulation.pupils.mind import SLIP, MindOfSeparateCards, Reading, days_between
from drills.simulation.pupils.misreadings import misread

WINDOWS = ((1 / 24, 0.5, 0.1), (1.0, 0.3, 0.1), (7.0, 0.9, 0.2), (30.0, 0.8, 0.1), (inf, 0.9, 0.1))
"""Length in days, theta, phi."""
NEW = -1.1
"""Ability less difficulty of a usual pupil and card."""
SECONDS, QUICKENING, TIME_SPREAD = 1.5, 0.3, 0.4

History = tuple[tuple[datetime, bool], ...]
"""When a card was answered, and whether right; oldest first."""


class WindowsMind(MindOfSeparateCards[History]):
    """Every answer's moment, per card."""

    def __init__(self, hand: Hand, random: Random, ability: float) -> None:
        """Start with no card met; `ability` is added for every card."""
        super().__init__(hand, random)
        self._ability = ability

    def remember(self, card: Card, answers: int, seen: datetime) -> None:
        """Have a card answered right so many times before, a day apart."""
        days = reversed(range(answers))
        self._memories[card] = tuple((seen - timedelta(days=day), True) for day in days)

    def read(self, card: Card, now: datetime) -> Reading:
        """Answer by the windows."""
        logit = self.logit(card, self._memories.get(card), now)
        median = recall_seconds(logit)
        seconds = self.hand.sample(self._random) + median * exp(self._random.gauss(0, TIME_SPREAD))
        right = self._random.random() < _right(logit)
        return Reading(card.key if right else misread(card, self._random), seconds)

    def logit(self, card: Card, history: History | None, when: datetime) -> float:
        """Return the log odds of a right answer."""
        total = NEW + self._ability + log(self.ease(card))
        lags = [(days_between(then, when), right) for then, right in history or ()]
        for length, theta, phi in WINDOWS:
            within = [right for lag, right in lags if lag < length]
            total += theta * log(1 + sum(within)) - phi * log(1 + len(within))
        return total

    def _practised(
        self, card: Card, memory: History | None, now: datetime, correct: bool
    ) -> History:
        return (*(memory or ()), (now, correct))

    def _share(self, card: Card, memory: History | None, when: datetime) -> float:
        logit = self.logit(card, memory, when)
        return _right(logit) * lognormal_within(
            self.spare_seconds, recall_seconds(logit), TIME_SPREAD
        )


def recall_seconds(logit: float) -> float:
    """Return the median seconds beyond the hand's."""
    return SECONDS * exp(-QUICKENING * logit)


def _right(logit: float) -> float:
    return (1 - SLIP) / (1 + exp(-logit))


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> WindowsMind:
    """Return a mind that has answered the `known` cards before it is born."""
    mind = WindowsMind(hand, random, random.uniform(-0.4, 0.8))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.randint(3, 15), last)
    return mind
