"""Published ways of choosing the next card, to race against.

All play in the same frame: the session's length is given, no card is asked twice running, and a
rival that has retired every card goes on with all of them in turn.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from datetime import datetime, timedelta
from math import exp, log
from random import Random

from drills.cards.card import Card
from drills.learning.response import Response, Standing, State

BREAK = timedelta(minutes=30)
"""A pause after which a new session begins."""


class Rival(ABC):
    """A way of choosing cards."""

    def __init__(self, cards: Sequence[Card], seed: int = 0) -> None:
        """Choose among `cards`."""
        self.cards = tuple(cards)
        self.random = Random(seed)
        self.last: Card | None = None
        self.shown: dict[Card, int] = dict.fromkeys(self.cards, 0)
        self.asked = 0
        self._latest: datetime | None = None

    def begin(self, now: datetime) -> None:  # noqa: B027 (most rivals know no sessions)
        """Begin a session."""

    def next(self, now: datetime) -> Card | None:
        """Return the next card."""
        if self._latest is None or now - self._latest > BREAK:
            self.begin(now)
        self._latest = now
        free = [card for card in self.cards if card != self.last] or list(self.cards)
        self.last = self.choose(free, now)
        self.asked += 1
        self.shown[self.last] = self.asked
        return self.last

    @abstractmethod
    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose among the cards that may be asked."""

    def record(self, response: Response) -> None:  # noqa: B027 (some rivals learn nothing)
        """Take in the first answer to a card."""

    def calls_secured(self, card: Card) -> bool | None:
        """Return whether the rival holds a card for secured; None if it holds no such view."""
        return None

    def standing(self, card: Card, now: datetime) -> Standing | None:
        """Return what the rival holds of a card; None if it holds no view."""
        secured = self.calls_secured(card)
        if secured is None:
            return None
        return Standing(float(secured), None, None, State.INK if secured else State.PENCIL, "")

    def longest_ago(self, cards: Sequence[Card]) -> Card:
        """Return the card that was asked longest ago."""
        return min(cards, key=lambda card: self.shown[card])


class RandomOrder(Rival):
    """Any card with the same probability."""

    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose by chance."""
        return self.random.choice(free)


class RoundRobin(Rival):
    """All cards in turn."""

    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose the one asked longest ago."""
        return self.longest_ago(free)


class Boxes(Rival):
    """Leitner's boxes (Leitner 1972, from memory).

    A right answer moves a card one box on, a wrong one back to the first; box n is taken out in
    every 2^(n-1)th session, and what is left of the time goes to the lowest box.
    """

    BOXES = 5

    def __init__(self, cards: Sequence[Card], seed: int = 0) -> None:
        """Start with every card in the first box."""
        super().__init__(cards, seed)
        self.box = dict.fromkeys(self.cards, 1)
        self._session = 0
        self._due: set[Card] = set()

    def begin(self, now: datetime) -> None:
        """Take out the boxes of this session."""
        self._session += 1
        self._due = {card for card, box in self.box.items() if self._session % 2 ** (box - 1) == 0}

    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose a card that is due, or else one of the lowest box."""
        due = [card for card in free if card in self._due]
        lowest = min(self.box[card] for card in free)
        return self.longest_ago(due or [card for card in free if self.box[card] == lowest])

    def record(self, response: Response) -> None:
        """Move the card."""
        card = response.card
        self._due.discard(card)
        self.box[card] = min(self.BOXES, self.box[card] + 1) if response.correct else 1

    def calls_secured(self, card: Card) -> bool:
        """Return whether the card is in the last box."""
        return self.box[card] == self.BOXES


class Priority(Rival):
    """The priority rule of adaptive sequencing by response times (Mettler, Massey and Kellman
    2011, from memory).

    Priority = a (N - D) [b (1 - wrong) log(RT / r) + wrong W], N cards after the card was last
    asked, RT its last time; a = 0.1, D = 2, b = 1.1, r = 1.7, W = 20. Cards not yet asked have a
    fixed priority. A card is retired after four right answers running within 5 s.
    """

    A, D, B, R, W = 0.1, 2, 1.1, 1.7, 20.0
    UNASKED = 1.0
    RETIRED_AFTER, RETIRED_SECONDS = 4, 5.0

    def __init__(self, cards: Sequence[Card], seed: int = 0) -> None:
        """Start with every card not asked."""
        super().__init__(cards, seed)
        self._last: dict[Card, Response] = {}
        self._streak = dict.fromkeys(self.cards, 0)

    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose the highest priority among cards not retired."""
        active = [card for card in free if not self.calls_secured(card)]
        if not active:
            return self.longest_ago(free)
        best = max(self.priority(card) for card in active)
        return self.random.choice([card for card in active if self.priority(card) == best])

    def priority(self, card: Card) -> float:
        """Return a card's priority for the next place."""
        response = self._last.get(card)
        if response is None:
            return self.UNASKED
        since = self.asked - self.shown[card] + 1
        if not response.correct:
            return self.A * (since - self.D) * self.W
        return self.A * (since - self.D) * self.B * log(response.seconds / self.R)

    def record(self, response: Response) -> None:
        """Keep the last answer."""
        self._last[response.card] = response
        good = response.correct and response.seconds <= self.RETIRED_SECONDS
        self._streak[response.card] = self._streak[response.card] + 1 if good else 0

    def calls_secured(self, card: Card) -> bool:
        """Return whether the card is retired."""
        return self._streak[card] >= self.RETIRED_AFTER


