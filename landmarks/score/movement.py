"""How the hands move through a score: range, leaps, positions, and whether they play together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, pairwise

from landmarks.pitch import Pitch
from landmarks.score.notes import Hand, ScoreNote

FIVE_FINGERS = 4
"""Steps from the thumb to the little finger over five neighbouring white keys."""


@dataclass(frozen=True)
class Movement:
    """How one hand moves.

    `largest_leap` is the most steps between its outer notes (the highest of the right hand, the
    lowest of the left) of one moment and the next; `positions` how many times at least the hand is
    laid on five neighbouring white keys to reach all its notes in turn, where notes of one moment
    that lie further apart take a position of their own.
    """

    hand: Hand
    notes: int
    lowest: Pitch
    highest: Pitch
    largest_leap: int
    positions: int


def movements(notes: Iterable[ScoreNote]) -> tuple[Movement, ...]:
    """Return the movement of each hand that plays, the right one first."""
    played = list(notes)
    return tuple(
        _movement(hand, own)
        for hand in Hand
        if (own := [note for note in played if note.stave.hand is hand])
    )


def _movement(hand: Hand, notes: Sequence[ScoreNote]) -> Movement:
    moments = [[_height(note) for note in moment] for moment in _moments(notes)]
    outer = [max(moment) if hand is Hand.RIGHT else min(moment) for moment in moments]
    return Movement(
        hand=hand,
        notes=len(notes),
        lowest=min(note.written for note in notes),
        highest=max(note.written for note in notes),
        largest_leap=max((abs(one - other) for one, other in pairwise(outer)), default=0),
        positions=_positions(moments),
    )


def _moments(notes: Sequence[ScoreNote]) -> Iterator[list[ScoreNote]]:
    """Return the notes that are struck together; grace notes come one by one."""
    for is_grace, group in groupby(notes, key=lambda note: note.is_grace):
        if is_grace:
            yield from ([note] for note in group)
        else:
            yield from (list(chord) for _, chord in groupby(group, key=lambda note: note.onset))


def _height(note: ScoreNote) -> int:
    """Return the diatonic number of the white key under a note, or beside its black key."""
    return note.written.diatonic + 7 * note.octaves


def _positions(moments: Iterable[Sequence[int]]) -> int:
    """Count positions by staying as long as the hand reaches, which gives the fewest there are."""
    count, low, high = 0, 0, 0
    for moment in moments:
        lowest, highest = min(moment), max(moment)
        if count and max(high, highest) - min(low, lowest) <= FIVE_FINGERS:
            low, high = min(low, lowest), max(high, highest)
        else:
            count, low, high = count + 1, lowest, highest
    return count


def hands_together(heads: Iterable[ScoreNote]) -> bool:
    """Return whether both hands ever sound at the same time; `heads` with those that are held."""
    changes: list[tuple[Fraction, int, Hand]] = []
    for head in heads:
        if head.stave.hand is not None and head.length:
            changes.append((head.onset, 1, head.stave.hand))
            changes.append((head.onset + head.length, -1, head.stave.hand))
    sounding: Counter[Hand] = Counter()
    # A note that ends where another begins does not sound with it.
    for _, change, hand in sorted(changes):
        sounding[hand] += change
        if all(sounding[each] > 0 for each in Hand):
            return True
    return False
