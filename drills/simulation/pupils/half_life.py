"""The half-life mind: memory halves in a time that practice doubles; what is lost is counted up.

Half-life regression (Settles and Meeder 2016): recall has probability 2^(-lag / h), where h is 2 to
a weighted sum of features, here the square roots of one more than the right and the wrong answers
so far, as in the paper; its bounds of h, 15 minutes and 274 days, are from memory of its program.
The weights, which the paper fits to its own lessons, have no source. A note that is not recalled is
counted up from the landmark (`Counting`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import log2, sqrt
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.mind import MindOfSeparateCards, Reading, days_between
from drills.simulation.pupils.working_out import Counting, Remembering, answer_by, share_by

SHORTEST, LONGEST = 15 / 60 / 24, 274.0
"""Bounds of a half-life in days."""
BIAS = -3.0
WRONG_WEIGHT = -0.3
KNOWN = Remembering(0.5)
UNKNOWN = Counting()


@dataclass(frozen=True)
class Answers:
    """How a card was answered so far, and when it was last seen."""

    right: int
    wrong: int
    seen: datetime


class HalfLifeMind(MindOfSeparateCards[Answers]):
    """Counts of right and wrong answers a card."""

    def __init__(self, hand: Hand, random: Random, right_weight: float) -> None:
        """Start with no card met; `right_weight` is the weight of right answers in log2 of days."""
        super().__init__(hand, random)
        self._right_weight = right_weight

    def remember(self, card: Card, right: int, seen: datetime) -> None:
        """Have a card answered right so many times before."""
        self._memories[card] = Answers(right, 0, seen)

    def read(self, card: Card, now: datetime) -> Reading:
        """Recall the key, or count it up."""
        recalled = self.recall(card, self._memories.get(card), now)
        return answer_by(recalled, KNOWN, UNKNOWN, card, self.hand, self._random)

    def half_life(self, card: Card, answers: Answers) -> float:
        """Return the days in which recall halves."""
        exponent = (
            BIAS
            + log2(self.ease(card))
            + self._right_weight * sqrt(1 + answers.right)
            + WRONG_WEIGHT * sqrt(1 + answers.wrong)
        )
        return float(min(LONGEST, max(SHORTEST, 2**exponent)))

    def recall(self, card: Card, answers: Answers | None, when: datetime) -> float:
        """Return the probability of recall."""
        if answers is None:
            return 0.0
        return float(2 ** (-days_between(answers.seen, when) / self.half_life(card, answers)))

    def _practised(
        self, card: Card, memory: Answers | None, now: datetime, correct: bool
    ) -> Answers:
        before = memory or Answers(0, 0, now)
        return Answers(before.right + correct, before.wrong + (not correct), now)

    def _share(self, card: Card, memory: Answers | None, when: datetime) -> float:
        recalled = self.recall(card, memory, when)
        return share_by(recalled, KNOWN, UNKNOWN, card, self.spare_seconds)


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> HalfLifeMind:
    """Return a mind that has met the `known` cards before it is born."""
    mind = HalfLifeMind(hand, random, random.uniform(1.4, 2.0))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.randint(3, 25), last)
    return mind
