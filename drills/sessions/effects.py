"""What comes of a session, as values of the drill: to be kept, drawn and counted as they are.

Storage turns those that are `Recorded` into the records of a session file. Moments `t` are in
milliseconds since the session's start; `ms` is a time between two moments.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from drills.cards.card import Card
from drills.learning.scheduler import Reached
from drills.sessions.events import KeyPressed, KeyReleased, PianoFound
from drills.sessions.view import TimedView
from landmarks.answer import Verdict

if TYPE_CHECKING:
    from landmarks.line import Line

Hands = Literal["both", "right", "left"]
"""Which hands read a line: both, that of the upper stave or that of the lower one."""


@dataclass(frozen=True)
class Effect:
    """What comes of a session."""


@dataclass(frozen=True)
class Recorded(Effect):
    """What stands in a session's file, from the moment `t` on or at it."""

    t: float


@dataclass(frozen=True)
class Present(Effect):
    """Show this."""

    view: TimedView


@dataclass(frozen=True)
class RememberPiano(Effect):
    """Remember how many semitones this piano sounds above what is written."""

    port: str
    shift: int


@dataclass(frozen=True)
class CardAsked(Recorded):
    """A card, or the next move of its contour, was there to be answered from `t` on.

    `name` is what it was asked for by; `move` is None but on a contour: 0 for its first shape.
    """

    card: Card
    name: str
    move: int | None = None


@dataclass(frozen=True)
class KeyMoved(Recorded):
    """A key of the piano went down or up, numbered as the piano sent it, before any shift."""

    event: KeyPressed | KeyReleased


@dataclass(frozen=True)
class Answered(Recorded):
    """A pressed key, or a touched note of a line, was judged.

    `played` is the key number after the piano's shift was put right, `ms` the time since the
    card was there, `hints` the help on it (0 to 3), `move` that of a contour, `note` the number
    of a line's note. `why_not` says why the answer does not count, None if it does.
    """

    card: Card
    verdict: Verdict
    played: int
    ms: float
    attempt: int
    hints: int = 0
    why_not: str | None = None
    move: int | None = None
    note: int | None = None

    @property
    def counted(self) -> bool:
        """Whether the answer goes into the statistics."""
        return self.why_not is None

    @property
    def right(self) -> bool:
        """Whether the key was the one that was asked for."""
        return self.verdict is Verdict.EXACT


@dataclass(frozen=True)
class RungReached(Recorded):
    """The pupil stands on a rung of the ladder from `t` on."""

    reached: Reached


@dataclass(frozen=True)
class LineShown(Recorded):
    """A line of music was on the screen from `t` on; `hands` play it, None if it is not read."""

    line: Line
    hands: Hands | None = None


@dataclass(frozen=True)
class PianoChanged(Recorded):
    """The piano was lost, found, or put right by the key that it has for middle C."""

    change: Literal["lost", "found", "tuned"]
    piano: PianoFound


@dataclass(frozen=True)
class MachineNoticed(Recorded):
    """The machine stood still, or read keys late, by `ms` milliseconds."""

    what: Literal["stood still", "read late"]
    ms: float


@dataclass(frozen=True)
class Ended(Recorded):
    """The session ended, and why."""

    why: str
