"""The cards that the ladder asks: keys by place and name, notes with and without their landmark."""

from __future__ import annotations

from collections.abc import Sequence

from drills.cards.card import (
    BY_NAME,
    BY_PLACE,
    Card,
    Kind,
    beside_landmark,
    cards_of,
    key_cards,
)
from drills.learning.ladder.rung import Asks, Rung
from landmarks.pitch import Pitch
from landmarks.sets import LandmarkSet
from landmarks.stave import TREBLE

KEYS_TO_FIND = tuple(map(Pitch.parse, ("D4", "C4", "E4", "G4", "A4", "F4", "B4")))
"""The seven white keys in the order in which they are found beside the black ones: first the one
between two, then its neighbours, then those about the three. Common practice, no source."""


def ladder_cards(landmarks: LandmarkSet) -> tuple[Card, ...]:
    """Return every card that the ladder may ask for, in teaching order, but for contours."""
    notes = cards_of(landmarks)
    beside = tuple(beside_landmark(card) for card in notes if card.kind is Kind.STEP)
    to_find = tuple(
        Card(Kind.KEY, TREBLE, pitch, pitch, form)
        for form in (BY_PLACE, BY_NAME)
        for pitch in KEYS_TO_FIND
    )
    return (*key_cards(landmarks), *to_find, *notes, *beside)


def on_stave(stands: Rung, climbed: Sequence[Rung], cards: Sequence[Card]) -> tuple[Card, ...]:
    """Return the notes to ask on a rung: its own and those below it, of its clef alone.

    A step whose neighbour was climbed alone is no longer asked beside its landmark; on the
    highest rung both clefs are mixed.
    """
    if stands.asks is Asks.MIXED:
        return tuple(card for card in cards if _alone(card))
    own = [stands, *(rung for rung in climbed if rung.clef == stands.clef)]
    notes = [card for card in cards if any(rung.has(card) for rung in own)]
    alone = {card.target for card in notes if card.kind is Kind.STEP and not card.form}
    return tuple(card for card in notes if _alone(card) or card.target not in alone)


def looked_back(stands: Rung, climbed: Sequence[Rung], cards: Sequence[Card]) -> tuple[Card, ...]:
    """Return the notes of the other clef that are met already and would rest on this rung."""
    other = [rung for rung in climbed if rung.clef not in (None, stands.clef)]
    return tuple(card for card in cards if _alone(card) and any(rung.has(card) for rung in other))


def _alone(card: Card) -> bool:
    return card.kind in (Kind.LANDMARK, Kind.STEP) and not card.form
