"""Spelled pitch: a letter, an alteration and an octave, and the numbers it stands for."""

from __future__ import annotations

import re
from dataclasses import dataclass

LETTERS = "CDEFGAB"
NATURAL_SEMITONES = (0, 2, 4, 5, 7, 9, 11)
ALTERATION_SIGNS = {-2: "bb", -1: "b", 0: "", 1: "#", 2: "##"}
BLACK_SEMITONES = frozenset({1, 3, 6, 8, 10})

LOWEST_PIANO_KEY = 21
HIGHEST_PIANO_KEY = 108
"""A0 and C8, the ends of an 88-key piano, as key numbers of MIDI 1.0 (middle C is 60)."""

_SPELLING = re.compile(r"([A-Ga-g])(##|#|x|♯|𝄪|bb|b|♭|𝄫|)(-?[0-9]{1,2})")
_ALTERATIONS = {
    "": 0, "#": 1, "♯": 1, "##": 2, "x": 2, "𝄪": 2, "b": -1, "♭": -1, "bb": -2, "𝄫": -2,
}  # fmt: skip


@dataclass(frozen=True, order=True)
class Pitch:
    """A pitch as it is written.

    `diatonic` counts letter names upwards from C0 = 0, so that middle C (C4) is 28 and one
    step on the stave is one unit. `alteration` is in semitones, from -2 (double flat) to 2.
    Pitches sort as they stand on a stave: by line and space, then by alteration.
    """

    diatonic: int
    alteration: int = 0

    def __post_init__(self) -> None:
        """Refuse an alteration beyond the double signs with ValueError."""
        if self.alteration not in ALTERATION_SIGNS:
            raise ValueError(f"an alteration lies between -2 and 2, not {self.alteration}")

    @classmethod
    def parse(cls, text: str) -> Pitch:
        """Read scientific pitch notation: "G4", "F#4", "Bb0", "C♯-1". ValueError otherwise."""
        match = _SPELLING.fullmatch(text.strip())
        if match is None:
            raise ValueError(f"{text!r} is not a pitch: a letter A to G, # or b, an octave (F#4)")
        letter, sign, octave = match.groups()
        return cls(int(octave) * 7 + LETTERS.index(letter.upper()), _ALTERATIONS[sign])

    @classmethod
    def of_key(cls, key: int, *, flats: bool = False) -> Pitch:
        """Return the natural pitch of a white key, or the sharp (flat, if asked) of a black one."""
        octave, semitone = divmod(key, 12)
        alteration = 0 if semitone not in BLACK_SEMITONES else -1 if flats else 1
        letter = NATURAL_SEMITONES.index(semitone - alteration)
        return cls((octave - 1) * 7 + letter, alteration)

    @property
    def letter(self) -> str:
        """The letter name, C to B."""
        return LETTERS[self.diatonic % 7]

    @property
    def octave(self) -> int:
        """The octave of scientific pitch notation: middle C begins octave 4."""
        return self.diatonic // 7

    @property
    def midi(self) -> int:
        """The key number of MIDI 1.0: middle C is 60, one semitone is one unit."""
        return 12 * (self.octave + 1) + NATURAL_SEMITONES[self.diatonic % 7] + self.alteration

    @property
    def helmholtz(self) -> str:
        """The name in Helmholtz notation: C2 is C, C3 is c, C4 is c′, C1 is C͵."""
        sign = ALTERATION_SIGNS[self.alteration].replace("#", "♯").replace("b", "♭")
        if self.octave >= 3:
            return self.letter.lower() + sign + "′" * (self.octave - 3)
        return self.letter + sign + "͵" * (2 - self.octave)

    def natural(self) -> Pitch:
        """Return the same line or space without a sharp or flat."""
        return Pitch(self.diatonic)

    def stepped(self, steps: int) -> Pitch:
        """Return the natural pitch so many lines and spaces higher (lower, if negative)."""
        return Pitch(self.diatonic + steps)

    def __str__(self) -> str:
        """Scientific pitch notation, which `parse` reads back."""
        return f"{self.letter}{ALTERATION_SIGNS[self.alteration]}{self.octave}"


MIDDLE_C = Pitch(28)


def is_black(key: int) -> bool:
    """Return whether a key number is a black key of the piano."""
    return key % 12 in BLACK_SEMITONES


def frequency(key: int) -> float:
    """Return the frequency of a key in hertz: equal temperament from A4 = 440 Hz (ISO 16)."""
    return float(440.0 * 2.0 ** ((key - 69) / 12))
