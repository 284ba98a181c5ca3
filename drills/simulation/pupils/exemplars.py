"""The exemplars mind: a place is read by its likeness to every place that was practised.

The generalized context model (Nosofsky 1986) with its random-walk times (Nosofsky and Palmeri
1997): each practised place of a clef keeps a memory strength; a key is chosen in proportion to the
summed strengths of its exemplars, weighed by likeness exp(-c distance) (Shepard 1987), against the
background of the misreadings of a note that is not known; the higher the whole activation, the
quicker the walk. Strength falls as a power of the time since it was practised. So a new place is
first read as its practised neighbour. c is about 1 to 3 in the papers (from memory); the other
values have no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from math import exp
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand, lognormal_within
from drills.simulation.pupils.mind import SLIP, Mind, Reading, days_between
from drills.simulation.pupils.misreadings import misreadings

BACKGROUND = 0.45
DECAY = 0.12
"""Power by which a strength falls, over days."""
RESPONSE_SCALING = 2.0
"""Power by which the choice favours the strongest (Ashby and Maddox 1993)."""
ADDED = 1.0
SATURATION = 18.0
"""Strength that practice comes near to."""
WALK_SECONDS = 3.6
TIME_SPREAD = 0.4

Strength = tuple[float, datetime]


class ExemplarsMind(Mind):
    """A strength a card, and likeness between cards of a clef."""

    def __init__(
        self, hand: Hand, random: Random, cards: Sequence[Card], sensitivity: float, added: float
    ) -> None:
        """Start with nothing practised; `sensitivity` is c, `added` scales what practice adds."""
        super().__init__(hand, random)
        self._sensitivity, self._added = sensitivity, added * ADDED
        self._strengths: dict[Card, Strength] = {}
        self._alike = {card: self._likenesses(card, cards) for card in cards}
        self._background = {card: misreadings(card) for card in cards}

    def remember(self, card: Card, strength: float, seen: datetime) -> None:
        """Have a card practised before."""
        self._strengths[card] = strength, seen

    def read(self, card: Card, now: datetime) -> Reading:
        """Walk to one of the keys."""
        activations = self._activations(card, now)
        weights = [activation**RESPONSE_SCALING for activation in activations.values()]
        key = self._random.choices(list(activations), weights)[0]
        if key == card.key and self._random.random() < SLIP:
            key = self._random.choice([other for other, _ in self._background[card]])
        median = walk_seconds(sum(activations.values()))
        seconds = self.hand.sample(self._random) + median * exp(self._random.gauss(0, TIME_SPREAD))
        return Reading(key, seconds)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Strengthen the card's own exemplar."""
        self._strengths[card] = self._strengthened(card, now), now

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the chance of the right key in fluent time."""
        return self._share(card, self._activations(card, when))

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the rise of the fluent share by one more answer."""
        activations = self._activations(card, when)
        before = self._share(card, activations)
        kept = _kept(days_between(now, when))
        grown = self._strengthened(card, now) * kept - self._strength(card, when)
        return max(
            0.0,
            self._share(card, {**activations, card.key: activations[card.key] + grown}) - before,
        )

    def _share(self, card: Card, activations: dict[int, float]) -> float:
        total = sum(activations.values())
        scaled = sum(activation**RESPONSE_SCALING for activation in activations.values())
        right = (1 - SLIP) * activations[card.key] ** RESPONSE_SCALING / scaled
        quick = lognormal_within(self.spare_seconds, walk_seconds(total), TIME_SPREAD)
        return float(right * quick)

    def _activations(self, card: Card, when: datetime) -> dict[int, float]:
        found = {card.key: 0.02}
        for key, share in self._background[card]:
            found[key] = BACKGROUND * share
        for other, likeness in self._alike[card]:
            strength = self._strength(other, when)
            if strength:
                found[other.key] = found.get(other.key, 0.0) + likeness * strength
        return found

    def _strengthened(self, card: Card, now: datetime) -> float:
        strength = self._strength(card, now)
        return strength + self._added * self.ease(card) * (1 - strength / SATURATION)

    def _strength(self, card: Card, when: datetime) -> float:
        if card not in self._strengths:
            return 0.0
        strength, seen = self._strengths[card]
        return strength * _kept(days_between(seen, when))

    def _likenesses(self, card: Card, cards: Sequence[Card]) -> tuple[tuple[Card, float], ...]:
        return tuple(
            (other, likeness(self._sensitivity, card.target.diatonic - other.target.diatonic))
            for other in cards
            if other.clef == card.clef
        )


def likeness(sensitivity: float, distance: float) -> float:
    """Return how alike two places are that lie so many steps apart (Shepard 1987)."""
    return exp(-sensitivity * abs(distance))


def walk_seconds(activation: float) -> float:
    """Return the median seconds of a walk at that whole activation."""
    return WALK_SECONDS / (1 + activation)


def _kept(days: float) -> float:
    return float((1 + days) ** -DECAY)


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> ExemplarsMind:
    """Return a mind that has practised the `known` cards before it is born."""
    mind = ExemplarsMind(hand, random, cards, random.uniform(2.2, 3.4), random.uniform(0.5, 1.2))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.uniform(3, 12), last)
    return mind
