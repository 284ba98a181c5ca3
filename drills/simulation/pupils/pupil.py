"""A simulated pupil: a mind of some kind, a hand, and attention that wanders now and then."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp, log
from random import Random

from drills.cards.card import Card, Kind
from drills.simulation.pupils.activation import DECAY_INTERCEPT, ActivationMind
from drills.simulation.pupils.confusion import ConfusionMind
from drills.simulation.pupils.fluctuation import FluctuationMind
from drills.simulation.pupils.hand import Hand, hand_of_age
from drills.simulation.pupils.mastery import MasteryMind
from drills.simulation.pupils.mind import Mind, Reading, white_beside

SECURED_SHARE = 0.9
COLD = timedelta(days=1)
YOUNGEST, OLDEST = 6.0, 11.0
WANDER_SECONDS, WANDER_SPREAD = 7.0, 0.6
"""Seconds that a wandering adds: median, and standard deviation of the logarithm (no source)."""
USUAL_DISTRACTION = 0.04


@dataclass(frozen=True)
class Distraction:
    """Shares of answers given after the mind wandered off, and of brushed neighbouring keys."""

    wander: float = USUAL_DISTRACTION / 2
    brush: float = USUAL_DISTRACTION / 2


class SimulatedPupil:
    """Answers cards as a child would, and tells what no child can: what is truly secured."""

    def __init__(self, mind: Mind, random: Random, distraction: Distraction) -> None:
        """Put a mind to the piano."""
        self.mind = mind
        self._random = random
        self._distraction = distraction

    def answer(self, card: Card, now: datetime) -> Reading:
        """Answer a card shown at `now`, and learn from the right key that is then shown."""
        if card.kind is Kind.KEY:
            return self._distracted(card, Reading(card.key, self.mind.hand.sample(self._random)))
        reading = self._distracted(card, self.mind.read(card, now))
        done = now + timedelta(seconds=reading.seconds)
        self.mind.learn(card, done, reading.key == card.key)
        return reading

    def cold_share(self, card: Card, now: datetime, after: timedelta = COLD) -> float:
        """Give the probability of a right answer in fluent time when next read cold."""
        return self.mind.fluent_share(card, now + after)

    def secured(self, card: Card, now: datetime, after: timedelta = COLD) -> bool:
        """Tell whether a card is truly secured: cold, at least 9 in 10 right in fluent time."""
        return self.cold_share(card, now, after) >= SECURED_SHARE

    def gain(self, card: Card, now: datetime) -> float:
        """Give by how much one answer now is expected to raise the cold share."""
        return self.mind.gain(card, now, now + COLD)

    def _distracted(self, card: Card, reading: Reading) -> Reading:
        chance = self._random.random()
        if chance < self._distraction.wander:
            away = exp(self._random.gauss(log(WANDER_SECONDS), WANDER_SPREAD))
            return Reading(reading.key, reading.seconds + away)
        if chance < self._distraction.wander + self._distraction.brush:
            return Reading(white_beside(card.target, self._random), reading.seconds)
        return reading


def simulated_pupil(
    kind: str,
    cards: Sequence[Card],
    born: datetime,
    seed: int = 0,
    distraction: Distraction | None = None,
) -> SimulatedPupil:
    """Make a pupil of one of `KINDS`, the same for the same seed.

    Age, speed of learning and the cards known at the start vary with the seed. KeyError if the
    kind is not known.
    """
    random = Random(f"{kind}/{seed}")
    hand = hand_of_age(random.uniform(YOUNGEST, OLDEST), random)
    start = random.choice([0.0, 0.0, 0.2, 0.5])
    known = [card for card in cards if random.random() < start]
    mind = KINDS[kind](hand, random, tuple(cards), known, born)
    return SimulatedPupil(mind, Random(f"attention/{seed}"), distraction or Distraction())


def _activation(
    hand: Hand, random: Random, cards: tuple[Card, ...], known: list[Card], born: datetime
) -> Mind:
    intercept = min(0.26, max(0.12, random.gauss(DECAY_INTERCEPT, 0.03)))
    mind = ActivationMind(hand, random, born, intercept, random.uniform(0.3, 0.55))
    for card in known:
        mind.remember(card, random.uniform(1, 7), random.randint(3, 25))
    return mind


def _mastery(
    hand: Hand, random: Random, cards: tuple[Card, ...], known: list[Card], born: datetime
) -> Mind:
    slip, guess = random.uniform(0.01, 0.03), random.uniform(0.05, 0.25)
    mind = MasteryMind(hand, random, slip, guess, random.uniform(0.1, 0.35))
    for card in known:
        mind.remember(card)
    return mind


def _confusion(
    hand: Hand, random: Random, cards: tuple[Card, ...], known: list[Card], born: datetime
) -> Mind:
    mind = ConfusionMind(hand, random, random.uniform(0.6, 1.4), cards)
    for card in known:
        mind.remember(card, random.uniform(2, 6))
    return mind


def _fluctuation(
    hand: Hand, random: Random, cards: tuple[Card, ...], known: list[Card], born: datetime
) -> Mind:
    mind = FluctuationMind(hand, random, random.uniform(0.12, 0.35))
    for card in known:
        mind.remember(card, random.uniform(0.3, 1.0))
    return mind


Maker = Callable[[Hand, Random, tuple[Card, ...], list[Card], datetime], Mind]
KINDS: dict[str, Maker] = {
    "activation": _activation,
    "mastery": _mastery,
    "confusion": _confusion,
    "fluctuation": _fluctuation,
}
"""The kinds of simulated pupil; the last is held out of all tuning."""
