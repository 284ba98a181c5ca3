"""Which card comes next, when a new one enters, when the session ends."""

from __future__ import annotations

import random
from collections import deque
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from drills.cards.card import Card, Kind
from drills.learning.fluency import USUAL, Fluency
from drills.learning.model import Learner
from drills.learning.model.explain import explained
from drills.learning.model.utility import worth
from drills.learning.response import Response, Standing, State

__all__ = ["Planner", "Response", "Standing", "State"]

BREAK = timedelta(minutes=30)
"""A pause after which a new session begins."""
MINUTES = 8.0
MOST_CARDS = 150
WORTHWHILE = 0.003
"""A card worth less than this is left for another day."""
FEW_IN_HAND, IN_HAND = 4, 10
"""Cards being learnt at once: few while nothing goes right, but enough that two others lie between
two showings; at most as many as leave a few minutes between them (prior)."""
CARRYING_SUCCESS, RECENT = 0.4, 8
"""As many as that are learnt at once when this share of the last answers was right, so that success
finds its way towards the 85 % at which learning is quickest (Wilson et al. 2019). Revised by hand
after looking at simulated pupils."""
PLACEMENT_CARDS = 15
PLACEMENT_FIRST = 3
PLACEMENT_KNOWN = 0.3
"""Placement goes on while at least this share of cards seems known already."""
KEYS_AT_FIRST, KEYS_LATER = 4, 2
KEYS_APART = 12
CLOSING_TRIES = 6
OTHER_CLEF = 1.05
"""How much more a card in the other clef than the last is worth, so that clefs mix (prior)."""
TIES = 0.02
"""Chance decides between cards whose worth differs by less than this share."""
APART = 2
IN_THE_EAR = 0.8
"""What is left of a card's worth while fewer than `APART` others were asked since, when rests cost
the pupil as much as they usually do (prior)."""


