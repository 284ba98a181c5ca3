"""The confusion mind: every place of the stave pulls at several keys, and neighbours interfere.

Each card has a strength for its own key and for those it is misread as; keys are chosen by their
strengths (Luce 1959) and strengths change by the delta rule (Rescorla and Wagner 1972), spilling
over to the cards at neighbouring places of the same clef, as similar stimuli do (Shepard 1987).
The kinds of misreading follow Aiba and Sakaguchi 2018. The rates have no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from math import exp
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand, lognormal_within
from drills.simulation.pupils.mind import DAY, Mind, Reading
from drills.simulation.pupils.misreadings import misreadings

RATE = 1.1
SPILL = 0.12
TIME_SPREAD = 0.4
HESITATION = 3.2
"""Seconds beyond the hand's when all keys pull alike."""
QUICKENING = 0.5
"""How much one unit of strength shortens the logarithm of that time."""
DAILY = 0.98
"""What a day leaves of the strengths learnt."""
PRACTICE = 0.3
"""What every answer adds to the right key, however well it is known already."""
CEILING = 7.0


class ConfusionMind(Mind):
    """Strengths of keys per card."""

    def __init__(self, hand: Hand, random: Random, rate: float, cards: tuple[Card, ...]) -> None:
        """Start with all keys alike; `rate` scales learning, `cards` can interfere."""
        super().__init__(hand, random)
        self._rate = rate * RATE
        self._cards = cards
        self._strengths: dict[Card, dict[int, float]] = {}
        self._seen: dict[Card, datetime] = {}

    def remember(self, card: Card, strength: float) -> None:
        """Have a card's own key pull with `strength`."""
        self._of(card)[card.key] += strength

    def read(self, card: Card, now: datetime) -> Reading:
        """Choose a key by strength; the weaker the right key's lead, the slower."""
        strengths = self._at(card, now)
        chances = _chances(strengths)
        key = self._random.choices(list(chances), list(chances.values()))[0]
        median = _hesitation(card, strengths)
        seconds = self.hand.sample(self._random) + median * exp(self._random.gauss(0, TIME_SPREAD))
        return Reading(key, seconds)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Move strengths towards the right key, here and a little at neighbouring places."""
        strengths = self._at(card, now)
        self._strengths[card] = strengths
        self._seen[card] = now
        self._reinforce(strengths, card.key, self._rate * self.ease(card))
        for other in self._cards:
            near = abs(other.target.diatonic - card.target.diatonic) == 1
            if near and other.clef == card.clef and card.key in self._of(other):
                pulls = self._of(other)
                change = SPILL * self._rate * (1 - _chances(pulls)[card.key])
                pulls[card.key] = min(pulls[card.key] + change, 0.5 * CEILING)

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the chance of the right key in fluent time."""
        return self._share(card, self._at(card, when))

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the rise of the fluent share by one more answer."""
        strengths = self._at(card, now)
        days = max(0.0, (when - now).total_seconds() / DAY)
        before = self._share(card, _faded(strengths, days))
        self._reinforce(strengths, card.key, self._rate * self.ease(card))
        return self._share(card, _faded(strengths, days)) - before

    def _share(self, card: Card, strengths: dict[int, float]) -> float:
        spare = self.spare_seconds
        quick = lognormal_within(spare, _hesitation(card, strengths), TIME_SPREAD)
        return _chances(strengths)[card.key] * quick

    def _of(self, card: Card) -> dict[int, float]:
        if card not in self._strengths:
            pulls = {key: 2.0 * share for key, share in misreadings(card)}
            self._strengths[card] = {card.key: 0.0, **pulls}
        return self._strengths[card]

    def _at(self, card: Card, when: datetime) -> dict[int, float]:
        seen = self._seen.get(card)
        days = 0.0 if seen is None else max(0.0, (when - seen).total_seconds() / DAY)
        return _faded(self._of(card), days)

    @staticmethod
    def _reinforce(strengths: dict[int, float], right: int, rate: float) -> None:
        for key, chance in _chances(strengths).items():
            aim = 1.0 if key == right else 0.0
            strengths[key] = min(strengths[key] + rate * (aim - chance), CEILING)
        strengths[right] = min(strengths[right] + PRACTICE * rate, CEILING)


def _chances(strengths: dict[int, float]) -> dict[int, float]:
    weights = {key: exp(strength) for key, strength in strengths.items()}
    total = sum(weights.values())
    return {key: weight / total for key, weight in weights.items()}


def _hesitation(card: Card, strengths: dict[int, float]) -> float:
    rival = max(strength for key, strength in strengths.items() if key != card.key)
    return HESITATION * exp(-QUICKENING * max(0.0, strengths[card.key] - rival))


def _faded(strengths: dict[int, float], days: float) -> dict[int, float]:
    kept = DAILY**days
    return {key: strength * kept for key, strength in strengths.items()}


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> ConfusionMind:
    """Return a mind in which the `known` cards' own keys pull."""
    mind = ConfusionMind(hand, random, random.uniform(0.6, 1.4), tuple(cards))
    for card in known:
        mind.remember(card, random.uniform(2, 6))
    return mind
