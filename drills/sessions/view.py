"""What a session shows and asks for: its view, and the effects that carry it out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drills.cards.card import Card
from drills.cards.help import Help
from drills.learning.response import State
from drills.sessions.records import Record
from landmarks.answer import Answer


class Phase(StrEnum):
    """What the pupil is doing."""

    ASKED = "asked"
    RIGHT = "right"
    FINISHED = "finished"


@dataclass(frozen=True)
class View:
    """All that can be seen of a session at one moment.

    `answer` is the touch to draw: a wrong key with its place and distance, or the right one.
    `landmark` is the note to show as help when `help` asks for one. `held` are the keys down.
    """

    showing: int = 0
    card: Card | None = None
    phase: Phase = Phase.ASKED
    state: State = State.NEW
    help: Help = Help.NONE
    landmark: Card | None = None
    answer: Answer | None = None
    held: frozenset[int] = frozenset()
    move: int = 0
    """Of a contour: the move that is asked, 0 before its first shape is played."""
    last: int | None = None
    """Of a contour: the key played for the shape before."""
    tuning: bool = False
    """The card asks for middle C to learn how the piano is tuned."""
    tuning_again: bool = False
    """Middle C was not the key that was expected and is asked for once more."""
    piano_lost: bool = False
    """The piano that was connected is gone; the card waits for it or for the strip."""
    piano_refused: bool = False
    """A piano is there but cannot be opened: another program may have it."""


@dataclass(frozen=True)
class Present:
    """Show this."""

    view: View


@dataclass(frozen=True)
class Write:
    """Append this record to the session file."""

    record: Record


@dataclass(frozen=True)
class RememberPiano:
    """Remember how many semitones this piano sounds above what is written."""

    port: str
    shift: int


Effect = Present | Write | RememberPiano
