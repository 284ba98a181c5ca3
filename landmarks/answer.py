"""What a pressed key means against the note asked for."""

from __future__ import annotations

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
    """The black key beside the right white key: the same line or space, sharp or flat."""
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
    if key == target.midi:
        return Answer(Verdict.EXACT, target, 0)
    played = spelled_beside(target, key)
    steps = played.diatonic - target.diatonic
    return Answer(_wrong_verdict(target, clef, played, steps, anchor), played, steps)


def spelled_beside(target: Pitch, key: int) -> Pitch:
    """Spell a key as it is heard from the target: raised above it, lowered below it."""
    return Pitch.of_key(key, flats=key < target.midi)


def brushes(target: Pitch, key: int) -> bool:
    """Tell whether a finger on the target's key could have touched this key by accident.

    That is the key beside it, black or white, or the white key next to a white one.
    """
    distance = abs(key - target.midi)
    both_white = not is_black(key) and not is_black(target.midi)
    return distance == 1 or (distance == 2 and both_white)


def _wrong_verdict(
    target: Pitch, clef: Clef, played: Pitch, steps: int, anchor: Pitch | None
) -> Verdict:
    key = played.midi
    mirrored = None if anchor is None else anchor.stepped(anchor.diatonic - target.diatonic)
    twin = other_clef(clef).pitch_at(clef.position(target))
    meanings = (
        (Verdict.DIRECTION, anchor != target and mirrored is not None and key == mirrored.midi),
        (Verdict.CLEF, key == twin.midi),
        (Verdict.OCTAVE, (key - target.midi) % 12 == 0),
        (Verdict.HALF_STEP, steps == 0),
        (Verdict.STEP, abs(steps) == 1),
        (Verdict.SKIP, abs(steps) == 2),
    )
    return next((verdict for verdict, holds in meanings if holds), Verdict.LEAP)
