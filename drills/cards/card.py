"""What is asked: mostly one note to find on the piano, and how it is shown."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum

from drills.cards.contour import Contour
from landmarks.names import LETTER, Naming, landmark_name
from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.sets import DEFAULT_SET, LandmarkSet, built_in_sets
from landmarks.stave import CLEFS, Clef, grand_stave_clef
from landmarks.translation import Saying, _, gettext_noop


class Kind(StrEnum):
    """How a card asks."""

    CONTOUR = "contour"
    """A line of shapes rising and falling; only the direction counts."""
    KEY = "key"
    """A key to be pressed. Lit on the keyboard strip it measures key-finding time."""
    LANDMARK = "landmark"
    """A landmark alone on the stave."""
    STEP = "step"
    """A note a few steps from a landmark, alone on the stave."""
    PIECE = "piece"
    """A note from the piece of the week."""


READING_KINDS = frozenset({Kind.LANDMARK, Kind.STEP, Kind.PIECE})
"""The kinds that ask for a note to be read from the stave."""

HIGHEST_KEY = 127
"""Of MIDI 1.0, which numbers keys from 0."""
BY_NAME, BY_PLACE = "name", "place"
"""Forms of key cards: the key's name is written, or its place beside the black keys is drawn; a
key of that name in any octave answers them."""
BESIDE = "beside-"
"""Form of a step card that shows the landmark beside the note: followed by the landmark."""


Place = tuple[str, Clef, Pitch]
_CONTOUR = gettext_noop("a line of shapes")


@dataclass(frozen=True, order=True)
class Card:
    """One thing to ask. Two cards are the same when they ask for the same note in the same way.

    `anchor` is the landmark to read a step from (the target itself on a landmark card); it
    guides feedback and teaching and is no part of what the card is. `form` is empty where a card
    asks as its kind mostly does: for a key lit on the strip, for a note alone on its stave. A
    contour's form is its shapes, and its target the note at which the first of them lies.
    """

    kind: Kind
    clef: Clef
    target: Pitch
    anchor: Pitch = field(compare=False)
    form: str = ""

    @property
    def id(self) -> str:
        """The name this card has in session files, the same in every version: "step/treble/A4"."""
        form = f"/{self.form}" if self.form else ""
        return f"{self.kind}/{self.clef.name}/{self.target}{form}"

    @property
    def place(self) -> Place:
        """What is asked, in whichever way: landmark, step and piece cards can ask one note."""
        alone = self.kind in READING_KINDS and not self.form
        return "note" if alone else f"{self.kind}/{self.form}", self.clef, self.target

    @property
    def key(self) -> int:
        """The key number (MIDI 1.0) that answers the card."""
        return self.target.midi

    @property
    def steps(self) -> int:
        """How many steps the note lies above (positive) or below its landmark."""
        return self.target.diatonic - self.anchor.diatonic

    @property
    def contour(self) -> Contour:
        """The shapes of a contour card. ValueError if the card is none."""
        return Contour.parse(self.form)

    def named(self, naming: Naming = LETTER, say: Saying = _) -> str:
        """Name what is asked for as a teacher says it."""
        if self.kind is Kind.CONTOUR:
            return say(_CONTOUR)
        if self.kind is Kind.KEY and self.form:
            return naming.of(self.target)
        return landmark_name(self.target, self.clef, naming, say)

    @property
    def recorded_name(self) -> str:
        """The name this card has in session files, whatever the reader's language."""
        return self.named(say=gettext_noop)

    def __str__(self) -> str:
        """Say what the card asks, readably and in English: "A, 1 step above treble G"."""
        match self.kind, self.form:
            case Kind.CONTOUR, _:
                return f"shapes, {self.form.replace('/', ': ')}"
            case Kind.KEY, "":
                return f"the key {self.target}"
            case Kind.KEY, form:
                return f"a key {self.target.letter} by its {form}"
        shown = ", which is shown" if self.form else ""
        return self._on_stave() + shown

    def _on_stave(self) -> str:
        name = self.recorded_name
        if not self.steps:
            return f"{name} ({self.clef.name} clef)" if name.startswith("middle") else name
        anchor = landmark_name(self.anchor, self.clef, say=gettext_noop)
        if self.anchor == MIDDLE_C and name.endswith(anchor):
            return name
        size, side = abs(self.steps), "above" if self.steps > 0 else "below"
        return f"{name}, {size} step{'s' * (size > 1)} {side} {anchor}"


def parse_card(card_id: str) -> Card:
    """Read a card back from its id; its anchor is its target where the id does not carry it.

    ValueError if the id is not one that `Card.id` gives.
    """
    kind, clef, note, form = (*card_id.split("/", 3), "", "", "")[:4]
    try:
        target = Pitch.parse(note)
        anchor = _checked_anchor(Kind(kind), form) if form else None
        card = Card(Kind(kind), CLEFS[clef], target, anchor or target, form)
    except (KeyError, ValueError):
        card = None
    if card is None or card.id != card_id or not 0 <= card.key <= HIGHEST_KEY:
        raise ValueError(
            f"{card_id!r} is not a card: kind/clef/note, as in step/treble/A4, and sometimes a form"
        )
    return card


def _checked_anchor(kind: Kind, form: str) -> Pitch | None:
    """Return the landmark that a form names, if it names one. ValueError if the kind has it not."""
    match kind:
        case Kind.CONTOUR if str(Contour.parse(form)) == form:
            return None
        case Kind.KEY if form in (BY_NAME, BY_PLACE):
            return None
        case Kind.STEP if form.startswith(BESIDE):
            landmark = Pitch.parse(form.removeprefix(BESIDE))
            if form == f"{BESIDE}{landmark}":
                return landmark
    raise ValueError(f"{form!r} is no form of a {kind} card")


def cards_of(landmarks: LandmarkSet) -> tuple[Card, ...]:
    """Return the cards of a set: the anchors in their order, then the steps around them."""
    anchors = [
        Card(Kind.LANDMARK, anchor.clef, anchor.pitch, anchor.pitch) for anchor in landmarks.anchors
    ]
    steps = [
        Card(Kind.STEP, anchor.clef, pitch, anchor.pitch)
        for anchor, pitch in landmarks.neighbours()
    ]
    return tuple(anchors + steps)


def default_cards() -> tuple[Card, ...]:
    """Return the cards of the default landmark set."""
    return cards_of(built_in_sets()[DEFAULT_SET])


def key_cards(landmarks: LandmarkSet) -> tuple[Card, ...]:
    """Return one card for each key that the set's landmarks lie on, shown on the strip alone."""
    pitches = sorted({anchor.pitch for anchor in landmarks.anchors})
    return tuple(Card(Kind.KEY, grand_stave_clef(pitch), pitch, pitch) for pitch in pitches)


def contour_card(clef: Clef, first_position: int, contour: Contour) -> Card:
    """Return the card of a contour whose first shape lies at a stave position."""
    first = clef.pitch_at(first_position)
    return Card(Kind.CONTOUR, clef, first, first, str(contour))


def beside_landmark(card: Card) -> Card:
    """Return the step card that asks for the same note with its landmark shown beside it."""
    return replace(card, form=f"{BESIDE}{card.anchor}")
