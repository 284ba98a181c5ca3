"""Small scores for followers to be tried on: what a follower asks of a note, and no more."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from hypothesis import strategies as st


@dataclass(frozen=True)
class Note:
    """A note as a follower needs it."""

    onset: Fraction
    key: int
    length: Fraction = Fraction(1)
    is_grace: bool = False


def tune(*keys: int) -> list[Note]:
    """One voice in quarter notes."""
    return [Note(Fraction(beat), key) for beat, key in enumerate(keys)]


def two_hands(bars: int) -> list[Note]:
    """A running right hand over chords that move in steps, no two bars of eight alike."""
    notes = []
    for bar in range(bars):
        root = 48 + (bar * 5) % 12 + (bar // 12) % 3
        notes += [Note(Fraction(4 * bar), root + third) for third in (0, 4, 7)]
        notes += [Note(Fraction(4 * bar + 2), root + third) for third in (2, 5, 9)]
        notes += [
            Note(Fraction(8 * bar + step, 2), 72 + (bar * 7 + step * (2 + bar % 3)) % 19)
            for step in range(8)
        ]
    return sorted(notes, key=lambda note: (note.onset, -note.key))


@st.composite
def scores(draw, least=8, most=40):
    """Any music of one to four keys at a time, sixteenths to half notes apart.

    No key returns within four moments: of a key repeated before any tempo is known nobody can
    tell whether a note was left out.
    """
    onset = Fraction(0)
    notes = []
    lately: list[set[int]] = []
    for _event in range(draw(st.integers(least, most))):
        free = sorted(set(range(36, 97)).difference(*lately[-4:]))
        keys = draw(st.sets(st.sampled_from(free), min_size=1, max_size=4))
        lately.append(keys)
        notes += [Note(onset, key) for key in sorted(keys)]
        onset += Fraction(draw(st.sampled_from((1, 2, 3, 4, 8))), 4)
    return notes
