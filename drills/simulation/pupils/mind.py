"""What every simulated mind can be asked."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from datetime import datetime
from math import exp
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand
from landmarks.pitch import Pitch
from landmarks.stave import other_clef

CARD_SPREAD = 0.35
"""Standard deviation of the logarithm of how easily cards are learnt (no source)."""


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

    def ease(self, card: Card) -> float:
        """Give how easily a card is learnt by this mind, around 1."""
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
        """Give the probability of a right answer in fluent time at `when`, attentive."""

    @abstractmethod
    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Give by how much one answer now is expected to raise the fluent share at `when`."""


def misreadings(card: Card) -> tuple[tuple[int, float], ...]:
    """Give the keys that a card is misread as, with their shares.

    Neighbouring places of the stave, the same place in the other clef, the step taken the other
    way, the octave: the kinds of misreading that Aiba and Sakaguchi 2018 found in pianists
    (confusion with a neighbouring note, interference from a commoner place) and common practice;
    the shares have no source.
    """
    target = card.target
    twin = other_clef(card.clef).pitch_at(card.clef.position(target))
    pitches = [
        (target.stepped(1), 3.0),
        (target.stepped(-1), 3.0),
        (twin, 2.0),
        (target.stepped(2), 1.0),
        (target.stepped(-2), 1.0),
        (target.stepped(7), 0.7),
        (target.stepped(-7), 0.7),
    ]
    if card.steps:
        pitches.append((card.anchor.stepped(-card.steps), 2.0))
    weights: dict[int, float] = {}
    for pitch, weight in pitches:
        if pitch.midi != card.key:
            weights[pitch.midi] = weights.get(pitch.midi, 0.0) + weight
    total = sum(weights.values())
    return tuple((key, weight / total) for key, weight in weights.items())


def misread(card: Card, random: Random) -> int:
    """Give a wrong key for a card."""
    keys = misreadings(card)
    return random.choices([key for key, _ in keys], [weight for _, weight in keys])[0]


def white_beside(pitch: Pitch, random: Random) -> int:
    """Give a white key next to a pitch."""
    return pitch.stepped(random.choice([-1, 1])).midi
