"""The daily-form mind: practice adds up, but some days are good, and minutes tire.

Performance factors (Pavlik, Cen and Koedinger 2009): the log odds of a right answer are a weighed
sum of the right and the wrong answers so far, here with practice of near places counted by a
Gaussian of their distance (generalisation, Shepard 1987), in diminishing returns. To this a form
is added that is drawn anew each day (normal: day-to-day fluctuation of performance), and from it a
vigilance decrement is taken that grows with the minutes of a sitting (Mackworth 1948). Times are
lognormal, their median falling with the same sum (van der Linden 2007). The weights have no source;
the decrement is a prior of this program.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from math import exp, log, sqrt
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand, lognormal_within
from drills.simulation.pupils.mind import SLIP, Mind, Reading, days_between
from drills.simulation.pupils.misreadings import misread

NEW = -1.8
RIGHT, WRONG = 1.0, 0.7
"""What a right and a wrong answer count for."""
RETURNS = 1.75
"""Log odds for each unit of the logarithm of practice."""
WIDTH = 0.6
"""Standard deviation of generalisation, in steps of the stave."""
KEPT_A_DAY = 0.98
TIRING = 0.06
"""Log odds that each minute of a sitting takes."""
BREAK_SECONDS = 1800.0
SECONDS, QUICKENING, TIME_SPREAD = 1.3, 0.27, 0.4
FORMS = (
    (-sqrt(5 + sqrt(10)), (7 - 2 * sqrt(10)) / 60),
    (-sqrt(5 - sqrt(10)), (7 + 2 * sqrt(10)) / 60),
    (0.0, 8 / 15),
    (sqrt(5 - sqrt(10)), (7 + 2 * sqrt(10)) / 60),
    (sqrt(5 + sqrt(10)), (7 - 2 * sqrt(10)) / 60),
)
"""Nodes and weights of Gauss-Hermite quadrature for a standard normal, five points (Abramowitz and
Stegun 1964, table 25.10, rescaled)."""

Practice = tuple[float, datetime]


class DailyFormMind(Mind):
    """An amount of practice a card, and the form of the day."""

    def __init__(
        self, hand: Hand, random: Random, cards: Sequence[Card], ability: float, spread: float
    ) -> None:
        """Start without practice; `spread` is the standard deviation of form between days."""
        super().__init__(hand, random)
        self._cards = tuple(cards)
        self._ability, self._spread = ability, spread
        self._practice: dict[Card, Practice] = {}
        self._near = {card: self._nearness(card) for card in cards}
        self._form_of: tuple[date, float] | None = None
        self._sitting: tuple[datetime, datetime] | None = None

    def remember(self, card: Card, practice: float, seen: datetime) -> None:
        """Have a card practised before."""
        self._practice[card] = practice, seen

    def read(self, card: Card, now: datetime) -> Reading:
        """Answer in the day's form, and as tired as the sitting is long."""
        logit = self._logit(card, now) + self._form(now) - TIRING * self._minutes(now)
        median = recall_seconds(logit)
        seconds = self.hand.sample(self._random) + median * exp(self._random.gauss(0, TIME_SPREAD))
        right = self._random.random() < _right(logit)
        return Reading(card.key if right else misread(card, self._random), seconds)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Add practice, here and a little at near places."""
        amount = RIGHT if correct else WRONG
        for other, share in self._near[card]:
            self._practice[other] = self._amount(other, now) + share * amount, now

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the probability at the beginning of a sitting, over the forms of days."""
        return self._share(self._logit(card, when))

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the rise of the fluent share by one more right answer."""
        amount = self._amount(card, when)
        more = amount + RIGHT * _kept(days_between(now, when))
        return self._share(self._predictor(card, more)) - self._share(self._predictor(card, amount))

    def _share(self, logit: float) -> float:
        return sum(weight * self._in_form(logit + self._spread * form) for form, weight in FORMS)

    def _in_form(self, logit: float) -> float:
        quick = lognormal_within(self.spare_seconds, recall_seconds(logit), TIME_SPREAD)
        return _right(logit) * quick

    def _logit(self, card: Card, when: datetime) -> float:
        return self._predictor(card, self._amount(card, when))

    def _predictor(self, card: Card, amount: float) -> float:
        return NEW + self._ability + RETURNS * log(1 + self.ease(card) * amount)

    def _amount(self, card: Card, when: datetime) -> float:
        if card not in self._practice:
            return 0.0
        amount, seen = self._practice[card]
        return amount * _kept(days_between(seen, when))

    def _form(self, now: datetime) -> float:
        if self._form_of is None or self._form_of[0] != now.date():
            self._form_of = now.date(), self._random.gauss(0, self._spread)
        return self._form_of[1]

    def _minutes(self, now: datetime) -> float:
        """Return the minutes since the sitting began; a long pause begins a new one."""
        if self._sitting is None or (now - self._sitting[1]).total_seconds() > BREAK_SECONDS:
            self._sitting = now, now
        self._sitting = self._sitting[0], now
        return (now - self._sitting[0]).total_seconds() / 60

    def _nearness(self, card: Card) -> tuple[tuple[Card, float], ...]:
        return tuple(
            (other, nearness(card.target.diatonic - other.target.diatonic))
            for other in self._cards
            if other.clef == card.clef and abs(card.target.diatonic - other.target.diatonic) <= 2
        )


def nearness(steps: float) -> float:
    """Return the share of practice that reaches a place so many steps away."""
    return exp(-(steps**2) / (2 * WIDTH**2))


def recall_seconds(logit: float) -> float:
    """Return the median seconds beyond the hand's."""
    return SECONDS * exp(-QUICKENING * logit)


def _right(logit: float) -> float:
    return (1 - SLIP) / (1 + exp(-logit))


def _kept(days: float) -> float:
    return float(KEPT_A_DAY**days)


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> DailyFormMind:
    """Return a mind that has practised the `known` cards before it is born."""
    mind = DailyFormMind(hand, random, cards, random.gauss(0, 0.4), random.uniform(0.3, 0.8))
    for card in known:
        last = born - timedelta(days=random.uniform(1, 7))
        mind.remember(card, random.uniform(4, 20), last)
    return mind