class Mastery(Rival):
    """Knowledge tracing to mastery at 0.95 (Corbett and Anderson 1995).

    The equations are the paper's; the parameters, which it fits for each rule, are of its usual
    size (from memory): known at first 0.25, transition 0.2, guess 0.2, slip 0.05. Cards that are
    not mastered are asked in turn.
    """

    KNOWN, TRANSITION, GUESS, SLIP = 0.25, 0.2, 0.2, 0.05
    MASTERED = 0.95

    def __init__(self, cards: Sequence[Card], seed: int = 0) -> None:
        """Start with the prior."""
        super().__init__(cards, seed)
        self.known = dict.fromkeys(self.cards, self.KNOWN)

    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose the card not mastered that was asked longest ago."""
        active = [card for card in free if not self.calls_secured(card)]
        return self.longest_ago(active or free)

    def record(self, response: Response) -> None:
        """Update the probability that the card is known."""
        self.known[response.card] = self.traced(self.known[response.card], response.correct)

    def traced(self, known: float, correct: bool) -> float:
        """Return the probability that a card is known after an answer and what it taught."""
        if correct:
            right = known * (1 - self.SLIP)
            posterior = right / (right + (1 - known) * self.GUESS)
        else:
            wrong = known * self.SLIP
            posterior = wrong / (wrong + (1 - known) * (1 - self.GUESS))
        return posterior + (1 - posterior) * self.TRANSITION

    def calls_secured(self, card: Card) -> bool:
        """Return whether the card is mastered."""
        return self.known[card] >= self.MASTERED


class LowestActivation(Rival):
    """The card of lowest activation first (Sense et al. 2016, from memory).

    Activation as in Pavlik and Anderson 2005 with c = 0.25; looking 15 s ahead, the card of
    lowest activation is asked if that is below -0.8, or else a new card is begun. Each card's
    decay intercept starts at 0.3 and is moved, by at most 0.05 an answer, to where the expected
    times F exp(-m) + 0.3 s (F = 1) of the last five answers differ least from those observed;
    both are cut at one and a half times the time at the threshold, for which a wrong answer
    counts.
    """

    C, INTERCEPT, THRESHOLD, LATENCY, FIXED = 0.25, 0.3, -0.8, 1.0, 0.3
    CEILING = 1.5 * (LATENCY * exp(-THRESHOLD) + FIXED)
    AHEAD, WINDOW, REACH, STEPS = 15.0, 5, 0.05, 4
    BETWEEN_SESSIONS, PAUSE = 0.025, 3600.0
    TRACES = 40
    """Older traces have faded and only cost time (a shortening of this program's own)."""

    def __init__(self, cards: Sequence[Card], seed: int = 0) -> None:
        """Start with no card met."""
        super().__init__(cards, seed)
        self._traces: dict[Card, list[tuple[float, float]]] = {}
        self._observed: dict[Card, list[tuple[float, float]]] = {}
        self.intercept = dict.fromkeys(self.cards, self.INTERCEPT)
        self._clock = 0.0
        self._clock_at: datetime | None = None

    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose the lowest activation, or the next new card when all are above threshold."""
        later = self._time(now) + self.AHEAD
        met = [card for card in free if card in self._traces]
        new = [card for card in free if card not in self._traces]
        if not met:
            return new[0]
        lowest = min(met, key=lambda card: self.activation(card, later))
        if new and self.activation(lowest, later) >= self.THRESHOLD:
            return new[0]
        return lowest

    def record(self, response: Response) -> None:
        """Add a trace, and fit the card's decay to its times."""
        card, at = response.card, self._time(response.at)
        self._clock, self._clock_at = at, response.at
        seconds = min(response.seconds, self.CEILING) if response.correct else self.CEILING
        if card in self._traces:
            observed = self._observed.setdefault(card, [])
            observed.append((at, seconds))
            del observed[: -self.WINDOW]
            self._fit(card)
        spacing = self.C * exp(self.activation(card, at)) if card in self._traces else 0.0
        traces = self._traces.setdefault(card, [])
        traces.append((at, spacing))
        del traces[: -self.TRACES]

    def activation(self, card: Card, at: float, intercept: float | None = None) -> float:
        """Return a met card's activation at a time of its own clock, from the traces before it."""
        decay = self.intercept[card] if intercept is None else intercept
        total = sum(
            max(1.0, at - then) ** -(spacing + decay)
            for then, spacing in self._traces[card]
            if then < at
        )
        return log(total) if total else -10.0

    def _fit(self, card: Card) -> None:
        low = self.intercept[card] - self.REACH
        high = self.intercept[card] + self.REACH
        for _ in range(self.STEPS):
            middle = (low + high) / 2
            less = self._misfit(card, (low + middle) / 2)
            more = self._misfit(card, (middle + high) / 2)
            if less == more:
                break
            low, high = (low, middle) if less < more else (middle, high)
        self.intercept[card] = (low + high) / 2

    def _misfit(self, card: Card, intercept: float) -> float:
        return sum(
            abs(self._seconds(self.activation(card, at, intercept)) - seconds)
            for at, seconds in self._observed[card]
        )

    def _seconds(self, activation: float) -> float:
        return min(self.CEILING, self.LATENCY * exp(-activation) + self.FIXED)

    def _time(self, now: datetime) -> float:
        if self._clock_at is None:
            return 0.0
        passed = max(0.0, (now - self._clock_at).total_seconds())
        return self._clock + passed * (self.BETWEEN_SESSIONS if passed > self.PAUSE else 1.0)


RIVALS: dict[str, type[Rival]] = {
    "random": RandomOrder,
    "round robin": RoundRobin,
    "Leitner boxes": Boxes,
    "priority by time": Priority,
    "lowest activation": LowestActivation,
    "mastery at 0.95": Mastery,
}
