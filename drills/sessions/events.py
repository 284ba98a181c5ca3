"""What can happen to a session: the events that the state machine takes in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Clock = Literal["driver", "milliseconds", "arrival", "window", "simulated"]
"""Where the times of keys come from: the MIDI driver, the driver in whole milliseconds, their
arrival in the program, the window's own events (on-screen keyboard), or a simulated pupil."""


@dataclass(frozen=True)
class Begin:
    """The session begins."""


@dataclass(frozen=True)
class OnScreen:
    """The window has put the card of this showing on the screen."""

    showing: int


@dataclass(frozen=True)
class KeyPressed:
    """A key went down: key number and velocity 0 to 127, channel 1 to 16."""

    key: int
    velocity: int = 64
    channel: int = 1


@dataclass(frozen=True)
class KeyReleased:
    """A key went up."""

    key: int
    velocity: int = 0
    channel: int = 1


@dataclass(frozen=True)
class NoteTouched:
    """A note of the line on the screen was touched; notes count from 0 in reading order."""

    note: int


@dataclass(frozen=True)
class PianoFound:
    """A piano is connected. `shift` in semitones is None while it is not known."""

    port: str
    clock: Clock
    shift: int | None = None


@dataclass(frozen=True)
class PianoLost:
    """The connected piano is gone."""

    port: str


@dataclass(frozen=True)
class PianoRefused:
    """A piano is there and cannot be opened: another program may have it."""

    port: str


@dataclass(frozen=True)
class StoodStill:
    """The machine slept, or the program was stopped, for so many milliseconds until now."""

    ms: float


@dataclass(frozen=True)
class ReadLate:
    """Keys were read late: their times may be too late by as many milliseconds."""

    ms: float


@dataclass(frozen=True)
class TimePassed:
    """Nothing happened but time."""


@dataclass(frozen=True)
class AskAgain:
    """The teacher wants the card asked once more, as if it came anew."""


@dataclass(frozen=True)
class Skip:
    """The teacher goes on to the next card."""


@dataclass(frozen=True)
class Hint:
    """The teacher gives one more help: the landmark beside the note, then its key."""


@dataclass(frozen=True)
class Tell:
    """The teacher shows the answer: landmark, key and name."""


@dataclass(frozen=True)
class SoundIt:
    """The program is to sound what is listened to: beats, or two tones."""


@dataclass(frozen=True)
class Stop:
    """The pupil or the teacher ends the session."""

    why: str = "stopped"


Event = (
    Begin | OnScreen | KeyPressed | KeyReleased | PianoFound | PianoLost | PianoRefused
    | StoodStill | ReadLate | TimePassed | AskAgain | Skip | Hint | Tell | Stop | NoteTouched
    | SoundIt
)  # fmt: skip
