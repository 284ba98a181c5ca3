"""The records of a session file that tell of keys, pianos and the computer."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from msgspec import Meta

from drills.sessions.events import Clock
from drills.sessions.record_fields import (
    Duration,
    EventRecord,
    KeyNumber,
    Milliseconds,
    Text,
    about,
)


class KeyMovedRecord(EventRecord, frozen=True, tag="key", kw_only=True):
    """A key goes down or up."""

    t: Annotated[Milliseconds, about("when, on the clock named", 1536.912)]
    key: Annotated[
        KeyNumber,
        about("key number **as the piano sent it**, before any shift is put right", 67),
    ]
    velocity: Annotated[int, about("0 to 127", 58, minimum=0, maximum=127)]
    channel: Annotated[int, about("1 to 16", 1, minimum=1, maximum=16)]
    on: Annotated[bool, about("`true` down, `false` up", True)]

    remarks: ClassVar[str] = """\
Every key is written, also those that answer nothing (pressed before the card was on the screen, or
while a found note is looked at). A key that a layered sound sends on two channels is one key.
"""


class PianoChangedRecord(EventRecord, frozen=True, tag="piano", kw_only=True, omit_defaults=True):
    """A piano is found, lost, or put right by its middle C."""

    t: Annotated[Milliseconds, about("when", 2.1, 5120.4)]
    change: Annotated[
        Literal["lost", "found", "tuned"],
        about(
            "`found`, `lost`, or `tuned`: it was asked for middle C and its shift is now known",
            "found",
            "tuned",
        ),
    ]
    port: Annotated[Text, about("as in the header", "Stage piano MIDI 1")]
    clock: Annotated[Clock, about("the clock of its keys", "driver")]
    shift: Annotated[
        Annotated[int, Meta(extra_json_schema={"minimum": -127, "maximum": 127})] | None,
        about(
            "how many semitones its key numbers lie above the keys under the fingers; left out "
            "while it is not known",
            None,
            12,
        ),
    ] = None

    rules: ClassVar[dict[str, Any]] = {
        "if": {"properties": {"change": {"const": "tuned"}}},
        "then": {"required": ["shift"]},
    }


class MachineNoticedRecord(EventRecord, frozen=True, tag="machine", kw_only=True):
    """The computer hindered the session (since version 3)."""

    t: Annotated[Milliseconds, about("when it was noticed", 61250.4, 73010.9)]
    what: Annotated[
        Literal["stood still", "read late"],
        about(
            "`stood still`: the computer slept or the program was stopped, just before `t`; `read "
            "late`: keys just before lay unread, because the computer was busy",
            "stood still",
            "read late",
        ),
    ]
    ms: Annotated[
        Duration,
        about(
            "for how long it stood still; by how much times of keys may be too late at most",
            184000.25,
            43.2,
        ),
    ]
