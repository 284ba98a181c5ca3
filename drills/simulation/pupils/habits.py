"""Ways of answering that no practice mends: careless, and guessing."""

from __future__ import annotations

from datetime import datetime
from math import exp
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand, lognormal_within
from drills.simulation.pupils.mind import Mind, Reading
from drills.simulation.pupils.misreadings import misread

GUESS_SECONDS, GUESS_SPREAD = 0.7, 0.4
"""A quick guess: median seconds beyond the hand's, and the spread of their log (no source)."""


class CarelessMind(Mind):
    """Knows what another mind knows, and misreads a share of all cards, as quickly as ever."""

    def __init__(self, mind: Mind, random: Random, careless: float) -> None:
        """Make `mind` careless in that share of its answers."""
        super().__init__(mind.hand, random)
        self._mind, self._careless = mind, careless

    def read(self, card: Card, now: datetime) -> Reading:
        """Answer, or misread at the same pace."""
        reading = self._mind.read(card, now)
        if self._random.random() >= self._careless:
            return reading
        return Reading(misread(card, self._random), reading.seconds)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Learn as the careful mind would."""
        self._mind.learn(card, now, correct)

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the share of careful answers that are right and fluent."""
        return (1 - self._careless) * self._mind.fluent_share(card, when)

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the rise of that share by one more answer."""
        return (1 - self._careless) * self._mind.gain(card, now, when)


class GuessingMind(Mind):
    """Guesses every card at once, right with a fixed chance, and learns nothing."""

    def __init__(self, hand: Hand, random: Random, chance: float) -> None:
        """Guess right with this chance."""
        super().__init__(hand, random)
        self._chance = chance

    def read(self, card: Card, now: datetime) -> Reading:
        """Guess."""
        beyond = GUESS_SECONDS * exp(self._random.gauss(0, GUESS_SPREAD))
        right = self._random.random() < self._chance
        seconds = self.hand.sample(self._random) + beyond
        return Reading(card.key if right else misread(card, self._random), seconds)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Learn nothing."""

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the chance of a right and quick guess, the same at any time."""
        return self._chance * lognormal_within(self.spare_seconds, GUESS_SECONDS, GUESS_SPREAD)

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return that an answer gains nothing."""
        return 0.0
