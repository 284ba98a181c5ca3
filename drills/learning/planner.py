"""Which card comes next, when a new one enters, when the session ends.

In one sentence: notes are asked in turn, doubtful ones more often. The card asked is the one with
the largest doubt² × (cards since it was last asked), where doubt is 1 minus the share of fluent
answers that is believed of it at that moment; so each card's turns come about in proportion to the
square of its doubt (Tabibian et al. 2019 find reviewing in proportion to doubt optimal; the square
was found by trial). What was asked just now is hardly in doubt, and rests. New cards enter, in the
order of teaching, while few of those met failed when last asked. What is secured is asked last and
ever more seldom, as absence makes it doubtful: that is upkeep, and a teacher can turn it off.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from drills.cards.card import Card, Kind
from drills.learning.fluency import USUAL as USUAL_FLUENCY
from drills.learning.fluency import Fluency
from drills.learning.model import Learner
from drills.learning.model.explain import explain
from drills.learning.model.memory import Folded
from drills.learning.parameters import USUAL, Parameters
from drills.learning.response import Response, Standing, State

__all__ = ["Planner", "Response", "Standing", "State"]

ALIKE = 0.9
"""Cards whose priority is at least this share of the largest are alike: the other clef decides."""


class Planner:
    """Chooses the card to ask from what the answers so far tell of the pupil."""

    def __init__(
        self,
        cards: Sequence[Card],
        history: Iterable[Response] = (),
        seed: int = 0,
        *,
        asked: Collection[Card] | None = None,
        minutes: float | None = None,
        fluency: Fluency = USUAL_FLUENCY,
        prior_knowledge: Mapping[Card, float] | None = None,
        upkeep: bool = True,
        parameters: Parameters = USUAL,
        folded: Folded | None = None,
    ) -> None:
        """Plan over `cards`, in teaching order, from earlier responses in any order.

        Only the cards in `asked` are asked, besides key cards; all of them if it is None. A
        session lasts `minutes`; `prior_knowledge` multiplies the odds that a card is known before
        it is met. Without `upkeep` cards in ink are not asked. `folded` is what was believed of
        the same cards, by the same parameters, before the `history`.
        """
        self._parameters = parameters
        self._keys = tuple(card for card in cards if card.kind is Kind.KEY)
        self.learner = Learner(cards, fluency, prior_knowledge, parameters)
        if folded is not None:
            self.learner.restore(folded)
        self._upkeep = upkeep
        self.ask_only(asked)
        self._random = random.Random(seed)
        self._length = timedelta(minutes=parameters.session_minutes if minutes is None else minutes)
        self._break = timedelta(minutes=parameters.break_minutes)
        self._waiting = sorted(history, key=lambda response: response.at, reverse=True)
        self._newcomer = True
        self._started: datetime | None = None
        self._latest: datetime | None = None
        self._begin()

    @property
    def fluent_seconds(self) -> float:
        """The pupil's own fluent time, as known now."""
        return self.learner.hand.fluent_seconds

    @property
    def set_aside(self) -> int:
        """How many earlier answers are dated later than now, by a wrong clock, and wait."""
        return len(self._waiting)

    def ask_only(self, asked: Collection[Card] | None) -> None:
        """Ask only these cards from now on, besides key cards; all of them if it is None."""
        places = None if asked is None else {card.place for card in asked}
        self._cards = tuple(
            card for card in self.learner.cards if places is None or card.place in places
        )
        self._ended = False

    def next(self, now: datetime) -> Card | None:
        """Return the next card, or None when the session should end. `now` is aware."""
        self._take_in_until(now)
        if self._started is None or self._latest is None or abs(now - self._latest) > self._break:
            self._begin()
            self._started = now
            self._newcomer = not any(m.answers for m in self.learner.memories.values())
        self._latest = now
        card = None if self._ended else self._choose(now)
        if card is None:
            self._ended = True
            return None
        self._shown.append(card)
        self.learner.take_turn(card)
        return card

    def record(self, response: Response) -> None:
        """Take in the first answer to a card."""
        self._take_in_until(response.at)
        self.learner.observe(response)
        self._succeeded = response.correct
        if self._latest is None or response.at > self._latest:
            self._latest = response.at

    def standing(self, card: Card, now: datetime) -> Standing:
        """Say what is known about a card at `now`."""
        self._take_in_until(now)
        return explain(self.learner, card, now)

    def take_in(self, history: Iterable[Response], now: datetime) -> Folded:
        """Take in earlier responses that are not dated after `now`; return what is then believed.

        Those that are wait.
        """
        self._waiting = sorted(
            [*self._waiting, *history], key=lambda response: response.at, reverse=True
        )
        self._take_in_until(now)
        return self.learner.folded()

    def _take_in_until(self, now: datetime) -> None:
        """Take in the earlier answers whose time has come; those dated later wait."""
        while self._waiting and self._waiting[-1].at <= now:
            response = self._waiting.pop()
            self.learner.take_turn(response.card)
            self.learner.observe(response)

    def _begin(self) -> None:
        self._shown: list[Card] = []
        self._succeeded = True
        self._ended = False
        self._closing = 0

    def _choose(self, now: datetime) -> Card | None:
        assert self._started is not None
        time_up = now - self._started >= self._length
        if not time_up and len(self._shown) < self._parameters.session_cards:
            card = self._due_key() or self._new(now) or self._in_turn(now)
            if card is not None:
                return card
        return self._closing_card(now)

    def _closing_card(self, now: datetime) -> Card | None:
        """Return an easy card while the last answer was wrong, so that the end is a success."""
        if self._succeeded or self._closing >= self._parameters.closing_tries:
            return None
        self._closing += 1
        if self._keys:
            return self._random.choice(self._keys)
        met = [card for card in self._free() if self.learner.memory(card).answers]
        return max(met, key=lambda card: self.learner.fluent_share(card, now), default=None)

    def _due_key(self) -> Card | None:
        if not self._keys:
            return None
        numbers = self._parameters
        shown = sum(card.kind is Kind.KEY for card in self._shown)
        newcomer = self._newcomer or not self.learner.hand.measured
        wanted = numbers.keys_at_first if newcomer else numbers.keys_later
        at = shown if newcomer else shown * numbers.keys_apart
        if shown >= wanted or len(self._shown) < at:
            return None
        fresh = [key for key in self._keys if key not in self._shown] or list(self._keys)
        return self._random.choice(fresh)

    def _new(self, now: datetime) -> Card | None:
        """Return the next card not met, while few of those met failed when last asked."""
        memories = [self.learner.memory(card) for card in self._cards]
        failed = sum(memory.answers > 0 and not memory.fluent_run for memory in memories)
        if failed >= self._parameters.in_hand:
            return None
        return next((card for card in self._free() if not self.learner.memory(card).answers), None)

    def _in_turn(self, now: datetime) -> Card | None:
        """Return the card whose turn it is: the most in doubt for the longest."""
        if all(self._is_fresh(card, now) for card in self._cards):
            return None
        priorities = [
            (self._priority(card, now), card)
            for card in self._free()
            if self.learner.memory(card).answers
            and (self._upkeep or self.learner.state(card, now) is not State.INK)
        ]
        best = max((priority for priority, _ in priorities), default=0.0)
        alike = [card for priority, card in priorities if priority >= ALIKE * best]
        clef = self._shown[-1].clef if self._shown else None
        return next((card for card in alike if card.clef != clef), next(iter(alike), None))

    def _priority(self, card: Card, now: datetime) -> float:
        doubt = 1 - self.learner.fluent_share(card, now)
        since = self.learner.turns + 1 - self.learner.memory(card).turn
        return float(doubt**self._parameters.doubt_power * since)

    def _is_fresh(self, card: Card, now: datetime) -> bool:
        """Return whether a card need not be asked again today."""
        if self.learner.state(card, now) is not State.INK:
            return False
        memory = self.learner.memory(card)
        today = memory.last is not None and memory.last.date() == now.date()
        return not self._upkeep or (today and memory.fluent_run >= self._parameters.upkeep_rounds)

    def _free(self) -> list[Card]:
        """Return the cards that were not asked just now, or all if that leaves none."""
        return [card for card in self._cards if card not in self._shown[-1:]] or list(self._cards)
