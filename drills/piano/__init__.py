"""The connected piano: finding it, losing it, and when its keys were pressed."""

from drills.piano.connection import (
    Piano,
    PianoEvent,
    PianoFound,
    PianoLost,
    PianosToChoose,
    port_report,
)
from drills.piano.messages import NotePressed, NoteReleased

__all__ = [
    "NotePressed",
    "NoteReleased",
    "Piano",
    "PianoEvent",
    "PianoFound",
    "PianoLost",
    "PianosToChoose",
    "port_report",
]
