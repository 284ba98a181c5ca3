"""The warm-up in the lesson: a few cards from what home practice left unsecured.

Pure: what is proposed, how the teacher narrows it, the order of asking, and what came of it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from itertools import pairwise

from drills.cards.card import Card, Kind
from drills.learning.response import Response, Standing, State
from drills.learning.scheduler import Scheduler
from landmarks.pitch import Pitch
from landmarks.stave import CLEFS, Clef

LENGTHS = (8, 12, 16)
"""Cards in a warm-up: about one, one and a half and two minutes of a lesson."""
MOST_TIMES = 3
"""A card is proposed this often at most, however few are left after narrowing."""
COMES_BACK_AFTER = 3
"""A missed card comes back after so many others, once: no longer in the ear, not yet gone."""
CLOSING_TRIES = 2
MOST_FOR_THE_WEEK, FEWEST_FOR_THE_WEEK = 10, 5
"""Cards in a home plan: no more than `drills.learning.planner` keeps in hand at once."""
WEEK_MINUTES = 8

_NEED = {State.FADED: 0, State.PENCIL: 1, State.INK: 2}
"""What was secured and has faded comes first."""


class Reach(StrEnum):
    """Which notes: the landmarks, the steps around them, or both."""

    BOTH = "both"
    LANDMARKS = "landmarks"
    STEPS = "steps"


@dataclass(frozen=True)
class Filter:
    """How the teacher narrows a warm-up; as it stands, everything is in it."""

    clefs: frozenset[Clef] = frozenset(CLEFS.values())
    reach: Reach = Reach.BOTH
    left_out: frozenset[Pitch] = frozenset()
    """Landmarks that are not asked, nor the steps around them."""
    length: int = LENGTHS[1]

    def holds(self, card: Card) -> bool:
        """Return whether a card is left in."""
        wanted = {Reach.LANDMARKS: not card.steps, Reach.STEPS: bool(card.steps)}
        return (
            card.kind is not Kind.KEY
            and card.clef in self.clefs
            and card.anchor not in self.left_out
            and wanted.get(self.reach, True)
        )

    def toggled(self, landmark: Pitch) -> Filter:
        """Leave a landmark out, or take it in again."""
        return replace(self, left_out=self.left_out ^ {landmark})


def proposal(
    cards: Sequence[Card], standing: Callable[[Card], Standing], narrowing: Filter
) -> tuple[Card, ...]:
    """Return the cards of a warm-up in their order, from `cards` in the order of teaching.

    Unsecured ones come before secured ones, those least sure of all first, and twice before a
    note is met for the first time. It begins and ends with the surest of them, and the clefs
    take turns. Empty if the narrowing leaves nothing.
    """
    standings = {card: standing(card) for card in cards if narrowing.holds(card)}
    if not standings:
        return ()
    met = _by_need(standings)
    new = [card for card in standings if standings[card].state is State.NEW]
    rounds = [_of_this_round(met, new, narrowing.length)]
    while len(rounds) < MOST_TIMES and (room := narrowing.length - sum(map(len, rounds))) > 0:
        rounds.append(rounds[0][:room])
    sure = {card: standings[card].p_secured for card in standings}
    return _in_order(rounds, sure)


def _by_need(standings: Mapping[Card, Standing]) -> list[Card]:
    """Return the cards that were met, those most in need first."""
    met = [card for card in standings if standings[card].state is not State.NEW]
    return sorted(met, key=lambda c: (_NEED[standings[c].state], standings[c].p_secured))


def _of_this_round(met: list[Card], new: list[Card], length: int) -> list[Card]:
    """Fill up with notes never met only where those met would be asked too often."""
    missing = max(0, length - 2 * len(met))
    return (met + new[: -(-missing // 2)])[:length]


def _in_order(rounds: list[list[Card]], sure: dict[Card, float]) -> tuple[Card, ...]:
    ordered: list[Card] = []
    for cards in rounds:
        waiting = list(cards)
        while waiting:
            last = ordered[-1] if ordered else None
            apart = [card for card in waiting if card != last] or waiting
            turn = [card for card in apart if last is None or card.clef != last.clef] or apart
            chosen = turn[0] if ordered else max(turn, key=sure.__getitem__)
            waiting.remove(chosen)
            ordered.append(chosen)
    return _ending_surely(ordered, sure)


def _ending_surely(ordered: list[Card], sure: dict[Card, float]) -> tuple[Card, ...]:
    """Move the surest card to the end that leaves none twice running where none was before."""

    def running(cards: Sequence[Card]) -> int:
        return sum(one == other for one, other in pairwise(cards))

    for place in sorted(range(1, len(ordered)), key=lambda at: -sure[ordered[at]]):
        moved = [*ordered[:place], *ordered[place + 1 :], ordered[place]]
        if running(moved) <= running(ordered):
            return tuple(moved)
    return tuple(ordered)


@dataclass(frozen=True)
class Outcome:
    """What a warm-up showed of one note."""

    card: Card
    before: State
    after: Standing
    first_answers: tuple[Response, ...]

    @property
    def at_once(self) -> bool:
        """Whether the note was right every time it was asked."""
        return all(response.correct for response in self.first_answers)

    @property
    def changed(self) -> bool:
        """Whether it is drawn otherwise than before."""
        return self.before is not self.after.state


class WarmUp:
    """Chooses a warm-up's cards: those proposed, the missed ones once more, a success last."""

    def __init__(self, planner: Scheduler, cards: Sequence[Card], now: datetime) -> None:
        """Ask `cards` in their order; `planner` hears the answers and knows the standings."""
        self._planner = planner
        self._waiting = list(cards)
        self._before = {card: planner.standing(card, now).state for card in cards}
        self._answers: dict[Card, list[Response]] = {card: [] for card in cards}
        self._missed: set[Card] = set()
        self._succeeded = True
        self._closing = 0

    def next(self, now: datetime) -> Card | None:
        """Return the next card, or None when the warm-up is over."""
        if self._waiting:
            return self._waiting.pop(0)
        if self._succeeded or self._closing >= CLOSING_TRIES:
            return None
        self._closing += 1
        return max(self._answers, key=lambda card: self._planner.standing(card, now).p_secured)

    def record(self, response: Response) -> None:
        """Take in the first answer to a card."""
        self._planner.record(response)
        self._succeeded = response.correct
        card = response.card
        if card.kind is Kind.KEY:
            return
        self._answers.setdefault(card, []).append(response)
        if not response.correct and card not in self._missed:
            self._missed.add(card)
            self._waiting.insert(COMES_BACK_AFTER, card)

    def standing(self, card: Card, now: datetime) -> Standing:
        """Say what is known about a card."""
        return self._planner.standing(card, now)

    def outcomes(self, now: datetime) -> tuple[Outcome, ...]:
        """Return what came of the notes that were answered, in the order of asking."""
        return tuple(
            Outcome(card, self._before[card], self._planner.standing(card, now), tuple(answers))
            for card, answers in self._answers.items()
            if answers
        )


def week(
    cards: Sequence[Card],
    standing: Callable[[Card], Standing],
    outcomes: Sequence[Outcome],
) -> tuple[Card, ...]:
    """Propose what to practise until the next lesson, from `cards` in the order of teaching.

    Notes missed in the warm-up come first, then the other unsecured ones; where those are few,
    the next notes that were never met.
    """
    missed = [outcome.card for outcome in outcomes if not outcome.at_once]
    asked = [card for card in cards if card.kind is not Kind.KEY]
    standings = {card: standing(card) for card in asked}
    unsecured = [card for card in _by_need(standings) if standings[card].state is not State.INK]
    wanted = list(dict.fromkeys(missed + unsecured))[:MOST_FOR_THE_WEEK]
    new = [card for card in asked if standings[card].state is State.NEW]
    wanted += [card for card in new if card not in wanted][
        : max(0, FEWEST_FOR_THE_WEEK - len(wanted))
    ]
    if not wanted:
        wanted = sorted(asked, key=lambda card: standings[card].p_secured)[:FEWEST_FOR_THE_WEEK]
    order = {card: place for place, card in enumerate(asked)}
    return tuple(sorted(wanted, key=lambda card: order.get(card, len(order))))