class Planner:
    """Chooses the card worth most now, from what the answers so far tell of the pupil."""

    def __init__(
        self,
        cards: Sequence[Card],
        history: Iterable[Response] = (),
        seed: int = 0,
        *,
        asked: Collection[Card] | None = None,
        minutes: float = MINUTES,
        fluency: Fluency = USUAL,
        brought: Mapping[Card, float] | None = None,
    ) -> None:
        """Plan over `cards`, in teaching order, from earlier responses in any order.

        Only the cards in `asked` are asked, besides key cards; all of them if it is None. A
        session lasts `minutes`; `brought` multiplies the odds that a card is known before it is
        met.
        """
        self._keys = tuple(card for card in cards if card.kind is Kind.KEY)
        self._learner = Learner(cards, fluency, brought)
        self.ask_only(asked)
        self._random = random.Random(seed)
        self._length = timedelta(minutes=minutes)
        self._learner.fold(history)
        self._newcomer = not any(self._learner.memory(card).answers for card in self._learner.cards)
        self._recent: deque[bool] = deque(maxlen=RECENT)
        self._started: datetime | None = None
        self._latest: datetime | None = None
        self._begin()

    @property
    def fluent_seconds(self) -> float:
        """The pupil's own fluent time, as known now."""
        return self._learner.pupil.fluent_seconds

    def ask_only(self, asked: Collection[Card] | None) -> None:
        """Ask only these cards from now on, besides key cards; all of them if it is None."""
        places = None if asked is None else {card.place for card in asked}
        self._cards = tuple(
            card for card in self._learner.cards if places is None or card.place in places
        )
        self._ended = False

    def next(self, now: datetime) -> Card | None:
        """Give the next card, or None when the session should end. `now` is aware."""
        if self._started is None or self._latest is None or now - self._latest > BREAK:
            self._begin()
            self._started = now
        self._latest = now
        if self._ended:
            return None
        card = self._choose(now)
        if card is None:
            self._ended = True
            return None
        self._shown.append(card)
        return card

    def record(self, response: Response) -> None:
        """Take in the first answer to a card."""
        self._learner.observe(response)
        self._succeeded = response.correct
        self._recent.append(response.correct)
        if self._latest is None or response.at > self._latest:
            self._latest = response.at

    def standing(self, card: Card, now: datetime) -> Standing:
        """Say what is known about a card at `now`."""
        return explained(self._learner, card, now)

    def _begin(self) -> None:
        self._shown: list[Card] = []
        self._succeeded = True
        self._ended = False
        self._closing = 0
        if self._started is not None:
            self._newcomer = False

    def _choose(self, now: datetime) -> Card | None:
        assert self._started is not None
        time_up = now - self._started >= self._length or len(self._shown) >= MOST_CARDS
        if not time_up:
            card = self._due_key() or self._placed(now) or self._worth_most(now)
            if card is not None:
                return card
        return self._closing_card(now)

    def _closing_card(self, now: datetime) -> Card | None:
        """Give an easy card while the last answer was wrong, so that the end is a success."""
        if self._succeeded or self._closing >= CLOSING_TRIES:
            return None
        self._closing += 1
        if self._keys:
            return self._random.choice(self._keys)
        met = [card for card in self._free() if self._learner.memory(card).answers]
        return max(met, key=lambda card: self._learner.right_share(card, now), default=None)

    def _due_key(self) -> Card | None:
        if not self._keys:
            return None
        shown = sum(card.kind is Kind.KEY for card in self._shown)
        measured = self._learner.pupil.key_measured
        wanted = KEYS_LATER if measured and not self._newcomer else KEYS_AT_FIRST
        at = shown if wanted == KEYS_AT_FIRST else shown * KEYS_APART
        if shown >= wanted or len(self._shown) < at:
            return None
        fresh = [key for key in self._keys if key not in self._shown] or list(self._keys)
        return self._random.choice(fresh)

    def _placed(self, now: datetime) -> Card | None:
        """Give the next card of the placement at a pupil's first session."""
        notes = [card for card in self._shown if card.kind is not Kind.KEY]
        placed = len(set(notes))
        if not self._newcomer or placed >= PLACEMENT_CARDS or len(notes) > placed:
            return None
        known = self._learner.pupil.known_at_first
        if placed >= PLACEMENT_FIRST and known < PLACEMENT_KNOWN:
            return None
        return self._unmet()

    def _unmet(self) -> Card | None:
        """Give the first card not met whose landmark is carried, or else the first not met."""
        unmet = [
            card
            for card in self._cards
            if not self._learner.memory(card).answers and card not in self._shown[-APART:]
        ]
        carried = [card for card in unmet if self._learner.carried(card)]
        return next(iter(carried or unmet), None)

    def _carries(self, in_hand: int) -> bool:
        """Tell whether the cards in hand can carry a new one: more of them, the more goes right."""
        success = sum(self._recent) / len(self._recent) if self._recent else 0.0
        going_well = min(1.0, success / CARRYING_SUCCESS)
        return in_hand < FEW_IN_HAND + (IN_HAND - FEW_IN_HAND) * going_well

    def _free(self) -> list[Card]:
        """Give the cards that were not asked just now, or all if that leaves none."""
        return [card for card in self._cards if card not in self._shown[-1:]] or list(self._cards)

    def _worth_most(self, now: datetime) -> Card | None:
        learner = self._learner
        met = [card for card in self._free() if learner.memory(card).answers]
        in_hand = sum(learner.in_hand(card, now) for card in self._cards)
        choices = [(worth(learner, card, now), card) for card in met]
        new = self._unmet() if self._carries(in_hand) else None
        if new is not None:
            choices.append((worth(learner, new, now), new))
        clef = self._shown[-1].clef if self._shown else None
        in_the_ear = IN_THE_EAR**learner.pupil.forgetting
        best, chosen = WORTHWHILE, None
        for value, card in choices:
            mixing = OTHER_CLEF if card.clef != clef else 1.0
            spacing = in_the_ear if card in self._shown[-APART:] else 1.0
            weighed = value * mixing * spacing * (1 + TIES * self._random.random())
            if weighed > best:
                best, chosen = weighed, card
        return chosen
