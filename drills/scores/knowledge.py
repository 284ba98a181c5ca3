"""What a pupil has secured, asked note by note; without a pupil, the landmarks themselves."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from drills.cards.card import READING_KINDS, Card, cards_of
from drills.learning.fluency import USUAL, Fluency
from drills.learning.prior_knowledge.prior_knowledge import NOTHING, PriorKnowledge
from drills.learning.response import Response, Standing, State
from drills.learning.standings import standings
from drills.scores.readiness import Readiness, piece_cards, readiness
from landmarks.score import Score
from landmarks.sets import LandmarkSet


class Knowledge:
    """What is known at `now` of the notes of some pieces, of a landmark set, and of all met."""

    def __init__(
        self,
        scores: Iterable[Score],
        landmarks: LandmarkSet,
        now: datetime,
        history: Iterable[Response] | None,
        fluency: Fluency = USUAL,
        brought: PriorKnowledge = NOTHING,
    ) -> None:
        """Take in a pupil's answers, None where no pupil is named, and what she brings."""
        self._landmarks, self._now = landmarks, now
        responses = [response for response in history or () if response.at <= now]
        answered = dict.fromkeys(response.card for response in responses)
        # A card with a form shows more than the note alone, so it tells less.
        met = (card for card in answered if card.kind in READING_KINDS and not card.form)
        cards = (*cards_of(landmarks), *piece_cards(scores, landmarks), *met)
        self._standings = standings(
            cards, responses, now, fluency=fluency, prior_knowledge=brought.odds(cards)
        )
        if history is None:
            anchors = {(anchor.clef, anchor.pitch) for anchor in landmarks.anchors}
            self._secured = {card for card in cards if (card.clef, card.target) in anchors}
        else:
            self._secured = {card for card in cards if self.state(card) is State.INK}
        self._has_pupil = history is not None

    def standing(self, card: Card) -> Standing:
        """Say what is known about a card."""
        return self._standings[card]

    def state(self, card: Card) -> State:
        """Return the state of a card."""
        return self.standing(card).state

    def readiness(self, score: Score) -> Readiness:
        """Tell what must be read in a piece and how far it is covered."""
        state_of = self.state if self._has_pupil else lambda _: None
        return readiness(score, self._landmarks, self._secured, state_of)
