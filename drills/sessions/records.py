"""The records of a session file: its header, and one type for each kind of event.

The form is described in DEVELOPERS.md and held by `drills/sessions/session.schema.json`.
"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

import msgspec

FORMAT = "landmark-drills session"
VERSION = 3

KeyNumber = Annotated[int, msgspec.Meta(ge=0, le=127)]
"""MIDI 1.0: middle C is 60."""
Milliseconds = Annotated[float, msgspec.Meta(ge=-1e10, le=1e10)]
"""A time within some months, of which no sum leaves the calendar."""
Duration = Annotated[float, msgspec.Meta(ge=0, le=1e10)]

Clock = Literal["driver", "milliseconds", "arrival", "window", "simulated"]
"""Where the times of keys come from: the MIDI driver, the driver in whole milliseconds, their
arrival in the program, the window's own events (on-screen keyboard), or a simulated pupil."""

Use = Literal["practice", "warm-up", "spotting"]
"""What a session is for: practice at home, a warm-up in the lesson, or notes found in a line."""


class Header(msgspec.Struct, frozen=True, kw_only=True):
    """The first line of a session file."""

    format: str = FORMAT
    version: int = VERSION
    session: str
    """UUID of the session."""
    pupil: str
    started: datetime
    """Aware; written as ISO 8601 with its offset in hours and minutes, UTC's too (+00:00)."""
    clock_ns: int
    """The monotonic clock, in nanoseconds, at the start."""
    program: str
    port: str | None
    """Name of the piano's input port; null for the on-screen keyboard."""
    clock: Clock
    set: str
    """Name of the landmark set."""
    seed: int
    """Seed of the planner."""
    use: str = "practice"
    """One of `Use`, or what a later version adds."""


class CardShown(
    msgspec.Struct, frozen=True, tag_field="event", tag="card", kw_only=True, omit_defaults=True
):
    """A card, or the next move of its contour, was there to be answered from `t` on."""

    t: Milliseconds
    id: str
    kind: str
    clef: str
    target: KeyNumber
    name: str
    move: int | None = None
    """Of a contour: 0 for its first shape, then the move that is asked."""


class KeyMoved(msgspec.Struct, frozen=True, tag_field="event", tag="key", kw_only=True):
    """A key of the piano went down or up; `key` is as the piano sent it, before any shift."""

    t: Milliseconds
    key: KeyNumber
    velocity: int
    channel: int
    on: bool


class Answered(
    msgspec.Struct, frozen=True, tag_field="event", tag="answer", kw_only=True, omit_defaults=True
):
    """A pressed key was judged. `ms` counts from when the card was on the screen."""

    t: Milliseconds
    id: str
    verdict: str
    played: KeyNumber
    """Key number after the piano's shift was put right."""
    ms: Duration
    attempt: int
    hints: int
    """0 none, 1 the landmark was shown beside the note, 2 its key as well, 3 its name as well."""
    counted: bool = False
    why_not: str | None = None
    move: int | None = None
    """Of a contour: the move that was asked."""
    note: int | None = None
    """Of a card that is looked for in a line: the note touched or marked, counted from 0."""


class RungReached(msgspec.Struct, frozen=True, tag_field="event", tag="rung", kw_only=True):
    """The pupil stands on a rung of the ladder from `t` on, and why."""

    t: float
    rung: str
    before: str | None
    """The rung before this one; null at the beginning of a session."""
    by: Literal["beginnings", "answers", "teacher"]
    why: str


class LineShown(msgspec.Struct, frozen=True, tag_field="event", tag="line", kw_only=True):
    """A line of music was on the screen from `t` on."""

    t: float
    source: str
    """A file's name and bars, or "invented"."""
    notes: tuple[str, ...]
    """Every note in reading order: "treble/G4/quarter"; "other" is a value without a name."""


class ValueAsked(msgspec.Struct, frozen=True, tag_field="event", tag="value", kw_only=True):
    """A note value was asked for, to be touched in the line."""

    t: float
    value: str
    """The note type of MusicXML and its dots: "quarter", "half."."""
    name: str


class ValueAnswered(
    msgspec.Struct, frozen=True, tag_field="event", tag="value-answer", kw_only=True
):
    """A note was touched in answer to a note value. `ms` counts from the latest `value`."""

    t: float
    value: str
    note: int
    touched: str
    """The value of the note touched."""
    right: bool
    ms: float
    attempt: int


class PianoChanged(
    msgspec.Struct, frozen=True, tag_field="event", tag="piano", kw_only=True, omit_defaults=True
):
    """The piano was lost, found, or put right by the key that it has for middle C."""

    t: Milliseconds
    change: Literal["lost", "found", "tuned"]
    port: str
    clock: Clock
    shift: int | None = None
    """How many semitones its key numbers lie above the keys pressed; None while not known."""


class MachineNoticed(msgspec.Struct, frozen=True, tag_field="event", tag="machine", kw_only=True):
    """The machine stood still, or read keys late, by `ms` milliseconds."""

    t: Milliseconds
    what: Literal["stood still", "read late"]
    ms: Duration


class Ended(msgspec.Struct, frozen=True, tag_field="event", tag="end", kw_only=True):
    """The session ended, and why."""

    t: Milliseconds
    why: str


Record = (
    CardShown | KeyMoved | Answered | RungReached | PianoChanged | MachineNoticed | Ended
    | LineShown | ValueAsked | ValueAnswered
)  # fmt: skip
