"""The mastery mind: each card is known or not (knowledge tracing, Corbett and Anderson 1995).

An unknown card is guessed with probability G, a known one slipped on with probability S, and each
answer with feedback makes an unknown card known with probability T. Bounds from memory of the
paper: G at most 0.3, S at most 0.1. Response times by state, and a loss of known cards from one
day to the next (as in extensions of the model with forgetting between days), have no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from math import exp
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand, lognormal_within
from drills.simulation.pupils.mind import DAY, Mind, Reading
from drills.simulation.pupils.misreadings import misread

KNOWN_SECONDS, KNOWN_SPREAD = 0.45, 0.45
UNKNOWN_SECONDS, UNKNOWN_SPREAD = 2.5, 0.5
"""Median seconds beyond the hand's, and the standard deviation of their logarithm."""
NIGHT_LOSS = 0.01


class MasteryMind(Mind):
    """Known or unknown per card."""

    def __init__(
        self, hand: Hand, random: Random, slip: float, guess: float, transition: float
    ) -> None:
        """Start with nothing known; the three probabilities are S, G and T."""
        super().__init__(hand, random)
        self._slip, self._guess, self._transition = slip, guess, transition
        self._known: set[Card] = set()
        self._seen: dict[Card, datetime] = {}

    def remember(self, card: Card) -> None:
        """Have a card known."""
        self._known.add(card)

    def read(self, card: Card, now: datetime) -> Reading:
        """Answer by the card's state."""
        self._forget(card, now)
        known = card in self._known
        median, spread = (
            (KNOWN_SECONDS, KNOWN_SPREAD) if known else (UNKNOWN_SECONDS, UNKNOWN_SPREAD)
        )
        seconds = self.hand.sample(self._random) + median * exp(self._random.gauss(0, spread))
        right = self._random.random() < (1 - self._slip if known else self._guess)
        return Reading(card.key if right else misread(card, self._random), seconds)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Let an unknown card become known with probability T."""
        self._seen[card] = now
        if self._random.random() < self._learning(card):
            self._known.add(card)

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the probability by the card's state, a night's loss included."""
        spare = self.spare_seconds
        known = self._kept(card, when) if card in self._known else 0.0
        quick = (1 - self._slip) * lognormal_within(spare, KNOWN_SECONDS, KNOWN_SPREAD)
        slow = self._guess * lognormal_within(spare, UNKNOWN_SECONDS, UNKNOWN_SPREAD)
        return known * quick + (1 - known) * slow

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the expected rise: T for an unknown card."""
        if card in self._known:
            return 0.0
        return self._learning(card) * (1 - self.fluent_share(card, when))

    def _learning(self, card: Card) -> float:
        return min(0.9, self._transition * self.ease(card))

    def _kept(self, card: Card, when: datetime) -> float:
        seen = self._seen.get(card)
        nights = 0.0 if seen is None else max(0.0, (when - seen).total_seconds() / DAY)
        return float((1 - NIGHT_LOSS) ** nights)

    def _forget(self, card: Card, now: datetime) -> None:
        if card in self._known and self._random.random() > self._kept(card, now):
            self._known.discard(card)
        self._seen[card] = now


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> MasteryMind:
    """Return a mind that knows the `known` cards."""
    slip, guess = random.uniform(0.01, 0.03), random.uniform(0.05, 0.25)
    mind = MasteryMind(hand, random, slip, guess, random.uniform(0.1, 0.35))
    for card in known:
        mind.remember(card)
    return mind
