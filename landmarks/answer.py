"""What a pressed key means against the note asked for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from landmarks.pitch import Pitch, is_black
from landmarks.stave import Clef, other_clef


class Verdict(StrEnum):
    """What one pressed key says about how the note was read."""

    EXACT = "exact"
    DIRECTION = "direction"
    """The step from the landmark was taken the wrong way: as far, but on its other side."""
    CLEF = "clef"
    """The key that this place on the stave would be in the other clef."""
    OCTAVE = "octave"
    """The right letter in the wrong octave."""
    HALF_STEP = "half-step"
    """The same line or space, but sharper or flatter: a forgotten sharp, a black key beside it."""
    STEP = "step"
    """The next line or space above or below."""
    SKIP = "skip"
    """Two lines and spaces away: line to line or space to space."""
    LEAP = "leap"
    """Further away than a skip."""
    BRUSHED = "brushed"
    """A key next to the right one, touched together with it; judged from times, not by `judge`."""
    CLUSTER = "cluster"
    """Several keys at once; judged from times, not by `judge`."""


@dataclass(frozen=True)
class Answer:
    """A pressed key as it is read back: its verdict, its spelling, its distance in steps.

    `steps` counts lines and spaces from the note asked for: positive is above it.
    """

    verdict: Verdict
    played: Pitch
    steps: int


def judge(target: Pitch, clef: Clef, key: int, anchor: Pitch | None = None) -> Answer:
    """Say what pressing `key` (MIDI key number) means when `target` was shown in `clef`.

    `anchor` is the landmark that the pupil stepped from, if there was one. Where a key has
    several meanings the most telling one wins, in the order of `Verdict`.
    """
    for verdict, meant in _telling_pitches(target, clef, key, anchor):
        if meant.midi == key:
            return Answer(verdict, meant, meant.diatonic - target.diatonic)
    played = spelled_beside(target, key)
    steps = played.diatonic - target.diatonic
    return Answer(_by_distance(steps), played, steps)


def spelled_beside(target: Pitch, key: int) -> Pitch:
    """Spell a key as it is read from the target.

    A black key beside the target's own line or space stays on it; any other is raised above
    the target and lowered below it.
    """
    beside = key - target.natural().midi
    if is_black(key) and abs(beside) == 1:
        return Pitch(target.diatonic, beside)
    return Pitch.of_key(key, flats=key < target.midi)


def brushes(target: Pitch, key: int) -> bool:
    """Return whether a finger on the target's key could have touched this key by accident.

    That is the key beside it, black or white, or the white key next to a white one.
    """
    distance = abs(key - target.midi)
    both_white = not is_black(key) and not is_black(target.midi)
    return distance == 1 or (distance == 2 and both_white)


def _telling_pitches(
    target: Pitch, clef: Clef, key: int, anchor: Pitch | None
) -> Iterator[tuple[Verdict, Pitch]]:
    """Return what the pupil may have had in mind, the most telling first."""
    yield Verdict.EXACT, target
    if anchor is not None and anchor.diatonic != target.diatonic:
        yield Verdict.DIRECTION, anchor.stepped(anchor.diatonic - target.diatonic)
    twin = other_clef(clef).pitch_at(clef.position(target))
    # A sharp or flat drawn beside the note is obeyed in the other clef, one drawn after the clef
    # is not: it belongs to another line or space there.
    yield Verdict.CLEF, twin
    yield Verdict.CLEF, Pitch(twin.diatonic, target.alteration)
    octaves, rest = divmod(key - target.midi, 12)
    if rest == 0:
        yield Verdict.OCTAVE, Pitch(target.diatonic + 7 * octaves, target.alteration)


def _by_distance(steps: int) -> Verdict:
    named = {0: Verdict.HALF_STEP, 1: Verdict.STEP, 2: Verdict.SKIP}
    return named.get(abs(steps), Verdict.LEAP)
