"""What a score asks to be read: its notes as they are written, each on its stave."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from landmarks.pitch import Pitch
from landmarks.sets import Anchor, LandmarkSet
from landmarks.stave import Clef
from landmarks.translation import gettext_noop


class ScoreError(ValueError):
    """A file that cannot be read as a score; its one sentence says what, where and what to do."""


class Hand(StrEnum):
    """The hand that plays from a stave."""

    RIGHT = gettext_noop("right")
    LEFT = gettext_noop("left")


@dataclass(frozen=True, order=True)
class Stave:
    """One stave of a score: the part it belongs to and its number from the top, 1 the first.

    `hand` is None where the score does not tell: a stave of a choir, a middle stave of three.
    """

    number: int
    part: str
    hand: Hand | None


@dataclass(frozen=True)
class ScoreNote:
    """One note head that is read anew.

    `bar` is the bar's number as printed, `offset` how many quarter notes after its beginning the
    note stands, `onset` how many after the beginning of the score, `length` how many it lasts;
    `value` is the value of the head ("quarter"), `dots` its dots. `written` is its place under
    `clef`; `octaves` says how many octaves higher than written it is played (an octave clef, an
    8va line). `in_signature` tells that its sharp, flat or natural is the key signature's, so
    that none needs to stand beside it.
    """

    bar: str
    offset: Fraction
    onset: Fraction
    length: Fraction
    stave: Stave
    clef: Clef
    written: Pitch
    octaves: int
    value: str
    dots: int
    is_grace: bool
    in_signature: bool

    @property
    def key(self) -> int:
        """The piano key (MIDI key number) that plays it."""
        return self.written.midi + 12 * self.octaves


@dataclass(frozen=True)
class Score:
    """What a score asks to be read.

    `notes` are in the order of time, of one moment from the top stave downwards and on a stave
    from the lowest upwards; `held` are the continuations of ties, which are not read anew.
    `left_out` counts what is printed and not read as a note of a key, by reason; `assumed` says
    in sentences what the file does not tell.
    """

    title: str
    staves: tuple[Stave, ...]
    notes: tuple[ScoreNote, ...]
    held: tuple[ScoreNote, ...]
    left_out: Mapping[str, int]
    assumed: tuple[str, ...]


@dataclass(frozen=True)
class PlacedNote:
    """A note with its nearest landmark, None where no landmark of the set is in its clef.

    `steps` counts lines and spaces from the landmark: positive is above it.
    """

    note: ScoreNote
    anchor: Anchor | None
    steps: int | None


def place_notes(notes: Iterable[ScoreNote], landmarks: LandmarkSet) -> tuple[PlacedNote, ...]:
    """Return notes with their nearest landmarks."""
    clefs = {anchor.clef for anchor in landmarks.anchors}
    found = []
    for note in notes:
        anchor = landmarks.nearest(note.written, note.clef) if note.clef in clefs else None
        steps = note.written.diatonic - anchor.pitch.diatonic if anchor else None
        found.append(PlacedNote(note, anchor, steps))
    return tuple(found)
