"""The learning model: answers in, beliefs about every note out.

For each note a belief over how well it is known (`strength`), under each of a few ways in which
the pupil may learn (`ways`). An answer counts as fluent as surely as its time is within the pupil's
own fluent time (`hand`). What a note was read a moment ago is partly found again from memory of
that moment, and so tells less; that part falls with the logarithm of time, from all of it at once
to nothing after a day (forgetting within a session, Pavlik and Anderson 2005, from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from math import log
from operator import mul

from drills.cards.card import Card, Kind, Place
from drills.learning.fluency import USUAL as USUAL_FLUENCY
from drills.learning.fluency import Fluency
from drills.learning.model.hand import Hand
from drills.learning.model.memory import DAY, Folded, Memory
from drills.learning.model.strength import Strengths
from drills.learning.model.ways import ways_of_learning, weigh
from drills.learning.parameters import USUAL, Parameters
from drills.learning.response import Response, State

HOUR, MINUTE = 3600.0, 60.0
WARM_SPAN = log(1 + DAY / MINUTE)


class Learner:
    """Beliefs about one pupil and every note."""

    def __init__(
        self,
        cards: Sequence[Card],
        fluency: Fluency = USUAL_FLUENCY,
        prior_knowledge: Mapping[Card, float] | None = None,
        parameters: Parameters = USUAL,
    ) -> None:
        """Start from the priors over `cards`.

        `prior_knowledge` multiplies the odds that a card is known before it is met.
        """
        self.parameters = parameters
        self.hand = Hand(fluency, parameters)
        self._strengths = Strengths(parameters)
        self._ways = ways_of_learning(parameters)
        self.weights = [1 / len(self._ways)] * len(self._ways)
        """How likely each way of learning is to be the pupil's."""
        self.met = parameters.known_at_first_weight
        self.met_known = parameters.known_at_first * self.met
        self.turns = 0
        """How many cards were asked."""
        self.careless = False
        """Whether the pupil plays so many notes amiss that she knows, that none is held secured."""
        self.on_trusted: list[bool] = []
        """Whether each of the latest answers was right on notes more likely secured than not."""
        asked: dict[Place, Card] = {}
        for card in cards:
            if card.kind is not Kind.KEY:
                asked.setdefault(card.place, card)
        self.cards = tuple(asked.values())
        """The cards asked; of several that ask for one note the first."""
        self.memories = {place: Memory() for place in asked}
        """What is remembered of each note."""
        self._prior_odds = {card.place: odds for card, odds in (prior_knowledge or {}).items()}
        self._cold: dict[Place, tuple[datetime | None, int, list[float]]] = {}

    def folded(self) -> Folded:
        """Return all that is believed now."""
        key_times, right_times = self.hand.times()
        return Folded(
            turns=self.turns, weights=self.weights, met=self.met, met_known=self.met_known,
            on_trusted=self.on_trusted, careless=self.careless, key_times=list(key_times),
            right_times=list(right_times),
            memories={card.id: self.memories[card.place] for card in self.cards},
        )  # fmt: skip

    def restore(self, folded: Folded) -> None:
        """Begin from what was believed of the same cards, by the same parameters."""
        self.turns, self.weights = folded.turns, list(folded.weights)
        self.met, self.met_known = folded.met, folded.met_known
        self.on_trusted, self.careless = list(folded.on_trusted), folded.careless
        self.hand.restore(folded.key_times, folded.right_times)
        for card in self.cards:
            self.memories[card.place] = folded.memories[card.id]

    def take_turn(self, card: Card) -> None:
        """Take in that a card is asked."""
        self.turns += 1
        memory = self.memories.get(card.place)
        if memory is not None:
            memory.turn = self.turns

    def fold(self, responses: Iterable[Response]) -> None:
        """Take in many answers, oldest first whatever their order."""
        for response in sorted(responses, key=lambda response: response.at):
            self.take_turn(response.card)
            self.observe(response)

    def observe(self, response: Response) -> None:
        """Take in one answer. One on a note outside the set changes nothing."""
        if response.card.kind is Kind.KEY:
            if response.correct and not response.card.form:
                self.hand.saw_key(response.seconds)
            return
        memory = self.memories.get(response.card.place)
        if memory is None:
            return
        first = not memory.answers
        chance = self.hand.fluent_chance(response.seconds) if response.correct else 0.0
        if memory.p_secured >= self.parameters.fade_below:
            self._heed(response.correct)
        self._weigh(memory, response, chance)
        memory.p_secured = self._secured(memory, 0.0)
        if first:
            self.met += 1
            self.met_known += memory.p_secured
        if response.correct:
            self.hand.saw_right(response.seconds)
        memory.count(response, chance >= 0.5, self.parameters)
        memory.settle(self._heedful, self.parameters)

    def memory(self, card: Card) -> Memory:
        """Return a card's record; KeyError if it is not in the set."""
        return self.memories[card.place]

    def state(self, card: Card, now: datetime) -> State:
        """Return a card's state at `now`: ink fades, too, where absence makes it too unlikely."""
        memory = self.memories[card.place]
        if not memory.answers:
            return State.NEW
        holds = self.p_secured(card, now) >= self.parameters.fade_below
        if memory.inked and holds and not self.careless:
            return State.INK
        return State.FADED if memory.ever_inked else State.PENCIL

    def p_secured(self, card: Card, now: datetime) -> float:
        """Return the probability that the card is secured when next read cold."""
        memory = self.memories[card.place]
        lag = memory.lag(now)
        if lag is None:
            return self._strengths.secured(self._unmet(card))
        return self._secured(memory, self._fallen(lag))

    def cold_share(self, card: Card, now: datetime) -> float:
        """Return the expected share of fluent answers when the card is next read cold."""
        if not self.memories[card.place].answers:
            return self._strengths.fluent(self._unmet(card))
        return float(sum(map(mul, self.weights, self._cold_shares(card, now))))

    def fluent_share(self, card: Card, now: datetime) -> float:
        """Return the expected share of fluent answers if the card is asked at `now`."""
        lag = self.memories[card.place].lag(now)
        if lag is None:
            return self._strengths.fluent(self._unmet(card))
        warmth, most = self._warmth(lag), self._strengths.most
        return sum(
            weight * (cold + (most - cold) * way.carry * warmth)
            for weight, way, cold in zip(
                self.weights, self._ways, self._cold_shares(card, now), strict=True
            )
        )

    @property
    def _heedful(self) -> bool:
        """Whether at most one in ten is wrong of the latest answers on trusted notes."""
        numbers = self.parameters
        wrong = self.on_trusted.count(False)
        return wrong <= (1 - numbers.secured_share) * numbers.trusted_answers

    def _heed(self, right: bool) -> None:
        """Take in whether an answer on a trusted note was right."""
        numbers = self.parameters
        self.on_trusted = [*self.on_trusted, right][-numbers.trusted_answers :]
        wrong = self.on_trusted.count(False)
        if wrong >= numbers.careless_share * numbers.trusted_answers:
            self.careless = True
        elif self._heedful:
            self.careless = False

    def _weigh(self, memory: Memory, response: Response, chance: float) -> None:
        """Weigh every belief by an answer that was fluent with this chance; then its practice."""
        strengths, numbers = self._strengths, self.parameters
        lag = memory.lag(response.at)
        if lag is None:
            memory.beliefs = [self._unmet(response.card)] * len(self._ways)
        warmth = 0.0 if lag is None else self._warmth(lag)
        shares = strengths.shares_after(0.0 if lag is None else self._fallen(lag))
        rested = lag is not None and not warmth
        likelihoods, beliefs = [], []
        for way, held in zip(self._ways, memory.beliefs, strict=True):
            belief = strengths.rest(held) if rested else held
            # A line a + b * share instead of a chance for each level: this is the inmost loop.
            helped = way.carry * warmth
            fluent, slope = strengths.most * helped, 1 - helped
            constant = (1 - chance) + (2 * chance - 1) * fluent
            slope *= 2 * chance - 1
            products = [
                share * (constant + slope * at_level)
                for share, at_level in zip(belief, shares, strict=True)
            ]
            likely = sum(products)
            likelihoods.append(likely)
            beliefs.append(
                strengths.practise(products, way.power, way.at_once, memory.answers, likely)
            )
        memory.beliefs = beliefs
        self.weights = weigh(self.weights, likelihoods, numbers.change)
        self._cold.pop(response.card.place, None)

    def _unmet(self, card: Card) -> list[float]:
        known = self.met_known / self.met
        odds = known / (1 - known) * self._prior_odds.get(card.place, 1.0)
        return self._strengths.prior(odds / (1 + odds))

    def _secured(self, memory: Memory, fallen: float) -> float:
        return sum(
            weight * self._strengths.secured(belief, fallen)
            for weight, belief in zip(self.weights, memory.beliefs, strict=True)
        )

    def _cold_shares(self, card: Card, now: datetime) -> list[float]:
        """Return the share of fluent answers, read cold, under each way of learning."""
        memory = self.memories[card.place]
        lag = memory.lag(now) or 0.0
        hours = int(max(DAY, lag) / HOUR)
        kept = self._cold.get(card.place)
        if kept is None or kept[:2] != (memory.last, hours):
            fallen = self._fallen(lag)
            shares = [self._strengths.fluent(belief, fallen) for belief in memory.beliefs]
            kept = self._cold[card.place] = memory.last, hours, shares
        return kept[2]

    def _fallen(self, lag: float) -> float:
        """Return by how much the log odds fall over a lag in seconds, beyond the first day."""
        return self.parameters.forgetting * log(max(1.0, lag / DAY))

    def _warmth(self, lag: float) -> float:
        """Return how much of the moment of the last answer is left, 1 at once and 0 when cold."""
        if lag >= self.parameters.cold_after * HOUR:
            return 0.0
        return 1 - log(1 + lag / MINUTE) / WARM_SPAN
