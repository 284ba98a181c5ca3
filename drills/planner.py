"""Which card comes next."""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from datetime import datetime
from statistics import median

from drills.card import Card
from drills.response import Response, Standing, State

__all__ = ["Planner", "Response", "Standing", "State"]

SESSION_CARDS = 30


class Planner:
    """Chooses the card practised least so far, and never the same card twice running."""

    def __init__(
        self, cards: Sequence[Card], history: Iterable[Response] = (), seed: int = 0
    ) -> None:
        """Plan over `cards`, in teaching order, from earlier responses in any order."""
        self._cards = tuple(cards)
        self._random = random.Random(seed)
        self._responses: dict[Card, list[Response]] = {card: [] for card in self._cards}
        self._last: Card | None = None
        for response in history:
            self._remember(response)
        self._asked = 0

    def next(self, now: datetime) -> Card | None:
        """Give the next card, or None when the session should end. `now` is aware."""
        if self._asked >= SESSION_CARDS:
            return None
        choices = [card for card in self._cards if card != self._last] or list(self._cards)
        self._last = min(choices, key=lambda card: len(self._responses[card]))
        self._asked += 1
        return self._last

    def record(self, response: Response) -> None:
        """Take in the first answer to a card."""
        self._remember(response)

    def standing(self, card: Card, now: datetime) -> Standing:
        """Say what is known about a card at `now`."""
        responses = self._responses[card]
        if not responses:
            return Standing(0.0, None, None, State.NEW, "Not met yet.")
        right = [response.seconds for response in responses if response.correct]
        accuracy = len(right) / len(responses)
        return Standing(
            0.0,
            median(right) if right else None,
            accuracy,
            State.PENCIL,
            f"{len(right)} of {len(responses)} right so far.",
        )

    def _remember(self, response: Response) -> None:
        if response.card in self._responses:
            self._responses[response.card].append(response)
