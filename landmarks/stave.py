"""The stave: clefs, and which pitch sits on which line or space.

A stave position counts lines and spaces upwards: 0 is the bottom line, 1 the space above it,
8 the top line; below the stave it is negative.
"""

from __future__ import annotations

from dataclasses import dataclass

from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.translation import gettext_noop

BOTTOM_LINE = 0
TOP_LINE = 8
STAVE_LINES = (0, 2, 4, 6, 8)


@dataclass(frozen=True, order=True)
class Clef:
    """A clef: `pitch` names the line that its sign marks, `line` counts from 1 at the bottom."""

    name: str
    pitch: Pitch
    line: int

    @property
    def line_position(self) -> int:
        """The stave position of the line that the clef's sign marks."""
        return 2 * (self.line - 1)

    def position(self, pitch: Pitch) -> int:
        """Return the stave position of a pitch; its sharp or flat does not move it."""
        return pitch.diatonic - self.pitch.diatonic + self.line_position

    def pitch_at(self, position: int) -> Pitch:
        """Return the natural pitch at a stave position."""
        return Pitch(self.pitch.diatonic + position - self.line_position)


TREBLE = Clef(gettext_noop("treble"), Pitch.parse("G4"), 2)
BASS = Clef(gettext_noop("bass"), Pitch.parse("F3"), 4)
CLEFS = {clef.name: clef for clef in (TREBLE, BASS)}


def other_clef(clef: Clef) -> Clef:
    """Return the clef of the other stave of the grand stave."""
    return BASS if clef == TREBLE else TREBLE


def grand_stave_clef(pitch: Pitch) -> Clef:
    """Return the clef that writes a pitch on the grand stave: treble from middle C upwards."""
    return TREBLE if pitch.diatonic >= MIDDLE_C.diatonic else BASS


def is_line(position: int) -> bool:
    """Return whether a stave position is a line (of the stave or a ledger line), not a space."""
    return position % 2 == 0


def ledger_lines(position: int) -> tuple[int, ...]:
    """Return the positions of the ledger lines a note needs, from the stave outwards."""
    if position < BOTTOM_LINE:
        return tuple(range(BOTTOM_LINE - 2, position - 1, -2))
    return tuple(range(TOP_LINE + 2, position + 1, 2))
