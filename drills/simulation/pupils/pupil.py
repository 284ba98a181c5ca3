"""A simulated pupil: a mind of some kind, a hand, and attention that wanders now and then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp, log
from random import Random

from drills.cards.card import Card, Kind
from drills.simulation.pupils.hand import hand_of_age
from drills.simulation.pupils.kinds import KINDS
from drills.simulation.pupils.mind import Mind, Reading
from drills.simulation.pupils.misreadings import Misreading, misread_as

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
        meant = self.mind.read(card, now)
        reading = self._distracted(card, meant)
        done = now + timedelta(seconds=reading.seconds)
        self.mind.learn(card, done, meant.key == card.key)
        return reading

    def cold_share(self, card: Card, now: datetime, after: timedelta = COLD) -> float:
        """Return the probability of a right answer in fluent time when next read cold."""
        return self.mind.fluent_share(card, now + after)

    def secured(self, card: Card, now: datetime, after: timedelta = COLD) -> bool:
        """Return whether a card is truly secured: cold, at least 9 in 10 right in fluent time."""
        return self.cold_share(card, now, after) >= SECURED_SHARE

    def gain(self, card: Card, now: datetime) -> float:
        """Return by how much one answer now is expected to raise the cold share."""
        return self.mind.gain(card, now, now + COLD)

    def _distracted(self, card: Card, reading: Reading) -> Reading:
        chance = self._random.random()
        if chance < self._distraction.wander:
            away = exp(self._random.gauss(log(WANDER_SECONDS), WANDER_SPREAD))
            return Reading(reading.key, reading.seconds + away)
        if chance < self._distraction.wander + self._distraction.brush:
            return Reading(self._random.choice(misread_as(card, Misreading.STEP)), reading.seconds)
        return reading


def simulated_pupil(
    kind: str,
    cards: Sequence[Card],
    born: datetime,
    seed: int = 0,
    distraction: Distraction | None = None,
) -> SimulatedPupil:
    """Return a pupil of one of `KINDS`, the same for the same seed.

    Age, speed of learning and the cards known at the start vary with the seed. KeyError if the
    kind is not known.
    """
    random = Random(f"{kind}/{seed}")
    hand = hand_of_age(random.uniform(YOUNGEST, OLDEST), random)
    start = random.choice([0.0, 0.0, 0.2, 0.5])
    known = [card for card in cards if random.random() < start]
    mind = KINDS[kind](hand, random, tuple(cards), known, born)
    return SimulatedPupil(mind, Random(f"attention/{seed}"), distraction or Distraction())
