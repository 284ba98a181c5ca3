"""Contours: lines of shapes that rise, fall or stay, before there are notes to name.

The stave grows around them: no line at first, then the line that the clef will mark, then two,
then all five.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from landmarks.stave import STAVE_LINES, Clef

MOVES = {"up": 1, "down": -1, "stay": 0, "skip-up": 2, "skip-down": -2}
"""What each move is called in a session file, and how many lines and spaces it goes."""
STAGES = {"no-stave": 0, "one-line": 1, "two-lines": 2, "five-lines": 5}
"""What each stage of the stave is called in a session file, and how many lines are drawn."""
STAYS, SKIPS = 0.2, 0.25
"""Shares of repeated shapes and of skips where a line may have them. Common practice, no source."""

_MOVE_NAMES = {size: name for name, size in MOVES.items()}
_STAGE_NAMES = {lines: name for name, lines in STAGES.items()}


@dataclass(frozen=True)
class Contour:
    """A line of shapes: how many stave lines are drawn, and the moves from shape to shape.

    A move counts lines and spaces, upwards positive.
    """

    lines: int
    moves: tuple[int, ...]

    @classmethod
    def parse(cls, text: str) -> Contour:
        """Read "one-line/up,stay,skip-down". ValueError if it is none."""
        stage, _, names = text.partition("/")
        try:
            return cls(STAGES[stage], tuple(MOVES[name] for name in names.split(",")))
        except KeyError:
            raise ValueError(f"{text!r} is no contour, as in one-line/up,stay,down") from None

    @property
    def heights(self) -> tuple[int, ...]:
        """The place of every shape in lines and spaces, counted from the first one."""
        return tuple(accumulate(self.moves, initial=0))

    def __str__(self) -> str:
        """Write the contour as `parse` reads it."""
        return f"{_STAGE_NAMES[self.lines]}/{','.join(_MOVE_NAMES[size] for size in self.moves)}"


def drawn_lines(clef: Clef, lines: int) -> tuple[int, ...]:
    """Return the stave positions of the lines drawn: first the one that the clef will mark."""
    if lines >= len(STAVE_LINES):
        return STAVE_LINES
    inward = 2 if clef.line_position < STAVE_LINES[2] else -2
    return tuple(sorted(clef.line_position + inward * n for n in range(lines)))


def room(clef: Clef, lines: int) -> tuple[int, int]:
    """Return the lowest and highest stave position that the shapes of a stage may have."""
    if lines >= len(STAVE_LINES):
        return STAVE_LINES[0], STAVE_LINES[-1]
    drawn = drawn_lines(clef, lines) or (clef.line_position,)
    return drawn[0] - 2, drawn[-1] + 2


def generated(
    clef: Clef, lines: int, length: int, winding: bool, chance: random.Random
) -> tuple[int, Contour]:
    """Make a contour of `length` moves; give the stave position of its first shape, and it.

    A winding line turns wherever it likes and has skips and repeated shapes; a plain one rises
    or falls by steps, rests at most once and turns once, twice if its room ends.
    """
    lowest, highest = room(clef, lines)
    position = start = chance.randint(lowest + 1, highest - 1)
    way = 1 if 2 * start < lowest + highest else -1
    turning, resting = chance.randint(1, length), chance.randint(1, length)
    moves: list[int] = []
    for place in range(length):
        if winding:
            way = chance.choice((-1, 1))
            size = 0 if chance.random() < STAYS else way * (1 + (chance.random() < SKIPS))
        else:
            way = -way if place == turning and not turns([*moves, way]) else way
            size = 0 if place == resting else way
        if not lowest <= position + size <= highest:
            way, size = -way, -size
        moves.append(size)
        position += size
    return start, Contour(lines, tuple(moves))


def turns(moves: Sequence[int]) -> int:
    """Count how often a line turns from rising to falling or back."""
    ways = [size > 0 for size in moves if size]
    return sum(one != other for one, other in pairwise(ways))
