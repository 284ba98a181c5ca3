"""The fluctuation mind: a card is many small cues, of which some are at hand on a given day.

Stimulus sampling with fluctuation between sessions (Estes 1955): each card has cues, of which a
share is available at any time; an answer conditions available cues to the right key with
probability theta, and between sessions cues leave and return. The share of available cues that
are conditioned drives an accumulator whose finishing time is inverse Gaussian (a one-boundary
diffusion), so that times have the right-hand tail of a first passage.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from math import erf, exp, sqrt
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.mind import DAY, SLIP, Mind, Reading
from drills.simulation.pupils.misreadings import misread

AVAILABLE = 0.6
"""Share of cues available at any time (no source)."""
EXCHANGE = 0.8
"""Share of the way to equilibrium that a day brings (no source)."""
SHARPNESS = 9.0
"""How decisively the conditioned share decides for the right key (no source)."""
DRIFT, BOUNDARY = 4.2, 2.4
"""Drift at full conditioning and boundary of the accumulator, per root second (no source)."""
LEAST_DRIFT = 0.7


class FluctuationMind(Mind):
    """Per card the conditioned shares of available and of unavailable cues."""

    def __init__(self, hand: Hand, random: Random, theta: float) -> None:
        """Start unconditioned; `theta` is the chance that an available cue is conditioned."""
        super().__init__(hand, random)
        self._theta = theta
        self._shares: dict[Card, tuple[float, float]] = {}
        self._seen: dict[Card, datetime] = {}

    def remember(self, card: Card, share: float) -> None:
        """Have this share of all cues of a card conditioned."""
        self._shares[card] = (share, share)

    def read(self, card: Card, now: datetime) -> Reading:
        """Accumulate evidence until the boundary."""
        share = self._at(card, now)[0]
        drift = max(LEAST_DRIFT, DRIFT * share)
        seconds = self.hand.sample(self._random) + _first_passage(drift, self._random)
        right = self._random.random() < _right(share)
        return Reading(card.key if right else misread(card, self._random), seconds)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Condition available cues."""
        available, away = self._at(card, now)
        self._shares[card] = (self._conditioned(card, available), away)
        self._seen[card] = now

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the chance of the right key in fluent time."""
        return self._share(self._at(card, when)[0])

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the rise of the fluent share by one more answer."""
        available, away = self._at(card, now)
        days = max(0.0, (when - now).total_seconds() / DAY)
        after = (self._conditioned(card, available), away)
        return self._share(_mixed(after, days)[0]) - self._share(_mixed((available, away), days)[0])

    def _conditioned(self, card: Card, available: float) -> float:
        return available + min(0.9, self._theta * self.ease(card)) * (1 - available)

    def _share(self, share: float) -> float:
        spare = self.spare_seconds
        return _right(share) * _passed(spare, max(LEAST_DRIFT, DRIFT * share))

    def _at(self, card: Card, when: datetime) -> tuple[float, float]:
        shares, seen = self._shares.get(card, (0.0, 0.0)), self._seen.get(card)
        days = 0.0 if seen is None else max(0.0, (when - seen).total_seconds() / DAY)
        return _mixed(shares, days)


def _mixed(shares: tuple[float, float], days: float) -> tuple[float, float]:
    available, away = shares
    total = AVAILABLE * available + (1 - AVAILABLE) * away
    kept = (1 - EXCHANGE) ** days
    return total + (available - total) * kept, total + (away - total) * kept


def _right(share: float) -> float:
    return (1 - SLIP) / (1 + 5 * exp(-SHARPNESS * (share - 0.15)))


def _first_passage(drift: float, random: Random) -> float:
    """Sample an inverse Gaussian time (Michael, Schucany and Haas 1976)."""
    mean, shape = BOUNDARY / drift, BOUNDARY**2
    square = random.gauss(0, 1) ** 2
    root = sqrt(4 * mean * shape * square + (mean * square) ** 2)
    low = mean + mean * mean * square / (2 * shape) - mean / (2 * shape) * root
    return low if random.random() <= mean / (mean + low) else mean * mean / low


def _passed(seconds: float, drift: float) -> float:
    """Return the inverse Gaussian distribution function."""
    if seconds <= 0:
        return 0.0
    mean, shape = BOUNDARY / drift, BOUNDARY**2
    root = sqrt(shape / seconds)
    first = _normal(root * (seconds / mean - 1))
    return first + exp(2 * shape / mean) * _normal(-root * (seconds / mean + 1))


def _normal(distance: float) -> float:
    return 0.5 * (1 + erf(distance / sqrt(2)))


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> FluctuationMind:
    """Return a mind with cues of the `known` cards conditioned."""
    mind = FluctuationMind(hand, random, random.uniform(0.12, 0.35))
    for card in known:
        mind.remember(card, random.uniform(0.3, 1.0))
    return mind
