"""Notes on a long grand stave, for the teacher's pages and the last page of a session."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from drills.cards.card import Card
from drills.engrave.layer import Box, Layer
from drills.engrave.stave_card import (
    Look,
    StaveCard,
    empty_card,
    engraved_staves,
    long_stave_card,
    note,
    ring,
)
from drills.learning.response import State
from landmarks.stave import BASS, TREBLE

LOOKS = {
    State.NEW: Look.PENCIL,
    State.PENCIL: Look.PENCIL,
    State.INK: Look.INK,
    State.FADED: Look.FADED,
}
FIRST_X = 5.5
WIDEST_APART = 6.0
"""In stave spaces."""


def notes_on_stave(
    box: Box,
    states: Iterable[tuple[Card, State]],
    ringed: Collection[Card] = (),
    nearness: Mapping[Card, float] | None = None,
) -> list[Layer]:
    """Draw a card with every note once, each on its stave from low to high.

    The nearer to ink (0 to 1), the darker a note in pencil.
    """
    card = long_stave_card(box, (TREBLE, BASS))
    layers = [*empty_card(box), *engraved_staves(card)]
    return layers + notes_between(card, states, FIRST_X, card.length - 1.5, ringed, nearness)


def notes_between(
    card: StaveCard,
    states: Iterable[tuple[Card, State]],
    left: float,
    right: float,
    ringed: Collection[Card] = (),
    nearness: Mapping[Card, float] | None = None,
) -> list[Layer]:
    """Draw notes from low to high between two places along the staves, in stave spaces."""
    looks, darkness = dict(states), nearness or {}
    layers = []
    for clef in card.clefs:
        notes = sorted((c for c in looks if c.clef == clef), key=lambda c: c.target)
        apart = min(WIDEST_APART, (right - left) / max(1, len(notes) - 1))
        for place, c in enumerate(notes):
            x = left + place * apart
            dark = darkness.get(c, 0.0)
            layers.append(note(card, clef, c.target, LOOKS[looks[c]], x, dark))
            if c in ringed:
                layers.append(ring(card, clef, c.target, x))
    return layers
