"""The bytes a piano sends, read as pressed and released keys.

Byte values and rules are those of the MIDI 1.0 Detailed Specification (version 4.2).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

NOTE_OFF = 0x80
NOTE_ON = 0x90
SYSTEM_EXCLUSIVE = 0xF0
SYSTEM_REAL_TIME = 0xF8
# The specification gives a note-on of velocity 0 the meaning of a note-off of this velocity.
PLAIN_RELEASE_VELOCITY = 64

# Data bytes after a channel status byte, by its upper half.
_CHANNEL_DATA_BYTES = {0x80: 2, 0x90: 2, 0xA0: 2, 0xB0: 2, 0xC0: 1, 0xD0: 1, 0xE0: 2}


@dataclass(frozen=True, slots=True)
class NotePressed:
    """A key went down.

    `key` is the MIDI key number (0 to 127, middle C is 60), `velocity` 1 to 127, `channel` 1 to 16
    as printed on instruments, `at` nanoseconds on Python's monotonic clock.
    """

    key: int
    velocity: int
    channel: int
    at: int


@dataclass(frozen=True, slots=True)
class NoteReleased:
    """A key came up. Fields as in `NotePressed`; the velocity (0 to 127) is the release's."""

    key: int
    velocity: int
    channel: int
    at: int


Note = NotePressed | NoteReleased


def first_message(data: Sequence[int]) -> Sequence[int]:
    """Return the bytes of the message that `data` begins with, without what fills it up.

    >>> first_message([0x90, 60, 64, 0]), first_message([0xFE, 0, 0, 0])
    ([144, 60, 64], [254])

    System common and System Exclusive bytes are returned as they are: none of them is a note.
    """
    if data[0] >= SYSTEM_REAL_TIME:
        return data[:1]
    return data[: 1 + _CHANNEL_DATA_BYTES.get(data[0] & 0xF0, len(data))]


class MessageReader:
    """Reads one port's byte stream; whatever is not a note is passed over.

    Messages may come whole, in parts, several at a time or with running status. A broken message
    costs no more than itself: the next status byte starts afresh. System Exclusive is never
    stored, however long it gets.
    """

    def __init__(self) -> None:
        """Start before any byte."""
        self._status = 0
        self._data: list[int] = []

    def read(self, data: Iterable[int], at: int) -> list[Note]:
        """Return the notes that `data` (byte values) completes; all of them happened `at` (ns)."""
        notes = []
        for byte in data:
            if byte >= SYSTEM_REAL_TIME:
                continue  # Real-time bytes may stand anywhere, even inside another message.
            if byte >= NOTE_OFF:
                self._begin(byte)
            elif self._status:
                note = self._add(byte, at)
                if note is not None:
                    notes.append(note)
        return notes

    def _begin(self, status: int) -> None:
        """Take a status byte; system messages end running status and hold nothing of interest."""
        self._status = status if status < SYSTEM_EXCLUSIVE else 0
        self._data.clear()

    def _add(self, byte: int, at: int) -> Note | None:
        self._data.append(byte)
        kind = self._status & 0xF0
        if len(self._data) < _CHANNEL_DATA_BYTES[kind]:
            return None
        data, self._data = self._data, []
        channel = (self._status & 0x0F) + 1
        if kind == NOTE_ON and data[1] > 0:
            return NotePressed(data[0], data[1], channel, at)
        if kind == NOTE_ON:
            return NoteReleased(data[0], PLAIN_RELEASE_VELOCITY, channel, at)
        if kind == NOTE_OFF:
            return NoteReleased(data[0], data[1], channel, at)
        return None
