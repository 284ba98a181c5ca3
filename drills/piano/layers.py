"""One key that sounds on several channels is one key.

A digital piano with two sounds layered sends every key twice, on two channels, a few milliseconds
apart at most (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass

from drills.piano.messages import PLAIN_RELEASE_VELOCITY, Note, NoteReleased

# Three bytes take 1 ms on a MIDI cable (31 250 baud, ten bits a byte: MIDI 1.0 Detailed
# Specification), so 20 ms holds every layer there may be and is shorter than any key can be
# repeated by a finger.
LAYER_WINDOW = 20_000_000  # ns


@dataclass(slots=True)
class _Held:
    since: int
    channels: list[int]


class HeldKeys:
    """Merges the layers of each key, so that presses and releases of a key take turns.

    The first release on any of a press's channels lets the key up, so a layer whose release was
    lost cannot leave it hanging. A second press of a held key means that its release was lost,
    which is made good first.
    """

    def __init__(self) -> None:
        """Start with every key up."""
        self._held: dict[int, _Held] = {}

    def merge(self, note: Note) -> list[Note]:
        """Return what `note` means for its key: nothing, one note, or a release and a press."""
        held = self._held.get(note.key)
        if isinstance(note, NoteReleased):
            if held is None or note.channel not in held.channels:
                return []
            del self._held[note.key]
            return [note]
        if held is None:
            self._held[note.key] = _Held(note.at, [note.channel])
            return [note]
        if note.channel not in held.channels and note.at - held.since <= LAYER_WINDOW:
            held.channels.append(note.channel)
            return []
        self._held[note.key] = _Held(note.at, [note.channel])
        return [_let_up(note.key, held, note.at), note]

    def release_all(self, at: int) -> list[Note]:
        """Let up every key still held, lowest first, as when the cable is pulled."""
        held, self._held = self._held, {}
        return [_let_up(key, held[key], at) for key in sorted(held)]


def _let_up(key: int, held: _Held, at: int) -> NoteReleased:
    return NoteReleased(key, PLAIN_RELEASE_VELOCITY, held.channels[0], at)
