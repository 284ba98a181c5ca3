"""From MIDI bytes to keys of one piano.

Only note-on and note-off matter here; everything else that a piano sends (active sensing, clock,
pedals, after-touch, SysEx) is parsed so that it does no harm, and passed over.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from mido import Parser

LAYER_WINDOW_NS = 20_000_000
"""The same key on another channel within this time is a second sound of one key. A key cannot
be struck twice so soon: fast repetition takes about 70 ms (common practice, no source)."""


@dataclass(frozen=True)
class NotePressed:
    """A key went down: key number and velocity 0 to 127, channel 1 to 16, monotonic ns."""

    key: int
    velocity: int
    channel: int
    at: int


@dataclass(frozen=True)
class NoteReleased:
    """A key went up: as `NotePressed`."""

    key: int
    velocity: int
    channel: int
    at: int


class NoteReader:
    """Turns what arrives from one piano into keys that go down and up."""

    def __init__(self) -> None:
        """Begin with all keys up."""
        self._parser = Parser()
        self._sounding: dict[int, dict[int, int]] = {}

    def read(self, data: Iterable[int], at: int) -> list[NotePressed | NoteReleased]:
        """Take in bytes that arrived at `at` (monotonic ns); give the notes they complete.

        A note-on with velocity 0 is a release (MIDI 1.0). A key that sounds on several channels
        goes down with the first and up with the last of them.
        """
        self._parser.feed([byte for byte in data if 0 <= byte <= 255])
        notes: list[NotePressed | NoteReleased] = []
        for message in self._parser:
            if message.type not in ("note_on", "note_off"):
                continue
            pressed = message.type == "note_on" and message.velocity > 0
            take = self._press if pressed else self._release
            notes += take(message.note, message.velocity, message.channel + 1, at)
        return notes

    def release_all(self, at: int) -> list[NoteReleased]:
        """Let go of every key that is down: the piano is gone."""
        released = [
            NoteReleased(key, 0, min(channels), at) for key, channels in self._sounding.items()
        ]
        self._sounding.clear()
        return released

    def _press(self, key: int, velocity: int, channel: int, at: int) -> list[NotePressed]:
        channels = self._sounding.setdefault(key, {})
        layered = any(
            other != channel and at - pressed_at <= LAYER_WINDOW_NS
            for other, pressed_at in channels.items()
        )
        channels[channel] = at
        return [] if layered else [NotePressed(key, velocity, channel, at)]

    def _release(self, key: int, velocity: int, channel: int, at: int) -> list[NoteReleased]:
        channels = self._sounding.get(key, {})
        if channels.pop(channel, None) is None or channels:
            return []
        del self._sounding[key]
        return [NoteReleased(key, velocity, channel, at)]
