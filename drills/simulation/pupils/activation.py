"""The activation mind: memory traces that decay, quicker recall the more active (ACT-R).

Pavlik and Anderson 2005: activation m = ln sum t_j^-d_j over past presentations, where the decay
of each, d_j = c exp(m when it was made) + a, is slower when it was made at low activation (the
spacing effect); time between sessions counts by h = 0.025 of its length. Recall has probability
1 / (1 + exp((tau - m) / s)), its time is F exp(-m) more than the hand needs. Values from memory of
that paper: c = 0.217, a = 0.177, tau = -0.704, s = 0.255; a varies between pupils (Sense et al.
2016, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from math import exp, log
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.mind import DAY, SLIP, Mind, Reading
from drills.simulation.pupils.misreadings import misread

DECAY_SCALE, DECAY_INTERCEPT = 0.217, 0.177
THRESHOLD, NOISE = -0.704, 0.255
BETWEEN_SESSIONS = 0.025
CARD_INTERCEPT = -0.08
"""How far a card's ease lowers its decay intercept, which differs between facts (Sense et al.
2016, from memory; the size has no source)."""
SESSION_PAUSE = 3600.0
"""A pause longer than this lies between sessions (seconds)."""
SOONEST = 1.0


class ActivationMind(Mind):
    """Traces of presentations per card, in the mind's own time."""

    def __init__(
        self, hand: Hand, random: Random, born: datetime, intercept: float, latency: float
    ) -> None:
        """Start without traces; `intercept` is a, `latency` is F in seconds."""
        super().__init__(hand, random)
        self._born = self._clock_at = born
        self._clock = 0.0
        self._intercept, self._latency = intercept, latency
        self._traces: dict[Card, list[tuple[float, float]]] = {}

    def remember(self, card: Card, days_ago: float, times: int) -> None:
        """Have a card met `times` times before, a day apart, last `days_ago` days before birth."""
        for meeting in reversed(range(times)):
            at = -BETWEEN_SESSIONS * DAY * (days_ago + meeting)
            self._add(card, at)

    def read(self, card: Card, now: datetime) -> Reading:
        """Recall the key, or guess when activation stays below the threshold."""
        active = self._activation(card, self._time(now)) + self._noise()
        hand = self.hand.sample(self._random)
        if active < THRESHOLD:
            seconds = hand + self._latency * exp(-THRESHOLD) * exp(self._random.gauss(0, 0.3))
            return Reading(misread(card, self._random), seconds)
        seconds = hand + self._latency * exp(-active)
        if self._random.random() < SLIP:
            return Reading(misread(card, self._random), seconds)
        return Reading(card.key, seconds)

    def learn(self, card: Card, now: datetime, correct: bool) -> None:
        """Add a trace."""
        self._advance(now)
        self._add(card, self._clock)

    def fluent_share(self, card: Card, when: datetime) -> float:
        """Return the probability of recall quick enough."""
        return self._share(self._activation(card, self._time(when)))

    def gain(self, card: Card, now: datetime, when: datetime) -> float:
        """Return the rise of the fluent share by one more trace."""
        at, later = self._time(now), self._time(when)
        before = self._activation(card, later)
        decay = self._decay(card, at)
        after = log(exp(before) + max(SOONEST, later - at) ** -decay)
        return self._share(after) - self._share(before)

    def _share(self, activation: float) -> float:
        spare = self.spare_seconds
        needed = max(THRESHOLD, log(self._latency / spare))
        return (1 - SLIP) / (1 + exp((needed - activation) / NOISE))

    def _add(self, card: Card, at: float) -> None:
        self._traces.setdefault(card, []).append((at, self._decay(card, at)))

    def _decay(self, card: Card, at: float) -> float:
        intercept = self._intercept + CARD_INTERCEPT * log(self.ease(card))
        return DECAY_SCALE * exp(self._activation(card, at)) + intercept

    def _activation(self, card: Card, at: float) -> float:
        traces = self._traces.get(card)
        if not traces:
            return -10.0
        return log(sum(max(SOONEST, at - then) ** -decay for then, decay in traces))

    def _noise(self) -> float:
        chance = min(max(self._random.random(), 1e-6), 1 - 1e-6)
        return NOISE * log(chance / (1 - chance))

    def _time(self, now: datetime) -> float:
        """Return the mind's time: real within a session, scaled between sessions."""
        passed = max(0.0, (now - self._clock_at).total_seconds())
        return self._clock + passed * (BETWEEN_SESSIONS if passed > SESSION_PAUSE else 1.0)

    def _advance(self, now: datetime) -> None:
        self._clock, self._clock_at = self._time(now), now


def make(
    hand: Hand, random: Random, cards: Sequence[Card], known: Sequence[Card], born: datetime
) -> ActivationMind:
    """Return a mind that has met the `known` cards before it is born."""
    intercept = min(0.26, max(0.12, random.gauss(DECAY_INTERCEPT, 0.03)))
    mind = ActivationMind(hand, random, born, intercept, random.uniform(0.3, 0.55))
    for card in known:
        mind.remember(card, random.uniform(1, 7), random.randint(3, 25))
    return mind
