"""The instances mind: every answer leaves an instance, and the quickest races the counting.

The instance theory of automatization (Logan 1988): each instance's retrieval time is Weibull, so
the quickest of N has the distribution 1 - exp(-N (t / a)^k), a power law of N; it races the
algorithm that was used before anything was known, here counting from the landmark (`Counting`).
The shape k, the scale a and the loss of instances (a share each night, the same for all) have no
source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp, log
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand, lognormal_within
from drills.simulation.pupils.mind import SLIP, MindOfSeparateCards, Reading, days_between
from drills.simulation.pupils.misreadings import misread
from drills.simulation.pupils.working_out import COUNTING_SPREAD, Counting

SHAPE = 2.0
SCALE_SECONDS = 3.2
KEPT_A_DAY = 0.97
SLICES = 24
ALGORITHM = Counting()


@dataclass(frozen=True)
class Instances:
    """How many instances are stored, and when the last was added."""

    number: float
    seen: datetime

    def at(self, when: datetime) -> float:
        """Return how many are left."""
        return float(self.number * KEPT_A_DAY ** days_between(self.seen, when))


class InstancesMind(MindOfSeparateCards[Instances]):
    """Numbers of instances a card."""

    def __init__(self, hand: Hand, random: Random, stored: float) -> None:
        """Start with no instance; `stored` is how many an answer leaves."""
        super().__init__(hand, random)
        self._stored = stored

    def remember(self, card: Card, number: float, seen: datetime) -> None:
        """Have so many instances of a card."""
        self._memories[card] = Instances(number, seen)

    def read(self, card: Card, now: datetime) -> Reading:
        """Answer by whichever is over first."""
        counted = ALGORITHM.answer(card, self.hand, self._random)
        number = self._number(self._memories.get(card), now)
        if not number:
            return counted
        chance = max(1e-12, self._random.random())
        seconds = SCALE_SECONDS * (-log(chance) / number) ** (1 / SHAPE)
        seconds += self.hand.sample(self._random)
        if counted.seconds < seconds:
            return counted
        slipped = self._random.random() < SLIP
        return Reading(misread(card, self._random) if slipped else card.key, seconds)

    def _practised(
        self, card: Card, memory: Instances | None, now: datetime, correct: bool
    ) -> Instances:
        return Instances(self._number(memory, now) + self._stored * self.ease(card), now)

    def _share(self, card: Card, memory: Instances | None, when: datetime) -> float:
        return raced_share(card, self._number(memory, when), self.spare_seconds)

    @staticmethod
    def _number(instances: Instances | None, when: datetime) -> float:
        return instances.at(when) if instances else 0.0


def raced_share(card: Card, instances: float, spare_seconds: float) -> float:
    """Return the probability that the race is won by a right answer within `spare_seconds`.

    Integrated in slices of time: retrieval is over in a slice while the count still goes on, or
    the count is while retrieval still does.
    """
    median, right = ALGORITHM.median_seconds(card), ALGORITHM.right_share(card)
    total = 0.0
    retrieving, counting = 1.0, 1.0
    for place in range(1, SLICES + 1):
        seconds = spare_seconds * place / SLICES
        later_retrieving = exp(-instances * (seconds / SCALE_SECONDS) ** SHAPE)
        later_counting = 1 - lognormal_within(seconds, median, COUNTING_SPREAD)
        over, counted = retrieving - later_retrieving, counting - later_counting
        total += (1 - SLIP) * over * (counting + later_counting) / 2
        total += right * counted * (retrieving + later_retrieving) / 2
        retrieving, counting = later_retrieving, later_counting
    return total


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> InstancesMind:
    """Return a mind that has instances of the `known` cards before it is born."""
    mind = InstancesMind(hand, random, random.uniform(0.7, 1.5))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.uniform(5, 30), last)
    return mind
