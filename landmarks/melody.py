"""Invented melodies: singable lines that go from landmark to landmark, mostly by step.

Pure and seeded: the same landmarks and seed give the same melody.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from landmarks.pitch import Pitch
from landmarks.sets import Anchor, LandmarkSet
from landmarks.stave import TREBLE, Clef, other_clef
from landmarks.values import NoteValue

OCTAVE = 7
WIDEST_LEAP = 4
"""A fifth. Common practice, no source, as the other rules of a singable line here."""
FEWEST_OF_THE_LANDMARK, MOST_OF_THE_LANDMARK = 2, 5
LOWEST_POSITION, HIGHEST_POSITION = -2, 10
"""One ledger line on each side, unless a landmark itself lies beyond."""
_TRIES = 500
_MOVES = {0: 1.0, 1: 6.0, 2: 2.5, 3: 0.6, 4: 0.4}
"""How willingly a melody moves by so many steps."""

_VALUES = {
    "w": NoteValue("whole"), "H": NoteValue("half", 1), "h": NoteValue("half"),
    "Q": NoteValue("quarter", 1), "q": NoteValue("quarter"), "e": NoteValue("eighth"),
    "r": NoteValue("quarter"),
}  # fmt: skip
_REST = "r"
_BARS = {
    4: ("qqqq", "hqq", "qqh", "qeeqq", "qqeeq", "Hq", "Qeqq", "qqqr", "hh"),
    3: ("qqq", "hq", "qeeq", "eeqq", "qh", "Qeq", "qqr"),
}
_LAST_BARS = {4: ("qqh", "hh", "eeqh", "w"), 3: ("H", "qh", "eeh")}


@dataclass(frozen=True)
class MelodyNote:
    """A note of a melody, or a rest if it has no pitch."""

    value: NoteValue
    pitch: Pitch | None


@dataclass(frozen=True)
class MelodyBar:
    """One bar, written in one clef; on a grand stave the other hand rests."""

    clef: Clef
    notes: tuple[MelodyNote, ...]


@dataclass(frozen=True)
class Melody:
    """Bars of so many quarter notes, on the stave of one clef or on the grand stave."""

    beats: int
    clefs: tuple[Clef, ...]
    bars: tuple[MelodyBar, ...]


def invented_melody(
    landmarks: LandmarkSet, landmark: Anchor, seed: int, bars: int = 4, grand: bool = False
) -> Melody:
    """Invent a melody in which a landmark of the set comes 2 to 5 times.

    On a grand stave one hand plays the first half of the bars and the other the second.
    """
    chance = random.Random(seed)
    beats = chance.choice((4, 4, 3))
    if not grand:
        played = _hand(chance, landmarks, landmark, beats, bars)
        return Melody(beats, (landmark.clef,), played)
    others = [anchor for anchor in landmarks.anchors if anchor.clef == other_clef(landmark.clef)]
    hands = [landmark, *([chance.choice(others)] if others else [])]
    chance.shuffle(hands)
    share = bars // len(hands)
    played = tuple(
        bar for anchor in hands for bar in _hand(chance, landmarks, anchor, beats, share)
    )
    return Melody(beats, (TREBLE, other_clef(TREBLE)), played)


def _hand(
    chance: random.Random, landmarks: LandmarkSet, landmark: Anchor, beats: int, bars: int
) -> tuple[MelodyBar, ...]:
    """Invent what one hand plays."""
    low, high, homes = _room(chance, landmarks, landmark)
    attempts = (_attempt(chance, landmark, (low, high), homes, beats, bars) for _ in range(_TRIES))
    best: tuple[int, list[str], list[int]] | None = None
    for rhythm, places in attempts:
        faults = _faults(places, landmark.pitch.diatonic)
        if best is None or faults < best[0]:
            best = faults, rhythm, places
        if not faults:
            break
    assert best is not None
    _, rhythm, places = best
    pitches = iter(places)
    return tuple(
        MelodyBar(
            landmark.clef,
            tuple(
                MelodyNote(_VALUES[sign], None if sign == _REST else Pitch(next(pitches)))
                for sign in bar
            ),
        )
        for bar in rhythm
    )


def _room(
    chance: random.Random, landmarks: LandmarkSet, landmark: Anchor
) -> tuple[int, int, list[int]]:
    """Choose an octave that holds the landmark; give its ends and the notes to go between."""
    focus, clef = landmark.pitch.diatonic, landmark.clef
    lowest = min(focus, clef.pitch_at(LOWEST_POSITION).diatonic)
    highest = max(focus, clef.pitch_at(HIGHEST_POSITION).diatonic)
    rooms = [
        (max(low, lowest), min(low + OCTAVE, highest))
        for low in (focus - OCTAVE, focus - OCTAVE // 2, focus)
    ]
    low, high = chance.choice([room for room in rooms if room[1] - room[0] >= WIDEST_LEAP])
    anchors = {a.pitch.diatonic for a in landmarks.anchors if a.clef == clef}
    homes = {place for place in anchors if low <= place <= high} | {focus}
    if len(homes) == 1:
        homes |= {place for place in (focus - 2, focus + 2) if low <= place <= high}
    return low, high, sorted(homes)


def _attempt(
    chance: random.Random,
    landmark: Anchor,
    room: tuple[int, int],
    homes: Sequence[int],
    beats: int,
    bars: int,
) -> tuple[list[str], list[int]]:
    """Choose a rhythm and walk through it from one home to another."""
    rhythm = [*chance.choices(_BARS[beats], k=bars - 1), chance.choice(_LAST_BARS[beats])]
    count = sum(len(bar) - bar.count(_REST) for bar in rhythm)
    places, end = [chance.choice(homes)], chance.choice(homes)
    move = 0
    while len(places) < count:
        left = count - len(places) - 1
        moves = [m for m in _moves_after(move) if _leads_home(places[-1] + m, room, end, left)]
        if not moves:
            break
        weights = [
            _MOVES[abs(m)]
            * (3.0 if places[-1] + m == landmark.pitch.diatonic else 1.0)
            * (1.4 if m * move > 0 else 1.0)
            for m in moves
        ]
        move = chance.choices(moves, weights)[0]
        places.append(places[-1] + move)
    places += [end] * (count - len(places))
    return rhythm, places


def _moves_after(move: int) -> tuple[int, ...]:
    """After a leap the melody steps back; a note is not said three times."""
    if abs(move) > 2:
        return (-1 if move > 0 else 1,)
    moves = range(-WIDEST_LEAP, WIDEST_LEAP + 1)
    return tuple(m for m in moves if m or move)


def _leads_home(place: int, room: tuple[int, int], end: int, left: int) -> bool:
    return room[0] <= place <= room[1] and abs(end - place) <= 2 * left


def _faults(places: Sequence[int], focus: int) -> int:
    """Count what is not as it should be in a melody, so that the best attempt is kept."""
    moves = [after - before for before, after in pairwise(places)]
    steps = sum(abs(move) == 1 for move in moves)
    found = places.count(focus)
    return sum(
        (
            not FEWEST_OF_THE_LANDMARK <= found <= MOST_OF_THE_LANDMARK,
            2 * steps < len(moves),
            max(places) - min(places) < 3,
            *(abs(move) > WIDEST_LEAP for move in moves),
            *(move not in _moves_after(before) for before, move in pairwise(moves)),
        )
    )
