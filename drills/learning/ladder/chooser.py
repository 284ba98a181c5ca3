"""Chooses the cards of a pupil on the ladder; on the stave the planner chooses among its notes."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from math import inf

from drills.cards.card import Card, Kind, contour_card
from drills.cards.contour import generated
from drills.learning.fluency import USUAL as USUAL_FLUENCY
from drills.learning.fluency import Fluency
from drills.learning.ladder.climb import BREAK, Climber
from drills.learning.ladder.material import looked_back, on_stave
from drills.learning.ladder.rung import Asks, Rung
from drills.learning.parameters import USUAL
from drills.learning.planner import Planner
from drills.learning.prior_knowledge.observations import Decision
from drills.learning.prior_knowledge.prior_knowledge import PriorKnowledge
from drills.learning.response import Response, Standing, State
from drills.learning.scheduler import Reached
from landmarks.stave import CLEFS
from landmarks.translation import _

LINES_A_DAY, KEYS_A_DAY = 12, 40
"""Lines of shapes, and keys to find, after which a day's session ends: some two to four minutes
each. Common practice, no source."""
TIMES_A_DAY = 16
"""How often each note of a rung is asked, taken together, before a day's session ends: what that
did not teach, a night does sooner. Common practice, no source."""
IN_A_ROW = 9
"""Keys or notes of a rung after which something else comes from below: a line of shapes, or a key
by its name. Common practice, no source."""
LIT_KEYS = 2
"""Keys lit on the strip with which a session of keys to find begins."""
TRIED_KEYS, TRIED_NOTES = 2, 3
"""Cards with which a rung that is brought on trust is tried: enough to overturn it."""
NOTES_LOOKED_BACK = 4
"""Notes of the other clef at the beginning of a session in one clef."""
CLOSING_TRIES = 2


class LadderChooser:
    """Looks back first at what is taken on trust, then asks for the rung the pupil stands on."""

    def __init__(
        self,
        cards: Sequence[Card],
        brought: PriorKnowledge,
        history: Sequence[Response] = (),
        decisions: Iterable[Decision] = (),
        seed: int = 0,
        minutes: float = USUAL.session_minutes,
        fluency: Fluency = USUAL_FLUENCY,
        upkeep: bool = True,
    ) -> None:
        """Choose among `cards` (and contours made as they are needed), after earlier answers."""
        self._cards = tuple(cards)
        self._brought = brought
        self._climber = Climber(brought, cards, history, decisions)
        notes = [card for card in cards if card.kind is not Kind.KEY or not card.form]
        self._lit = [card for card in notes if card.kind is Kind.KEY]
        self._planner = Planner(
            notes, history, seed, minutes=minutes, fluency=fluency,
            prior_knowledge=brought.odds(notes), upkeep=upkeep,
        )  # fmt: skip
        self._random = random.Random(seed)
        self._minutes = timedelta(minutes=minutes)
        self._latest: datetime | None = None
        self._moves: list[Reached] = []
        self._begin(None)

    @property
    def stands(self) -> Rung:
        """The rung that the pupil stands on."""
        return self._climber.stands

    def next(self, now: datetime) -> Card | None:
        """Return the next card, or None when the session should end. `now` is aware."""
        if self._latest is None or abs(now - self._latest) > BREAK:
            self._begin(now)
        self._latest = now
        card = self._choose(now)
        if card is not None:
            self._asked.append(card)
        return card

    def record(self, response: Response) -> None:
        """Take in the first answer to a card, or to a move of a contour."""
        self._succeeded = response.correct
        self._latest = max(self._latest or response.at, response.at)
        self._planner.record(response)
        reached = self._climber.observe(response)
        if reached is not None:
            self._moves.append(reached)
            self._in_a_row = 0
            self._waiting = list(self._first_cards())

    def standing(self, card: Card, now: datetime) -> Standing:
        """Say what is known about a card; what leads up to reading has no state of its own."""
        if card.kind is Kind.CONTOUR or (card.kind is Kind.KEY and card.form):
            return Standing(0.0, None, None, State.NEW, _("It leads up to reading."))
        return self._planner.standing(card, now)

    def reached(self) -> tuple[Reached, ...]:
        """Return the rungs reached since this was last asked."""
        moves, self._moves = tuple(self._moves), []
        return moves

    def _begin(self, now: datetime | None) -> None:
        self._ends = None if now is None else now + self._minutes
        self._asked: list[Card] = []
        self._succeeded = True
        self._closing = 0
        self._narrowed: tuple[Card, ...] | None = None
        self._tried: set[Rung] = set()
        self._on_rung: Counter[Rung] = Counter()
        self._in_a_row, self._others = 0, 0
        climber = self._climber
        if now is not None:
            climber.begin()
            self._moves.append(Reached(climber.stands.name, None, climber.by, climber.why.english))
        self._waiting = list(self._first_cards()) if now is not None else []

    def _first_cards(self) -> Iterable[Card]:
        """Return the cards that try what is taken on trust, and lit keys before keys to find."""
        for rung in self._climber.climbed():
            if self._climber.trace(rung).only_brought and rung not in self._tried:
                self._tried.add(rung)
                yield from self._trial(rung)
        if self.stands.asks in (Asks.PLACE, Asks.NAME):
            yield from self._random.sample(self._lit, min(LIT_KEYS, len(self._lit)))

    def _trial(self, rung: Rung) -> Sequence[Card]:
        """Return a few cards of a rung: of lines of shapes one, at the highest stage alone."""
        if rung.asks is Asks.CONTOUR:
            above = self._climber.rungs[self._climber.rungs.index(rung) + 1]
            return [] if above in self._climber.climbed() and above.lines else [self._line(rung)]
        own = [card for card in self._cards if rung.has(card)]
        return self._random.sample(own, min(len(own), TRIED_NOTES if rung.clef else TRIED_KEYS))

    def _choose(self, now: datetime) -> Card | None:
        assert self._ends is not None
        if now < self._ends:
            if self._waiting:
                return self._waiting.pop(0)
            card = self._of_rung(self.stands, now)
            if card is not None:
                return card
        if self._succeeded or self._closing >= CLOSING_TRIES or not self._lit:
            return None
        self._closing += 1
        return self._random.choice(self._lit)

    def _of_rung(self, rung: Rung, now: datetime) -> Card | None:
        """Return the next card of a rung; None when there is enough of it for today."""
        if self._on_rung[rung] >= self._enough(rung):
            return None
        card = self._another(rung)
        if card is not None:
            return card
        self._on_rung[rung] += 1
        self._in_a_row += 1
        if rung.asks.on_stave:
            return self._note(rung, now)
        return self._line(rung) if rung.asks is Asks.CONTOUR else self._key(rung)

    def _enough(self, rung: Rung) -> float:
        """Return how many cards of a rung are enough for today."""
        match rung.asks:
            case Asks.CONTOUR:
                return LINES_A_DAY
            case Asks.PLACE | Asks.NAME:
                return KEYS_A_DAY
            case Asks.MIXED:
                return inf
        return TIMES_A_DAY * len(on_stave(rung, self._climber.climbed(), self._cards))

    def _another(self, rung: Rung) -> Card | None:
        """Return something else from below when enough of a rung came in a row.

        Lines of shapes and keys take turns, each from the highest rung that was climbed by
        playing: what is only brought was passed over as too easy.
        """
        below = {
            lower.asks is Asks.CONTOUR: lower
            for lower in self._climber.climbed()
            if not lower.asks.on_stave and not lower.claimed(self._brought)
        }
        if rung.asks in (Asks.PLACE, Asks.NAME):
            below.pop(False, None)
        if rung.asks is Asks.MIXED or self._in_a_row < IN_A_ROW or not below:
            return None
        other = list(below.values())[self._others % len(below)]
        self._in_a_row, self._others = 0, self._others + 1
        return self._line(other) if other.asks is Asks.CONTOUR else self._key(other)

    def _note(self, rung: Rung, now: datetime) -> Card | None:
        climbed = self._climber.climbed()
        back = looked_back(rung, climbed, self._cards)
        notes = sum(card.kind in (Kind.LANDMARK, Kind.STEP) for card in self._asked)
        if rung.clef is None or notes >= NOTES_LOOKED_BACK or not back:
            back = on_stave(rung, climbed, self._cards)
        if back != self._narrowed:
            self._narrowed = back
            self._planner.ask_only(back)
        return self._planner.next(now)

    def _key(self, rung: Rung) -> Card:
        """Return the key that was asked least in this session, the earliest taught of them."""
        keys = [card for card in self._cards if rung.has(card) and card not in self._asked[-1:]]
        missed = self._climber.trace(rung).missed
        return min(keys, key=lambda card: self._asked.count(card) - (card in missed))

    def _line(self, rung: Rung) -> Card:
        """Make a line of shapes about the line of the one clef or the other."""
        brought, clef = self._brought, self._random.choice(sorted(CLEFS.values()))
        start, contour = generated(
            clef, rung.lines, brought.line_length, brought.winding, self._random
        )
        return contour_card(clef, start, contour)
