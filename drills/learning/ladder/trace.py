"""What the answers on one rung tell: knowledge tracing (Corbett and Anderson 1995)."""

from __future__ import annotations

from collections import deque

from drills.cards.card import Card
from drills.learning.ladder.rung import Asks, Rung, odds
from drills.learning.prior_knowledge.prior_knowledge import PriorKnowledge

RECENT, RECENT_RIGHT = 8, 6
"""The latest answers that a reason speaks of, and how many of them must be right to climb."""
DENIED_ANSWERS = 2
"""How many times as many answers are asked for where the skill was looked for and not seen."""


class Trace:
    """How likely a pupil has the skill of one rung, and whether she has climbed it."""

    def __init__(self, rung: Rung, cards: frozenset[Card], brought: PriorKnowledge) -> None:
        """Start from what is brought; `cards` are those that the rung can ask, if they are few."""
        self._rung = rung
        self._cards = cards
        self._claimed = bool(rung.claimed(brought))
        denied = rung.denied(brought)
        self._fewest = rung.answers * (DENIED_ANSWERS if denied else 1)
        self.skilled = (
            odds().brought if self._claimed else odds().denied if denied else odds().unseen
        )
        """The probability of the skill."""
        self.climbed = self._claimed
        self._forget()

    @property
    def only_brought(self) -> bool:
        """Whether the skill is taken on trust: brought, and hardly tried here."""
        return self._claimed and self.climbed and self.tried < self._rung.answers // 2

    @property
    def recent(self) -> tuple[int, int]:
        """How many of the latest answers were right, and how many they are."""
        return sum(self._recent), len(self._recent)

    @property
    def missed(self) -> frozenset[Card]:
        """The cards that were wrong when last asked."""
        return frozenset(card for card, right in self._latest.items() if not right)

    def observe(self, card: Card, right: bool) -> None:
        """Take in an answer.

        What was brought is overturned at once, so that nothing is built on it; what was climbed
        here only when a session begins: within one, the pupil would go to and fro.
        """
        trusted = self._claimed and self.tried < self._rung.answers
        rung, known = self._rung, self.skilled
        with_skill = known * ((1 - rung.slip) if right else rung.slip)
        without = (1 - known) * (rung.guess if right else 1 - rung.guess)
        known = with_skill / (with_skill + without)
        self.skilled = known + (1 - known) * rung.learn
        self.tried += 1
        self._recent.append(right)
        self._latest[card] = right
        if trusted and self.skilled < odds().lost:
            self.climbed = False
        elif self.skilled >= odds().sure and self._shown:
            self.climbed = True

    def begin(self) -> None:
        """Begin a session: a rung that the last one showed not to hold is no longer climbed."""
        if self.skilled < odds().lost:
            self.climbed = False

    def set_by_teacher(self, climbed: bool) -> None:
        """Take the teacher's word; answers from now on may tell otherwise."""
        self.climbed = climbed
        trusted = max(self.skilled, odds().brought)
        self.skilled = trusted if climbed else min(self.skilled, odds().unseen)
        self._forget()

    @property
    def _shown(self) -> bool:
        """Whether enough was answered, most of it right, and all cards but one when last asked."""
        right, tried = self.recent
        if self.tried < self._fewest or right < min(RECENT_RIGHT, tried):
            return False
        if self._rung.asks is Asks.CONTOUR:
            return True
        return sum(self._latest.get(card, False) for card in self._cards) >= len(self._cards) - 1

    def _forget(self) -> None:
        self.tried = 0
        """Answers since the beginning, or since the teacher set a rung."""
        self._recent: deque[bool] = deque(maxlen=RECENT)
        self._latest: dict[Card, bool] = {}
