"""The connected piano: finding it, losing it, and when its keys were pressed."""

from drills.piano.messages import Note, NotePressed, NoteReleased
from drills.piano.piano import (
    NotesReadLate,
    Piano,
    PianoEvent,
    PianoFound,
    PianoLost,
    PianoRefused,
    PianosToChoose,
)
from drills.piano.ports import Port, stable_name

__all__ = [
    "Note",
    "NotePressed",
    "NoteReleased",
    "NotesReadLate",
    "Piano",
    "PianoEvent",
    "PianoFound",
    "PianoLost",
    "PianoRefused",
    "PianosToChoose",
    "Port",
    "stable_name",
]
