"""A simulated pupil practises day after day with whoever chooses the cards."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Protocol

from drills.cards.card import Card
from drills.learning.response import Response, Standing, State
from drills.simulation.pupils import SimulatedPupil

BORN = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
PAUSE_LIMIT = 30.0
"""Seconds from which an answer is a pause and is not counted, as in the drill."""
FEEDBACK, CORRECTION = 1.5, 2.5
"""Seconds between cards, and more after a wrong key until the right one is played."""


class Chooser(Protocol):
    """What practice asks of any way of choosing cards."""

    def next(self, now: datetime) -> Card | None:
        """Return the next card, or None to end the day's practice."""

    def record(self, response: Response) -> None:
        """Take in the first answer to a card."""

    def standing(self, card: Card, now: datetime) -> Standing | None:
        """Return what is held of a card; None without a view."""


@dataclass(frozen=True)
class Claims:
    """At one moment, numbers of cards: called secured, of those not so, truly so, of those not
    called so.
    """

    called: int
    false: int
    true: int
    unnamed: int


class Practice:
    """What a pupil and a chooser do together; the answers so far, right or wrong, and the time."""

    def __init__(self, teacher: Chooser, pupil: SimulatedPupil, notes: Sequence[Card]) -> None:
        """Begin before the first day; claims are made of the cards in `notes`."""
        self._teacher, self._pupil, self._notes = teacher, pupil, tuple(notes)
        self.answers: list[bool] = []
        self.seconds = 0.0

    def practise(
        self,
        start: datetime,
        minutes: float,
        cards: int | None = None,
        look: Callable[[datetime], None] = lambda now: None,
    ) -> datetime:
        """Practise so many minutes, or cards if they are given and fewer; return when it ended.

        `look` is called after every answer.
        """
        now, last = start, len(self.answers) + (cards or 0)
        end = start + timedelta(minutes=minutes)
        while now < end and (cards is None or len(self.answers) < last):
            card = self._teacher.next(now)
            if card is None:
                break
            now = self._answer(card, now)
            look(now)
        self.seconds += (now - start).total_seconds()
        return now

    def claims(self, now: datetime, after: timedelta) -> Claims | None:
        """Return what is called secured at `now`, held against a cold answer so much later.

        None where the chooser has no view.
        """
        called, true = [], []
        for card in self._notes:
            standing = self._teacher.standing(card, now)
            if standing is None:
                return None
            called.append(standing.state is State.INK)
            true.append(self._pupil.secured(card, now, after))
        pairs = list(zip(called, true, strict=True))
        return Claims(
            called=sum(called),
            false=sum(named and not so for named, so in pairs),
            true=sum(true),
            unnamed=sum(so and not named for named, so in pairs),
        )

    def _answer(self, card: Card, now: datetime) -> datetime:
        reading = self._pupil.answer(card, now)
        correct = reading.key == card.key
        at = now + timedelta(seconds=reading.seconds)
        self.answers.append(correct)
        if reading.seconds <= PAUSE_LIMIT:
            self._teacher.record(Response(card, at, reading.seconds, correct, reading.key))
        return at + timedelta(seconds=FEEDBACK + (0.0 if correct else CORRECTION))
