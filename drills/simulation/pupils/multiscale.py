"""The multiscale mind: leaky stores of many speeds, of which the slow learn what the fast miss.

The multiscale context model (Pashler, Cepeda, Lindsey, Vul and Mozer 2009): stores x_i decay with
time constants mu nu^i and are weighed by gamma_i, proportional to xi^i; s_i is the weighed mean of
the stores up to i; an answer raises each x_i by eps (1 - s_i), recall has probability s_N. After an
answer that was recalled eps is larger than after one that was not (9 to 1 in the paper, from
memory; damped here by a pupil's rate, as a child does not learn from one showing). mu, nu, xi have
no source: the time constants reach from minutes to about a year. What is not recalled is guessed,
and recall is quicker the higher s_N (no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.mind import MindOfSeparateCards, Reading, days_between
from drills.simulation.pupils.working_out import Guessing, Remembering, answer_by, share_by

TIME_CONSTANTS = tuple(0.01 * 4.5**scale for scale in range(8))
"""Days."""
WEIGHTS = tuple(1.15**scale for scale in range(8))
TOTALS = tuple(sum(WEIGHTS[: scale + 1]) for scale in range(8))
RECALLED_STEP, MISSED_STEP = 9.0, 1.0
"""How an answer that is recalled compares with one that is not."""
SECONDS, SLOWING = 0.42, 1.5
UNKNOWN = Guessing(0.12)


@dataclass(frozen=True)
class Stores:
    """What the stores hold at a moment, fastest first."""

    held: tuple[float, ...]
    seen: datetime

    def at(self, when: datetime) -> tuple[float, ...]:
        """Return what they still hold later."""
        days = days_between(self.seen, when)
        return tuple(
            held * exp(-days / constant)
            for held, constant in zip(self.held, TIME_CONSTANTS, strict=True)
        )


EMPTY = (0.0,) * len(TIME_CONSTANTS)


class MultiscaleMind(MindOfSeparateCards[Stores]):
    """Stores of all speeds per card."""

    def __init__(self, hand: Hand, random: Random, rate: float) -> None:
        """Start with empty stores; `rate` scales what an answer adds."""
        super().__init__(hand, random)
        self._rate = rate

    def remember(self, card: Card, held: float, seen: datetime) -> None:
        """Have all stores of a card hold so much."""
        self._memories[card] = Stores((held,) * len(EMPTY), seen)

    def read(self, card: Card, now: datetime) -> Reading:
        """Recall the key, or guess."""
        recalled = self._recall(self._memories.get(card), now)
        return answer_by(recalled, _known(recalled), UNKNOWN, card, self.hand, self._random)

    def _practised(self, card: Card, memory: Stores | None, now: datetime, correct: bool) -> Stores:
        held = memory.at(now) if memory else EMPTY
        step = (RECALLED_STEP if correct else MISSED_STEP) * self._rate * self.ease(card)
        added = (min(1.0, step) * max(0.0, 1 - mean) for mean in nested_means(held))
        return Stores(tuple(map(float.__add__, held, added)), now)

    def _share(self, card: Card, memory: Stores | None, when: datetime) -> float:
        recalled = self._recall(memory, when)
        return share_by(recalled, _known(recalled), UNKNOWN, card, self.spare_seconds)

    @staticmethod
    def _recall(stores: Stores | None, when: datetime) -> float:
        return min(1.0, nested_means(stores.at(when))[-1]) if stores else 0.0


def nested_means(held: Sequence[float]) -> list[float]:
    """Return for each store the weighed mean of it and all faster ones.

    >>> [round(mean, 3) for mean in nested_means((1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0))][:2]
    [1.0, 0.465]
    """
    means, total = [], 0.0
    for amount, weight, weights in zip(held, WEIGHTS, TOTALS, strict=True):
        total += amount * weight
        means.append(total / weights)
    return means


def _known(recalled: float) -> Remembering:
    return Remembering(SECONDS * exp(SLOWING * (1 - recalled)))


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> MultiscaleMind:
    """Return a mind whose stores hold the `known` cards before it is born."""
    mind = MultiscaleMind(hand, random, random.uniform(0.03, 0.07))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.uniform(0.5, 1.1), last)
    return mind
