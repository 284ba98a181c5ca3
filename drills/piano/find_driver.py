"""Which MIDI library hears the piano."""

from __future__ import annotations

import os

from drills.piano.driver import Driver

PORTMIDI = "mido.backends.pygame"


def find_driver() -> Driver:
    """Return a driver for the backend that mido chooses (MIDO_BACKEND counts).

    NoMidiError if it does not work.

    python-rtmidi is used directly, because mido drops the times it gives, and so is the PortMidi
    in pygame. Where nobody chose and python-rtmidi cannot be loaded, since there is none for this
    Python or the system lacks a library that it needs, PortMidi stands in.
    """
    from mido.backends.backend import Backend

    chosen = os.environ.get("MIDO_BACKEND")
    backend = Backend(None if chosen or _has_rtmidi() else PORTMIDI)
    if backend.name == "mido.backends.rtmidi":
        from drills.piano.rtmidi_driver import RtmidiDriver

        return RtmidiDriver(backend.api)
    if backend.name == PORTMIDI:
        from drills.piano.portmidi_driver import PortMidiDriver

        return PortMidiDriver()
    from drills.piano.mido_driver import MidoDriver

    return MidoDriver(backend)


def _has_rtmidi() -> bool:
    try:
        import rtmidi  # noqa: F401
    except ImportError:
        return False
    return True
