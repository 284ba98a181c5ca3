"""The one table of misreadings: which wrong keys a note is read as, and how often each kind comes.

Neighbouring places of the stave, the same place in the other clef, the step taken the other way,
the octave: the kinds of misreading that Aiba and Sakaguchi 2018 found in pianists (confusion with
a neighbouring note, interference from a commoner place) and common practice; the shares have no
source.
"""

from __future__ import annotations

from enum import StrEnum
from random import Random

from drills.cards.card import Card
from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY, Pitch
from landmarks.stave import other_clef


class Misreading(StrEnum):
    """A kind of misreading."""

    STEP = "step"
    """The next line or space."""
    CLEF = "clef"
    """The same place, read in the other clef."""
    SKIP = "skip"
    """The next place but one: line for line, or space for space."""
    OCTAVE = "octave"
    """The right name in the wrong octave."""
    DIRECTION = "direction"
    """The right size of step from the landmark, taken the other way."""


SHARES = {
    Misreading.STEP: 6.0,
    Misreading.CLEF: 2.0,
    Misreading.SKIP: 2.0,
    Misreading.OCTAVE: 1.4,
    Misreading.DIRECTION: 2.0,
}
"""How often each kind comes, relative to the others, where a card allows it."""
_STEPS = {Misreading.STEP: (-1, 1), Misreading.SKIP: (-2, 2), Misreading.OCTAVE: (-7, 7)}


def misread_as(card: Card, kind: Misreading) -> tuple[int, ...]:
    """Return the wrong piano keys (MIDI key numbers) of one kind of misreading, lower first.

    Empty where the card does not allow it: no direction at a landmark, no key beyond the piano.
    """
    keys = (pitch.midi for pitch in _pitches(card, kind))
    return tuple(
        key for key in keys if key != card.key and LOWEST_PIANO_KEY <= key <= HIGHEST_PIANO_KEY
    )


def misreadings(card: Card) -> tuple[tuple[int, float], ...]:
    """Return the keys that a card is misread as, with their shares, which add up to 1."""
    weights: dict[int, float] = {}
    for kind, share in SHARES.items():
        keys = misread_as(card, kind)
        for key in keys:
            weights[key] = weights.get(key, 0.0) + share / len(keys)
    total = sum(weights.values())
    return tuple((key, weight / total) for key, weight in weights.items())


def misread(card: Card, random: Random) -> int:
    """Return a wrong key for a card, by the table's shares."""
    keys = misreadings(card)
    return random.choices([key for key, _ in keys], [weight for _, weight in keys])[0]


def _pitches(card: Card, kind: Misreading) -> tuple[Pitch, ...]:
    match kind:
        case Misreading.CLEF:
            return (other_clef(card.clef).pitch_at(card.clef.position(card.target)),)
        case Misreading.DIRECTION:
            return (card.anchor.stepped(-card.steps),) if card.steps else ()
    return tuple(card.target.stepped(steps) for steps in _STEPS[kind])
