"""The card of a key to find: its name, or its place in the group of black keys, drawn large."""

from __future__ import annotations

from drills.cards.card import BY_NAME, Card
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, text
from drills.window.pages.keyboard_strip import Strip, drawn_strip, held_key, lit_key
from landmarks.names import Naming
from landmarks.pitch import NATURAL_SEMITONES

TWO, THREE = (60, 64), (65, 71)
"""The white keys about a group of two and of three black keys: C to E, F to B."""
NAME_SIZE = 0.5
WIDTH, HEIGHT = 0.21, 0.66
"""Of a white key, as shares of the card's height."""


def found_key_layers(card: Card, box: Box) -> list[Layer]:
    """Draw a key that was found, in its group of black keys."""
    group, key = _group(card, box)
    return [drawn_strip(group), held_key(group, key, palette.INK)]


def key_layers(card: Card, box: Box, naming: Naming) -> list[Layer]:
    """Draw what a key is asked by."""
    if card.form == BY_NAME:
        size = NAME_SIZE * box.height
        baseline = box.y + box.height / 2 + 0.36 * size
        name = naming.of(card.target)
        return [text(name, box.x + box.width / 2, baseline, size, palette.INK)]
    group, key = _group(card, box)
    return [drawn_strip(group), lit_key(group, key)]


def _group(card: Card, box: Box) -> tuple[Strip, int]:
    """Return the keys about a group of black ones, and the key in it that is asked for."""
    semitone = NATURAL_SEMITONES[card.target.diatonic % 7]
    lowest, highest = TWO if semitone <= TWO[1] % 12 else THREE
    whites = 3 if lowest == TWO[0] else 4
    width, height = round(WIDTH * whites * box.height), round(HEIGHT * box.height)
    left = box.x + (box.width - width) // 2
    group = Strip(Box(left, box.y + (box.height - height) // 2, width, height), lowest, highest)
    return group, 60 + semitone
