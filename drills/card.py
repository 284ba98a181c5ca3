"""What is asked: one note to find on the piano, and how it is shown."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from landmarks.names import LETTER, Naming, landmark_name
from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.sets import DEFAULT_SET, LandmarkSet, built_in_sets
from landmarks.stave import CLEFS, Clef, grand_stave_clef


class Kind(StrEnum):
    """How a card asks."""

    CONTOUR = "contour"
    """A line of shapes rising and falling; only the direction counts."""
    KEY = "key"
    """A key lit on the keyboard strip, to be pressed: measures key-finding time."""
    LANDMARK = "landmark"
    """A landmark alone on the stave."""
    STEP = "step"
    """A note a few steps from a landmark, alone on the stave."""
    PIECE = "piece"
    """A note from the piece of the week."""


READING_KINDS = frozenset({Kind.LANDMARK, Kind.STEP, Kind.PIECE})
"""The kinds that ask for a note to be read from the stave."""


@dataclass(frozen=True, order=True)
class Card:
    """One thing to ask. Two cards are the same when they ask for the same note in the same way.

    `anchor` is the landmark to read a step from (the target itself on a landmark card); it
    guides feedback and teaching and is no part of what the card is.
    """

    kind: Kind
    clef: Clef
    target: Pitch
    anchor: Pitch = field(compare=False)

    @property
    def id(self) -> str:
        """The name this card has in session files, the same in every version: "step/treble/A4"."""
        return f"{self.kind}/{self.clef.name}/{self.target}"

    @property
    def place(self) -> tuple[str, Clef, Pitch]:
        """What is asked, in whichever way: landmark, step and piece cards can ask one note."""
        return "note" if self.kind in READING_KINDS else self.kind, self.clef, self.target

    @property
    def key(self) -> int:
        """The key number (MIDI 1.0) that answers the card."""
        return self.target.midi

    @property
    def steps(self) -> int:
        """How many steps the note lies above (positive) or below its landmark."""
        return self.target.diatonic - self.anchor.diatonic

    def named(self, naming: Naming = LETTER) -> str:
        """Name the note asked for as a teacher says it."""
        return landmark_name(self.target, self.clef, naming)

    def __str__(self) -> str:
        """Say what the card asks, readably: "A, 1 step above treble G"."""
        if self.kind is Kind.KEY:
            return f"the key {self.target}"
        name = self.named()
        if not self.steps:
            return f"{name} ({self.clef.name} clef)" if name.startswith("middle") else name
        anchor = landmark_name(self.anchor, self.clef)
        if self.anchor == MIDDLE_C and name.endswith(anchor):
            return name
        size, side = abs(self.steps), "above" if self.steps > 0 else "below"
        return f"{name}, {size} step{'s' * (size > 1)} {side} {anchor}"


def parse_card(card_id: str) -> Card:
    """Read a card back from its id; its anchor, which the id does not carry, is its target.

    ValueError if the id is not one that `Card.id` gives.
    """
    kind, _, rest = card_id.partition("/")
    clef, _, note = rest.partition("/")
    try:
        target = Pitch.parse(note)
        card = Card(Kind(kind), CLEFS[clef], target, target)
    except (KeyError, ValueError):
        card = None
    if card is None or card.id != card_id:
        raise ValueError(f"{card_id!r} is not a card: kind/clef/note, as in step/treble/A4")
    return card


def cards_of(landmarks: LandmarkSet) -> tuple[Card, ...]:
    """Give the cards of a landmark set: the anchors in their order, then the steps around them."""
    anchors = [
        Card(Kind.LANDMARK, anchor.clef, anchor.pitch, anchor.pitch) for anchor in landmarks.anchors
    ]
    steps = [
        Card(Kind.STEP, anchor.clef, pitch, anchor.pitch)
        for anchor, pitch in landmarks.neighbours()
    ]
    return tuple(anchors + steps)


def default_cards() -> tuple[Card, ...]:
    """Give the cards of the default landmark set."""
    return cards_of(built_in_sets()[DEFAULT_SET])


def key_cards(landmarks: LandmarkSet) -> tuple[Card, ...]:
    """Give one card for each key that the set's landmarks lie on, shown on the strip alone."""
    pitches = sorted({anchor.pitch for anchor in landmarks.anchors})
    return tuple(Card(Kind.KEY, grand_stave_clef(pitch), pitch, pitch) for pitch in pitches)
