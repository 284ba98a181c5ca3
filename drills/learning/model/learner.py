"""The learning model: answers in, beliefs about every card out.

For each card a hidden Markov chain over ways of reading it and a normal belief about its pace
when known, both meant cold; numbers of the pupil as a whole link the cards.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from math import exp, log

from drills.cards.card import Card, Kind, Place
from drills.learning import facts
from drills.learning.fluency import USUAL, Fluency
from drills.learning.model import belief as beliefs
from drills.learning.model.likelihood import Seen, right_answer, wrong_answer
from drills.learning.model.memory import COLD_AFTER, DAY, Memory
from drills.learning.model.pupil import Pupil
from drills.learning.model.times import Pace, logistic_below, logistic_quantile, normal_below
from drills.learning.response import Response, State
from landmarks.answer import Verdict, brushes, judge

MINUTE = 60.0
WARM_SPAN = log(DAY / MINUTE)
SCATTER_FROM = 3
"""Answers on a card from which its expected time is worth comparing with."""
CARRYING = 0.5
"""Expected share of right and fluent answers from which a card can carry new ones (prior)."""
SLIP_VERDICTS = (Verdict.CLEF, Verdict.STEP, Verdict.DIRECTION, Verdict.OCTAVE)


class Learner:
    """Beliefs about one pupil and every card."""

    def __init__(
        self,
        cards: Sequence[Card],
        fluency: Fluency = USUAL,
        brought: Mapping[Card, float] | None = None,
    ) -> None:
        """Start from the priors over `cards`. `brought` multiplies the odds that a card is known
        before it is met.
        """
        self.pupil = Pupil(fluency)
        asked: dict[Place, Card] = {}
        for card in cards:
            if card.kind is not Kind.KEY:
                asked.setdefault(card.place, card)
        self.cards = tuple(asked.values())
        """The cards asked; of several that ask for one note the first."""
        self._memories = {card.place: Memory([], self._fresh_pace()) for card in self.cards}
        self._by_place = {(card.clef, card.key): card for card in self.cards}
        self._by_key: dict[int, list[Card]] = {}
        for card in self.cards:
            self._by_key.setdefault(card.key, []).append(card)
        self._brought = {card.place: odds for card, odds in (brought or {}).items()}
        self._relatives = {card.place: self._related(card) for card in self.cards}

    def fold(self, responses: Iterable[Response]) -> None:
        """Take in many answers, oldest first whatever their order."""
        for response in sorted(responses, key=lambda response: response.at):
            self.observe(response)

    def observe(self, response: Response) -> None:
        """Take in one answer. One on a note outside the set changes nothing."""
        if response.card.kind is Kind.KEY:
            if response.correct and not response.card.form:
                self.pupil.saw_key_time(response.seconds)
            return
        memory = self._memories.get(response.card.place)
        if memory is None:
            return
        lag = memory.lag(response.at)
        if lag is None:
            memory.belief = self._unmet_belief(response.card)
            memory.pace = self._fresh_pace()
        lost = self._rest(memory, lag) if lag is not None and lag >= COLD_AFTER else 0.0
        before = beliefs.known(memory.belief)
        attentive = self._weigh(memory, response, DAY if lag is None else lag, lost)
        pupil = self.pupil
        fluent = response.correct and response.seconds <= pupil.fluent_seconds
        if lag is None:
            pupil.met_first(beliefs.known(memory.belief))
        memory.count(response.at, response.seconds, response.correct, fluent)
        memory.belief = beliefs.practised(memory.belief, memory.learning * attentive, pupil.slips)
        memory.pace.mean -= facts.PACE_GAIN.value
        memory.pace.variance += (facts.PACE_DRIFT.value / memory.answers**0.5) ** 2
        if not response.correct:
            self._confuse(response, before)
        if memory.may_turn:
            memory.settle(memory.seasoned(self._secured(memory, DAY)))

    def memory(self, card: Card) -> Memory:
        """Give a card's record; KeyError if it is not in the set."""
        return self._memories[card.place]

    def state(self, card: Card, now: datetime) -> State:
        """Give a card's state at `now`."""
        return self._memories[card.place].state(now)

    def p_secured(self, card: Card, now: datetime) -> float:
        """Give the probability that the card is secured when next read cold."""
        return self._memories[card.place].seasoned(self.p_by_answers(card, now))

    def p_by_answers(self, card: Card, now: datetime) -> float:
        """Give that probability by the answers alone, whatever the days they were spread over."""
        return self._secured_of(*self._cold(card, now))

    def fluent_share(self, card: Card, now: datetime) -> float:
        """Give the expected share of answers that are right and fluent, when next read cold."""
        belief, pace = self._cold(card, now)
        limit = log(self.pupil.fluent_seconds)
        scatter = (self.pupil.spread**2 + pace.variance) ** 0.5
        quick = logistic_below(limit, pace.mean, scatter)
        hasty = normal_below(
            (limit - log(facts.WORKED_OUT_SECONDS.value)) / facts.WORKED_OUT_SPREAD.value
        )
        split = beliefs.SPLIT
        low = sum(map(float.__mul__, beliefs.WORKED_OUT, belief[:split]))
        high = sum(map(float.__mul__, beliefs.KNOWN, belief[split:]))
        return low * hasty + high * quick

    def gaps(self, card: Card, now: datetime) -> tuple[float, float]:
        """Give the probabilities that a card is not known, and that it is known but not secured."""
        belief, pace = self._cold(card, now)
        known = beliefs.known(belief)
        return 1 - known, max(0.0, known - self._secured_of(belief, pace))

    def _cold(self, card: Card, now: datetime) -> tuple[beliefs.Belief, Pace]:
        """Give what will be believed of a card when it is next read cold."""
        memory = self._memories[card.place]
        lag = memory.lag(now)
        if lag is None:
            return self._unmet_belief(card), self._fresh_pace()
        return self._rested(memory, max(DAY, lag)), memory.pace

    def right_share(self, card: Card, now: datetime) -> float:
        """Give the probability that the card is answered right now, in whatever time."""
        memory = self._memories[card.place]
        lag = memory.lag(now)
        if lag is None:
            return beliefs.mean(self._unmet_belief(card))
        share = beliefs.mean(memory.belief)
        return share + (1 - share) * self.pupil.prompt * _just_shown(lag)

    def in_hand(self, card: Card, now: datetime) -> bool:
        """Tell whether a card is being learnt: met, and not yet mostly right and fluent."""
        return self._memories[card.place].answers > 0 and self.fluent_share(card, now) < CARRYING

    def carried(self, card: Card) -> bool:
        """Tell whether the landmark that a card is read from, if it is a card, is known."""
        landmark = self._by_place.get((card.clef, card.anchor.midi))
        if landmark is None or landmark.place == card.place:
            return True
        belief = self._memories[landmark.place].belief
        return bool(belief) and beliefs.known(belief) >= CARRYING

    def _fresh_pace(self) -> Pace:
        return Pace(self.pupil.usual_pace, facts.KNOWN_SECONDS_SPREAD.value**2)

    def _unmet_belief(self, card: Card) -> beliefs.Belief:
        known = self.pupil.known_at_first
        odds = known / (1 - known) * self._brought.get(card.place, 1.0)
        for relative in self._relatives[card.place]:
            if self._memories[relative.place].inked:
                odds *= facts.RELATED.value
        return beliefs.prior(odds / (1 + odds), self.pupil.slips)

    def _rested(self, memory: Memory, lag: float) -> beliefs.Belief:
        return beliefs.rested(memory.belief, memory.retention(lag) ** self.pupil.forgetting)

    def _rest(self, memory: Memory, lag: float) -> float:
        """Let a card rest; give the probability that this lost it."""
        before = beliefs.known(memory.belief)
        memory.belief = self._rested(memory, lag)
        memory.pace.variance += (facts.PACE_NIGHT.value / (1 + len(memory.fluent_days))) ** 2
        return before - beliefs.known(memory.belief)

    def _weigh(self, memory: Memory, response: Response, lag: float, lost: float) -> float:
        """Weigh the beliefs by one answer; give the probability that it was attentive.

        `lost` is the probability that the rest before it lost the card.
        """
        pupil, pace = self.pupil, memory.pace
        warmth = min(1.0, max(0.0, log(DAY / max(lag, 1.0)) / WARM_SPAN))
        seen = Seen(
            log(max(response.seconds, 0.05)),
            pupil.warm_gain * warmth,
            1 - warmth * (1 - pupil.warm_slips),
            pupil.prompt * _just_shown(lag),
        )
        before = beliefs.known(memory.belief)
        unknown = memory.belief[: beliefs.SPLIT]
        above = response.played > response.card.key
        if not response.correct:
            beside = brushes(response.card.target, response.played)
            likely, parts = wrong_answer(seen, beside, above, pupil, pace)
        else:
            likely, parts = right_answer(seen, pupil, pace)
        memory.belief, total = beliefs.weighed(memory.belief, likely)
        if lost:
            still = sum(map(float.__mul__, beliefs.AT_FIRST, likely)) / total
            pupil.saw_rest(lost * still, lost / pupil.forgetting)
        wandered, brushed = parts.wandered / total, parts.brushed / total
        pupil.saw_attention(wandered, brushed, above)
        lucky = sum(map(float.__mul__, unknown, beliefs.LUCK)) * parts.prompted / total
        pupil.saw_prompting(lucky, (1 - before) * _just_shown(lag))
        attentive = max(0.0, 1 - wandered - brushed)
        if response.correct:
            known = beliefs.known(memory.belief) * attentive
            self._time(memory, seen, warmth, known, before * attentive)
            pupil.saw_right_time(response.seconds)
        surely = before * before
        pupil.saw_slip_or_not(response.correct, attentive * surely, seen.slips_left)
        if warmth > 0.3:
            slip = sum(map(float.__mul__, memory.belief[beliefs.SPLIT :], beliefs.MISSES))
            pupil.saw_warm_slip(0.0 if response.correct else attentive, slip, before)
        return attentive

    def _time(self, memory: Memory, seen: Seen, warmth: float, known: float, trust: float) -> None:
        """Learn the card's pace, and the pupil's, from the time of a right answer."""
        pupil, pace = self.pupil, memory.pace
        scatter = pupil.spread**2
        expected = scatter + pace.variance
        bound = 3 * expected**0.5
        surprise = max(-bound, min(bound, seen.cold_time - pace.mean))
        if memory.warmth > 0.2 and warmth < 0.5:
            pupil.saw_cold_time(surprise, expected / max(known, 0.05), memory.warmth)
        if memory.answers >= SCATTER_FROM:
            pupil.saw_scatter(surprise**2 - pace.variance, trust)
        pupil.saw_known_time(seen.cold_time, known)
        pace.seen(surprise, scatter, known)
        memory.warmth = 0.5 * (memory.warmth + warmth)

    def _secured(self, memory: Memory, lag: float) -> float:
        return self._secured_of(self._rested(memory, lag), memory.pace)

    def _secured_of(self, belief: beliefs.Belief, pace: Pace) -> float:
        limit, spread = log(self.pupil.fluent_seconds), self.pupil.spread
        total = 0.0
        for level, share in zip(beliefs.KNOWN, belief[beliefs.SPLIT :], strict=True):
            needed = facts.SECURED_SHARE.value / level
            if needed < 1:
                total += share * pace.below(limit - logistic_quantile(needed, spread))
        return total

    def _confuse(self, response: Response, known: float) -> None:
        """Weaken the cards that the played key belongs to, if it was played by a slip.

        The less likely the asked card was `known`, the more the key was a guess, which tells
        nothing of the cards it belongs to.
        """
        card = response.card
        answer = judge(card.target, card.clef, response.played, card.anchor)
        if answer.verdict not in SLIP_VERDICTS:
            return
        odds = facts.CONFUSED_CARD.value**-known
        for other in self._by_key.get(response.played, ()):
            memory = self._memories[other.place]
            if memory.answers:
                memory.belief = beliefs.tilted(memory.belief, odds)

    def _related(self, card: Card) -> tuple[Card, ...]:
        return tuple(
            other
            for other in self.cards
            if other.place != card.place
            and (other.key == card.key or (other.clef == card.clef and other.target == card.anchor))
        )


def _just_shown(lag: float) -> float:
    return exp(-lag / facts.PROMPT_SECONDS.value)
