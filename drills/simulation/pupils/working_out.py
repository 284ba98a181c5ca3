"""How a note is worked out when it is not remembered: counted up from a landmark, or guessed.

Counting is linear in the distance, as children's counting is: about 0.41 s a step in first graders
(Groen and Parkman 1972, from memory). The other numbers have no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp
from random import Random
from typing import Protocol

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand, lognormal_within
from drills.simulation.pupils.mind import SLIP, Reading
from drills.simulation.pupils.misreadings import misread

COUNTED_STEP_SECONDS = 0.41
BEGIN_SECONDS = 1.6
"""Seconds to find where the counting begins."""
COUNTING_SPREAD = 0.25
"""Standard deviation of the logarithm of a counted answer's time."""
STEP_MISSED = 0.04
"""Share of the counted steps that go wrong."""
GUESS_SECONDS, GUESS_SPREAD = 2.5, 0.5


class WorkingOut(Protocol):
    """A way to find a note that is not remembered."""

    def answer(self, card: Card, hand: Hand, random: Random) -> Reading:
        """Return the key that is found, and the seconds it takes with the hand's."""

    def fluent_share(self, card: Card, spare_seconds: float) -> float:
        """Return the probability that the right key is found within `spare_seconds`."""


@dataclass(frozen=True)
class Counting:
    """Counts lines and spaces up or down from the landmark, or from the outer line of the stave."""

    step_seconds: float = COUNTED_STEP_SECONDS

    def answer(self, card: Card, hand: Hand, random: Random) -> Reading:
        """Return the key counted to, which is a step off if a step went wrong."""
        seconds = self.median_seconds(card) * exp(random.gauss(0, COUNTING_SPREAD))
        missed = random.random() >= self.right_share(card)
        key = card.target.stepped(random.choice((-1, 1))).midi if missed else card.key
        return Reading(key, hand.sample(random) + seconds)

    def fluent_share(self, card: Card, spare_seconds: float) -> float:
        """Return the probability that the count is right and over in time."""
        quick = lognormal_within(spare_seconds, self.median_seconds(card), COUNTING_SPREAD)
        return self.right_share(card) * quick

    def median_seconds(self, card: Card) -> float:
        """Return the median seconds of a count, linear in its steps."""
        return BEGIN_SECONDS + self.step_seconds * counted_steps(card)

    def right_share(self, card: Card) -> float:
        """Return the probability that no step goes wrong."""
        return float((1 - STEP_MISSED) ** counted_steps(card))


@dataclass(frozen=True)
class Guessing:
    """Guesses: right with a fixed chance, or else by the table of misreadings."""

    chance: float = 0.15

    def answer(self, card: Card, hand: Hand, random: Random) -> Reading:
        """Return a guess."""
        seconds = hand.sample(random) + GUESS_SECONDS * exp(random.gauss(0, GUESS_SPREAD))
        right = random.random() < self.chance
        return Reading(card.key if right else misread(card, random), seconds)

    def fluent_share(self, card: Card, spare_seconds: float) -> float:
        """Return the probability of a right guess in time."""
        return self.chance * lognormal_within(spare_seconds, GUESS_SECONDS, GUESS_SPREAD)


@dataclass(frozen=True)
class Remembering:
    """A known key: its median time beyond the hand's (seconds), and how that scatters (log)."""

    seconds: float
    spread: float = 0.4
    """0.3 to 0.4 for the hand and mind together (Wagenmakers and Brown 2007, from memory)."""

    def answer(self, card: Card, hand: Hand, random: Random) -> Reading:
        """Return the card's key, or a misreading where the finger slips."""
        seconds = hand.sample(random) + self.seconds * exp(random.gauss(0, self.spread))
        slipped = random.random() < SLIP
        return Reading(misread(card, random) if slipped else card.key, seconds)

    def fluent_share(self, card: Card, spare_seconds: float) -> float:
        """Return the probability that no finger slips and the key is found in time."""
        return (1 - SLIP) * lognormal_within(spare_seconds, self.seconds, self.spread)


def counted_steps(card: Card) -> int:
    """Return how many steps are counted: from the landmark, or to it from the nearer outer line."""
    if card.steps:
        return abs(card.steps)
    position = card.clef.position(card.target)
    return 1 + min(abs(position), abs(8 - position))


def answer_by(
    recalled: float,
    known: WorkingOut,
    otherwise: WorkingOut,
    card: Card,
    hand: Hand,
    random: Random,
) -> Reading:
    """Return the answer of a mind that remembers with probability `recalled`."""
    way = known if random.random() < recalled else otherwise
    return way.answer(card, hand, random)


def share_by(
    recalled: float, known: WorkingOut, otherwise: WorkingOut, card: Card, spare_seconds: float
) -> float:
    """Return the probability that such an answer is right and in fluent time."""
    remembered = known.fluent_share(card, spare_seconds)
    return recalled * remembered + (1 - recalled) * otherwise.fluent_share(card, spare_seconds)
