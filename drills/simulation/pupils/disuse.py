"""The disuse mind: storage strength that only grows, retrieval strength that falls.

The new theory of disuse (Bjork and Bjork 1992): storage strength is never lost and slows the loss
of retrieval strength; an answer adds the less to storage the higher retrieval is when it is given,
and raises retrieval the more the higher storage is. The theory is stated in words; these equations
and all values are this program's: retrieval r falls as 1 / (1 + t / (D (1 + s)^3)), an answer adds
A (1 - r) / (1 + E s) to s and takes r a share B + (1 - B) s / (1 + s) of the way to 1. Recall is
logistic in r and quicker the higher r. What is not recalled is counted up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.mind import MindOfSeparateCards, Reading, days_between
from drills.simulation.pupils.working_out import Counting, Remembering, answer_by, share_by

DECAY_DAYS = 0.2
STORED = 0.45
SATURATION = 0.05
REGAINED = 0.4
THRESHOLD, SHARPNESS = 0.4, 14.0
SECONDS, SLOWING = 0.32, 2.0
"""Median seconds of recall at full retrieval, and how its logarithm grows as retrieval falls."""
UNKNOWN = Counting()


@dataclass(frozen=True)
class Strengths:
    """Storage, and retrieval at a moment."""

    storage: float
    retrieval: float
    seen: datetime

    def retrieval_at(self, when: datetime) -> float:
        """Return what is left of retrieval strength."""
        days = days_between(self.seen, when)
        return self.retrieval / (1 + days / (DECAY_DAYS * (1 + self.storage) ** 3))


class DisuseMind(MindOfSeparateCards[Strengths]):
    """Two strengths a card."""

    def __init__(self, hand: Hand, random: Random, stored: float) -> None:
        """Start with no card met; `stored` scales what an answer adds to storage."""
        super().__init__(hand, random)
        self._stored = stored * STORED

    def remember(self, card: Card, storage: float, seen: datetime) -> None:
        """Have a card stored."""
        self._memories[card] = Strengths(storage, 1.0, seen)

    def read(self, card: Card, now: datetime) -> Reading:
        """Recall the key, or count it up."""
        retrieval = self._retrieval(self._memories.get(card), now)
        known = _known(retrieval)
        return answer_by(_recall(retrieval), known, UNKNOWN, card, self.hand, self._random)

    def _practised(
        self, card: Card, memory: Strengths | None, now: datetime, correct: bool
    ) -> Strengths:
        storage = memory.storage if memory else 0.0
        retrieval = self._retrieval(memory, now)
        gained = self._stored * self.ease(card) * (1 - retrieval) / (1 + SATURATION * storage)
        regained = REGAINED + (1 - REGAINED) * storage / (1 + storage)
        return Strengths(storage + gained, retrieval + regained * (1 - retrieval), now)

    def _share(self, card: Card, memory: Strengths | None, when: datetime) -> float:
        retrieval = self._retrieval(memory, when)
        known = _known(retrieval)
        return share_by(_recall(retrieval), known, UNKNOWN, card, self.spare_seconds)

    @staticmethod
    def _retrieval(strengths: Strengths | None, when: datetime) -> float:
        return strengths.retrieval_at(when) if strengths else 0.0


def _recall(retrieval: float) -> float:
    return 1 / (1 + exp(-SHARPNESS * (retrieval - THRESHOLD)))


def _known(retrieval: float) -> Remembering:
    return Remembering(SECONDS * exp(SLOWING * (1 - retrieval)))


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> DisuseMind:
    """Return a mind that has stored the `known` cards before it is born."""
    mind = DisuseMind(hand, random, random.uniform(0.7, 1.4))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.uniform(2, 12), last)
    return mind
