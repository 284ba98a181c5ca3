"""The computer's keys as piano keys, by their place and not by what is printed on them."""

from __future__ import annotations

# Rows of the physical keyboard as USB HID usage numbers (HID Usage Tables, page 0x07), which
# SDL uses as scancodes: the row of the letter Z plays white keys from a C, the row above it
# the black keys between them; the row of the letter Q and the digits do so an octave higher.
_Z, _X, _C, _V, _B, _N, _M = 29, 27, 6, 25, 5, 17, 16
_S, _D, _G, _H, _J = 22, 7, 10, 11, 13
_Q, _W, _E, _R, _T, _Y, _U, _I, _O, _P = 20, 26, 8, 21, 23, 28, 24, 12, 18, 19
_2, _3, _5, _6, _7, _9, _0 = 31, 32, 34, 35, 36, 38, 39

_OFFSETS = {
    _Z: 0, _S: 1, _X: 2, _D: 3, _C: 4, _V: 5, _G: 6, _B: 7, _H: 8, _N: 9, _J: 10, _M: 11,
    _Q: 12, _2: 13, _W: 14, _3: 15, _E: 16, _R: 17, _5: 18, _T: 19, _6: 20, _Y: 21, _7: 22,
    _U: 23, _I: 24, _9: 25, _O: 26, _0: 27, _P: 28,
}  # fmt: skip

OCTAVE = 12
LOWEST_C, HIGHEST_C = 24, 84
STARTING_C = 48
"""Bass C: the lower row reaches middle C, where the upper row goes on."""


class ComputerKeys:
    """The two lower rows and the two upper ones, moved along the piano by octaves."""

    def __init__(self) -> None:
        """Begin at bass C."""
        self._lowest_c = STARTING_C

    def key_of(self, scancode: int) -> int | None:
        """Return the key number that a computer key plays, None if it plays none."""
        offset = _OFFSETS.get(scancode)
        return None if offset is None else self._lowest_c + offset

    def shift(self, octaves: int) -> None:
        """Move along the piano, as far as there are piano keys for the lower row."""
        self._lowest_c = min(HIGHEST_C, max(LOWEST_C, self._lowest_c + octaves * OCTAVE))
