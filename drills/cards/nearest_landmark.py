"""The landmark that is shown beside a note to read it from."""

from __future__ import annotations

from drills.cards.card import Card, Kind
from landmarks.pitch import MIDDLE_C
from landmarks.sets import LandmarkSet


def landmark_beside(card: Card, landmarks: LandmarkSet) -> Card:
    """Give the landmark to read from: the card's own, the nearest other one, or middle C."""
    pitch = card.anchor
    if not card.steps:
        others = [
            anchor.pitch
            for anchor in landmarks.anchors
            if anchor.clef == card.clef and anchor.pitch != card.target
        ]
        target = card.target.diatonic
        pitch = min(others, key=lambda other: abs(other.diatonic - target), default=MIDDLE_C)
    return Card(Kind.LANDMARK, card.clef, pitch, pitch)
