"""How a piano is tuned against the page: transposing and octave-shifted pianos.

A piano that transposes sends other key numbers than its keys have. Asking for one key that
everybody knows, middle C, tells by how much.
"""

from __future__ import annotations

from landmarks.pitch import MIDDLE_C

FURTHEST_SHIFT = 24
"""Two octaves either way, in semitones."""


class MiddleCQuestion:
    """Asks for middle C until the answer can be trusted."""

    def __init__(self) -> None:
        """Begin with no key heard."""
        self._last: int | None = None

    def hear(self, key: int) -> int | None:
        """Give how many semitones above its keys the piano sounds, or None to ask again.

        The key number of middle C itself is believed at once; any other must come twice running.
        """
        shift = key - MIDDLE_C.midi
        agreed = key == self._last and abs(shift) <= FURTHEST_SHIFT
        self._last = key
        return shift if shift == 0 or agreed else None
