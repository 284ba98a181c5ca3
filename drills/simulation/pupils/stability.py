"""The stability mind: difficulty, stability and retrievability (the open FSRS algorithm, 6).

Retrievability after t days is (1 + F t / S)^-d with F such that it is 0.9 at t = S; a right answer
multiplies stability by more the lower retrievability was, a wrong one cuts it; within a day repeats
add little. Equations and default weights are the published ones of the open `fsrs` package (6.3),
which the tests hold this module against. They describe grown-up learners of words. Seconds of
recall fall as a power of stability (no source). What is not recalled is guessed.
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
from drills.simulation.pupils.working_out import Guessing, Remembering, share_by

AGAIN, GOOD, EASY = 1, 3, 4
"""Grades: a wrong answer, a right one; the last only sets where difficulty reverts to."""
WEIGHTS = (
    0.212, 1.2931, 2.3065, 8.2956, 6.4133, 0.8334, 3.0194, 0.001, 1.8722, 0.1666, 0.796,
    1.4835, 0.0614, 0.2629, 1.6483, 0.6014, 1.8729, 0.5425, 0.0912, 0.0658, 0.1542,
)  # fmt: skip
LEAST_STABILITY = 0.001
FACTOR = 0.9 ** (-1 / WEIGHTS[20]) - 1
SECONDS, QUICKENING = 1.4, 0.3
UNKNOWN = Guessing(0.2)


@dataclass(frozen=True)
class Trace:
    """Stability in days, difficulty from 1 to 10, and when the card was last seen."""

    stability: float
    difficulty: float
    seen: datetime

    def retrievability(self, when: datetime) -> float:
        """Return the probability of recall."""
        days = days_between(self.seen, when)
        return float((1 + FACTOR * days / self.stability) ** -WEIGHTS[20])


class StabilityMind(MindOfSeparateCards[Trace]):
    """One trace a card."""

    def __init__(self, hand: Hand, random: Random, easing: float) -> None:
        """Start with no card met; `easing` multiplies stability's growth.

        A slip of the finger is no lapse of memory.
        """
        super().__init__(hand, random)
        self._easing = easing
        self._slipped: Card | None = None

    def remember(self, card: Card, stability: float, seen: datetime) -> None:
        """Have a card of that stability."""
        self._memories[card] = Trace(stability, first_difficulty(GOOD), seen)

    def read(self, card: Card, now: datetime) -> Reading:
        """Recall the key, or guess."""
        memory = self._memories.get(card)
        recalled = self._random.random() < (memory.retrievability(now) if memory else 0.0)
        way = _known(memory) if recalled else UNKNOWN
        reading = way.answer(card, self.hand, self._random)
        self._slipped = card if recalled and reading.key != card.key else None
        return reading

    def _practised(self, card: Card, memory: Trace | None, now: datetime, correct: bool) -> Trace:
        grade = GOOD if correct or card == self._slipped else AGAIN
        ease = self._easing * self.ease(card)
        if memory is None:
            return Trace(WEIGHTS[grade - 1] * ease, first_difficulty(grade), now)
        return reviewed(memory, grade, now, ease)

    def _share(self, card: Card, memory: Trace | None, when: datetime) -> float:
        recalled = memory.retrievability(when) if memory else 0.0
        return share_by(recalled, _known(memory), UNKNOWN, card, self.spare_seconds)


def reviewed(trace: Trace, grade: int, now: datetime, ease: float = 1.0) -> Trace:
    """Return what an answer of this grade makes of a trace; `ease` multiplies growth."""
    if trace.seen.date() == now.date():
        stability = _repeated(trace.stability, grade)
    elif grade == AGAIN:
        stability = _lapsed(trace, now)
    else:
        growth = _growth(trace, now)
        stability = trace.stability * (1 + ease * growth)
    return Trace(max(LEAST_STABILITY, stability), _next_difficulty(trace.difficulty, grade), now)


def first_difficulty(grade: int) -> float:
    """Return the difficulty after a first answer of this grade."""
    return min(10.0, max(1.0, _first_difficulty(grade)))


def _first_difficulty(grade: int) -> float:
    return WEIGHTS[4] - exp(WEIGHTS[5] * (grade - 1)) + 1


def _next_difficulty(difficulty: float, grade: int) -> float:
    change = -WEIGHTS[6] * (grade - GOOD) * (10 - difficulty) / 9
    reverting = WEIGHTS[7] * _first_difficulty(EASY)
    return min(10.0, max(1.0, reverting + (1 - WEIGHTS[7]) * (difficulty + change)))


def _repeated(stability: float, grade: int) -> float:
    growth = exp(WEIGHTS[17] * (grade - GOOD + WEIGHTS[18])) * stability ** -WEIGHTS[19]
    return float(stability * (max(1.0, growth) if grade == GOOD else growth))


def _growth(trace: Trace, now: datetime) -> float:
    missed = 1 - trace.retrievability(now)
    return float(
        exp(WEIGHTS[8])
        * (11 - trace.difficulty)
        * trace.stability ** -WEIGHTS[9]
        * (exp(WEIGHTS[10] * missed) - 1)
    )


def _lapsed(trace: Trace, now: datetime) -> float:
    missed = 1 - trace.retrievability(now)
    long_term = (
        WEIGHTS[11]
        * trace.difficulty ** -WEIGHTS[12]
        * ((trace.stability + 1) ** WEIGHTS[13] - 1)
        * exp(WEIGHTS[14] * missed)
    )
    return float(min(long_term, trace.stability / exp(WEIGHTS[17] * WEIGHTS[18])))


def _known(trace: Trace | None) -> Remembering:
    stability = trace.stability if trace else 0.0
    return Remembering(SECONDS * (1 + stability) ** -QUICKENING)


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> StabilityMind:
    """Return a mind that has met the `known` cards before it is born."""
    mind = StabilityMind(hand, random, random.uniform(0.7, 1.6))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.uniform(5, 60), last)
    return mind
