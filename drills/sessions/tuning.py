"""Putting right a piano that transposes or is shifted by octaves."""

from __future__ import annotations

MIDDLE_C = 60  # MIDI 1.0 Detailed Specification, key numbers: middle C is 60
# A piano's own transposition and octave shift rarely exceed two octaves (common practice, no
# source).
FARTHEST_SHIFT = 24


class MiddleCQuestion:
    """Asks for middle C and learns from the keys pressed how far the piano is shifted.

    Key number 60 settles it at once. Another key within two octaves must be pressed twice in a
    row, since a first wrong key is more likely a slip than a shifted piano. Anything else asks
    again.
    """

    def __init__(self) -> None:
        """Ask."""
        self._before: int | None = None
        self.shift: int | None = None

    def press(self, key: int) -> int | None:
        """Take a pressed key number; return the shift in semitones once it is known, else None."""
        if key == MIDDLE_C or (key == self._before and abs(key - MIDDLE_C) <= FARTHEST_SHIFT):
            self.shift = key - MIDDLE_C
        self._before = key
        return self.shift


def unshifted(key: int, shift: int) -> int | None:
    """Return the key number of the key under the finger, or None if there is no such number."""
    meant = key - shift
    return meant if 0 <= meant <= 127 else None
