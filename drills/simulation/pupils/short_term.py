"""The short-term mind: what is still in the short-term store is right, and teaches nothing.

A store of a few cards (the rehearsal buffer of Atkinson and Shiffrin 1968): a card that enters
pushes a random one out when it is full, and a pause between sittings empties it. A card that is
answered from the store is right but not learnt further; only one that had left it is (massed
repetitions of paired associates are ineffective, Greeno 1964, from memory). Long-term recall has
probability (1 - exp(-s)) (1 + t)^(-d / (1 + s / 2)), s growing with every effective answer, t in
days. The size of the store is theirs (2 to 4, from memory); d, the growth and the times have no
source. What is not recalled is guessed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.mind import Mind, Reading, days_between
from drills.simulation.pupils.working_out import Guessing, Remembering, answer_by, share_by

FORGETTING = 0.1
BREAK_SECONDS = 1800.0
SECONDS, QUICKENING = 1.1, 0.25
FROM_STORE = Remembering(0.5)
UNKNOWN = Guessing(0.15)


@dataclass(frozen=True)
class LongTerm:
    """A card's long-term strength, and when it last grew."""

    strength: float
    seen: datetime

    def recall(self, when: datetime) -> float:
        """Return the probability of recall."""
        exponent = FORGETTING / (1 + self.strength / 2)
        kept = (1 + days_between(self.seen, when)) ** -exponent
        return float((1 - exp(-self.strength)) * kept)


class ShortTermMind(Mind):
    """A store of a few cards, and a long-term strength a card."""

    def __init__(self, hand: Hand, random: Random, size: int, growth: float) -> None:
        """Start empty; `size` cards fit the store, an effective answer adds `growth`."""
        super().__init__(hand, random)
        self._size, self._growth = size, growth
        self._store: list[Card] = []
        self._long_term: dict[Card, LongTerm] = {}
        self._latest: datetime | None = None

    def remember(self, card: Card, strength: float, seen: datetime) -> None:
        """Have a card in the long-term store."""
        self._long_term[card] = LongTerm(strength, seen)

    def read(self, card: Card, now: datetime) -> Reading:
        """Answer from the store, or recall, or guess."""
        self._empty_after_break(now)
        if card in self._store:
            return FROM_STORE.answer(card, self.hand, self._random)
        recalled, known = self._recall(card, now), self._known(card)
        return answer_by(recalled, known, UNKNOWN, card, self.hand, self._random)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Strengthen a card that had left the store, and let it enter."""
        self._empty_after_break(now)
        self._latest = now
        if card in self._store:
            return
        self._long_term[card] = self._grown(card, now)
        if len(self._store) == self._size:
            self._store.pop(self._random.randrange(self._size))
        self._store.append(card)

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the probability of a right answer in fluent time from the long-term store."""
        return share_by(
            self._recall(card, when), self._known(card), UNKNOWN, card, self.spare_seconds
        )

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the rise of the fluent share by one more answer: none from the store."""
        if card in self._store:
            return 0.0
        grown = self._grown(card, now)
        after = share_by(
            grown.recall(when), _known(grown.strength), UNKNOWN, card, self.spare_seconds
        )
        return after - self.fluent_share(card, when)

    def _grown(self, card: Card, now: datetime) -> LongTerm:
        return LongTerm(self._strength(card) + self._growth * self.ease(card), now)

    def _strength(self, card: Card) -> float:
        return self._long_term[card].strength if card in self._long_term else 0.0

    def _recall(self, card: Card, when: datetime) -> float:
        return self._long_term[card].recall(when) if card in self._long_term else 0.0

    def _known(self, card: Card) -> Remembering:
        return _known(self._strength(card))

    def _empty_after_break(self, now: datetime) -> None:
        if self._latest is not None and (now - self._latest).total_seconds() > BREAK_SECONDS:
            self._store.clear()


def _known(strength: float) -> Remembering:
    return Remembering(SECONDS * exp(-QUICKENING * strength))


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> ShortTermMind:
    """Return a mind that has learnt the `known` cards before it is born."""
    mind = ShortTermMind(hand, random, random.randint(2, 4), random.uniform(0.25, 0.6))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.uniform(2, 6), last)
    return mind
