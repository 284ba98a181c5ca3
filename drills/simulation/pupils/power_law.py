"""The power-law mind: forgetting and quickening are both powers, of time and of practice.

Retention after a lag of t days is (1 + b t)^-psi (Wickelgren's power law as Wixted and Carpenter
2007 fit it, with full retention at once); the time of a recalled key is B N^-c (Newell and
Rosenbloom 1981), N the answers so far. That psi falls as a power of N too is an assumption of this
program. Values: psi at first 0.1 to 0.3 and c about 0.4 are the usual sizes (from memory); b, B and
the power by which psi falls have no source. What is not recalled is guessed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.mind import MindOfSeparateCards, Reading, days_between
from drills.simulation.pupils.working_out import Guessing, Remembering, answer_by, share_by

TIME_SCALE = 5.0
"""b, per day."""
SLOWING = 0.7
"""By this power of practice forgetting gets slower."""
FIRST_SECONDS, QUICKENING = 2.4, 0.4
"""B in seconds, and c."""
UNKNOWN = Guessing(0.15)


@dataclass(frozen=True)
class Practice:
    """How often a card was answered, and when last."""

    answers: int
    seen: datetime


class PowerLawMind(MindOfSeparateCards[Practice]):
    """Numbers of answers a card."""

    def __init__(self, hand: Hand, random: Random, forgetting: float) -> None:
        """Start with no card met; `forgetting` is psi after one answer."""
        super().__init__(hand, random)
        self._forgetting = forgetting

    def remember(self, card: Card, answers: int, seen: datetime) -> None:
        """Have a card answered so many times before."""
        self._memories[card] = Practice(answers, seen)

    def read(self, card: Card, now: datetime) -> Reading:
        """Recall the key, or guess."""
        memory = self._memories.get(card)
        recalled = self.retention(card, memory, now)
        return answer_by(recalled, _known(memory), UNKNOWN, card, self.hand, self._random)

    def retention(self, card: Card, practice: Practice | None, when: datetime) -> float:
        """Return the probability of recall."""
        if practice is None:
            return 0.0
        exponent = self._forgetting / self.ease(card) * practice.answers**-SLOWING
        return float((1 + TIME_SCALE * days_between(practice.seen, when)) ** -exponent)

    def _practised(
        self, card: Card, memory: Practice | None, now: datetime, correct: bool
    ) -> Practice:
        return Practice(1 + (memory.answers if memory else 0), now)

    def _share(self, card: Card, memory: Practice | None, when: datetime) -> float:
        recalled = self.retention(card, memory, when)
        return share_by(recalled, _known(memory), UNKNOWN, card, self.spare_seconds)


def recall_seconds(answers: int) -> float:
    """Return the median seconds of recall beyond the hand's after so many answers."""
    return float(FIRST_SECONDS * answers**-QUICKENING)


def _known(practice: Practice | None) -> Remembering:
    return Remembering(recall_seconds(practice.answers if practice else 1))


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> PowerLawMind:
    """Return a mind that has met the `known` cards before it is born."""
    mind = PowerLawMind(hand, random, random.uniform(0.1, 0.3))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.randint(5, 40), last)
    return mind
