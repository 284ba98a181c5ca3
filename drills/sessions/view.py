"""What a session shows: all that can be seen of it at one moment."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drills.cards.card import Card
from drills.cards.help import Help
from drills.learning.response import State
from landmarks.answer import Answer


class Phase(StrEnum):
    """What the pupil is doing."""

    ASKED = "asked"
    RIGHT = "right"
    FINISHED = "finished"


@dataclass(frozen=True, kw_only=True)
class TimedView:
    """What can be seen of every session. `showing` rises with all that is asked anew."""

    showing: int = 0
    phase: Phase = Phase.ASKED
    tuning: bool = False
    """Middle C is asked for to learn how the piano is tuned."""
    tuning_again: bool = False
    """Middle C was not the key that was expected and is asked for once more."""


@dataclass(frozen=True, kw_only=True)
class View(TimedView):
    """All that can be seen of a practice session at one moment.

    `answer` is the key group to draw: a wrong key with its place and distance, or the right one.
    `landmark` is the note to show as help when `help` asks for one. `held` are the keys down.
    """

    card: Card | None = None
    state: State = State.NEW
    help: Help = Help.NONE
    landmark: Card | None = None
    answer: Answer | None = None
    held: frozenset[int] = frozenset()
    move: int = 0
    """Of a contour: the move that is asked, 0 before its first shape is played."""
    last: int | None = None
    """Of a contour: the key played for the shape before."""
    piano_lost: bool = False
    """The piano that was connected is gone; the card waits for it or for the strip."""
    piano_refused: bool = False
    """A piano is there but cannot be opened: another program may have it."""
