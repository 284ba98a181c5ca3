"""What every simulated mind can be asked."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from datetime import datetime
from math import exp
from random import Random
from typing import Generic, TypeVar

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand

CARD_SPREAD = 0.35
"""Standard deviation of the logarithm of how easily cards are learnt (no source)."""
SLIP = 0.015
"""Share of known keys that the finger misses (prior, no source)."""
DAY = 86400.0


@dataclass(frozen=True)
class Reading:
    """How an attentive mind answered: the key number it means, and the seconds it took."""

    key: int
    seconds: float


class Mind(ABC):
    """A mind that reads cards and learns from the answer it is then shown."""

    def __init__(self, hand: Hand, random: Random) -> None:
        """Start with a hand; `random` is the mind's own source of chance."""
        self.hand = hand
        self._random = random
        self._ease: dict[Card, float] = {}

    @property
    def spare_seconds(self) -> float:
        """What the hand leaves of the fluent time for the mind."""
        return self.hand.fluent_seconds - self.hand.key_seconds

    def ease(self, card: Card) -> float:
        """Return how easily a card is learnt by this mind, around 1."""
        if card not in self._ease:
            own = Random(f"{card.id}/{self.hand.key_seconds}")
            self._ease[card] = exp(own.gauss(0, CARD_SPREAD))
        return self._ease[card]

    @abstractmethod
    def read(self, card: Card, now: datetime) -> Reading:
        """Answer a card attentively, without learning from it yet."""

    @abstractmethod
    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Learn from the card's right key, which the pupil has now heard and seen."""

    @abstractmethod
    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the probability of a right answer in fluent time at `when`, attentive."""

    @abstractmethod
    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return by how much one answer now is expected to raise the fluent share at `when`."""


Memory = TypeVar("Memory")


class MindOfSeparateCards(Mind, Generic[Memory]):
    """A mind that keeps one memory a card, which only that card's practice changes."""

    def __init__(self, hand: Hand, random: Random) -> None:
        """Start with no card met."""
        super().__init__(hand, random)
        self._memories: dict[Card, Memory] = {}

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Put the practised memory in the place of the one before."""
        memory = self._memories.get(card)
        self._memories[card] = self._practised(card, memory, now, correct)

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the probability of a right answer in fluent time."""
        return self._share(card, self._memories.get(card), when)

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the rise of the fluent share by one more right answer."""
        memory = self._memories.get(card)
        after = self._practised(card, memory, now, True)
        return max(0.0, self._share(card, after, when) - self._share(card, memory, when))

    @abstractmethod
    def _practised(self, card: Card, memory: Memory | None, now: datetime, correct: bool) -> Memory:
        """Return what practice makes of a memory, None before the first meeting."""

    @abstractmethod
    def _share(self, card: Card, memory: Memory | None, when: datetime) -> float:
        """Return the probability of a right answer in fluent time with this memory."""


def days_between(then: datetime, when: datetime) -> float:
    """Return the days from one moment to a later one, 0 if it is not later."""
    return max(0.0, (when - then).total_seconds() / DAY)
